#include "fan/fan.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fan/examples.h"
#include "fan/laws.h"

namespace windgap::fan {
namespace {

using examples::drive_coefficients;
using examples::ducted_fan;
using examples::fan_coefficients;
using examples::prepared;
using examples::room;
using examples::six_cells;

/// The example on a supply that gives the datasheet's voltage whatever flows.
Prepared on_datasheet_supply(Fan fan) {
  auto parts = six_cells();
  parts.pack.cell_resistance = 0.0;
  parts.leads.resistance = 0.0;
  auto ready = prepared(std::move(fan), parts);
  ready.drive.open_circuit_voltage = 22.2;
  return ready;
}

TEST(Fan, ReproducesItsDatasheetPoint) {
  const auto fan = on_datasheet_supply(ducted_fan());
  const auto point = operate(fan, 1.0);
  const double density_ratio = room().density / fan_coefficients().standard_density;
  // Thinner or denser air changes load and speed a little; compare at the sheet's own density.
  auto same_air = fan;
  same_air.density = fan_coefficients().standard_density;
  same_air.load_coefficient /= density_ratio;
  const auto sheet = operate(same_air, 1.0);
  EXPECT_NEAR(sheet.thrust, 19.0 * fan_coefficients().datasheet_thrust, 1e-9);
  EXPECT_NEAR(sheet.drive.pack_current, 62.0, 1e-9);
  EXPECT_NEAR(point.thrust, sheet.thrust, 0.02 * sheet.thrust);
}

TEST(Fan, StaticThrustFlowAndJetPowerAgree) {
  const auto fan = prepared(ducted_fan(), six_cells());
  const auto point = operate(fan, 1.0);
  EXPECT_NEAR(point.thrust, point.mass_flow * point.exit_velocity, 1e-12);
  EXPECT_NEAR(point.exit_velocity, std::sqrt(point.thrust / (fan.density * fan.exit_area)), 1e-9);
  EXPECT_NEAR(point.dynamic_head * point.mass_flow / fan.density,
              point.thrust * point.exit_velocity / 2.0,
              1e-9);
  EXPECT_DOUBLE_EQ(point.exit_total_pressure, point.dynamic_head);
}

TEST(Fan, StaysBelowTheMomentumBound) {
  const auto fan = prepared(ducted_fan(), six_cells());
  const auto point = operate(fan, 1.0);
  EXPECT_LT(
      point.thrust,
      ideal_thrust({.density = fan.density, .disc_area = fan.exit_area, .exit_area_ratio = 1.0},
                   point.drive.shaft_power));
}

TEST(Fan, BluntHubRaisesTheExitVelocityByATenth) {
  auto blunt = ducted_fan();
  blunt.hub_end = jet::HubEnd::blunt;
  blunt.hub_diameter = 0.4 * blunt.bore_diameter;
  auto full = blunt;
  full.hub_end = jet::HubEnd::tail_cone;
  auto c = fan_coefficients();
  c.cone_hub_area = 0.0;
  auto parts = six_cells();
  (void)fill_fallbacks(full, parts, c, drive_coefficients());
  (void)fill_fallbacks(blunt, parts, c, drive_coefficients());
  const auto a = operate(prepare(blunt, parts, room(), c, drive_coefficients()), 1.0);
  const auto b = operate(prepare(full, parts, room(), c, drive_coefficients()), 1.0);
  EXPECT_NEAR(a.exit_velocity / b.exit_velocity, 1.0 / std::sqrt(1.0 - 0.16), 1e-9);
}

TEST(Fan, MeasuredThrustOverridesTheDatasheetUnfactored) {
  auto fan = ducted_fan();
  fan.measured = {.thrust = 15.7, .voltage = 22.2};
  auto ready = on_datasheet_supply(fan);
  ready.density = fan_coefficients().standard_density;
  ready.load_coefficient *= fan_coefficients().standard_density / room().density;
  EXPECT_NEAR(operate(ready, 1.0).thrust, 15.7, 1e-6);
}

TEST(Fan, TotalPressureRiseMatchesTheCurveUnderBackPressure) {
  const auto fan = prepared(ducted_fan(), six_cells());
  const auto open = operate(fan, 1.0);
  for (const double back : {0.05, 0.3, 1.0, 3.0}) {
    const auto point = operate(fan, 1.0, back);
    const double flow = point.mass_flow / open.mass_flow * open.speed / point.speed;
    const double rise = pressure_at(fan.curve, flow).value * open.dynamic_head *
                        std::pow(point.speed / open.speed, 2);
    EXPECT_NEAR(point.exit_total_pressure, rise, 1e-6 * rise) << back;
    EXPECT_LT(point.mass_flow, open.mass_flow);
    EXPECT_GT(point.exit_total_pressure, open.exit_total_pressure);
  }
}

TEST(Fan, AnswersBackPressureSmoothly) {
  const auto fan = prepared(ducted_fan(), six_cells());
  constexpr double step = 1e-5;
  for (double back = step; back < 4.0; back += 0.173) {
    const double before = operate(fan, 1.0, back - step).mass_flow;
    const double here = operate(fan, 1.0, back).mass_flow;
    const double after = operate(fan, 1.0, back + step).mass_flow;
    EXPECT_LT(after, here);
    EXPECT_NEAR((after - here) / (here - before), 1.0, 0.01) << back;
  }
}

TEST(Fan, ThrottleScalesByTheAffinityLaws) {
  const auto fan = prepared(ducted_fan(), six_cells());
  const auto full = operate(fan, 1.0, 0.2);
  const auto half = operate(fan, 0.5, 0.2);
  const auto expected = scale({.flow = full.mass_flow,
                               .pressure_rise = full.exit_total_pressure,
                               .shaft_power = full.drive.shaft_power},
                              half.speed / full.speed);
  EXPECT_NEAR(half.mass_flow, expected.flow, 1e-12);
  EXPECT_NEAR(half.exit_total_pressure, expected.pressure_rise, 1e-8);
  EXPECT_NEAR(half.drive.shaft_power, expected.shaft_power, 1e-8);
  EXPECT_DOUBLE_EQ(half.stall_margin, full.stall_margin);
}

TEST(Fan, BackPressureEatsTheStallMargin) {
  const auto fan = prepared(ducted_fan(), six_cells());
  EXPECT_NEAR(operate(fan, 1.0).stall_margin, 1.0 / fan.curve.stall_flow - 1.0, 1e-12);
  EXPECT_LT(operate(fan, 1.0, 5.0).stall_margin, 0.0);
}

TEST(Fan, ConvergingNozzleTradesFlowForVelocity) {
  const auto open = prepared(ducted_fan(), six_cells());
  const auto fitted = with_nozzle(open, 0.055);
  const auto before = operate(open, 1.0);
  const auto after = operate(fitted, 1.0);
  EXPECT_LT(after.mass_flow, before.mass_flow);
  EXPECT_GT(after.exit_velocity, before.exit_velocity);
  EXPECT_GT(after.exit_total_pressure, before.exit_total_pressure);
  EXPECT_LT(after.stall_margin, before.stall_margin);
  EXPECT_LT(jet_exit(fitted, after).hub_radius, jet_exit(open, before).hub_radius);
  EXPECT_NEAR(jet_exit(fitted, after).rim_radius, 0.0275, 1e-12);
}

TEST(Fan, NozzleInTheCaseEqualsNozzleFittedLater) {
  auto fan = ducted_fan();
  fan.nozzle_diameter = 0.058;
  const auto a = operate(prepared(fan, six_cells()), 0.9, 0.1);
  const auto b = operate(with_nozzle(prepared(ducted_fan(), six_cells()), 0.058), 0.9, 0.1);
  EXPECT_DOUBLE_EQ(a.mass_flow, b.mass_flow);
}

TEST(Fan, SwirlWithoutVanesLiesWhereSmallFansDo) {
  auto fan = ducted_fan();
  fan.vanes = Vanes::no;
  const auto bare = operate(prepared(fan, six_cells()), 1.0);
  EXPECT_GT(bare.swirl_number, 0.25);
  EXPECT_LT(bare.swirl_number, 0.55);
  const auto vaned = operate(prepared(ducted_fan(), six_cells()), 1.0);
  EXPECT_NEAR(
      vaned.swirl_number / bare.swirl_number, 1.0 - fan_coefficients().vane_efficiency, 1e-9);
}

TEST(Fan, MeasuredCurveGivesTheStaticPointAndReplacesTheShape) {
  // Points of an invented fan: 0.2 m^3/s against its open exit.
  auto fan = ducted_fan();
  const double area =
      std::numbers::pi / 4.0 * (0.064 * 0.064 - fan_coefficients().cone_hub_area * 0.027 * 0.027);
  const double velocity = 0.2 / area;
  const double head = 1.2 * velocity * velocity / 2.0;
  fan.curve = {.points = {{.flow = 0.12, .pressure_rise = 1.5 * head},
                          {.flow = 0.16, .pressure_rise = 1.4 * head},
                          {.flow = 0.20, .pressure_rise = head},
                          {.flow = 0.24, .pressure_rise = 0.4 * head}}};
  auto ready = on_datasheet_supply(fan);
  ready.density = 1.2;
  ready.load_coefficient *= 1.2 / room().density;
  EXPECT_NEAR(operate(ready, 1.0).mass_flow, 1.2 * 0.2, 1e-9);
  EXPECT_NEAR(ready.curve.stall_flow, 0.6, 1e-9);
  // 1.4 heads at 0.8 of the flow: the exit's own head is 0.64 of the static one.
  const auto pressed = operate(ready, 1.0, 1.4 / 0.64 - 1.0);
  EXPECT_NEAR(pressed.mass_flow / pressed.speed,
              0.8 * operate(ready, 1.0).mass_flow / operate(ready, 1.0).speed,
              1e-9);
}

TEST(Fan, StreamHoldsItsFlow) {
  const auto stream = prepare(Stream{.exit_diameter = 0.060, .velocity = 72.0}, room());
  const auto open = operate(stream, 1.0);
  const auto pressed = operate(stream, 0.3, 0.5);
  EXPECT_DOUBLE_EQ(open.mass_flow, pressed.mass_flow);
  EXPECT_NEAR(open.mass_flow, room().density * std::numbers::pi * 0.03 * 0.03 * 72.0, 1e-12);
  EXPECT_NEAR(pressed.exit_total_pressure, 1.5 * open.dynamic_head, 1e-9);
  EXPECT_EQ(open.drive.pack_current, 0.0);
  EXPECT_TRUE(std::isinf(open.stall_margin));
  EXPECT_THROW((void)prepare(Stream{.exit_diameter = 0.06}, room()), std::logic_error);
}

TEST(Fan, FallbacksAreListedAndConsistent) {
  Fan fan;
  fan.datasheet = {.thrust = 19.0, .electrical_power = 1380.0};
  fan.bore_diameter = 0.064;
  drive::Drive parts;
  parts.pack = {.cells = 6, .capacity = 3.3 * 3600.0, .state_of_charge = 0.5};
  const auto notes = fill_fallbacks(fan, parts, fan_coefficients(), drive_coefficients());
  std::vector<std::string> fields;
  for (const auto& note : notes) {
    EXPECT_TRUE(std::isfinite(note.value)) << note.field;
    fields.push_back(note.field);
  }
  EXPECT_THAT(fields,
              ::testing::IsSupersetOf({"hub_diameter",
                                       "voltage",
                                       "motor.speed_constant",
                                       "motor.resistance",
                                       "motor.no_load_current",
                                       "motor.mass",
                                       "pack.cell_resistance"}));
  EXPECT_THAT(fields, ::testing::Not(::testing::Contains("current")));  // follows from the power
  EXPECT_TRUE(contradictions(fan, parts, fan_coefficients()).empty());
  const auto ready = prepare(fan, parts, room(), fan_coefficients(), drive_coefficients());
  EXPECT_NEAR(ready.work, fan_coefficients().usual_work, 1e-6);
  EXPECT_NEAR(operate(ready, 1.0).drive.pack_current, 1380.0 / (6 * 3.6), 2.0);
  EXPECT_TRUE(fill_fallbacks(fan, parts, fan_coefficients(), drive_coefficients()).empty());
}

TEST(Fan, KnownSpeedGivesTheMotorItsConstant) {
  auto fan = ducted_fan();
  fan.datasheet.speed = 4100.0;
  auto parts = six_cells();
  parts.motor.speed_constant = unset;
  const auto notes = fill_fallbacks(fan, parts, fan_coefficients(), drive_coefficients());
  for (const auto& note : notes) EXPECT_NE(note.field, "motor.speed_constant");
  auto stiff = parts;
  stiff.pack.cell_resistance = 0.0;
  stiff.leads.resistance = 0.0;
  auto ready = prepare(fan, stiff, room(), fan_coefficients(), drive_coefficients());
  ready.drive.open_circuit_voltage = 22.2;
  ready.load_coefficient *= fan_coefficients().standard_density / room().density;
  EXPECT_NEAR(operate(ready, 1.0).speed, 4100.0, 1e-6);
}

TEST(Fan, ImplausibleThrustIsNamed) {
  auto fan = ducted_fan();
  fan.datasheet.thrust = 32.0;
  auto parts = six_cells();
  (void)fill_fallbacks(fan, parts, fan_coefficients(), drive_coefficients());
  const auto check = jet_power_share(fan, fan_coefficients());
  EXPECT_FALSE(check.plausible);
  EXPECT_GT(check.ratio, check.limit);
  EXPECT_THAT(contradictions(fan, parts, fan_coefficients()),
              ::testing::Contains(::testing::HasSubstr("jet power")));
  fan.datasheet.thrust = 19.0;
  EXPECT_TRUE(jet_power_share(fan, fan_coefficients()).plausible);
}

TEST(Fan, ContradictionsAreNamed) {
  auto fan = ducted_fan();
  auto parts = six_cells();
  (void)fill_fallbacks(fan, parts, fan_coefficients(), drive_coefficients());
  fan.hub_diameter = 0.070;
  fan.nozzle_diameter = 0.080;
  parts.motor.resistance = 1.0;
  const auto found = contradictions(fan, parts, fan_coefficients());
  EXPECT_THAT(found, ::testing::Contains(::testing::HasSubstr("hub")));
  EXPECT_THAT(found, ::testing::Contains(::testing::HasSubstr("nozzle")));
  EXPECT_THAT(found, ::testing::Contains(::testing::HasSubstr("resistance")));
  EXPECT_THROW((void)prepare(fan, parts, room(), fan_coefficients(), drive_coefficients()),
               std::logic_error);
}

}  // namespace
}  // namespace windgap::fan
