#include "choice/sizing.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "choice/scene.h"
#include "support/bench.h"
#include "support/models.h"

namespace windgap::choice {
namespace {

TEST(Sizing, ScaledFanKeepsVelocitiesAndVoltages) {
  const auto parts = test::garden_parts();
  const auto& c = test::models();
  const auto& fan = std::get<fan::Fan>(parts.source);
  const auto ambient = air::make_ambient(c.air, parts.site);
  const auto base = fan::operate(fan::prepare(fan, parts.drive, ambient, c.fan, c.drive), 1.0, 0.3);
  for (const double ratio : {0.5, 1.7}) {
    const auto other = scaled(fan, parts.drive, ratio);
    const auto point =
        fan::operate(fan::prepare(other.fan, other.drive, ambient, c.fan, c.drive), 1.0, 0.3);
    EXPECT_NEAR(point.exit_velocity, base.exit_velocity, 1e-9 * base.exit_velocity);
    EXPECT_NEAR(point.thrust, ratio * ratio * base.thrust, 1e-9 * point.thrust);
    EXPECT_NEAR(point.drive.pack_voltage, base.drive.pack_voltage, 1e-9);
    EXPECT_NEAR(point.drive.pack_current,
                ratio * ratio * base.drive.pack_current,
                1e-9 * point.drive.pack_current);
    EXPECT_NEAR(point.swirl_number, base.swirl_number, 1e-9);
  }
}

TEST(Sizing, LineThroughPointsOfALineIsThatLine) {
  const auto thumb = fit_line({{0.04, 0.1}, {0.06, 0.2}, {0.10, 0.4}});
  EXPECT_NEAR(thumb.slope, 5.0, 1e-9);
  EXPECT_NEAR(thumb.offset, 0.02, 1e-9);
  EXPECT_NEAR(thumb.deviation, 0.0, 1e-9);
  EXPECT_EQ(thumb.fans, 3U);
}

TEST(Sizing, TwoPointsMakeNoRule) {
  EXPECT_TRUE(std::isnan(fit_line({{0.04, 0.1}, {0.06, 0.2}}).slope));
}

TEST(Sizing, DeviationIsTheRootMeanSquareOfTheMisses) {
  // y = x fits these best; the misses are 1, -2, 1: six over three points.
  const auto thumb = fit_line({{1.0, 2.0}, {2.0, 0.0}, {3.0, 4.0}});
  EXPECT_NEAR(thumb.slope, 1.0, 1e-12);
  EXPECT_NEAR(thumb.deviation, std::sqrt(2.0), 1e-12);
  EXPECT_NEAR(thumb.worst, 2.0, 1e-12);
}

TEST(Sizing, RingStandsWhereTheLadderDoes) {
  const auto& m = test::market("garden-46");
  const auto sizes = sizing(m.question, m.list.fans, m.list.packs, {}, m.ranking, {});
  std::size_t compared = 0;
  for (const auto& ring : sizes.fans) {
    const auto& on = m.ranking.choices[ring.choice];
    double farthest = 0.0;
    for (const auto& choice : m.ranking.choices) {
      if (choice.fan != on.fan || choice.fitness != Fitness::fits) continue;
      farthest = std::max(farthest, choice.placement.stand_off);
      // Where the travel ends it, the ring stands farther.
      EXPECT_GE(ring.stand_off, choice.placement.stand_off - 1e-3) << m.list.fans[on.fan].name;
    }
    if (on.placement.edge > 0.99 * m.question.need.farthest || !(farthest > 0.0)) continue;
    EXPECT_NEAR(ring.stand_off, farthest, 1e-3) << m.list.fans[on.fan].name;
    ++compared;
  }
  EXPECT_GT(compared, 3U);
}

TEST(Sizing, LinesRiseWithTheBoreAndComeByInducer) {
  const auto& m = test::market("garden-46");
  const auto sizes = sizing(m.question, m.list.fans, m.list.packs, m.list.engines, m.ranking, {});
  ASSERT_GT(sizes.lines.size(), 3U);
  EXPECT_TRUE(std::is_sorted(sizes.lines.begin(),
                             sizes.lines.end(),
                             [](const auto& a, const auto& b) { return a.inducer < b.inducer; }));
  for (const auto& line : sizes.lines) {
    for (std::size_t i = 1; i < line.points.size(); ++i) {
      EXPECT_GE(line.points[i].stand_off, line.points[i - 1].stand_off - 1e-6) << line.engine;
    }
  }
  EXPECT_GT(sizes.by_bore.slope, 0.0);
  EXPECT_GT(sizes.by_root_thrust.slope, 0.0);
}

}  // namespace
}  // namespace windgap::choice
