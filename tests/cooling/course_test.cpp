#include "cooling/course.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "cooling/scene.h"
#include "cooling/stiff.h"

namespace windgap::cooling {
namespace {

constexpr auto liner = index(Part::liner);
constexpr auto casing = index(Part::casing);

TEST(HeatCourse, TwoPartsJoinedByMetalFollowTheClosedForm) {
  auto n = test::bare_network(500.0);
  n.mass[liner] = 0.4;
  n.mass[casing] = 1.6;
  n.links[0] = {.from = Part::liner, .to = Part::casing, .conductance = 3.0};
  Temperatures start{};
  start.fill(n.ambient.temperature);
  start[liner] = 900.0;
  start[casing] = 400.0;
  const auto course = follow(n, standing(n, Pump::off), start, {.length = 300.0});
  const double c1 = 0.4 * 500.0;
  const double c2 = 1.6 * 500.0;
  const double mean = (c1 * 900.0 + c2 * 400.0) / (c1 + c2);
  for (const double time : {5.0, 30.0, 100.0, 300.0}) {
    const double difference = 500.0 * std::exp(-3.0 * (1.0 / c1 + 1.0 / c2) * time);
    const auto at = temperatures_at(course, time);
    EXPECT_NEAR(at[liner], mean + c2 / (c1 + c2) * difference, 0.02) << time;
    EXPECT_NEAR(at[casing], mean - c1 / (c1 + c2) * difference, 0.02) << time;
  }
}

TEST(HeatCourse, APartThatOnlyRadiatesFollowsTheClosedForm) {
  // Into surroundings of constant temperature: the heat capacity of the other part is beyond any
  // change. Closed form of dT/dt = -k (T^4 - S^4).
  auto n = test::bare_network(600.0);
  n.mass[liner] = 0.5;
  n.mass[casing] = 1e9;
  const double exchange = 2e-9;
  n.links[0] = {.from = Part::liner, .to = Part::casing, .radiation = exchange};
  Temperatures start{};
  const double around = 300.0;
  start.fill(around);
  start[liner] = 1100.0;
  const auto course = follow(n, standing(n, Pump::off), start, {.length = 2000.0});
  const double k = exchange / (0.5 * 600.0);
  const auto primitive = [&](double t) {
    return std::log((t + around) / (t - around)) + 2.0 * std::atan(t / around);
  };
  for (const double time : {20.0, 200.0, 1000.0, 2000.0}) {
    const double t = temperatures_at(course, time)[liner];
    const double elapsed =
        (primitive(t) - primitive(1100.0)) / (4.0 * around * around * around * k);
    EXPECT_NEAR(elapsed, time, 1e-3 * time);
  }
}

TEST(HeatCourse, HeatIsConserved) {
  const auto& scene = test::garden_scene();
  const auto& n = scene.network;
  const double before = stored_heat(n, scene.start);
  for (const double airflow : {0.0, 0.004, 0.012, 0.03}) {
    for (const Pump pump : {Pump::off, Pump::on}) {
      const auto condition = airflow > 0.0 ? purging(n,
                                                     steady_purge({.airflow = airflow,
                                                                   .coldest = n.ambient.temperature,
                                                                   .hottest = 900.0}),
                                                     pump)
                                           : standing(n, pump);
      const auto course = follow(n, condition, scene.start, {.length = 1800.0});
      ASSERT_EQ(course.ending, Ending::time_up);
      for (const auto& knot : course.knots) {
        EXPECT_NEAR(before - stored_heat(n, knot.at), knot.spent.heat(), 1e-3 * before);
      }
      const double lost = before - stored_heat(n, course.knots.back().at);
      EXPECT_NEAR(course.knots.back().spent.heat(), lost, 1e-3 * lost);
    }
  }
}

TEST(HeatCourse, NothingLeavesTheBandBetweenRoomAndHottest) {
  const auto& scene = test::garden_scene();
  const double hottest = *std::max_element(scene.start.begin(), scene.start.end());
  const auto course = follow(
      scene.network, standing(scene.network, Pump::off), scene.start, {.length = 4.0 * 3600.0});
  for (const auto& knot : course.knots) {
    for (const double t : knot.at) {
      EXPECT_LE(t, hottest + 1e-3);
      EXPECT_GE(t, scene.network.ambient.temperature - 1e-3);
    }
  }
}

TEST(HeatCourse, TighterAccuracyChangesLittleAndLooserCostsLess) {
  const auto& scene = test::garden_scene();
  const auto condition = standing(scene.network, Pump::off);
  const auto run = [&](double relative) {
    return follow(
        scene.network, condition, scene.start, {.length = 3600.0}, {}, {.relative = relative});
  };
  const auto sharp = run(1e-9);
  double before = 1e9;
  for (const double relative : {1e-3, 1e-5, 1e-7}) {
    const auto course = run(relative);
    double miss = 0.0;
    for (std::size_t i = 0; i < part_count; ++i) {
      miss = std::max(miss, std::abs(course.knots.back().at[i] - sharp.knots.back().at[i]));
    }
    EXPECT_LT(miss, 1000.0 * relative);
    EXPECT_LT(miss, before);
    before = miss;
    EXPECT_LT(course.knots.size(), sharp.knots.size());
  }
}

TEST(HeatCourse, InterpolationBetweenKnotsIsAsGoodAsTheKnots) {
  const auto& scene = test::garden_scene();
  const auto condition = standing(scene.network, Pump::off);
  const auto course = follow(scene.network, condition, scene.start, {.length = 3600.0});
  const auto sharp =
      follow(scene.network, condition, scene.start, {.length = 3600.0}, {}, {.relative = 1e-9});
  for (double time = 0.0; time <= 3600.0; time += 7.0) {
    const auto a = temperatures_at(course, time);
    const auto b = temperatures_at(sharp, time);
    for (std::size_t i = 0; i < part_count; ++i) EXPECT_NEAR(a[i], b[i], 0.1) << time;
  }
}

TEST(HeatCourse, EndsEarlyOnlyWhenNothingCanExceedALimitAgain) {
  const auto& scene = test::garden_scene();
  Watch watch;
  watch.bearing = 450.0;
  const auto condition = standing(scene.network, Pump::off);
  const auto brief = follow(scene.network, condition, scene.start, {.length = 4.0 * 3600.0}, watch);
  EXPECT_EQ(brief.ending, Ending::cooled);
  const auto whole = follow(scene.network, condition, scene.start, {.length = 4.0 * 3600.0});
  EXPECT_LT(brief.end(), whole.end());
  EXPECT_NEAR(below_for_good(scene.network, brief, watch),
              below_for_good(scene.network, whole, watch),
              1.0);
}

TEST(HeatCourse, BelowForGoodCountsTheLastCrossing) {
  const auto& scene = test::garden_scene();
  const auto course = follow(
      scene.network, standing(scene.network, Pump::off), scene.start, {.length = 2.0 * 3600.0});
  // The compressor starts cool, is warmed by soak-back, and cools again.
  Watch watch;
  watch.part[index(Part::compressor)] = 360.0;
  ASSERT_LT(scene.start[index(Part::compressor)], 360.0);
  const double time = below_for_good(scene.network, course, watch);
  EXPECT_GT(time, 600.0);
  EXPECT_NEAR(temperatures_at(course, time)[index(Part::compressor)], 360.0, 0.05);
  watch.part[index(Part::compressor)] = 1000.0;
  EXPECT_DOUBLE_EQ(below_for_good(scene.network, course, watch), 0.0);
  watch.part[index(Part::compressor)] = 100.0;
  EXPECT_TRUE(std::isinf(below_for_good(scene.network, course, watch)));
}

/// x' = -1000 (x - cos t), t' = 1: stiff, with a known slow solution.
class Stiff : public StiffSystem {
 public:
  [[nodiscard]] std::size_t size() const override { return 2; }
  void rates(const double* x, double* rate) const override {
    rate[0] = -1000.0 * (x[0] - std::cos(x[1]));
    rate[1] = 1.0;
  }
  void slopes(const double* x, double* slope) const override {
    slope[0] = -1000.0;
    slope[1] = -1000.0 * std::sin(x[1]);
    slope[2] = 0.0;
    slope[3] = 0.0;
  }
};

TEST(StiffStepper, TakesStepsFarBeyondTheFastTime) {
  const Stiff system;
  const double start[2] = {0.0, 0.0};
  StiffStepper stepper(system, start, {.absolute = 1e-6, .relative = 1e-6});
  double time = 0.0;
  double step = 1e-4;
  int taken = 0;
  while (time < 10.0) {
    step = std::min(step, 10.0 - time);
    if (stepper.try_step(time, step)) ++taken;
    ASSERT_LT(taken, 1000);
  }
  // x = (k^2 cos t + k sin t)/(1 + k^2) once the start has died away, k = 1000.
  const double exact = (1e6 * std::cos(10.0) + 1e3 * std::sin(10.0)) / (1.0 + 1e6);
  EXPECT_NEAR(stepper.state()[0], exact, 1e-5);
  EXPECT_LT(taken, 500);  // an explicit method needs 3000 for stability alone
}

}  // namespace
}  // namespace windgap::cooling
