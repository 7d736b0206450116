#include "cooling/purge_flow.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <stdexcept>

#include "engine/windmill.h"
#include "rig/pair.h"
#include "units/root.h"

namespace windgap::cooling {
namespace {

constexpr std::size_t last = PurgeFlow::points - 1;

// NOLINTNEXTLINE(bugprone-easily-swappable-parameters): a range and a place in it
double temperature_at(double coldest, double hottest, std::size_t i) {
  return coldest * std::pow(hottest / coldest, static_cast<double>(i) / static_cast<double>(last));
}

/// What stands ahead of the inducer.
struct Offer {
  double pressure = unset;  ///< gauge, total [Pa]
  double swirl = unset;     ///< [m^2/s]
};

/// What the fan offers at the inducer for any flow: the bench solved with plain resistances in the
/// engine's place, straight lines between.
class Offered {
 public:
  Offered(const rig::Rig& rig, double stand_off, const rig::Delivery& cold) {
    rig::Rig plain = rig;
    plain.engine.resistance_only = true;
    plain.engine.resistance_area = rig.throat_area;
    const double speed = cold.airflow / (rig.ambient.density * rig.throat_area);
    const double factor = cold.inducer_pressure / (0.5 * rig.ambient.density * speed * speed);
    for (std::size_t i = 0; i < points_; ++i) {
      // Flow goes nearly with the root of the pressure over the factor.
      const double share = most_ - (most_ - least_) * static_cast<double>(i) / (points_ - 1.0);
      plain.engine.resistance_loss = factor / (share * share);
      const auto delivery = rig::deliver(plain, stand_off);
      flow_[points_ - 1 - i] = delivery.airflow;
      offer_[points_ - 1 - i] = {.pressure = delivery.inducer_pressure,
                                 .swirl = delivery.inlet_swirl};
    }
  }

  [[nodiscard]] Offer at(double airflow) const {
    const auto* above = std::upper_bound(flow_.begin() + 1, flow_.end() - 1, airflow);
    const auto i = static_cast<std::size_t>(above - flow_.begin());
    const double share = (airflow - flow_[i - 1]) / (flow_[i] - flow_[i - 1]);
    return {
        .pressure = offer_[i - 1].pressure + share * (offer_[i].pressure - offer_[i - 1].pressure),
        .swirl = offer_[i - 1].swirl + share * (offer_[i].swirl - offer_[i - 1].swirl)};
  }

  /// Whether it is a falling offer through the cold delivery. It is not where the wind is about to
  /// carry the jet away.
  [[nodiscard]] bool holds(const rig::Delivery& cold) const {
    constexpr double close = 0.05;
    const bool rises =
        std::adjacent_find(flow_.begin(), flow_.end(), std::greater_equal<>()) == flow_.end();
    if (!rises || !(flow_.front() < cold.airflow && cold.airflow < flow_.back())) return false;
    return std::abs(at(cold.airflow).pressure - cold.inducer_pressure) <
           close * cold.inducer_pressure;
  }

 private:
  static constexpr std::size_t points_ = 24;
  static constexpr double least_ = 0.3;  ///< of the cold flow
  static constexpr double most_ = 1.3;
  std::array<double, points_> flow_{};
  std::array<Offer, points_> offer_{};
};

struct Hot {
  double airflow = unset;
  double speed = 0.0;
  bool turns = false;
  bool runs_away = false;
  bool converged = false;
};

class HotEngine {
 public:
  HotEngine(const rig::Rig& rig, const Offered& offered, const rig::Delivery& cold)
      : rig_(rig), offered_(offered), cold_(cold) {}

  /// Flow and speed with air of this temperature ahead of the turbine; `before`: at the last one.
  [[nodiscard]] Hot solve(double temperature, const Hot& before) const {
    const Hot resting = at_rest(temperature);
    if (rig_.engine.resistance_only) return resting;
    const auto path = march(temperature, resting.airflow, 0.0);
    if (engine::net_torque(rig_.engine, path, 0.0) <= rig_.engine.breakaway_torque) return resting;
    return before.turns ? continued(temperature, before) : from_rest(temperature);
  }

 private:
  // NOLINTNEXTLINE(bugprone-easily-swappable-parameters): few callers, all here
  [[nodiscard]] engine::GasPath march(double temperature, double airflow, double speed) const {
    const Offer offer = offered_.at(airflow);
    return engine::march(rig_.engine,
                         rig_.ambient,
                         {.mass_flow = airflow,
                          .speed = speed,
                          .inlet_total_pressure = rig_.ambient.pressure + offer.pressure,
                          .inlet_total_temperature = rig_.ambient.temperature,
                          .inlet_swirl = offer.swirl,
                          .turbine_inlet_temperature = temperature});
  }

  [[nodiscard]] Hot at_rest(double temperature) const {
    constexpr unsigned bits = 40;
    constexpr double least = 0.02;  // of the cold flow
    constexpr double most = 1.3;
    const auto residual = [&](double share) {
      return march(temperature, share * cold_.airflow, 0.0).pressure_residual;
    };
    const double at_least = residual(least);
    const double at_most = residual(most);
    if (!(at_least > 0.0 && at_most < 0.0)) return {.airflow = cold_.airflow};
    const auto root = find_root(residual, {least, at_least}, {most, at_most}, bits);
    return {.airflow = root.middle() * cold_.airflow, .converged = true};
  }

  /// Both unknowns together, from the solution at a neighbouring temperature.
  [[nodiscard]] Hot continued(double temperature, const Hot& before) const {
    constexpr double probe = 1e-4;
    constexpr double longest_step = 0.3;
    constexpr double most_growth = 1.5;  // more between two temperatures is another branch
    const double torque =
        std::max(engine::bearing_torque(rig_.engine, before.speed), rig_.engine.breakaway_torque);
    const auto residuals = [&](const std::array<double, 2>& x) {
      const double speed = x[1] * before.speed;
      const auto path = march(temperature, x[0] * before.airflow, speed);
      return std::array<double, 2>{path.pressure_residual / cold_.inducer_pressure,
                                   engine::net_torque(rig_.engine, path, speed) / torque};
    };
    const auto here = residuals({1.0, 1.0});
    const auto by_flow = residuals({1.0 + probe, 1.0});
    const auto by_speed = residuals({1.0, 1.0 + probe});
    const std::array<std::array<double, 2>, 2> slopes{
        {{(by_flow[0] - here[0]) / probe, (by_speed[0] - here[0]) / probe},
         {(by_flow[1] - here[1]) / probe, (by_speed[1] - here[1]) / probe}}};
    const auto root = rig::solve_pair(residuals, {1.0, 1.0}, slopes, longest_step);
    const bool near = root.at[0] > 0.0 && root.at[1] > 0.0 && root.at[1] < most_growth;
    return {.airflow = root.at[0] * before.airflow,
            .speed = root.at[1] * before.speed,
            .turns = true,
            .converged = root.converged && near};
  }

  /// The first speed from rest, the offer brought into step with the flow.
  [[nodiscard]] Hot from_rest(double temperature) const {
    constexpr int most_rounds = 40;
    constexpr double tolerance = 1e-8;
    Hot hot{.airflow = cold_.airflow};
    for (int round = 0; round < most_rounds; ++round) {
      const Offer offer = offered_.at(hot.airflow);
      const auto settled =
          engine::windmill(rig_.engine,
                           rig_.ambient,
                           {.total_pressure = rig_.ambient.pressure + offer.pressure,
                            .total_temperature = rig_.ambient.temperature,
                            .swirl = offer.swirl,
                            .turbine_inlet_temperature = temperature});
      const double miss = settled.mass_flow - hot.airflow;
      hot.speed = settled.speed;
      hot.turns = settled.speed > 0.0;
      hot.runs_away = settled.settling == engine::Settling::runs_away;
      hot.converged = std::abs(miss) <= tolerance * cold_.airflow;
      if (hot.converged) break;
      hot.airflow += 0.5 * miss;
    }
    return hot;
  }

  const rig::Rig& rig_;
  const Offered& offered_;
  const rig::Delivery& cold_;
};

struct Place {
  std::size_t piece;
  double share;
};

Place place_of(const PurgeFlow& flow, double temperature) {
  const double place = std::clamp(static_cast<double>(last) * std::log(temperature / flow.coldest) /
                                      std::log(flow.hottest / flow.coldest),
                                  0.0,
                                  static_cast<double>(last));
  const auto i = std::min(static_cast<std::size_t>(place), last - 1);
  return {.piece = i, .share = place - static_cast<double>(i)};
}

double between(const std::array<double, PurgeFlow::points>& y, std::size_t i, double t) {
  const auto slope = [&](std::size_t k) {
    if (k == 0) return y[1] - y[0];
    if (k == last) return y[last] - y[last - 1];
    return 0.5 * (y[k + 1] - y[k - 1]);
  };
  const double rest = 1.0 - t;
  return rest * rest * ((1.0 + 2.0 * t) * y[i] + t * slope(i)) +
         t * t * ((1.0 + 2.0 * rest) * y[i + 1] - rest * slope(i + 1));
}

}  // namespace

PurgeFlow tabulate_purge(const rig::Rig& rig, double stand_off, double hottest) {
  constexpr double nothing = 1e-3;  // of the jet swallowed: the least wind brings more
  PurgeFlow table{.stand_off = stand_off,
                  .throttle = rig.throttle,
                  .coldest = rig.ambient.temperature,
                  .hottest = hottest};
  if (!(hottest > table.coldest)) throw std::logic_error("a purge needs walls above the room");
  const auto cold = rig::deliver(rig, stand_off);
  table.converged = cold.converged;
  const bool driven = cold.inducer_pressure > 0.0 && cold.capture_ratio > nothing;
  if (!cold.converged || !(cold.airflow > 0.0) || !driven) return table;
  const Offered offered(rig, stand_off, cold);
  if (!offered.holds(cold)) return table;
  table.stray_speed = cold.jet_speed * std::max(0.0, 1.0 - cold.capture_ratio);
  const HotEngine engine(rig, offered, cold);
  Hot hot{.airflow = cold.airflow,
          .speed = cold.rotor_speed,
          .turns = cold.rotor_speed > 0.0,
          .converged = true};
  for (std::size_t i = 0; i <= last; ++i) {
    if (i > 0 && std::isnan(table.self_driving)) {
      const double temperature = temperature_at(table.coldest, hottest, i);
      const Hot next = engine.solve(temperature, hot);
      if (next.converged && !next.runs_away) {
        hot = next;
      } else {
        table.self_driving = temperature;
      }
    }
    table.airflow[i] = hot.airflow;
    table.rotor_speed[i] = hot.speed;
    if (rig.fan.holds_flow) continue;
    const auto fan = rig::fan_operation(rig, {.stand_off = stand_off, .airflow = hot.airflow});
    table.pack_current[i] = fan.drive.pack_current;
    table.hardest_use = std::max(table.hardest_use, fan.drive.continuous_use);
    if (i == 0) table.drive = fan.drive;
  }
  return table;
}

PurgeFlow steady_purge(const Blower& blower) {
  if (!(blower.hottest > blower.coldest) || !(blower.airflow > 0.0)) {
    throw std::logic_error("a blower needs a flow and a range of temperatures");
  }
  PurgeFlow table{.coldest = blower.coldest, .hottest = blower.hottest, .converged = true};
  table.airflow.fill(blower.airflow);
  return table;
}

PurgePoint purge_at(const PurgeFlow& flow, double temperature) noexcept {
  const auto [i, t] = place_of(flow, temperature);
  return {.airflow = between(flow.airflow, i, t),
          .rotor_speed = between(flow.rotor_speed, i, t),
          .pack_current = between(flow.pack_current, i, t)};
}

double purge_airflow(const PurgeFlow& flow, double temperature) noexcept {
  const auto [i, t] = place_of(flow, temperature);
  return between(flow.airflow, i, t);
}

}  // namespace windgap::cooling
