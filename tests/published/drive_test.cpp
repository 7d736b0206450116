#include "drive/drive.h"

#include <gtest/gtest.h>

#include <cmath>

#include "support/models.h"

namespace windgap::drive {
namespace {

/// A motor straight on a stiff supply: no pack, lead or controller resistance.
Prepared bare_motor(double supply) {
  Prepared drive;
  drive.open_circuit_voltage = supply;
  drive.pack_resistance = 0.0;
  drive.controller_resistance = 0.0;
  drive.switching_loss = 0.0;
  drive.current_limit = INFINITY;
  drive.pack_continuous_current = INFINITY;
  drive.pack_burst_current = INFINITY;
  drive.controller_rated_current = INFINITY;
  drive.controller_burst_current = INFINITY;
  drive.motor_max_current = INFINITY;
  drive.lowest_voltage = 0.0;
  return drive;
}

// A public article on permanent-magnet motor arithmetic: 9 V turn it at 81 rpm without load, so
// 13.2 V turn it at 118.8 rpm. Printed digits; rpm are used as they stand, the ratio is unit-free.
TEST(PublishedDrive, NoLoadSpeedIsProportionalToVoltage) {
  auto drive = bare_motor(9.0);
  drive.speed_constant = 81.0 / 9.0;
  drive.motor_resistance = 1.0;
  drive.no_load_current = 0.0;
  EXPECT_NEAR(run(drive, 0.0, 1.0).speed, 81.0, 1e-9);
  drive.open_circuit_voltage = 13.2;
  EXPECT_NEAR(run(drive, 0.0, 1.0).speed, 118.8, 1e-9);
}

// The three-constant motor of open propulsion-theory notes, Kt = 1/Kv, on a synthetic motor worked
// by hand: 3000 rpm/V, 20 mohm, 2 A, 14 V, 60 A give 38 400 rpm, 742.4 W out, efficiency 0.8838,
// 3.183 mN m/A. Printed digits.
TEST(PublishedDrive, ThreeConstantMotor) {
  constexpr double rpm = M_PI / 30.0;
  auto drive = bare_motor(14.0);
  drive.speed_constant = 3000.0 * rpm;
  drive.motor_resistance = 0.020;
  drive.no_load_current = 2.0;
  const double speed = 38400.0 * rpm;
  const double load = (60.0 - 2.0) / drive.speed_constant / (speed * speed);
  const auto running = run(drive, load, 1.0);
  EXPECT_NEAR(running.speed / rpm, 38400.0, 0.5);
  EXPECT_NEAR(running.motor_current, 60.0, 1e-3);
  EXPECT_NEAR(running.shaft_power, 742.4, 0.05);
  EXPECT_NEAR(running.shaft_power / (running.pack_voltage * running.pack_current), 0.8838, 5e-5);
  EXPECT_NEAR(running.torque / (running.motor_current - drive.no_load_current), 3.183e-3, 5e-7);
}

// Sag of a pack, arithmetic of a hobby battery guide's cell resistance: 6 cells of 3 mohm at 80 A
// lose 1.44 V.
TEST(PublishedDrive, PackSag) {
  const auto& coefficients = test::models().drive;
  Drive parts;
  parts.pack = {.cells = 6, .capacity = 3.3 * 3600.0, .cell_resistance = 0.003};
  parts.leads.resistance = 0.0;
  parts.controller.resistance = 0.0;
  parts.motor = {.speed_constant = 199.0,
                 .resistance = 0.02,
                 .no_load_current = 0.0,
                 .winding_heat_capacity = 25.0,
                 .winding_conductance = 1.0};
  auto drive = prepare(parts, coefficients);
  EXPECT_NEAR(drive.open_circuit_voltage, 6 * 4.2, 1e-9);  // full lithium polymer cell: 4.2 V
  // Choose the load so that 80 A flow.
  const double speed =
      drive.speed_constant * (drive.open_circuit_voltage - 80.0 * (0.02 + 6 * 0.003));
  const auto running = run(drive, 80.0 / drive.speed_constant / (speed * speed), 1.0);
  EXPECT_NEAR(running.pack_current, 80.0, 1e-6);
  EXPECT_NEAR(drive.open_circuit_voltage - running.pack_voltage, 1.44, 0.005);
}

// The same guide: 1 to 4 mohm for healthy large high-rate cells (taken as 3 to 6 Ah here).
TEST(PublishedDrive, AssumedCellResistanceIsThatOfAHealthyPack) {
  const auto& coefficients = test::models().drive;
  for (const double ampere_hours : {3.0, 4.0, 5.0, 6.0}) {
    Drive parts;
    parts.pack = {.cells = 6, .capacity = ampere_hours * 3600.0};
    (void)fill_fallbacks(parts, coefficients);
    EXPECT_GT(parts.pack.cell_resistance, 0.001);
    EXPECT_LT(parts.pack.cell_resistance, 0.004);
  }
}

}  // namespace
}  // namespace windgap::drive
