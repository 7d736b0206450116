#include "start/purge.h"

#include <gtest/gtest.h>

#include <cmath>

#include "support/models.h"

namespace windgap::start {
namespace {

TEST(Purge, TakesLongerForMoreVolumeAndLessAir) {
  const Purge purge{.changes = 5.0, .volume = 0.003, .least = 0.0};
  EXPECT_DOUBLE_EQ(purge_seconds(purge, 0.015), 1.0);
  EXPECT_TRUE(std::isinf(purge_seconds(purge, 0.0)));
}

TEST(Purge, IsNeverShorterThanTheLeast) {
  const Purge purge{.changes = 5.0, .volume = 0.003, .least = 10.0};
  EXPECT_DOUBLE_EQ(change_seconds(purge, 0.015), 1.0);
  EXPECT_DOUBLE_EQ(purge_seconds(purge, 0.015), 10.0);
  EXPECT_DOUBLE_EQ(purge_seconds(purge, 0.001), 15.0);
}

TEST(Purge, AnUnknownVolumeIsBlownForTheLeast) {
  EXPECT_DOUBLE_EQ(purge_seconds({.changes = 5.0, .volume = unset, .least = 10.0}, 0.015), 10.0);
}

TEST(Purge, PracticeFillsOnlyWhatIsOpen) {
  const PurgePractice practice{.purge_changes = 5.0, .least_purge = 10.0, .passage_share = 0.5};
  const auto all = with_practice({}, 0.002, practice);
  EXPECT_DOUBLE_EQ(all.changes, 5.0);
  EXPECT_DOUBLE_EQ(all.volume, 0.003);
  EXPECT_DOUBLE_EQ(all.least, 10.0);
  const auto one = with_practice({.changes = 8.0, .volume = 0.01, .least = 2.0}, 0.002, practice);
  EXPECT_DOUBLE_EQ(one.changes, 8.0);
  EXPECT_DOUBLE_EQ(one.volume, 0.01);
  EXPECT_DOUBLE_EQ(one.least, 2.0);
}

TEST(Purge, ChangesToSafeLeaveTheAskedShareOfTheLowerLimit) {
  const auto fuel = make_fuel(test::fuel_models(), FuelKind::kerosene);
  const double left = fuel.upper_limit * vapour_left(changes_to_safe(fuel, 0.25));
  EXPECT_NEAR(left, 0.25 * fuel.lower_limit, 1e-15);
}

}  // namespace
}  // namespace windgap::start
