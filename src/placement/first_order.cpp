#include "placement/first_order.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "engine/calibration.h"
#include "spread/total.h"

namespace windgap::placement {
namespace {

/// What a bench shows at one stand-off: the slack that ends the slot, and the supply.
struct View {
  double slack = unset;
  double supply = unset;
};

View view(const rig::Rig& rig,
          double stand_off,
          const placement::Requirement& requirement,
          placement::Constraint limit) {
  const auto row = look(rig, stand_off, requirement);
  return {.slack = row.constraints[static_cast<std::size_t>(limit)].slack,
          .supply = row.delivery.airflow / rig.starting_airflow};
}

}  // namespace

FirstOrder first_order(const rig::Parts& parts,
                       const rig::Coefficients& models,
                       const placement::Answer& answer,
                       const placement::Requirement& requirement,
                       const std::vector<Variation>& variations,
                       const start::Deriving* deriving) {
  if (!answer.advice.feasible) throw std::logic_error("there is no mount to be unsure about");
  constexpr double step = 1e-3;  // [m]
  const double edge = answer.advice.edge;
  const auto limit = answer.advice.slot.far_limit;
  const bool moves = limit != placement::Constraint::bracket_travel;
  const View nominal = view(answer.rig, edge, requirement, limit);
  const double fall =
      (nominal.slack - view(answer.rig, edge - step, requirement, limit).slack) / step;
  FirstOrder result;
  spread::Total supply;
  spread::Total stand_off;
  for (const auto& variation : variations) {
    auto changed_parts = parts;
    auto changed_models = models;
    variation.apply(changed_parts, changed_models);
    (void)engine::recalibrate(changed_parts.engine,
                              changed_models.engine,
                              changed_models.air,
                              air::make_ambient(changed_models.air, parts.site));
    const auto rig = as_placed(
        start::assemble(changed_parts, changed_models, answer.choice, deriving), answer.advice);
    const View changed = view(rig, edge, requirement, limit);
    if (!std::isfinite(changed.supply)) continue;
    Influence influence{.name = variation.name, .supply = changed.supply / nominal.supply - 1.0};
    supply.add(variation.group, influence.supply);
    if (moves && fall < 0.0) {
      influence.stand_off = -(changed.slack - nominal.slack) / fall;
      stand_off.add(variation.group, influence.stand_off);
    }
    result.influences.push_back(influence);
  }
  std::stable_sort(
      result.influences.begin(), result.influences.end(), [](const auto& a, const auto& b) {
        return std::abs(a.supply) > std::abs(b.supply);
      });
  result.supply_deviation = supply.deviation();
  if (moves && fall < 0.0) result.stand_off_deviation = stand_off.deviation();
  return result;
}

}  // namespace windgap::placement
