#include "start/run.h"

#include <gtest/gtest.h>

#include <cmath>

#include "start/examples.h"

namespace windgap::start {
namespace {

using examples::at;
using examples::Example;
using examples::rpm;
using examples::scaled;
using examples::with_fixed_flow;

/// Stand-off beyond the best one at which that airflow is delivered [m].
double where_delivered(const rig::Rig& rig, double airflow) {
  double near = 0.2;
  double far = 3.0;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (near + far);
    (rig::deliver(rig, middle).airflow > airflow ? near : far) = middle;
  }
  return near;
}

TEST(StartRun, CatchesNearAndHangsFar) {
  const auto near = Example().run_at(0.15);
  EXPECT_TRUE(near.caught) << name(near.reason);
  const auto far = Example().run_at(0.9);
  EXPECT_FALSE(far.caught);
  EXPECT_EQ(far.reason, Reason::hung);
}

TEST(StartRun, GoesThroughItsEventsInOrder) {
  const auto run = Example().run_at(0.15);
  std::vector<EventKind> seen;
  for (const auto& event : run.events) {
    if (event.kind != EventKind::hottest_gas) seen.push_back(event.kind);
  }
  EXPECT_EQ(seen,
            (std::vector{EventKind::fan_on,
                         EventKind::rotor_turns,
                         EventKind::purge_done,
                         EventKind::fuel_on,
                         EventKind::light_off,
                         EventKind::self_sustaining,
                         EventKind::fan_off_allowed,
                         EventKind::fan_off,
                         EventKind::idle_reached}));
  for (std::size_t i = 1; i < run.events.size(); ++i) {
    EXPECT_GE(run.events[i].sample.time, run.events[i - 1].sample.time);
  }
}

TEST(StartRun, LocatesEventsWhereTheyHappen) {
  const Example example;
  const auto start = example.prepared();
  const auto run = example.run_at(0.15);
  EXPECT_NEAR(at(run, EventKind::idle_reached).state.speed,
              start.sequence.idle_speed,
              1e-4 * start.sequence.idle_speed);
  const auto allowed = at(run, EventKind::fan_off_allowed);
  EXPECT_GT(allowed.state.speed, 1.1 * run.self_sustaining_speed);
  EXPECT_NEAR(at(run, EventKind::light_off).time - at(run, EventKind::fuel_on).time,
              start.sequence.ignition_delay,
              1e-6);
  auto bench = example.bench(0.15);
  const auto then = at(run, EventKind::self_sustaining);
  const auto alone =
      bench.at(then.state, {.lit = true, .main = {.kind = Valve::Kind::controlled}}).reading;
  EXPECT_NEAR(alone.net_torque, 0.0, 1e-4 * alone.drag_torque);
  // The fan may stop where the rotor would gain what it lacks of idle in the time of a start.
  const auto ahead =
      bench.at(allowed.state, {.lit = true, .main = {.kind = Valve::Kind::controlled}}).rates;
  const double lacking = start.sequence.idle_speed - allowed.state.speed;
  EXPECT_NEAR(ahead.speed * start.sequence.spin_up_time, lacking, 1e-3 * lacking);
}

TEST(StartRun, ClosesItsEnergyBalance) {
  for (const double stand_off : {0.15, 0.9}) {
    EXPECT_LT(std::abs(Example().run_at(stand_off).energy.relative), 1e-3);
  }
  Example kerosene;
  kerosene.setup.fuel.kind = FuelKind::kerosene;
  EXPECT_LT(std::abs(kerosene.run_at(0.15).energy.relative), 1e-3);
}

TEST(StartRun, AgreesWithTheAlgebraOnTheEdge) {
  for (const double size : {0.8, 1.0, 1.25}) {
    const auto example = scaled(size);
    const auto rig = example.rig();
    const auto start = example.prepared();
    const double edge = starting_airflow(rig, start).airflow;
    const auto spin_up = [&](double share) {
      const auto run = example.run_at(where_delivered(rig, share * edge));
      EXPECT_TRUE(run.caught) << size << " " << share << " " << name(run.reason);
      return at(run, EventKind::fan_off).time - at(run, EventKind::light_off).time;
    };
    // The algebra asks for the mean acceleration at the worst speed, so the run is a little faster.
    const double allowed = start.sequence.spin_up_time;
    EXPECT_LT(spin_up(1.02), allowed) << size;
    EXPECT_GT(spin_up(0.88), allowed) << size;
    EXPECT_FALSE(example.run_at(where_delivered(rig, 0.6 * edge)).caught) << size;
  }
}

TEST(StartRun, SpinsUpByConstantTorqueAsTheClosedFormSays) {
  // No air to speak of, no friction: speed = torque time/inertia.
  Example vacuum;
  vacuum.parts.site.pressure = 1.0;
  vacuum.parts.engine.calibration.friction = 1e-9;
  vacuum.setup.starter = Starter::shaft_motor;
  vacuum.setup.shaft_motor = {
      .stall_torque = 0.04, .free_speed = 1e9 * rpm, .cut_out_speed = 30000.0 * rpm};
  const auto run = vacuum.run_at(0.15);
  const auto cut = at(run, EventKind::starter_lets_go);
  const double inertia = vacuum.parts.engine.rotor.inertia;
  EXPECT_NEAR(cut.time, inertia * 30000.0 * rpm / 0.04, 1e-3 * cut.time);
  for (const auto& sample : run.samples) {
    if (sample.time > cut.time) break;
    EXPECT_NEAR(sample.state.speed, 0.04 * sample.time / inertia, 1e-3 * 30000.0 * rpm);
  }
}

TEST(StartRun, LosesAStartWhoseFanStopsTooEarly) {
  Example hasty;
  hasty.setup.fan.off = FanOff::after_light;
  hasty.setup.fan.off_delay = 0.5;
  EXPECT_EQ(hasty.run_at(0.15).reason, Reason::fan_off_too_early);
  hasty.setup.fan.off_delay = 4.0;
  EXPECT_TRUE(hasty.run_at(0.15).caught);
  hasty.setup.fan.off_delay = 8.0;
  EXPECT_EQ(hasty.run_at(0.15).reason, Reason::overspeed);
}

TEST(StartRun, StopsTheFanAtAGivenSpeed) {
  Example example;
  example.setup.fan.off = FanOff::at_speed;
  example.setup.fan.off_speed = 45000.0 * rpm;
  const auto run = example.run_at(0.15);
  ASSERT_TRUE(run.caught);
  EXPECT_NEAR(at(run, EventKind::fan_off).state.speed, 45000.0 * rpm, 1e-3 * 45000.0 * rpm);
}

TEST(StartRun, SaysWhyItDidNotLight) {
  EXPECT_EQ(with_fixed_flow(5e-5).run_at(0.15).reason, Reason::no_light_too_lean);
  EXPECT_EQ(with_fixed_flow(2e-3).run_at(0.15).reason, Reason::no_light_too_rich);
  Example gale;
  gale.setup.burner.flame_holder_velocity = 2.0;
  EXPECT_EQ(gale.run_at(0.15).reason, Reason::no_light_too_fast);
  Example thimble;
  thimble.parts.engine.combustor.volume /= 40.0;
  EXPECT_EQ(thimble.run_at(0.15).reason, Reason::no_light_overloaded);
}

TEST(StartRun, DoesNotLightWithoutASpark) {
  Example dark;
  dark.setup.ignition = {.lights = false, .why_not = "The gap is too wide."};
  const auto run = dark.run_at(0.15);
  EXPECT_EQ(run.reason, Reason::no_spark) << name(run.reason);
  EXPECT_GT(run.unburnt_fuel, 0.0);
  // A mixture that would not burn anyway is the graver reason.
  dark.setup.fuel.metering = Metering::fixed;
  dark.setup.fuel.flow = 5e-5;
  EXPECT_EQ(dark.run_at(0.15).reason, Reason::no_light_too_lean);
}

TEST(StartRun, IsFedWithTheSwirlsKineticPressureToo) {
  Example swirling;
  swirling.parts.source =
      fan::Stream{.exit_diameter = 0.060, .velocity = 70.0, .swirl_number = 0.4};
  swirling.parts.fan_outer_diameter = 0.07;
  const auto rig = swirling.rig();
  auto bench = swirling.bench(0.15);
  const auto cold = rig::deliver(rig, 0.15);
  State state = bench.at_rest();
  state.speed = cold.rotor_speed;
  EXPECT_GT(cold.wheel_pressure, cold.inducer_pressure);
  EXPECT_NEAR(
      bench.at(state, {.throttle = 1.0}).reading.airflow, cold.airflow, 1e-6 * cold.airflow);
}

TEST(StartRun, CountsTheFuelOfAFailedLightOffAndAsksForANewPurge) {
  const auto example = with_fixed_flow(2e-3);
  const auto run = example.run_at(0.15);
  EXPECT_NEAR(run.unburnt_fuel, 2e-3 * example.prepared().sequence.patience, 1e-8);
  const auto purge = example.prepared().sequence.purge;
  EXPECT_EQ(run.new_purge_time, purge.least);
  auto large = example;
  large.setup.sequence.purge.volume = 0.05;
  const auto slow = large.run_at(0.15);
  EXPECT_GT(slow.new_purge_time, purge.least);
  EXPECT_NEAR(slow.new_purge_time * slow.volume_flow, purge.changes * 0.05, 1e-9);
}

TEST(StartRun, StopsAtTheGasTemperatureLimit) {
  const auto run = with_fixed_flow(5.4e-4).run_at(0.15);
  EXPECT_EQ(run.reason, Reason::gas_temperature_limit) << name(run.reason);
  EXPECT_GE(run.hottest_gas, with_fixed_flow(5.4e-4).prepared().limit);
}

TEST(StartRun, FindsAFlameTooRichOnceLightingHasCutTheAir) {
  auto drowned = with_fixed_flow(7.5e-4);
  // A gas so hot is the graver hazard, unless the engine bears it.
  EXPECT_EQ(drowned.run_at(0.15).reason, Reason::gas_temperature_limit);
  drowned.setup.gas_temperature_limit = 2500.0;
  EXPECT_EQ(drowned.run_at(0.15).reason, Reason::too_rich);
}

TEST(StartRun, BlowsOutWhenTheRampStarvesIt) {
  Example starved;
  starved.setup.fuel.metering = Metering::ramp;
  starved.setup.fuel.flow = 2.5e-4;
  starved.setup.fuel.final_flow = 2e-5;
  starved.setup.fuel.ramp_time = 2.0;
  EXPECT_EQ(starved.run_at(0.15).reason, Reason::blew_out_lean);
}

TEST(StartRun, SeesThePackSagAndTheWindingHeat) {
  Example weak;
  weak.parts.drive.pack.cell_resistance = 0.030;
  EXPECT_EQ(weak.run_at(0.15).reason, Reason::pack_sagged);
  Example thin;
  thin.parts.drive.motor.winding_heat_capacity = 3.0;
  thin.parts.drive.motor.winding_conductance = 0.0;
  EXPECT_EQ(thin.run_at(0.15).reason, Reason::winding_too_hot);
  const auto run = Example().run_at(0.15);
  const auto off = at(run, EventKind::fan_off);
  EXPECT_GT(off.state.charge_used, 100.0);
  EXPECT_GT(off.state.winding_temperature, 290.0);
}

TEST(StartRun, EndsWhenThePackIsEmpty) {
  Example small;
  small.parts.drive.pack.capacity = 90.0;         // 25 mAh
  small.parts.drive.pack.cell_resistance = 1e-4;  // so that the voltage lasts
  small.setup.fan.light_throttle = 0.3;
  const auto run = small.run_at(0.15);
  EXPECT_EQ(run.reason, Reason::pack_empty) << name(run.reason);
  EXPECT_NEAR(
      run.samples.back().state.charge_used, small.parts.drive.pack.state_of_charge * 90.0, 0.01);
}

TEST(StartRun, EndsAtDesignSpeed) {
  Example light;
  light.parts.engine.rotor.inertia = 1e-8;
  const auto run = light.run_at(0.15);
  EXPECT_EQ(run.reason, Reason::overspeed) << name(run.reason);
  const double design = light.rig().engine.design_speed;
  EXPECT_NEAR(run.samples.back().state.speed, design, 1e-3 * design);
}

TEST(StartRun, DoesNotSustainItselfWhileTheFanStillBlows) {
  Example hasty;
  hasty.setup.fan.off = FanOff::at_speed;
  hasty.setup.fan.off_speed = 0.75 * Example().run_at(0.15).self_sustaining_speed;
  const auto run = hasty.run_at(0.15);
  EXPECT_EQ(run.reason, Reason::fan_off_too_early) << name(run.reason);
  EXPECT_TRUE(std::isnan(run.self_sustaining_speed));
  for (const auto& event : run.events) EXPECT_NE(event.kind, EventKind::self_sustaining);
}

TEST(StartRun, BlowsForTheLeastTimeHoweverFastTheAirChanges) {
  const auto run = Example().run_at(0.15);
  const auto purge = Example().prepared().sequence.purge;
  EXPECT_LT(run.change_time, 0.5 * purge.least);
  EXPECT_NEAR(run.purge_time, purge.least, 1e-6);
  Example large;
  large.setup.sequence.purge.volume = 0.05;
  const auto slow = large.run_at(0.15);
  EXPECT_GT(slow.purge_time, purge.least);
  EXPECT_EQ(slow.purge_time, slow.change_time);
}

TEST(StartRun, LightsLowAndRampsUp) {
  Example gentle;
  gentle.setup.fan.light_throttle = 0.5;
  const auto run = gentle.run_at(0.15);
  ASSERT_TRUE(run.caught) << name(run.reason);
  const auto full = Example().run_at(0.15);
  EXPECT_LT(at(run, EventKind::light_off).reading.airflow,
            0.8 * at(full, EventKind::light_off).reading.airflow);
  EXPECT_GT(at(run, EventKind::fan_off).reading.pack_current,
            2.0 * at(run, EventKind::light_off).reading.pack_current);
}

TEST(StartRun, ChangesFromGasToKeroseneWhenTheTubeIsHot) {
  Example changing;
  changing.setup.fuel.kind = FuelKind::kerosene;
  changing.setup.preheat.push_back(
      {.gas = {.kind = FuelKind::propane}, .tube_temperature = 340.0, .changeover_time = 2.0});
  const auto run = changing.run_at(0.15);
  ASSERT_TRUE(run.caught) << name(run.reason);
  const auto change = at(run, EventKind::changeover);
  EXPECT_NEAR(change.state.vaporizer_temperature, 340.0, 1e-3);
  EXPECT_GT(change.reading.preheat_flow, 0.0);
  EXPECT_DOUBLE_EQ(at(run, EventKind::idle_reached).reading.preheat_flow, 0.0);
}

TEST(StartRun, IsTurnedByAShaftMotorThatLetsGo) {
  Example turned;
  turned.setup.starter = Starter::shaft_motor;
  turned.setup.shaft_motor = {.stall_torque = 0.12, .free_speed = 60000.0 * rpm};
  const auto run = turned.run_at(0.15);
  EXPECT_TRUE(run.caught) << name(run.reason);
  const auto gone = at(run, EventKind::starter_lets_go);
  EXPECT_LT(gone.state.speed, 60000.0 * rpm);
  EXPECT_DOUBLE_EQ(run.samples.back().reading.starter_torque, 0.0);
  EXPECT_LT(std::abs(run.energy.relative), 1e-3);
  turned.setup.shaft_motor.stall_torque = 0.01;
  EXPECT_FALSE(turned.run_at(0.15).caught);
}

TEST(StartRun, IsBlownByAHandHeldBlowerAtItsDistance) {
  Example blown;
  blown.parts.source = fan::Stream{.exit_diameter = 0.060, .velocity = 75.0};
  blown.parts.fan_outer_diameter = 0.07;
  EXPECT_TRUE(blown.run_at(0.10).caught);
  EXPECT_FALSE(blown.run_at(1.2).caught);
}

TEST(StartRun, LetsNoFuelInWhereTheRotorDoesNotTurn) {
  const Example far;
  const auto blown = far.run_at(3.0);
  EXPECT_EQ(blown.reason, Reason::does_not_turn) << name(blown.reason);
  EXPECT_EQ(blown.fuel_used, 0.0);
  EXPECT_EQ(blown.samples.back().state.speed, 0.0);
  const double loose = far.rig().engine.breakaway_torque;
  EXPECT_LT(blown.samples.back().reading.net_torque, loose);
  // A motor on the shaft turns the rotor from the torque on that breaks it loose, and not below.
  const auto pulled = [&](double torque) {
    Example turned;
    turned.setup.starter = Starter::shaft_motor;
    turned.setup.shaft_motor = {.stall_torque = torque, .free_speed = 60000.0 * rpm};
    return turned.run_at(0.15);
  };
  EXPECT_EQ(pulled(0.99 * loose).reason, Reason::does_not_turn);
  EXPECT_NO_THROW((void)at(pulled(1.01 * loose), EventKind::rotor_turns));
}

TEST(StartRun, EndsWhateverTheSetup) {
  for (const double stand_off : {0.01, 0.05, 2.0, 5.0}) {
    const auto run = Example().run_at(stand_off);
    EXPECT_NE(run.reason, Reason::solver_failed) << stand_off;
    EXPECT_LE(run.samples.back().time, 60.0 + 1e-6);
    EXPECT_LT(run.steps, 2000);
  }
  Example short_of_time;
  short_of_time.setup.sequence.time_limit = 3.0;
  EXPECT_EQ(short_of_time.run_at(0.15).reason, Reason::time_limit);
}

TEST(StartRun, GivesTheSameAnswerTwice) {
  const auto one = Example().run_at(0.15);
  const auto two = Example().run_at(0.15);
  ASSERT_EQ(one.samples.size(), two.samples.size());
  EXPECT_EQ(one.samples.back().time, two.samples.back().time);
  EXPECT_EQ(one.samples.back().state.speed, two.samples.back().state.speed);
}

TEST(StartRun, DoesNotRememberWhatItWasAskedBefore) {
  const Example example;
  auto fresh = example.bench(0.15);
  auto used = example.bench(0.15);
  State state = used.at_rest();
  state.speed = 45000.0 * rpm;
  const Controls burning{.throttle = 1.0, .lit = true, .main = {.kind = Valve::Kind::controlled}};
  (void)used.at(state, burning);
  state.speed = 15000.0 * rpm;
  const auto a = used.at(state, burning);
  const auto b = fresh.at(state, burning);
  EXPECT_NEAR(a.reading.airflow, b.reading.airflow, 1e-9 * b.reading.airflow);
  EXPECT_NEAR(a.rates.speed, b.rates.speed, 1e-7 * std::abs(b.rates.speed));
}

TEST(StartRun, TightensWithItsTolerance) {
  const auto end = [](double tolerance) {
    auto bench = Example().bench(0.15);
    return run(bench, {.tolerance = tolerance}).samples.back().time;
  };
  const double exact = end(1e-10);
  EXPECT_NEAR(end(1e-6), exact, 1e-4 * exact);
  EXPECT_NEAR(end(1e-8), exact, 1e-5 * exact);
}

TEST(StartRun, StaysWithinItsEvaluations) { EXPECT_LT(Example().run_at(0.15).evaluations, 4000); }

}  // namespace
}  // namespace windgap::start
