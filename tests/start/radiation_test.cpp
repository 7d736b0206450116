#include "start/radiation.h"

#include <gtest/gtest.h>

#include <cmath>

#include "start/examples.h"

namespace windgap::start {
namespace {

Glow glow(double wall_emissivity = 0.8) {
  return make_glow({.temperature = 2000.0,
                    .factor = 290.0,
                    .beam_length = 0.1,
                    .wall_emissivity = wall_emissivity});
}

constexpr Flaming kerosene{.pressure = 101325.0, .luminosity = 1.77, .fuel_air_ratio = 0.05};

// Lefebvre and Ballal, Gas turbine combustion, ch. 8: 1 - exp(-290 P L (q l)^0.5 T^-1.5), P in kPa
// (formula from memory). By hand: 290 x 101.325 x 1.77 x 0.0707107/89442.7 = 0.0411176. No
// published worked figure was found: this holds the code to the formula, not the formula to nature.
TEST(Radiation, EmissivityFollowsItsFormula) {
  EXPECT_NEAR(emissivity(glow(), kerosene), 0.040284, 0.5e-6);
}

// CODATA 2018: a black body of 2000 K radiates 5.670374e-8 x 2000^4 = 907.26 kW/m^2.
TEST(Radiation, ABlackFlameAndWallExchangeLikeBlackBodies) {
  EXPECT_NEAR(flame_flux(glow(1.0), 1.0, 1.0), 907.26e3, 10.0);
}

TEST(Radiation, NothingFlowsBetweenEquals) {
  EXPECT_DOUBLE_EQ(flame_flux(glow(), 0.04, 2000.0), 0.0);
  EXPECT_DOUBLE_EQ(enclosed_flux(glow(), 700.0, 700.0), 0.0);
  EXPECT_GT(enclosed_flux(glow(), 700.0, 400.0), 0.0);
}

TEST(Radiation, GrowsWithPressureFuelAndSoot) {
  const double there = emissivity(glow(), kerosene);
  auto more = kerosene;
  more.pressure *= 2.0;
  EXPECT_GT(emissivity(glow(), more), 1.9 * there);
  more = kerosene;
  more.fuel_air_ratio *= 4.0;
  EXPECT_NEAR(emissivity(glow(), more), 2.0 * there, 0.05 * there);
  more = kerosene;
  more.luminosity = 1e3;
  EXPECT_NEAR(emissivity(glow(), more), 1.0, 1e-6);
}

/// Lit with gas, kerosene in vaporizer tubes or through a nozzle afterwards.
examples::Example preheated(double size) {
  auto example = examples::scaled(size);
  example.setup.fuel.kind = FuelKind::kerosene;
  example.setup.preheat.push_back({.gas = {.kind = FuelKind::propane}});
  return example;
}

// Common practice, no source: kerosene is let in some seconds after lighting on gas.
TEST(Vaporizer, IsHotEnoughSecondsAfterLightOff) {
  for (const double size : {0.8, 1.0, 1.6}) {
    const auto run = preheated(size).run_at(0.15);
    ASSERT_TRUE(run.caught) << size << " " << name(run.reason);
    const auto change = examples::at(run, EventKind::changeover);
    const double after = change.time - examples::at(run, EventKind::light_off).time;
    EXPECT_GT(after, 2.0) << size;
    EXPECT_LT(after, 20.0) << size;
    EXPECT_GT(change.state.vaporizer_temperature, change.state.tube_temperature + 50.0) << size;
    EXPECT_LT(std::abs(run.energy.relative), 1e-3) << size;
  }
}

TEST(Vaporizer, IsCooledByTheFuelItVaporizes) {
  const auto example = preheated(1.0);
  auto bench = example.bench(0.15);
  auto state = bench.at_rest();
  state.speed = 4000.0;
  state.vaporizer_temperature = 600.0;
  const Valve shut{};
  const Valve open{.kind = Valve::Kind::set, .flow = 4e-4};
  const auto on_gas =
      bench.at(state, {.throttle = 1.0, .lit = true, .preheat = open, .main = shut}).rates;
  const auto on_liquid =
      bench.at(state, {.throttle = 1.0, .lit = true, .preheat = shut, .main = open}).rates;
  const double heat = 4e-4 * test::start_models().vaporizer_heat;
  const double lost = (on_gas.vaporizer_temperature - on_liquid.vaporizer_temperature) *
                      example.prepared().vaporizer_capacity;
  // The brighter flame of kerosene gives back a little.
  EXPECT_LT(lost, heat);
  EXPECT_GT(lost, 0.5 * heat);
}

TEST(Vaporizer, IsNotNeededByASpray) {
  auto sprayed = preheated(1.0);
  sprayed.setup.fuel.nozzle_flow = 4e-4;
  const auto run = sprayed.run_at(0.15);
  const auto change = examples::at(run, EventKind::changeover);
  EXPECT_LT(change.state.tube_temperature, 400.0);
  EXPECT_DOUBLE_EQ(change.state.vaporizer_temperature, run.samples.front().state.tube_temperature);
}

TEST(Vaporizer, LeavesTheGasAsHotAsItIsHeld) {
  const auto example = preheated(1.0);
  auto bench = example.bench(0.15);
  auto state = bench.at_rest();
  state.speed = 4000.0;
  for (const double tubes : {300.0, 600.0, 1000.0}) {
    state.vaporizer_temperature = tubes;
    const auto now =
        bench.at(state, {.throttle = 1.0, .lit = true, .main = {.kind = Valve::Kind::controlled}});
    EXPECT_NEAR(now.reading.burner_temperature, bench.start().control_temperature, 1e-4);
  }
}

}  // namespace
}  // namespace windgap::start
