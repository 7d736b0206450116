#include "start/heat_soak.h"

#include <gtest/gtest.h>

#include <cmath>

namespace windgap::start {
namespace {

constexpr Stanton plain{
    .factor = 0.023, .reynolds_exponent = 0.2, .prandtl_exponent = 0.6, .prandtl = 0.7};
constexpr Duct duct{.wetted_area = 0.03, .flow_area = 7e-4, .viscosity = 4.5e-5};

TEST(HeatSoak, GasAheadAndBehindAWallBelongTogether) {
  EXPECT_NEAR(ahead_of_wall(behind_wall(1100.0, 350.0, 0.3), 350.0, 0.3), 1100.0, 1e-9);
  EXPECT_DOUBLE_EQ(behind_wall(1100.0, 350.0, 0.0), 1100.0);
  EXPECT_NEAR(behind_wall(1100.0, 350.0, 50.0), 350.0, 1e-9);
}

TEST(HeatSoak, TakesNothingFromGasAsWarmAsTheWall) {
  EXPECT_DOUBLE_EQ(behind_wall(400.0, 400.0, 0.7), 400.0);
}

TEST(HeatSoak, FollowsTheDuctCorrelation) {
  // The same number by way of a heat-transfer coefficient: h A/(m cp) with Nu = 0.023 Re^0.8
  // Pr^0.4.
  constexpr double m = 0.015;
  constexpr double cp = 1150.0;
  const double diameter = std::sqrt(4.0 * duct.flow_area / std::acos(-1.0));
  const double reynolds = m * diameter / (duct.flow_area * duct.viscosity);
  const double nusselt = 0.023 * std::pow(reynolds, 0.8) * std::pow(plain.prandtl, 0.4);
  const double conductivity = duct.viscosity * cp / plain.prandtl;
  const double expected = nusselt * conductivity / diameter * duct.wetted_area / (m * cp);
  EXPECT_NEAR(transfer_units(make_side(duct, plain), m), expected, 1e-12 * expected);
}

TEST(HeatSoak, WeighsLessForMoreFlow) {
  const auto side = make_side(duct, plain);
  EXPECT_NEAR(transfer_units(side, 0.032) / transfer_units(side, 0.001), 0.5, 1e-12);
}

}  // namespace
}  // namespace windgap::start
