#include "cooling/sensitivity.h"

#include <algorithm>
#include <cmath>

#include "spread/total.h"

namespace windgap::cooling {
namespace {

/// Left standing: until gloves do, or bare hands where gloves always do [s].
double standing_seconds(const Scene& scene, const Accuracy& accuracy) {
  const auto left = verdict(scene, standing_course(scene, scene.start, 0.0, accuracy));
  return left.warm > 0.0 ? left.warm : left.contact;
}

}  // namespace

Sensitivity sensitivity(const Plan& plan,
                        const Scene& scene,
                        const rig::Rig& rig,
                        const PlanNeed& need,
                        const Described& described,
                        const std::vector<Variation>& variations,
                        double supply_deviation) {
  constexpr Accuracy rough{.relative = 1e-4};
  Sensitivity result;
  const bool purged = plan.feasible && plan.purge.seconds > 0.0;
  auto steps = plan.purge.steps;
  if (purged) steps.back().end = unset;
  const auto seconds = [&](const Scene& in) {
    return purged ? try_purge(in, rig, need, steps, Ends::exact, rough).seconds
                  : standing_seconds(in, rough);
  };
  const double planned = seconds(scene);
  if (!(planned > 0.0) || !std::isfinite(planned)) return result;
  spread::Total total;
  const auto note = [&](const std::string& name, const std::string& group, double changed) {
    const double change = changed - planned;
    if (!std::isfinite(change)) return;
    total.add(group, change);
    result.influences.push_back({.name = name, .seconds = change});
  };
  for (const auto& variation : variations) {
    auto own = described.own;
    auto materials = described.materials;
    variation.apply(own, materials);
    auto hot = described.stated;
    (void)fill_fallbacks(hot, described.parts, described.models, own, materials);
    const auto moved = make_scene(hot, described.parts, rig, described.models, own, materials);
    note(variation.name, variation.group, seconds(moved));
  }
  if (purged && std::isfinite(supply_deviation) && !rig.fan.holds_flow) {
    for (auto& step : steps) step.throttle *= 1.0 - supply_deviation;
    note("delivered airflow", "", seconds(scene));
  }
  std::stable_sort(
      result.influences.begin(), result.influences.end(), [](const auto& a, const auto& b) {
        return std::abs(a.seconds) > std::abs(b.seconds);
      });
  result.deviation = total.deviation() / planned;
  return result;
}

}  // namespace windgap::cooling
