#include "start/setup.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "start/examples.h"

namespace windgap::start {
namespace {

using examples::Example;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;

std::vector<Assumed> fill(Setup& setup, const rig::Parts& parts) {
  return fill_fallbacks(setup, parts, test::models(), test::start_models());
}

std::vector<std::string> objections(Setup setup, const rig::Parts& parts) {
  (void)fill(setup, parts);
  return contradictions(setup, parts, test::fuel_models());
}

TEST(StartSetup, FillsEverythingAndSaysSo) {
  const Example example;
  start::Setup setup = example.setup;
  const auto assumed = fill(setup, example.parts);
  EXPECT_THAT(missing(setup), IsEmpty());
  EXPECT_THAT(contradictions(setup, example.parts, test::fuel_models()), IsEmpty());
  for (const auto& one : assumed) {
    EXPECT_TRUE(std::isfinite(one.value)) << one.field;
    EXPECT_FALSE(one.why.empty()) << one.field;
  }
  EXPECT_THAT(assumed, Contains(testing::Field(&Assumed::field, "purge_changes")));
}

TEST(StartSetup, KeepsWhatIsGiven) {
  const Example example;
  start::Setup setup = example.setup;
  setup.housing.mass = 1.7;
  setup.burner.primary_hole_area = 3e-4;
  setup.burner.hole_area = 10e-4;
  const auto assumed = fill(setup, example.parts);
  EXPECT_DOUBLE_EQ(setup.housing.mass, 1.7);
  EXPECT_DOUBLE_EQ(setup.burner.primary_share, 0.3);
  for (const auto& one : assumed) {
    EXPECT_NE(one.field, "housing.mass");
    EXPECT_NE(one.field, "burner.primary_share");
  }
}

TEST(StartSetup, TakesTheLeastFuelOfASprayFromItsNozzle) {
  const Example example;
  start::Setup setup = example.setup;
  setup.fuel.kind = FuelKind::kerosene;
  setup.fuel.nozzle_flow = 4e-4;
  setup.fuel.nozzle_rated_pressure = 8e5;
  setup.fuel.nozzle_least_pressure = 2e5;
  (void)fill(setup, example.parts);
  EXPECT_DOUBLE_EQ(setup.fuel.least_flow, 2e-4);
}

TEST(StartSetup, AsksForWhatNothingCanStandInFor) {
  start::Setup setup;
  setup.fuel.metering = Metering::ramp;
  setup.starter = Starter::shaft_motor;
  setup.fan.off = FanOff::at_speed;
  EXPECT_THAT(missing(setup),
              testing::UnorderedElementsAre("fuel.flow",
                                            "fuel.final_flow",
                                            "fuel.ramp_time",
                                            "burner.flame_holder_velocity",
                                            "fan.off_speed"));
}

TEST(StartSetup, RefusesValuesThatCannotBeTrueTogether) {
  const Example example;
  auto valve = example.setup;
  valve.fuel.metering = Metering::fixed;
  valve.fuel.flow = 2e-3;
  valve.fuel.greatest_flow = 1e-3;
  EXPECT_THAT(objections(valve, example.parts), Contains(HasSubstr("set flow")));

  auto holes = example.setup;
  holes.burner.primary_hole_area = 2e-3;
  holes.burner.hole_area = 1e-3;
  EXPECT_THAT(objections(holes, example.parts), Contains(HasSubstr("primary holes")));

  auto throttle = example.setup;
  throttle.fan.light_throttle = 1.0;
  auto parts = example.parts;
  parts.throttle = 0.5;
  EXPECT_THAT(objections(throttle, parts), Contains(HasSubstr("throttle")));

  auto gas = example.setup;
  gas.preheat.push_back({.gas = {.kind = FuelKind::diesel}});
  EXPECT_THAT(objections(gas, example.parts), Contains(HasSubstr("wants a gas")));

  auto clutch = example.setup;
  clutch.starter = Starter::shaft_motor;
  clutch.shaft_motor = {.stall_torque = 0.1, .free_speed = 2000.0, .cut_out_speed = 3000.0};
  EXPECT_THAT(objections(clutch, example.parts), Contains(HasSubstr("clutch")));
}

TEST(StartSetup, IsNotPreparedIncomplete) {
  const Example example;
  start::Setup setup = example.setup;
  EXPECT_THROW((void)prepare(
                   setup, example.parts, test::models(), test::fuel_models(), test::start_models()),
               std::logic_error);
  (void)fill(setup, example.parts);
  auto weightless = example.parts;
  weightless.engine.rotor.inertia = 0.0;
  EXPECT_THROW(
      (void)prepare(setup, weightless, test::models(), test::fuel_models(), test::start_models()),
      std::logic_error);
}

}  // namespace
}  // namespace windgap::start
