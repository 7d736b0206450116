#include "engine/calibration.h"

#include <gtest/gtest.h>

#include <cmath>

#include "engine/examples.h"
#include "engine/windmill.h"
#include "support/models.h"

namespace windgap::engine {
namespace {

constexpr double pressure = 3000.0;

/// What a bench with this calibration would read.
Windmill reading(const Calibration& truth) {
  Engine e = example::filled();
  e.calibration = truth;
  const auto room = example::room();
  return windmill(
      prepare(e, example::coefficients(), test::models().air),
      room,
      {.total_pressure = room.pressure + pressure, .total_temperature = room.temperature});
}

Calibrated calibrated(const Measurement& m) {
  return calibrate(
      example::filled(), example::coefficients(), test::models().air, example::room(), m);
}

TEST(Calibration, FindsBothMultipliersOfABench) {
  const Calibration truth{.turbine_area = 1.12, .friction = 0.7};
  const auto bench = reading(truth);
  const auto found =
      calibrated({.total_pressure = pressure, .mass_flow = bench.mass_flow, .speed = bench.speed});
  ASSERT_EQ(found.status, CalibrationStatus::done);
  EXPECT_NEAR(found.calibration.turbine_area, truth.turbine_area, 1e-5);
  EXPECT_NEAR(found.calibration.friction, truth.friction, 1e-4);
  EXPECT_NEAR(found.mass_flow, bench.mass_flow, 1e-6);
  EXPECT_NEAR(found.speed, bench.speed, 0.1);
}

TEST(Calibration, SpeedAloneSetsTheFriction) {
  const auto bench = reading({.friction = 1.6});
  const auto found = calibrated({.total_pressure = pressure, .speed = bench.speed});
  ASSERT_EQ(found.status, CalibrationStatus::done);
  EXPECT_EQ(found.calibration.turbine_area, 1.0);
  EXPECT_NEAR(found.calibration.friction, 1.6, 1e-4);
}

TEST(Calibration, AirflowAloneSetsTheTurbineArea) {
  const auto bench = reading({.turbine_area = 0.9});
  const auto found = calibrated({.total_pressure = pressure, .mass_flow = bench.mass_flow});
  ASSERT_EQ(found.status, CalibrationStatus::done);
  EXPECT_NEAR(found.calibration.turbine_area, 0.9, 1e-4);
  EXPECT_EQ(found.calibration.friction, 1.0);
}

TEST(Calibration, WallTapStandsForTheAirflow) {
  const auto bench = reading({.turbine_area = 1.05});
  const auto room = example::room();
  const double diameter = example::filled().mouth.throat_diameter;
  // The static pressure that this flow leaves, by bisection of the tap's own relation.
  double low = 0.0;
  double high = pressure;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    const double flow = mass_flow_from_tap(
        {.total_pressure = pressure, .static_pressure = middle, .throat_diameter = diameter}, room);
    (flow > bench.mass_flow ? low : high) = middle;
  }
  const auto found = calibrated({.total_pressure = pressure, .throat_static_pressure = low});
  ASSERT_EQ(found.status, CalibrationStatus::done);
  EXPECT_NEAR(found.calibration.turbine_area, 1.05, 1e-3);
}

TEST(Calibration, TapFollowsBernoulliWhenSlow) {
  const auto room = example::room();
  const double flow = mass_flow_from_tap(
      {.total_pressure = 500.0, .static_pressure = 400.0, .throat_diameter = 0.046}, room);
  const double area = 3.14159265358979 * 0.023 * 0.023;
  EXPECT_NEAR(flow, area * std::sqrt(2.0 * room.density * 100.0), 3e-3 * flow);
}

TEST(Calibration, RefusesAnImplausibleFriction) {
  const auto bench = reading({});
  const auto found = calibrated({.total_pressure = pressure, .speed = 0.15 * bench.speed});
  EXPECT_EQ(found.status, CalibrationStatus::implausible);
  EXPECT_EQ(found.calibration.friction, example::coefficients().engine.greatest_friction_factor);
}

TEST(Calibration, RefusesAnAirflowNoTurbineExplains) {
  const auto found = calibrated({.total_pressure = pressure, .mass_flow = 0.08});
  EXPECT_EQ(found.status, CalibrationStatus::no_root);
  EXPECT_EQ(found.calibration.turbine_area, 1.0);
}

TEST(Calibration, NeedsAPressureAndOneReading) {
  EXPECT_EQ(calibrated({.total_pressure = pressure}).status, CalibrationStatus::incomplete);
  EXPECT_EQ(calibrated({.speed = 1000.0}).status, CalibrationStatus::incomplete);
}

}  // namespace
}  // namespace windgap::engine
