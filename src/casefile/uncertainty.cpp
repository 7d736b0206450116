#include "casefile/uncertainty.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "casefile/fields.h"

namespace windgap::casefile {
namespace {

spread::Shape shape_of(const Spread& spread) {
  switch (spread.distribution) {
    case Distribution::normal:
      return {.distribution = spread::Distribution::normal, .width = spread.width};
    case Distribution::lognormal:
      return {.distribution = spread::Distribution::lognormal, .width = spread.width};
    case Distribution::uniform:
      return {.distribution = spread::Distribution::uniform, .width = spread.width};
    case Distribution::none:
      break;
  }
  return {};
}

/// The move of one coefficient, with its axis.
spread::Move move_of(const Models& models,
                     std::string_view module,
                     std::string_view key,
                     spread::Plan& plan) {
  const auto info = std::find_if(models.infos.begin(), models.infos.end(), [&](const auto& one) {
    return one.module == module && one.key == key;
  });
  if (info == models.infos.end()) return {};
  const auto shape = shape_of(info->spread);
  if (shape.distribution == spread::Distribution::none || !(shape.width > 0.0)) return {};
  const bool alone = info->spread.group.empty() || info->spread.group == "none";
  const auto varies =
      info->spread.varies == Varies::start ? spread::Varies::start : spread::Varies::bench;
  return {.axis = plan.axis(alone ? info->module + "." + info->key : info->spread.group, varies),
          .shape = shape};
}

template <class C>
void add_moves(C& coefficients,
               std::string_view module,
               const Models& models,
               spread::Plan& plan,
               std::vector<spread::Move>& list) {
  visit(coefficients,
        [&](std::string_view key, auto&) { list.push_back(move_of(models, module, key, plan)); });
}

/// What a person's numbers differ by from one attempt to the next, whatever the case says of them.
constexpr std::string_view oil_key = spread::oil_axis;
constexpr std::string_view charge_key = spread::charge_axis;
constexpr std::string_view wind_key = spread::wind_axis;

bool differs_by_start(std::string_view key) {
  return key == oil_key || key == charge_key || key == wind_key;
}

void add_part(spread::Plan& plan, const std::string& key, const spread::PartMove& part) {
  auto move = part;
  move.find = [key](rig::Parts& parts) { return find_field(parts, key); };
  plan.parts.push_back(std::move(move));
}

void add_tolerances(const Case& bench, spread::Plan& plan) {
  auto parts = bench.parts;
  for (const auto& tolerance : bench.tolerances) {
    const double* const field = find_field(parts, tolerance.key);
    if (!(tolerance.half_width > 0.0) || field == nullptr || !std::isfinite(*field)) continue;
    const auto varies =
        differs_by_start(tolerance.key) ? spread::Varies::start : spread::Varies::bench;
    add_part(plan,
             tolerance.key,
             {.move = {.axis = plan.axis(tolerance.key, varies),
                       .shape = {.distribution = spread::Distribution::uniform,
                                 .width = tolerance.half_width}},
              .find = {}});
  }
}

/// The usual swing of a number to which the case gives no tolerance.
void add_swing(const Case& bench,
               spread::Plan& plan,
               std::string_view name,
               spread::PartMove part) {
  const std::string key(name);
  const bool stated =
      std::any_of(bench.tolerances.begin(), bench.tolerances.end(), [&](const auto& tolerance) {
        return tolerance.key == key && tolerance.half_width > 0.0;
      });
  auto parts = bench.parts;
  const double* const field = find_field(parts, key);
  if (stated || field == nullptr || !std::isfinite(*field)) return;
  part.move.axis = plan.axis(key, spread::Varies::start);
  add_part(plan, key, part);
}

void add_swings(const Case& bench, spread::Plan& plan) {
  const auto& c = bench.models.spread;
  const auto normal = [](double width) {
    return spread::Move{.axis = 0,
                        .shape = {.distribution = spread::Distribution::normal, .width = width}};
  };
  add_swing(bench, plan, oil_key, {.move = normal(c.oil_swing), .find = {}});
  add_swing(bench, plan, wind_key, {.move = normal(c.wind_swing), .find = {}, .least = 0.0});
  if (std::holds_alternative<fan::Fan>(bench.parts.source)) {
    add_swing(bench,
              plan,
              charge_key,
              {.move = normal(c.charge_swing), .find = {}, .least = 0.0, .most = 1.0});
  }
}

/// Errors of the measured run where the case gives no tolerance: fixed for the bench, since it was
/// taken once.
void add_measured_errors(const Case& bench, spread::Plan& plan) {
  const auto& run = bench.parts.engine.measured;
  if (!(run.total_pressure > 0.0)) return;
  const auto& c = bench.models.spread;
  const auto add = [&](std::string_view name, double value, double share) {
    const auto key = fmt::format("engine.measured.{}", name);
    const bool stated =
        std::any_of(bench.tolerances.begin(), bench.tolerances.end(), [&](const auto& tolerance) {
          return tolerance.key == key && tolerance.half_width > 0.0;
        });
    if (stated || !std::isfinite(value)) return;
    const double width = share * std::abs(value);
    add_part(plan,
             key,
             {.move = {.axis = plan.axis(key, spread::Varies::bench),
                       .shape = {.distribution = spread::Distribution::normal, .width = width}},
              .find = {}});
  };
  add("total_pressure", run.total_pressure, c.measured_pressure);
  const bool by_tap = std::isnan(run.mass_flow) && std::isfinite(run.throat_static_pressure);
  if (by_tap) {
    const double head = run.total_pressure - run.throat_static_pressure;
    add("throat_static_pressure", head, 2.0 * c.measured_flow);
  }
  add("mass_flow", run.mass_flow, c.measured_flow);
  add("speed", run.speed, c.measured_speed);
}

}  // namespace

Uncertainty uncertainty(const Case& bench, const placement::Answer& answer) {
  Uncertainty result;
  auto& plan = result.plan;
  auto models = bench.models.rig;
  rig::visit_modules(models, [&](std::string_view module, auto& coefficients) {
    add_moves(coefficients, module, bench.models, plan, plan.coefficients);
  });
  if (const auto* const derived = deriving(bench)) {
    result.subject.start = *derived;
    auto start = *derived;
    add_moves(start.models, "start", bench.models, plan, plan.starts);
    add_moves(start.fuels, "fuels", bench.models, plan, plan.fuels);
  }
  add_tolerances(bench, plan);
  add_swings(bench, plan);
  add_measured_errors(bench, plan);
  if (!answer.jet_known && std::holds_alternative<fan::Fan>(bench.parts.source)) {
    const auto share = [&](rig::JetChoice choice) {
      return rig::assemble(bench.parts, bench.models.rig, choice).propeller_share;
    };
    plan.jet = spread::JetMove{.axis = plan.axis("jet_regime", spread::Varies::bench),
                               .least = share(rig::JetChoice::nozzle_like),
                               .middle = share(rig::JetChoice::estimated),
                               .most = share(rig::JetChoice::propeller_like)};
  }
  auto& subject = result.subject;
  subject.parts = bench.parts;
  // The worse sense of rotation is the nominal bench's; finding it again for every member costs
  // a third of making it.
  if (subject.parts.sense == rig::Sense::unknown && answer.rig.swirl_sense != 0.0) {
    subject.parts.sense = answer.rig.swirl_sense > 0.0 ? rig::Sense::same : rig::Sense::opposite;
  }
  subject.models = bench.models.rig;
  if (bench.requirement.throttle) subject.throttle = answer.advice.throttle;
  subject.nozzle = answer.advice.nozzle;
  const auto& need = bench.requirement;
  const auto& c = bench.models.spread;
  result.asked = {.reliability = need.reliability,
                  .confidence = std::isfinite(need.confidence) ? need.confidence : c.confidence,
                  .start_scatter = c.start_scatter};
  return result;
}

}  // namespace windgap::casefile
