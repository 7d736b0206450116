#include "cooling/cooldown.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "cooling/scene.h"

namespace windgap::cooling {
namespace {

constexpr double stand_off = 0.15;

PurgeFlow purge_at_throttle(double throttle) {
  const auto& scene = test::garden_scene();
  return purge_of(
      scene.network, scene.start, rig::with_throttle(test::garden_rig(), throttle), stand_off);
}

Course purged(const Scene& scene, double throttle, double seconds) {
  const std::array steps{PurgeStep{.flow = purge_at_throttle(throttle), .seconds = seconds}};
  return purge_course(scene, steps);
}

TEST(Cooldown, RunningHeatsTheHotEndMost) {
  const auto& t = test::garden_scene().start;
  EXPECT_GT(t[index(Part::turbine_housing)], t[index(Part::centre_housing)]);
  EXPECT_GT(t[index(Part::centre_housing)], t[index(Part::compressor)]);
  for (const double temperature : t) {
    EXPECT_GT(temperature, test::garden_scene().network.ambient.temperature);
  }
}

TEST(Cooldown, SoakBackHeatsTheBearingAfterTheStopAndPurgingKeepsItCooler) {
  const auto& scene = test::garden_scene();
  const auto still = standing_course(scene, scene.start, 0.0);
  const auto peak = bearing_peak(still);
  EXPECT_GT(peak.temperature, still.knots.front().bearing + 5.0);
  EXPECT_GT(peak.time, 30.0);
  const auto blown = bearing_peak(purged(scene, 0.5, 1800.0));
  EXPECT_LT(blown.temperature, peak.temperature - 5.0);
}

TEST(Cooldown, OilThatFlowsKeepsTheBearingCooler) {
  auto scene = test::garden_scene();
  const double dry = bearing_peak(standing_course(scene, scene.start, 0.0)).temperature;
  scene.pump = PumpUse::always;
  const double oiled = bearing_peak(standing_course(scene, scene.start, 0.0)).temperature;
  EXPECT_LT(oiled, dry);
}

TEST(Cooldown, MoreThrottleIsNeverSlower) {
  const auto& scene = test::garden_scene();
  double before = 1e9;
  for (const double throttle : {0.25, 0.4, 0.6, 0.8, 1.0}) {
    const auto course = purged(scene, throttle, 3600.0);
    const double time = shortest_purge(scene, course, watch_for(Goal::handling, scene.limits));
    EXPECT_LT(time, before) << throttle;
    before = time;
  }
}

TEST(Cooldown, StoppingAtTheShortestPurgeIsSafeAndEarlierIsNot) {
  const auto& scene = test::garden_scene();
  const auto course = purged(scene, 0.5, 3600.0);
  for (const Goal goal : {Goal::bearing, Goal::handling, Goal::contact}) {
    const auto watch = watch_for(goal, scene.limits);
    const double time = shortest_purge(scene, course, watch);
    ASSERT_TRUE(std::isfinite(time));
    const auto most_after = [&](double stop) {
      double most = -1e9;
      for (const auto& knot : standing_course(scene, temperatures_at(course, stop), stop).knots) {
        most = std::max(most, excess(watch, knot.at, knot.bearing));
      }
      return most;
    };
    EXPECT_LE(most_after(time), 0.2);
    EXPECT_GT(most_after(time - 5.0), 0.0);
  }
}

TEST(Cooldown, SoakBackMakesTheBearingsPurgeLongerThanItsFirstCrossing) {
  // A purge stopped as soon as the bearing looks safe is heated again by the housing.
  const auto& scene = test::garden_scene();
  const auto course = purged(scene, 0.5, 3600.0);
  const auto watch = watch_bearing(scene.limits);
  EXPECT_GE(shortest_purge(scene, course, watch), below_for_good(scene.network, course, watch));
}

TEST(Cooldown, VerdictKeepsTheLimitsApartAndInOrder) {
  const auto& scene = test::garden_scene();
  const auto v = verdict(scene, standing_course(scene, scene.start, 0.0));
  EXPECT_GT(v.warm, 0.0);
  EXPECT_GT(v.contact, v.warm);
  EXPECT_GT(v.bearing_safe, 0.0);
  EXPECT_EQ(v.spent.charge, 0.0);
  EXPECT_EQ(v.fastest_rotor, 0.0);
}

TEST(Cooldown, ChargeIsCurrentTimesTime) {
  const auto& scene = test::garden_scene();
  const auto flow = purge_at_throttle(0.4);
  const auto course = purged(scene, 0.4, 600.0);
  const double mean = course.knots.back().spent.charge / 600.0;
  EXPECT_GE(mean, *std::min_element(flow.pack_current.begin(), flow.pack_current.end()) - 1e-6);
  EXPECT_LE(mean, *std::max_element(flow.pack_current.begin(), flow.pack_current.end()) + 1e-6);
}

}  // namespace
}  // namespace windgap::cooling
