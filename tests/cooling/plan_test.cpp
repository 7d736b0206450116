#include "cooling/plan.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "cooling/scene.h"
#include "cooling/settable.h"
#include "engine/windmill.h"
#include "support/bench.h"
#include "support/models.h"

namespace windgap::cooling {
namespace {

const BoundState& bound(const Trial& trial, Bound which) {
  return trial.bounds[static_cast<std::size_t>(which)];
}

Scene oiled() {
  Scene scene = test::garden_scene();
  scene.pump = PumpUse::while_purging;
  return scene;
}

constexpr PlanNeed usual{.stand_off = 0.15, .least_throttle = 0.2, .charge = 8000.0};

TEST(PurgePlan, FindsWhatAScanOfThrottlesFinds) {
  const auto scene = oiled();
  auto need = usual;
  need.shape = Shape::constant;
  const auto found = plan(scene, test::garden_rig(), need);
  ASSERT_TRUE(found.feasible);
  double best = 1e9;
  for (double throttle = 0.2; throttle <= 1.0; throttle += 0.005) {
    const auto trial =
        try_purge(scene, test::garden_rig(), need, {{.throttle = throttle}}, Ends::exact);
    if (trial.feasible) best = std::min(best, trial.seconds);
  }
  EXPECT_LE(found.purge.seconds, settable_time(best) + 5.0);  // a whole percent may cost one step
  EXPECT_GT(found.purge.seconds, best - 5.0);                 // the scan's step
}

TEST(PurgePlan, KeepsWithinThePack) {
  const auto scene = oiled();
  double before = 0.0;
  for (const double charge : {12000.0, 6000.0, 3000.0}) {
    auto need = usual;
    need.charge = charge;
    const auto found = plan(scene, test::garden_rig(), need);
    ASSERT_TRUE(found.feasible);
    EXPECT_LE(found.purge.charge, charge);
    EXPECT_GT(found.purge.seconds, before);  // less charge is slower
    before = found.purge.seconds;
  }
}

TEST(PurgePlan, TheCourseFollowsThePlanAndReachesItsGoal) {
  const auto scene = oiled();
  for (const Goal goal : {Goal::bearing, Goal::handling, Goal::contact}) {
    auto need = usual;
    need.goal = goal;
    const auto found = plan(scene, test::garden_rig(), need);
    ASSERT_TRUE(found.feasible);
    const double end = found.purge.steps.back().end;
    EXPECT_DOUBLE_EQ(end, found.purge.seconds);
    EXPECT_LE(below_for_good(scene.network, found.course, watch_for(goal, scene.limits)),
              end + 2.0);
    EXPECT_NEAR(found.verdict.spent.charge, found.purge.charge, 0.005 * found.purge.charge);
    EXPECT_LT(found.verdict.contact, found.standing_verdict.contact);
  }
}

TEST(PurgePlan, HarderGoalsTakeLonger) {
  const auto scene = oiled();
  auto need = usual;
  need.goal = Goal::bearing;
  const double bearing = plan(scene, test::garden_rig(), need).purge.seconds;
  need.goal = Goal::handling;
  const double handling = plan(scene, test::garden_rig(), need).purge.seconds;
  need.goal = Goal::contact;
  const double contact = plan(scene, test::garden_rig(), need).purge.seconds;
  EXPECT_LE(bearing, handling);
  EXPECT_LT(handling, contact);
}

TEST(PurgePlan, ADryRotorIsKeptSlowOrThePumpMustRun) {
  Scene scene = test::garden_scene();
  scene.pump = PumpUse::off;
  const auto slow = plan(scene, test::garden_rig(), usual);
  ASSERT_TRUE(slow.feasible);
  EXPECT_LE(slow.verdict.fastest_rotor, test::cooling_models().dry_speed * 1.001);
  EXPECT_TRUE(bound(slow.purge, Bound::rotor_speed).active);
  scene.network.coefficients.dry_speed = 1.0;
  const auto dry = plan(scene, test::garden_rig(), usual);
  EXPECT_FALSE(dry.feasible);
  EXPECT_LT(bound(dry.purge, Bound::rotor_speed).slack, 0.0);
  EXPECT_TRUE(dry.remedy.pump.found);
}

TEST(PurgePlan, AGentleStartThenAFasterEndWhereTheHousingMustNotCoolFast) {
  const auto scene = oiled();
  auto need = usual;
  need.cooling_rate = 1.6;
  need.charge = 20000.0;
  const auto two = plan(scene, test::garden_rig(), need);
  need.shape = Shape::constant;
  const auto one = plan(scene, test::garden_rig(), need);
  ASSERT_TRUE(one.feasible);
  ASSERT_TRUE(two.feasible);
  ASSERT_EQ(two.purge.steps.size(), 2U);
  EXPECT_LT(two.purge.steps[0].throttle, two.purge.steps[1].throttle);
  EXPECT_LT(two.purge.seconds, 0.98 * one.purge.seconds);
  EXPECT_LE(two.verdict.fastest_cooling, 1.6 * 1.002);
}

// Whatever meets the tighter limit meets the looser one: up to the search's own fineness.
TEST(PurgePlan, ALooserLimitNeverTakesLonger) {
  const auto scene = oiled();
  auto need = usual;
  double before = std::numeric_limits<double>::infinity();
  for (const double per_minute : {79.0, 80.0, 82.0, 85.0, 90.0, 100.0, 110.0}) {
    need.cooling_rate = per_minute / 60.0;
    const auto plan_there = plan(scene, test::garden_rig(), need);
    if (!plan_there.feasible) continue;
    EXPECT_LE(plan_there.purge.seconds, 1.02 * before) << per_minute;
    before = std::min(before, plan_there.purge.seconds);
  }
  EXPECT_TRUE(std::isfinite(before));
}

TEST(PurgePlan, SaysWhatIsShortAndWhatWouldHelp) {
  const auto scene = oiled();
  auto need = usual;
  need.charge = 50.0;
  const auto poor = plan(scene, test::garden_rig(), need);
  EXPECT_FALSE(poor.feasible);
  EXPECT_LT(bound(poor.purge, Bound::charge).slack, 0.0);
  ASSERT_TRUE(poor.remedy.pack.found);
  EXPECT_GT(poor.remedy.pack.charge, 50.0);
  need.charge = poor.remedy.pack.charge;
  EXPECT_TRUE(plan(scene, test::garden_rig(), need).feasible);
  need = usual;
  need.cooling_rate = 0.1;
  const auto brisk = plan(scene, test::garden_rig(), need);
  EXPECT_FALSE(brisk.feasible);
  ASSERT_TRUE(brisk.remedy.gentle.found);
  EXPECT_GT(brisk.remedy.gentle.cooling_rate, 0.1);
  need.cooling_rate = brisk.remedy.gentle.cooling_rate;
  EXPECT_TRUE(plan(scene, test::garden_rig(), need).feasible);
}

TEST(PurgePlan, CanBeSetByHandAndKeepsItsLimitsAsSet) {
  const auto scene = oiled();
  int seen = 0;
  int in_two = 0;
  for (const double charge : {2500.0, 3700.0, 5100.0, 8000.0}) {
    for (const double rate : {unset, 1.5}) {
      auto need = usual;
      need.charge = charge;
      need.cooling_rate = rate;
      const auto found = plan(scene, test::garden_rig(), need);
      if (!found.feasible) continue;
      ++seen;
      if (found.purge.steps.size() > 1) ++in_two;
      for (const auto& step : found.purge.steps) {
        EXPECT_NEAR(100.0 * step.throttle, std::round(100.0 * step.throttle), 1e-9);
        EXPECT_EQ(std::fmod(step.end, 5.0), 0.0) << step.end;
      }
      // What is drawn by the end that a watch shows, followed once more.
      std::vector<PurgeStep> steps;
      for (const auto& step : found.purge.steps) {
        const auto rig = rig::with_throttle(test::garden_rig(), step.throttle);
        steps.push_back({.flow = purge_of(scene.network, scene.start, rig, need.stand_off),
                         .seconds = step.end - step.start});
      }
      const auto course = purge_course(scene, steps);
      EXPECT_EQ(course.end(), found.purge.seconds);
      EXPECT_LE(course.knots.back().spent.charge, charge);
      EXPECT_NEAR(course.knots.back().spent.charge, found.purge.charge, 1e-9 * charge);
      for (const auto& bound : found.purge.bounds) EXPECT_GE(bound.slack, 0.0);
    }
  }
  // One in every pack but the smallest at least, or the loop above has looked at too little.
  EXPECT_GE(seen, 3);
  EXPECT_GE(in_two, 1);
}

TEST(PurgePlan, AnEndAsSetIsNeverBeforeTheExactOne) {
  const auto scene = oiled();
  for (const double throttle : {0.2, 0.35, 0.6, 1.0}) {
    const std::vector<PlannedStep> steps{{.throttle = throttle}};
    const auto exact = try_purge(scene, test::garden_rig(), usual, steps, Ends::exact);
    const auto set = try_purge(scene, test::garden_rig(), usual, steps, Ends::settable);
    EXPECT_GE(set.seconds, exact.seconds);
    EXPECT_LT(set.seconds, exact.seconds + 5.0);
    EXPECT_GE(set.charge, exact.charge);
  }
}

TEST(PurgePlan, AStepThatWouldBeginAfterTheEndIsLeftOut) {
  const auto trial = try_purge(oiled(),
                               test::garden_rig(),
                               usual,
                               {{.throttle = 0.6, .start = 0.0, .end = 3000.0}, {.throttle = 0.3}},
                               Ends::settable);
  ASSERT_EQ(trial.steps.size(), 1U);
  EXPECT_EQ(trial.steps.front().end, trial.seconds);
}

TEST(PurgePlan, TheThriftiestPurgeIsThatOfAScanOfWholePercents) {
  const auto scene = oiled();
  const auto found = plan(scene, test::garden_rig(), usual);
  ASSERT_TRUE(found.thriftiest.feasible);
  double least = 1e9;
  for (int percent = 20; percent <= 100; ++percent) {
    const auto trial = try_purge(
        scene, test::garden_rig(), usual, {{.throttle = percent / 100.0}}, Ends::settable);
    if (trial.feasible) least = std::min(least, trial.charge);
  }
  EXPECT_NEAR(found.thriftiest.charge, least, 0.01 * least);
}

TEST(PurgePlan, ADistanceThatIsTooGreatSaysHowNearTheFanMustCome) {
  const auto scene = oiled();
  auto need = usual;
  need.stand_off = 9.0;
  const auto far = plan(scene, test::garden_rig(), need);
  ASSERT_FALSE(far.feasible);
  ASSERT_TRUE(far.remedy.nearer.found);
  EXPECT_LT(far.remedy.nearer.stand_off, 9.0);
  need.stand_off = far.remedy.nearer.stand_off;
  EXPECT_TRUE(plan(scene, test::garden_rig(), need).feasible);
  need.stand_off = std::min(9.0, 1.15 * far.remedy.nearer.stand_off);
  EXPECT_FALSE(plan(scene, test::garden_rig(), need).feasible);
}

// A rotor turns where the air's torque on the resting wheels exceeds what holds them.
TEST(PurgePlan, TheRotorRestsExactlyWhereTheAirCannotTurnIt) {
  const auto& rig = test::garden_rig();
  int resting = 0;
  int turning = 0;
  for (const double stand_off : {0.15, 0.6, 1.2, 2.0, 3.0, 4.0}) {
    const auto flow =
        purge_of(oiled().network, oiled().start, rig::with_throttle(rig, 0.3), stand_off);
    if (!flow.flows()) continue;
    const auto blown = rig::deliver(rig::with_throttle(rig, 0.3), stand_off);
    const auto path =
        engine::march(rig.engine,
                      rig.ambient,
                      {.mass_flow = flow.airflow.front(),
                       .speed = 0.0,
                       .inlet_total_pressure = rig.ambient.pressure + blown.inducer_pressure,
                       .inlet_total_temperature = rig.ambient.temperature,
                       .inlet_swirl = blown.inlet_swirl});
    const bool held = engine::net_torque(rig.engine, path, 0.0) <= rig.engine.breakaway_torque;
    if (held) {
      ++resting;
      EXPECT_EQ(flow.rotor_speed.front(), 0.0) << stand_off;
    } else if (flow.rotor_speed.front() > 0.0) {
      ++turning;
    }
  }
  EXPECT_GT(resting, 0);
  EXPECT_GT(turning, 0);
}

TEST(PurgePlan, LimitBelowTheRoomIsNeverReached) {
  Scene scene = oiled();
  scene.limits.contact = scene.network.ambient.temperature - 1.0;
  auto need = usual;
  need.goal = Goal::contact;
  const auto found = plan(scene, test::garden_rig(), need);
  EXPECT_FALSE(found.feasible);
  EXPECT_TRUE(std::isinf(found.purge.seconds));
  EXPECT_LT(bound(found.purge, Bound::goal).slack, 0.0);
}

TEST(PurgePlan, TradeOffFallsInTimeAndRisesInCharge) {
  const auto found = plan(oiled(), test::garden_rig(), usual);
  ASSERT_GE(found.trade_off.size(), 5U);
  for (std::size_t i = 1; i < found.trade_off.size(); ++i) {
    EXPECT_LT(found.trade_off[i].seconds, found.trade_off[i - 1].seconds);
    EXPECT_GT(found.trade_off[i].charge, found.trade_off[i - 1].charge);
  }
}

TEST(PurgePlan, AMeasuredStreamHasNeitherThrottleNorCharge) {
  auto parts = test::garden_parts();
  parts.source = fan::Stream{.exit_diameter = 0.064, .velocity = 35.0};
  parts.fan_outer_diameter = 0.07;
  const auto rig = rig::assemble(parts, test::models(), rig::JetChoice::estimated);
  const auto found = plan(oiled(), rig, usual);
  EXPECT_TRUE(found.feasible);
  EXPECT_EQ(found.purge.charge, 0.0);
  EXPECT_EQ(found.trade_off.size(), 1U);
}

TEST(PurgePlan, IsTheSameEveryTime) {
  const auto a = plan(oiled(), test::garden_rig(), usual);
  const auto b = plan(oiled(), test::garden_rig(), usual);
  EXPECT_EQ(a.purge.seconds, b.purge.seconds);
  EXPECT_EQ(a.trials, b.trials);
}

TEST(PurgePlan, TriesFewPurges) {
  // Within the 300 ms a plan may take: models/cooling.md, section "Speed".
  EXPECT_LE(plan(oiled(), test::garden_rig(), usual).trials, 200);
}

TEST(PurgePlan, ARangeThatDoesNotRiseIsACallersMistake) {
  auto need = usual;
  need.least_throttle = 1.0;
  EXPECT_THROW((void)plan(oiled(), test::garden_rig(), need), std::logic_error);
}

}  // namespace
}  // namespace windgap::cooling
