#include "start/purge.h"

#include <gtest/gtest.h>

#include <cmath>

#include "support/models.h"

namespace windgap::start {
namespace {

TEST(Purge, TakesLongerForMoreVolumeAndLessAir) {
  EXPECT_DOUBLE_EQ(purge_seconds({.volume = 0.003, .changes = 5.0, .volume_flow = 0.015}), 1.0);
  EXPECT_TRUE(std::isinf(purge_seconds({.volume = 0.003, .changes = 5.0, .volume_flow = 0.0})));
}

TEST(Purge, ChangesToSafeLeaveTheAskedShareOfTheLowerLimit) {
  const auto fuel = make_fuel(test::fuel_models(), FuelKind::kerosene);
  const double left = fuel.upper_limit * vapour_left(changes_to_safe(fuel, 0.25));
  EXPECT_NEAR(left, 0.25 * fuel.lower_limit, 1e-15);
}

}  // namespace
}  // namespace windgap::start
