#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "placement/placement.h"
#include "properties/scenes.h"
#include "support/bench.h"
#include "support/models.h"

/// Laws that no bench may break, tried on benches drawn from the whole box. Conservation of energy
/// and momentum are physics; the rest follows from what the quantities mean.
namespace windgap::rig {
namespace {

using test::Scene;

bool finite(const Delivery& d) {
  for (const double value : {d.airflow,
                             d.rotor_speed,
                             d.total_pressure,
                             d.inducer_pressure,
                             d.back_pressure,
                             d.capture_ratio,
                             d.jet_speed,
                             d.flame_holder_velocity}) {
    if (!std::isfinite(value)) return false;
  }
  return true;
}

Rig of(const Parts& parts) { return assemble(parts, test::models(), JetChoice::estimated); }

RC_GTEST_PROP(Law, EveryBenchDeliversFiniteAirAndNoneBackwards, ()) {
  const auto scene = *test::any_scene();
  for (const auto& parts : {test::fan_parts(scene), test::stream_parts(scene)}) {
    const auto d = deliver(of(parts), test::stand_off(scene));
    RC_ASSERT(finite(d));
    RC_ASSERT(d.airflow >= 0.0);
    RC_ASSERT(d.rotor_speed >= 0.0);
    RC_ASSERT(d.capture_ratio >= 0.0);
  }
}

RC_GTEST_PROP(Law, SwallowedAirCarriesNoMorePowerThanTheFanGivesIt, ()) {
  const auto scene = *test::any_scene();
  const auto rig = of(test::fan_parts(scene));
  const auto d = deliver(rig, test::stand_off(scene));
  const auto fan = fan_operation(rig, d);
  // Volume flow times total pressure, at the mouth and at the exit.
  RC_ASSERT(d.airflow * d.total_pressure <= fan.mass_flow * fan.exit_total_pressure * (1.0 + 1e-6));
}

RC_GTEST_PROP(Law, SwallowedAirIsOfTheJetAsFarAsItHasEntrained, ()) {
  const auto scene = *test::any_scene();
  const auto rig = of(test::stream_parts(scene));
  const double distance = test::stand_off(scene);
  const auto d = deliver(rig, distance);
  // A jet that keeps its momentum spreads it over no more air than one that is mixed to the mean
  // total pressure it still has: flow = momentum / speed, with the speed of what is swallowed.
  const double speed = std::sqrt(2.0 * std::max(d.total_pressure, 0.0) / rig.ambient.density);
  const auto fan = fan_operation(rig, d);
  const double momentum = fan.thrust + d.back_pressure * rig.fan.exit_area;
  RC_ASSERT(d.airflow * speed <= momentum * (1.0 + 1e-6) + 1e-9);
}

RC_GTEST_PROP(Law, NothingInTheGapRaisesTheTotalPressureAboveTheExits, ()) {
  const auto scene = *test::any_scene();
  const auto rig = of(test::fan_parts(scene));
  const auto d = deliver(rig, test::stand_off(scene));
  RC_ASSERT(d.total_pressure <= fan_operation(rig, d).exit_total_pressure * (1.0 + 1e-6));
}

RC_GTEST_PROP(Law, AFasterStreamDeliversNoLess, ()) {
  auto scene = *test::any_scene();
  const double distance = test::stand_off(scene);
  const auto slow = deliver(of(test::stream_parts(scene)), distance);
  scene.exit_velocity *= 1.05;
  const auto fast = deliver(of(test::stream_parts(scene)), distance);
  RC_ASSERT(fast.airflow >= slow.airflow * (1.0 - 1e-6));
}

RC_GTEST_PROP(Law, AFasterStreamNeverBringsTheMountCloser, ()) {
  auto scene = *test::any_scene();
  scene.offset_share *= 0.3;
  scene.stand_off_share = 1.5 + 0.1 * scene.stand_off_share;
  auto parts = test::stream_parts(scene);
  // What arrives a few bores away is what the engine is said to need: a mount exists.
  const auto enough = deliver(of(parts), test::stand_off(scene)).airflow;
  if (!(enough > 0.0)) RC_DISCARD("nothing arrives");
  auto need = test::usual_requirement();
  need.margin = 0.0;
  need.farthest = 3.0;
  const auto farthest = [&](const Scene& s) {
    parts = test::stream_parts(s);
    parts.start.airflow = enough;
    return placement::place(of(parts), need, test::placement_models(), {.threads = 1});
  };
  const auto slow = farthest(scene);
  if (!slow.feasible || slow.slot.far_limit != placement::Constraint::starting_airflow) {
    RC_DISCARD("another limit holds the mount");
  }
  scene.exit_velocity *= 1.05;
  const auto fast = farthest(scene);
  // Too much air for the flame bounds a slot's near end, never its far one.
  RC_ASSERT(fast.feasible);
  RC_ASSERT(fast.edge >= slow.edge - 1e-4);
}

RC_GTEST_PROP(Law, APlacementIsFiniteAndKeepsItsOwnLimits, ()) {
  const auto scene = *test::any_scene();
  auto parts = test::fan_parts(scene);
  parts.start.airflow = 10.0 * scene.inducer_diameter * scene.inducer_diameter;
  const auto answer = placement::place(
      of(parts), test::usual_requirement(), test::placement_models(), {.threads = 1});
  if (!answer.feasible) {
    RC_ASSERT(answer.shortfall.has_value());
    RC_ASSERT(std::isfinite(answer.shortfall->stand_off));
    return;
  }
  RC_ASSERT(std::isfinite(answer.stand_off) && std::isfinite(answer.edge));
  RC_ASSERT(answer.stand_off <= answer.edge);
  RC_ASSERT(answer.mount.delivery.airflow >= parts.start.airflow * (1.0 - 1e-6));
}

}  // namespace
}  // namespace windgap::rig
