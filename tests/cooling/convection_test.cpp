#include "cooling/convection.h"

#include <gtest/gtest.h>

#include <cmath>

#include "support/models.h"

namespace windgap::cooling {
namespace {

const ConvectionCoefficients& convection() { return test::cooling_models().convection; }

TEST(Convection, StefanBoltzmannFollowsFromTheExactConstants) {
  // CODATA 2018: 5.670374419e-8 W/(m^2 K^4).
  const double black =
      radiation_to_room({.emissivity = 1.0, .temperature = 1000.0, .ambient_temperature = 0.0});
  EXPECT_NEAR(black, 56703.74419, 1e-5);
}

TEST(Convection, SmoothDuctValuesWorkedByHand) {
  const auto law = duct_law(convection(), 0.7);
  EXPECT_NEAR(smooth_friction(convection(), 1e5), 0.01799, 5e-6);
  EXPECT_NEAR(duct(law, 1e5), 178.6, 0.05);
  EXPECT_NEAR(smooth_friction(convection(), 2e4), 0.02615, 5e-6);
  EXPECT_NEAR(duct(law, 2e4), 51.4, 0.05);
}

TEST(Convection, DuctIsContinuousThroughTransition) {
  const auto law = duct_law(convection(), 0.7);
  for (const double re : {2300.0, 4000.0}) {
    EXPECT_NEAR(duct(law, re * (1.0 - 1e-9)), duct(law, re * (1.0 + 1e-9)), 1e-6);
  }
  double before = 0.0;
  for (double re = 100.0; re < 1e6; re *= 1.05) {
    EXPECT_GE(duct(law, re), before);
    before = duct(law, re);
  }
}

TEST(Convection, BlendOfEqualPartsExceedsEitherAndOneAloneIsItself) {
  EXPECT_DOUBLE_EQ(blend(convection(), 7.0, 0.0), 7.0);
  EXPECT_NEAR(blend(convection(), 7.0, 7.0), 7.0 * std::cbrt(2.0), 1e-9);
}

TEST(Convection, EnclosureReducesToItsLimits) {
  const double black =
      radiation_to_room({.emissivity = 1.0, .temperature = 1.0, .ambient_temperature = 0.0});
  // A small body sees a black room; close black plates exchange as black bodies.
  EXPECT_NEAR(
      enclosure_exchange({.inner_emissivity = 0.6, .outer_emissivity = 0.3, .area_ratio = 0.0}),
      0.6 * black,
      1e-20);
  EXPECT_NEAR(
      enclosure_exchange({.inner_emissivity = 1.0, .outer_emissivity = 1.0, .area_ratio = 1.0}),
      black,
      1e-20);
}

TEST(Convection, StreamNeverOvershootsTheWall) {
  for (const double conductance : {0.0, 1e-6, 1.0, 1e6}) {
    const double heat = heat_along_wall(
        {.conductance = conductance, .capacity_rate = 12.0, .inlet = 290.0, .wall = 800.0});
    EXPECT_GE(heat, 0.0);
    EXPECT_LE(heat, 12.0 * 510.0 * (1.0 + 1e-12));
    EXPECT_LE(heat, conductance * 510.0 * (1.0 + 1e-12));
  }
}

}  // namespace
}  // namespace windgap::cooling
