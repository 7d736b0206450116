#include "start/fuel.h"

#include <gtest/gtest.h>

#include "support/models.h"

namespace windgap::start {
namespace {

double gas_constant() { return test::models().air.gas_constant; }

TEST(Fuel, IsGasOnlyAsPropane) {
  const auto& c = test::fuel_models();
  EXPECT_EQ(make_fuel(c, FuelKind::propane).phase, Phase::gas);
  EXPECT_EQ(make_fuel(c, FuelKind::kerosene).phase, Phase::liquid);
  EXPECT_EQ(make_fuel(c, FuelKind::diesel).phase, Phase::liquid);
}

TEST(Fuel, ExplodesAroundTheStoichiometricMixture) {
  for (const auto kind : {FuelKind::kerosene, FuelKind::diesel, FuelKind::propane}) {
    const auto mixture = make_mixture(make_fuel(test::fuel_models(), kind), gas_constant());
    EXPECT_LT(mixture.lean_limit, 1.0);
    EXPECT_GT(mixture.rich_limit, 1.0);
  }
}

TEST(Fuel, BlendNeedsTheAirOfBothParts) {
  const auto gas = make_mixture(make_fuel(test::fuel_models(), FuelKind::propane), gas_constant());
  const auto liquid =
      make_mixture(make_fuel(test::fuel_models(), FuelKind::kerosene), gas_constant());
  const auto mixed = blend(gas, liquid, 0.25);
  EXPECT_DOUBLE_EQ(1.0 / mixed.stoichiometric_ratio,
                   0.75 / gas.stoichiometric_ratio + 0.25 / liquid.stoichiometric_ratio);
  EXPECT_DOUBLE_EQ(mixed.heating_value, 0.75 * gas.heating_value + 0.25 * liquid.heating_value);
  EXPECT_DOUBLE_EQ(mixed.liquid_share, 0.25);
  EXPECT_DOUBLE_EQ(blend(gas, liquid, 0.0).heating_value, gas.heating_value);
  EXPECT_DOUBLE_EQ(blend(gas, liquid, 1.0).heating_value, liquid.heating_value);
}

}  // namespace
}  // namespace windgap::start
