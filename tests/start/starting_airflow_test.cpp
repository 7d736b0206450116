#include "start/starting_airflow.h"

#include <gtest/gtest.h>

#include <cmath>

#include "start/examples.h"
#include "start/need.h"

namespace windgap::start {
namespace {

using examples::Example;
using examples::rpm;
using examples::scaled;

StartingAirflow of(const Example& example) {
  return starting_airflow(example.rig(), example.prepared());
}

TEST(StartingAirflow, IsWhereTheLitTorqueJustCarriesTheRotorThroughInTime) {
  const Example example;
  const auto rig = example.rig();
  const auto start = example.prepared();
  const auto found = starting_airflow(rig, start);
  ASSERT_EQ(found.need, Need::torque);
  EXPECT_DOUBLE_EQ(found.airflow, found.torque_part);
  const double scale = engine::bearing_torque(rig.engine, found.pinch_speed);
  const double end = (1.0 + start.speed_margin) * found.self_sustaining_speed;
  const double least = rig.engine.inertia * end / start.sequence.spin_up_time;
  EXPECT_NEAR(lit_torque(rig, start, found.pinch_speed, found.total_pressure), least, 1e-3 * scale);
  // Nowhere on the way up is it less than at the pinch.
  for (double share = 0.0; share <= 1.0; share += 0.02) {
    EXPECT_GT(lit_torque(rig, start, share * end, found.total_pressure), least - 2e-3 * scale)
        << share;
  }
}

TEST(StartingAirflow, IsDeliveredColdAtTheSameSupply) {
  const Example example;
  const auto rig = example.rig();
  const auto found = starting_airflow(rig, example.prepared());
  const auto path =
      engine::march(rig.engine,
                    rig.ambient,
                    {.mass_flow = found.airflow,
                     .speed = found.rotor_speed,
                     .inlet_total_pressure = rig.ambient.pressure + found.total_pressure,
                     .inlet_total_temperature = rig.ambient.temperature});
  EXPECT_NEAR(path.pressure_residual, 0.0, 1e-3 * found.total_pressure);
  EXPECT_NEAR(engine::net_torque(rig.engine, path, found.rotor_speed),
              0.0,
              1e-3 * engine::bearing_torque(rig.engine, found.rotor_speed));
}

TEST(StartingAirflow, LightingCutsTheAirflowToSomeSixTenths) {
  // The design's expectation is about 0.6 of the cold airflow at equal speed.
  const auto found = of({});
  EXPECT_GT(found.lit_airflow / found.airflow, 0.5);
  EXPECT_LT(found.lit_airflow / found.airflow, 0.8);
}

TEST(StartingAirflow, AsksForMoreAirWhenTimeIsShort) {
  Example hasty;
  hasty.setup.sequence.spin_up_time = 5.0;
  Example patient;
  patient.setup.sequence.spin_up_time = 60.0;
  EXPECT_GT(of(hasty).airflow, 1.1 * of({}).airflow);
  EXPECT_LT(of(patient).airflow, 0.95 * of({}).airflow);
}

TEST(StartingAirflow, TorqueTurnsAtSelfSustainingSpeed) {
  const Example example;
  const auto rig = example.rig();
  const auto start = example.prepared();
  const double speed = self_sustaining_speed(rig, start);
  EXPECT_LT(lit_torque(rig, start, 0.97 * speed), 0.0);
  EXPECT_GT(lit_torque(rig, start, 1.03 * speed), 0.0);
}

TEST(StartingAirflow, GrowsWithColdThickOil) {
  Example warm;
  Example cold;
  warm.parts.engine.bearings.oil.inlet_temperature += 15.0;
  cold.parts.engine.bearings.oil.inlet_temperature -= 15.0;
  EXPECT_LT(of(warm).airflow, 0.8 * of({}).airflow);
  EXPECT_GT(of(cold).airflow, 1.2 * of({}).airflow);
  EXPECT_GT(of(cold).self_sustaining_speed, 1.1 * of({}).self_sustaining_speed);
}

TEST(StartingAirflow, IsUnreachableWhereTheOilHoldsTheRotorBelowIdle) {
  Example frozen;
  frozen.parts.engine.bearings.oil.inlet_temperature = 265.0;
  const auto found = of(frozen);
  EXPECT_EQ(found.need, Need::cannot_sustain);
  EXPECT_TRUE(std::isnan(found.airflow));
  auto rig = frozen.rig();
  require_start(rig, frozen.prepared());
  EXPECT_TRUE(std::isnan(rig.starting_airflow));
}

TEST(StartingAirflow, ShrinksWithHotterGas) {
  Example hot;
  hot.setup.gas_temperature_limit = test::start_models().gas_temperature_limit + 80.0;
  EXPECT_LT(of(hot).airflow, of({}).airflow);
  EXPECT_LT(of(hot).self_sustaining_speed, of({}).self_sustaining_speed);
}

TEST(StartingAirflow, CoolsTheLeastSteadyFuel) {
  Example coarse;
  coarse.setup.fuel.least_flow = 7e-4;
  const auto found = of(coarse);
  ASSERT_EQ(found.need, Need::cooler_gas);
  EXPECT_DOUBLE_EQ(found.airflow, found.hot_start_part);
  EXPECT_NEAR(found.torque_part, of({}).torque_part, 1e-6);
  EXPECT_DOUBLE_EQ(found.least_fuel, 7e-4);
  // The lit airflow carries that fuel's heat at the control temperature.
  const auto start = coarse.prepared();
  const auto& air = test::models().air;
  const double gain = air::enthalpy(air, start.control_temperature) -
                      air::enthalpy(air, coarse.rig().ambient.temperature);
  const double burnt_heat = start.main.mixture.heating_value * found.least_fuel;
  const double share = found.lit_airflow * gain / burnt_heat;
  EXPECT_GT(share, 0.6);
  EXPECT_LT(share, 0.95);
}

TEST(StartingAirflow, DoesNotDependOnTheFanOrItsMount) {
  Example other;
  std::get<fan::Fan>(other.parts.source).datasheet.thrust = 15.0;
  other.parts.mounting.offset = 0.010;
  EXPECT_DOUBLE_EQ(of(other).airflow, of({}).airflow);
}

TEST(StartingAirflow, GrowsWithTheEngine) {
  EXPECT_LT(of(scaled(0.8)).airflow, of({}).airflow);
  EXPECT_GT(of(scaled(1.3)).airflow, of({}).airflow);
  // Small wheels must turn faster.
  EXPECT_GT(of(scaled(0.8)).self_sustaining_speed, of({}).self_sustaining_speed);
}

TEST(StartingAirflow, IsCheapEnoughForEveryMemberOfAnEnsemble) {
  EXPECT_LT(of({}).marches, 500);
  Example coarse;
  coarse.setup.fuel.least_flow = 7e-4;
  EXPECT_LT(of(coarse).marches, 1000);
}

TEST(StartingAirflow, IsDerivedForEveryBenchByItself) {
  const Example example;
  const Deriving deriving{
      .setup = example.setup, .models = test::start_models(), .fuels = test::fuel_models()};
  const auto derived =
      assemble(example.parts, test::models(), rig::JetChoice::estimated, &deriving);
  EXPECT_DOUBLE_EQ(derived.starting_airflow, of(example).airflow);
  EXPECT_TRUE(std::isnan(derived.lightoff_speed));
  auto cold = example.parts;
  cold.engine.bearings.oil.inlet_temperature -= 15.0;
  EXPECT_GT(assemble(cold, test::models(), rig::JetChoice::estimated, &deriving).starting_airflow,
            derived.starting_airflow);
  const auto stated = assemble(example.parts, test::models(), rig::JetChoice::estimated, nullptr);
  EXPECT_DOUBLE_EQ(
      stated.starting_airflow,
      rig::assemble(example.parts, test::models(), rig::JetChoice::estimated).starting_airflow);
}

TEST(StartingAirflow, ReplacesTheShareOfDesignSpeed) {
  const Example example;
  auto rig = example.rig();
  require_start(rig, example.prepared());
  EXPECT_DOUBLE_EQ(rig.starting_airflow, of(example).airflow);
  EXPECT_TRUE(std::isnan(rig.lightoff_speed));
}

}  // namespace
}  // namespace windgap::start
