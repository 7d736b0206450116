#include "drive/drive.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <stdexcept>

#include "support/models.h"

namespace windgap::drive {
namespace {

const Coefficients& shipped() { return test::models().drive; }

constexpr double load = 4.5e-8;  // N m s^2: about 1.4 kW at 31 000 rpm

Drive example() {
  Drive drive;
  drive.pack = {.cells = 6,
                .capacity = 3.3 * 3600.0,
                .cell_resistance = 0.003,
                .state_of_charge = 0.9,
                .continuous_current = 120.0,
                .burst_current = 160.0};
  drive.leads.resistance = 0.002;
  drive.controller = {.rated_current = 80.0, .burst_current = 100.0, .resistance = 0.002};
  drive.motor = {.speed_constant = 199.0,  // 1900 rpm/V
                 .resistance = 0.020,
                 .no_load_current = 2.5,
                 .max_current = 85.0,
                 .mass = 0.120,
                 .winding_heat_capacity = 25.0,
                 .winding_conductance = 1.0};
  return drive;
}

TEST(Drive, PowerBalanceCloses) {
  const auto drive = prepare(example(), shipped());
  for (const double throttle : {0.2, 0.5, 0.8, 1.0}) {
    const auto running = run(drive, load, throttle);
    ASSERT_TRUE(running.turns);
    const double given = drive.open_circuit_voltage * running.pack_current;
    const double spent = running.shaft_power + running.winding_loss + running.no_load_loss +
                         running.controller_loss + running.pack_loss;
    EXPECT_NEAR(spent, given, 1e-9 * given) << throttle;
  }
}

TEST(Drive, MotorIdentityHolds) {
  // P_in = P_out + I^2 R + I0 (V - I R)
  const auto drive = prepare(example(), shipped());
  const auto running = run(drive, load, 0.7);
  const double current = running.motor_current;
  const double back = running.motor_voltage - current * drive.motor_resistance;
  EXPECT_NEAR(running.motor_voltage * current,
              running.shaft_power + current * current * drive.motor_resistance +
                  drive.no_load_current * back,
              1e-9 * running.shaft_power);
}

TEST(Drive, SpeedIsTheRootOfTheTorqueBalance) {
  const auto drive = prepare(example(), shipped());
  const auto running = run(drive, load, 1.0);
  EXPECT_NEAR(running.torque, load * running.speed * running.speed, 1e-12);
  EXPECT_NEAR(running.torque,
              (running.motor_current - drive.no_load_current) / drive.speed_constant,
              1e-12);
  EXPECT_NEAR(running.motor_voltage + running.motor_current * drive.controller_resistance,
              running.pack_voltage,
              1e-9);
}

TEST(Drive, MotorCurrentExceedsPackCurrentAtPartThrottle) {
  const auto running = run(prepare(example(), shipped()), load, 0.5);
  EXPECT_GT(running.motor_current, 1.5 * running.pack_current);
}

TEST(Drive, SpeedRisesWithThrottleAndFallsWithLoad) {
  const auto drive = prepare(example(), shipped());
  EXPECT_GT(run(drive, load, 0.9).speed, run(drive, load, 0.8).speed);
  EXPECT_LT(run(drive, 1.1 * load, 0.9).speed, run(drive, load, 0.9).speed);
  EXPECT_GT(run(drive, 0.0, 0.9).speed, run(drive, load, 0.9).speed);
}

TEST(Drive, DoesNotTurnBelowTheNoLoadVoltage) {
  const auto drive = prepare(example(), shipped());
  const auto running = run(drive, load, 0.0);
  EXPECT_FALSE(running.turns);
  EXPECT_EQ(running.speed, 0.0);
  EXPECT_EQ(running.pack_current, 0.0);
}

TEST(Drive, CurrentLimitHoldsTheCurrentByCuttingDuty) {
  auto parts = example();
  const auto free = run(prepare(parts, shipped()), load, 1.0);
  parts.controller.current_limit = 0.7 * free.motor_current;
  const auto drive = prepare(parts, shipped());
  const auto held = run(drive, load, 1.0);
  EXPECT_TRUE(held.limited);
  EXPECT_DOUBLE_EQ(held.motor_current, parts.controller.current_limit);
  EXPECT_LT(held.duty, 1.0);
  const auto same = run(drive, load, held.duty);
  EXPECT_NEAR(same.motor_current, held.motor_current, 1e-9 * held.motor_current);
  EXPECT_NEAR(same.speed, held.speed, 1e-9 * held.speed);
}

TEST(Drive, UsesAreMeasuredAgainstTheWeakestPart) {
  auto parts = example();
  const auto running = run(prepare(parts, shipped()), load, 1.0);
  parts.controller.burst_current = running.motor_current / 2.0;
  EXPECT_NEAR(run(prepare(parts, shipped()), load, 1.0).burst_use, 2.0, 1e-12);
}

TEST(Drive, SagIsFlagged) {
  auto parts = example();
  parts.pack.state_of_charge = 0.05;
  parts.pack.cell_resistance = 0.012;
  EXPECT_TRUE(run(prepare(parts, shipped()), load, 1.0).sagged);
  EXPECT_FALSE(run(prepare(example(), shipped()), load, 1.0).sagged);
}

TEST(Drive, BurstHeatingMatchesItsAllowedTime) {
  auto drive = prepare(example(), shipped());
  const auto running = run(drive, load, 1.0);
  const double start = 298.15;
  for (const double conductance :
       {0.0, 0.4, drive.temperature_coefficient * running.winding_loss}) {
    drive.winding_conductance = conductance;
    const double allowed = allowed_burst(drive, running, start);
    EXPECT_NEAR(burst_temperature_rise(drive, running, allowed),
                drive.winding_temperature_limit - start,
                1e-6);
  }
  EXPECT_EQ(allowed_burst(drive, running, 500.0), 0.0);
}

TEST(Drive, BurstHeatingObeysItsTwoDifferentialEquations) {
  // Integrated here by the classical Runge-Kutta method, step by step.
  const auto drive = prepare(example(), shipped());
  const auto running = run(drive, load, 1.0);
  const double copper = drive.copper_heat_share * drive.winding_heat_capacity;
  const double iron = drive.winding_heat_capacity - copper;
  const double to_iron = drive.winding_conductance / drive.copper_drop_share;
  const double to_air = drive.winding_conductance / (1.0 - drive.copper_drop_share);
  using State = std::array<double, 2>;
  const auto rates = [&](const State& rise) {
    const double across = to_iron * (rise[0] - rise[1]);
    return State{
        (running.winding_loss * (1.0 + drive.temperature_coefficient * rise[0]) - across) / copper,
        (across - to_air * rise[1]) / iron};
  };
  const auto moved = [](const State& from, const State& rate, double step) {
    return State{from[0] + step * rate[0], from[1] + step * rate[1]};
  };
  constexpr double step = 0.01;
  State rise{};
  for (int i = 1; i <= 6000; ++i) {
    const State a = rates(rise);
    const State b = rates(moved(rise, a, step / 2));
    const State c = rates(moved(rise, b, step / 2));
    const State d = rates(moved(rise, c, step));
    for (std::size_t k = 0; k < 2; ++k) rise[k] += step / 6 * (a[k] + 2 * b[k] + 2 * c[k] + d[k]);
    if (i % 1000 == 0) {
      EXPECT_NEAR(burst_temperature_rise(drive, running, i * step), rise[0], 1e-6 * rise[0]) << i;
    }
  }
}

TEST(Drive, CopperWarmsFasterThanAllOfTheMotorAndSettlesTheSame) {
  // One capacity is the limit of no drop between copper and iron.
  auto two = prepare(example(), shipped());
  const auto running = run(two, load, 0.6);
  two.winding_conductance = 3.0;
  auto one = two;
  one.copper_drop_share = 1e-9;
  const double lumped_rate = running.winding_loss / two.winding_heat_capacity;
  EXPECT_NEAR(burst_temperature_rise(one, running, 1e-3), 1e-3 * lumped_rate, 1e-5 * lumped_rate);
  EXPECT_GT(burst_temperature_rise(two, running, 1.0), burst_temperature_rise(one, running, 1.0));
  const double late = 1e4;
  EXPECT_NEAR(burst_temperature_rise(two, running, late),
              running.winding_loss /
                  (two.winding_conductance - two.temperature_coefficient * running.winding_loss),
              1e-6);
  EXPECT_NEAR(
      burst_temperature_rise(one, running, late), burst_temperature_rise(two, running, late), 1e-4);
}

TEST(Drive, WireAndPlugsMakeTheLeadsResistance) {
  // 2 x 0.4 m of 6 mm^2 at 1/58 ohm mm^2/m is 2.2989 mohm.
  auto parts = example();
  parts.leads = {.length = 0.4, .wire_area = 6e-6, .plugs = 2};
  EXPECT_TRUE(fill_fallbacks(parts, shipped()).empty());
  EXPECT_NEAR(parts.leads.resistance, 0.0022989 + 2.0 * shipped().plug_resistance, 1e-6);
}

TEST(Drive, ColdPackSagsMore) {
  auto parts = example();
  const auto as_read = run(prepare(parts, shipped()), load, 1.0);
  parts.pack.temperature = 298.15;
  EXPECT_NEAR(run(prepare(parts, shipped()), load, 1.0).pack_voltage, as_read.pack_voltage, 1e-9);
  parts.pack.temperature = 273.15;
  EXPECT_LT(run(prepare(parts, shipped()), load, 1.0).pack_voltage, as_read.pack_voltage - 1.0);
}

TEST(Drive, WellCooledWindingMayRunForever) {
  auto drive = prepare(example(), shipped());
  const auto running = run(drive, load, 0.5);
  drive.winding_conductance = 3.0;
  EXPECT_TRUE(std::isinf(allowed_burst(drive, running, 298.15)));
}

TEST(Drive, FallbacksAreListedAndComplete) {
  Drive drive;
  drive.pack = {.cells = 6, .capacity = 3.3 * 3600.0};
  drive.motor = {.speed_constant = 199.0,
                 .resistance = 0.02,
                 .no_load_current = 2.5,
                 .max_current = 80.0,
                 .mass = 0.12};
  drive.controller.rated_current = 80.0;
  const auto notes = fill_fallbacks(drive, shipped());
  EXPECT_EQ(notes.size(), 8U);
  EXPECT_NEAR(drive.pack.cell_resistance, 0.0034, 0.0001);
  EXPECT_TRUE(run(prepare(drive, shipped()), load, 1.0).turns);
  EXPECT_TRUE(fill_fallbacks(drive, shipped()).empty());
}

TEST(Drive, AMotorThatCannotTurnIsNamed) {
  auto parts = example();
  EXPECT_EQ(standstill(parts, shipped(), 1.0), Standstill::none);
  parts.controller.current_limit = parts.motor.no_load_current;
  EXPECT_EQ(standstill(parts, shipped(), 1.0), Standstill::current_limit);
  parts = example();
  // Ohm's law: all of the pack's voltage is lost between cells and winding at no load.
  const auto ready = prepare(parts, shipped());
  const double path = ready.pack_resistance + ready.controller_resistance + ready.motor_resistance;
  const double eaten = ready.open_circuit_voltage / parts.motor.no_load_current - path;
  parts.leads.resistance += 0.99 * eaten;
  EXPECT_EQ(standstill(parts, shipped(), 1.0), Standstill::none);
  parts.leads.resistance += 0.02 * eaten;
  EXPECT_EQ(standstill(parts, shipped(), 1.0), Standstill::voltage);
}

TEST(Drive, RefusesAHalfDescribedDrive) {
  auto parts = example();
  parts.motor.speed_constant = unset;
  EXPECT_THROW((void)prepare(parts, shipped()), std::logic_error);
  parts = example();
  parts.pack.cells = 0;
  EXPECT_THROW((void)prepare(parts, shipped()), std::logic_error);
  parts = example();
  parts.pack.state_of_charge = 1.2;
  EXPECT_THROW((void)prepare(parts, shipped()), std::logic_error);
}

}  // namespace
}  // namespace windgap::drive
