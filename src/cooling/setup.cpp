#include "cooling/setup.h"

#include <algorithm>
#include <cmath>

#include "cooling/settable.h"
#include "rig/running.h"

namespace windgap::cooling {

std::vector<Assumed> fill_fallbacks(HotEngine& hot,
                                    const rig::Parts& parts,
                                    const rig::Coefficients& models,
                                    const Coefficients& c,
                                    const Materials& materials) {
  auto assumed = fill_fallbacks(hot.build, parts.engine, models.engine, c, materials);
  const auto fill = [&](double& field, const char* name, double value, const char* why) {
    if (!std::isnan(field)) return;
    field = value;
    assumed.push_back({.field = name, .value = value, .why = why});
  };
  fill(hot.gas_temperature,
       "gas_temperature",
       c.usual_gas_temperature,
       "usual at load (usual_gas_temperature)");
  fill(hot.run, "run", c.usual_run, "usual run (usual_run)");
  fill(hot.dry_speed, "dry_speed", c.dry_speed, "on the oil that is left (dry_speed)");
  return assumed;
}

Scene make_scene(const HotEngine& hot,
                 const rig::Parts& parts,
                 const rig::Rig& rig,
                 const rig::Coefficients& models,
                 const Coefficients& c,
                 const Materials& materials) {
  Coefficients own = c;
  own.dry_speed = hot.dry_speed;
  Scene scene;
  scene.network = prepare_network(
      hot.build, parts.engine, models.engine, own, materials, rig.ambient, rig.engine.air);
  scene.start = hot.temperature;
  if (std::any_of(scene.start.begin(), scene.start.end(), [](double t) { return std::isnan(t); })) {
    const Run run{.gas_temperature = hot.gas_temperature,
                  .airflow = c.running_speed_share * rig::running_airflow(parts, rig, models),
                  .seconds = hot.run};
    const auto after = after_running(scene.network, run, fire_of(run, rig, own));
    for (std::size_t i = 0; i < part_count; ++i) {
      if (std::isnan(scene.start[i])) scene.start[i] = after[i];
    }
  }
  scene.limits = limits_for(hot.wishes, own);
  scene.pump = hot.pump;
  return scene;
}

double charge_of_starts(const rig::Rig& rig, const StartsMade& starts) {
  if (rig.fan.holds_flow) return 0.0;
  const auto fan = rig::fan_operation(rig, rig::deliver(rig, starts.stand_off));
  return starts.count * starts.seconds * fan.drive.pack_current;
}

double charge_left(const drive::Pack& pack, double charge_of_starts, const Coefficients& c) {
  const double usable = pack.capacity * (pack.state_of_charge - c.pack_reserve);
  return std::max(0.0, usable - charge_of_starts);
}

Demand cooldown_demand(const Scene& scene, const rig::Rig& rig, const PlanNeed& need) {
  constexpr int throttles = 6;
  constexpr Accuracy rough{.relative = 1e-4};
  Demand best;
  const auto range = whole_percents(need.least_throttle, need.most_throttle);
  const int tried = rig.fan.holds_flow ? 1 : throttles;
  for (int i = 0; i < tried; ++i) {
    const double share = static_cast<double>(i) / (throttles - 1.0);
    const double throttle = rig.fan.holds_flow ? rig.throttle : throttle_of(range.between(share));
    const auto trial = try_purge(scene, rig, need, {{.throttle = throttle}}, Ends::settable, rough);
    const bool better = !best.feasible || trial.charge < best.charge;
    if (trial.feasible && better) {
      best = {
          .feasible = true, .throttle = throttle, .seconds = trial.seconds, .charge = trial.charge};
    }
  }
  return best;
}

}  // namespace windgap::cooling
