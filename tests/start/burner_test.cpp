#include "start/burner.h"

#include <gtest/gtest.h>

#include "start/examples.h"

namespace windgap::start {
namespace {

constexpr BurnerInlet idle{.mass_flow = 0.02, .pressure = 1.05e5, .temperature = 300.0};

Burner burner() { return examples::Example().prepared().burner; }

Mixture propane() {
  return make_mixture(make_fuel(test::fuel_models(), FuelKind::propane),
                      test::models().air.gas_constant);
}

TEST(Burner, IsLoadedByFlowAndRelievedByPressureAndWarmth) {
  const auto b = burner();
  const double now = loading(b, idle);
  auto more = idle;
  more.mass_flow *= 2.0;
  EXPECT_NEAR(loading(b, more), 2.0 * now, 1e-12 * now);
  auto denser = idle;
  denser.pressure *= 1.5;
  EXPECT_LT(loading(b, denser), now);
  auto warmer = idle;
  warmer.temperature += 50.0;
  EXPECT_LT(loading(b, warmer), now);
}

TEST(Burner, BurnsAtLightOffWhatSmallBurnersAreSaidToBurn) {
  // The design's expectation for home-built burners: 0.6 to 0.9.
  const auto b = burner();
  for (const double liquid : {0.0, 1.0}) {
    const double share = efficiency(b, loading(b, idle), liquid, b.cold_temperature);
    EXPECT_GT(share, 0.6);
    EXPECT_LT(share, 0.9);
  }
}

TEST(Burner, BurnsLiquidBetterOnAHotFlameTube) {
  const auto b = burner();
  EXPECT_LT(efficiency(b, 20.0, 1.0, 300.0), efficiency(b, 20.0, 1.0, 450.0));
  EXPECT_DOUBLE_EQ(efficiency(b, 20.0, 1.0, 2.0 * b.ready_temperature),
                   efficiency(b, 20.0, 0.0, 300.0));
  EXPECT_DOUBLE_EQ(efficiency(b, 20.0, 0.0, 300.0), efficiency(b, 20.0, 0.0, 900.0));
}

TEST(Burner, FuelForATemperatureGivesThatTemperature) {
  const auto& air = test::models().air;
  for (const double wanted : {700.0, 1100.0, 1400.0}) {
    const double burnt = burnt_ratio_for(
        air, {.temperature = wanted, .heating_value = 43.1e6, .air_temperature = 310.0});
    EXPECT_NEAR(
        flame_temperature(air, {.burnt = burnt, .heating_value = 43.1e6, .air_temperature = 310.0}),
        wanted,
        1e-6);
  }
}

TEST(Burner, HeatOfTheFlameClosesItsEnthalpyBalance) {
  const auto& air = test::models().air;
  constexpr double burnt = 0.018;
  const double flame =
      flame_temperature(air, {.burnt = burnt, .heating_value = 46e6, .air_temperature = 320.0});
  EXPECT_NEAR((1.0 + burnt) * air::enthalpy(air, flame, burnt) - air::enthalpy(air, 320.0),
              burnt * 46e6,
              1.0);
}

TEST(Burner, ClosesItsWindowWithLoading) {
  const auto b = burner();
  const auto empty = flammable(b, propane(), 0.0, FlameState::unlit);
  const auto half = flammable(b, propane(), 0.5 * b.greatest_loading, FlameState::unlit);
  const auto full = flammable(b, propane(), b.greatest_loading, FlameState::unlit);
  EXPECT_LT(empty.lean, half.lean);
  EXPECT_GT(empty.rich, half.rich);
  EXPECT_NEAR(full.lean, 1.0, 1e-12);
  EXPECT_NEAR(full.rich, 1.0, 1e-12);
}

TEST(Burner, HoldsABurningFlameWhereItWouldNotLight) {
  const auto b = burner();
  const double ratio = 0.8 * b.primary_share * propane().stoichiometric_ratio *
                       flammable(b, propane(), 10.0, FlameState::unlit).lean;
  const FlameInputs inputs{.fuel_air_ratio = ratio, .loading = 10.0, .flame_holder_velocity = 5.0};
  EXPECT_EQ(judge_flame(b, propane(), inputs, FlameState::unlit), Flame::too_lean);
  EXPECT_EQ(judge_flame(b, propane(), inputs, FlameState::burning), Flame::holds);
}

TEST(Burner, NamesWhatIsWrong) {
  const auto b = burner();
  const auto judge = [&](const FlameInputs& inputs) {
    return judge_flame(b, propane(), inputs, FlameState::unlit);
  };
  const double good = b.primary_share * propane().stoichiometric_ratio;
  EXPECT_EQ(judge({good, 10.0, 5.0}), Flame::holds);
  EXPECT_EQ(judge({good, 10.0, 2.0 * b.lightoff_velocity}), Flame::too_fast);
  EXPECT_EQ(judge({good, 2.0 * b.greatest_loading, 5.0}), Flame::overloaded);
  EXPECT_EQ(judge({0.1 * good, 10.0, 5.0}), Flame::too_lean);
  EXPECT_EQ(judge({6.0 * good, 10.0, 5.0}), Flame::too_rich);
}

}  // namespace
}  // namespace windgap::start
