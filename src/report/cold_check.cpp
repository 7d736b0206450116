#include "report/cold_check.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <variant>

#include "engine/windmill.h"
#include "report/shown.h"
#include "units/root.h"

namespace windgap::report {
namespace {

/// One way the bench may be.
struct Variant {
  rig::Parts parts;
  rig::Coefficients models;
  rig::JetChoice choice = rig::JetChoice::estimated;
};

double throat_head(const rig::Rig& rig, double airflow) {
  const double speed = airflow / (rig.ambient.density * rig.throat_area);
  return 0.5 * rig.ambient.density * speed * speed;
}

ColdReading reading(const rig::Rig& rig, const rig::Delivery& delivery) {
  ColdReading result;
  if (delivery.settling != rig::Settling::no_rotor) result.rotor_speed = delivery.rotor_speed;
  result.tap_pressure = delivery.inducer_pressure - throat_head(rig, delivery.airflow);
  return result;
}

ColdReading reading(const Variant& variant, const Outcome& outcome) {
  const auto rig = placement::as_placed(
      rig::assemble(variant.parts, variant.models, variant.choice), outcome.answer.advice);
  return reading(rig, rig::deliver(rig, shown_row(outcome).stand_off));
}

double tolerance_of(const casefile::Case& bench, std::string_view key) {
  for (const auto& tolerance : bench.tolerances) {
    if (tolerance.key == key && tolerance.half_width > 0.0) return tolerance.half_width;
  }
  return 0.0;
}

double spread_of(const casefile::Case& bench, std::string_view module, std::string_view key) {
  for (const auto& info : bench.models.infos) {
    if (info.module == module && info.key == key) return info.spread.width;
  }
  return 0.0;
}

/// How far the fan's strength may be off, and how a bench with that fan is made.
struct FanDoubt {
  double amount = 0.0;
  void (*apply)(Variant&, double amount) = nullptr;
  std::string text;
};

FanDoubt fan_doubt(const Outcome& outcome) {
  const auto& bench = outcome.bench;
  const Shown shown(bench.system);
  if (std::holds_alternative<fan::Stream>(bench.parts.source)) {
    const double width = tolerance_of(bench, "fan.stream.velocity");
    return {width,
            [](Variant& v, double by) { std::get<fan::Stream>(v.parts.source).velocity += by; },
            fmt::format("the stream's velocity by {}", shown.speed(width))};
  }
  const auto& fan = std::get<fan::Fan>(bench.parts.source);
  if (!fan.curve.points.empty()) return {};
  if (std::isfinite(fan.measured.thrust)) {
    const double width = tolerance_of(bench, "fan.measured.thrust");
    return {width,
            [](Variant& v, double by) { std::get<fan::Fan>(v.parts.source).measured.thrust += by; },
            fmt::format("the measured thrust by {}", shown.of(width, units::Dimension::force))};
  }
  const double width = spread_of(bench, "fan", "datasheet_thrust");
  return {width,
          [](Variant& v, double by) { v.models.fan.datasheet_thrust += by; },
          fmt::format("real thrust over the datasheet's, {} give or take {}",
                      shown.share(bench.models.rig.fan.datasheet_thrust),
                      shown.share(width))};
}

/// What the jet may be.
std::vector<Variant> jets(const Outcome& outcome, std::vector<std::string>& contains) {
  const auto& bench = outcome.bench;
  const Variant advised{bench.parts, bench.models.rig, outcome.answer.choice};
  std::vector<Variant> list{advised};
  if (!outcome.answer.jet_known) {
    for (const auto choice : {rig::JetChoice::nozzle_like, rig::JetChoice::propeller_like}) {
      if (choice == outcome.answer.choice) continue;
      list.push_back(advised);
      list.back().choice = choice;
    }
    contains.emplace_back("both bounds of the unmeasured jet, nozzle-like and propeller-like");
    return list;
  }
  const auto& rig = outcome.answer.rig;
  if (rig.jet_source != rig::JetSource::readings || !(rig.readings_misfit > 0.0)) return list;
  const double shift = rig.readings_misfit * rig.open.dynamic_head;
  for (const double sign : {-1.0, 1.0}) {
    list.push_back(advised);
    for (auto& axis : list.back().parts.axis_readings) {
      axis.pressure = std::max(0.0, axis.pressure + sign * shift);
    }
  }
  contains.push_back(
      fmt::format("the misfit of the jet's pressure readings, all of them {} more or less",
                  Shown(bench.system).pressure(shift)));
  return list;
}

void widen(ColdCheck& check, const ColdReading& other) {
  check.low.rotor_speed = std::fmin(check.low.rotor_speed, other.rotor_speed);
  check.low.tap_pressure = std::fmin(check.low.tap_pressure, other.tap_pressure);
  check.high.rotor_speed = std::fmax(check.high.rotor_speed, other.rotor_speed);
  check.high.tap_pressure = std::fmax(check.high.tap_pressure, other.tap_pressure);
}

/// The engine alone, fed so that the starting airflow passes.
ColdReading at_starting_airflow(const rig::Rig& rig) {
  constexpr double least = 1.0;        // Pa
  constexpr double greatest = 60.0e3;  // Pa, beyond any fan
  constexpr unsigned bits = 20;
  const auto fed = [&](double pressure) {
    return engine::windmill(rig.engine,
                            rig.ambient,
                            {.total_pressure = rig.ambient.pressure + pressure,
                             .total_temperature = rig.ambient.temperature});
  };
  const auto excess = [&](double pressure) {
    return fed(pressure).mass_flow - rig.starting_airflow;
  };
  ColdReading result;
  if (!std::isfinite(rig.starting_airflow)) return result;
  const double at_least = excess(least);
  const double at_greatest = excess(greatest);
  if (at_least > 0.0 || at_greatest < 0.0) return result;
  const double pressure =
      find_root(excess, {least, at_least}, {greatest, at_greatest}, bits).middle();
  if (!rig.engine.resistance_only) result.rotor_speed = fed(pressure).speed;
  result.tap_pressure = pressure - throat_head(rig, rig.starting_airflow);
  return result;
}

}  // namespace

ColdCheck cold_check(const Outcome& outcome) {
  const auto& row = shown_row(outcome);
  ColdCheck check;
  check.stand_off = row.stand_off;
  check.expected = reading(outcome.answer.rig, row.delivery);
  check.low = check.expected;
  check.high = check.expected;
  check.least = at_starting_airflow(outcome.answer.rig);
  const auto doubt = fan_doubt(outcome);
  for (const auto& jet : jets(outcome, check.contains)) {
    widen(check, reading(jet, outcome));
    if (!(doubt.amount > 0.0)) continue;
    for (const double sign : {-1.0, 1.0}) {
      auto variant = jet;
      doubt.apply(variant, sign * doubt.amount);
      widen(check, reading(variant, outcome));
    }
  }
  if (doubt.amount > 0.0) check.contains.push_back(doubt.text);
  return check;
}

}  // namespace windgap::report
