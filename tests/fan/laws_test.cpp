#include "fan/laws.h"

#include <gtest/gtest.h>

#include <cmath>

namespace windgap::fan {
namespace {

TEST(FanLaws, ADuctOfFullExitBeatsTheOpenRotorByTheCubeRootOfTwo) {
  const IdealDuct open{.density = 1.2, .disc_area = 0.004, .exit_area_ratio = 0.5};
  IdealDuct ducted = open;
  ducted.exit_area_ratio = 1.0;
  EXPECT_NEAR(ideal_thrust(ducted, 700.0) / ideal_thrust(open, 700.0), std::cbrt(2.0), 1e-12);
}

TEST(FanLaws, ScalingThereAndBackIsTheIdentity) {
  const AffinityPoint point{.flow = 0.2, .pressure_rise = 2500.0, .shaft_power = 900.0};
  const auto back = scale(scale(point, 0.7, 1.1), 1.0 / 0.7, 1.0 / 1.1);
  EXPECT_NEAR(back.flow, point.flow, 1e-12);
  EXPECT_NEAR(back.pressure_rise, point.pressure_rise, 1e-9);
  EXPECT_NEAR(back.shaft_power, point.shaft_power, 1e-9);
}

}  // namespace
}  // namespace windgap::fan
