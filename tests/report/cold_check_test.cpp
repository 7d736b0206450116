#include "report/cold_check.h"

#include <gtest/gtest.h>

#include <cmath>

#include "report/examples.h"

namespace windgap::report {
namespace {

TEST(ColdCheck, ExpectsWhatIsDelivered) {
  const auto& outcome = test::solved("demo");
  const auto& row = shown_row(outcome);
  const auto check = cold_check(outcome);
  EXPECT_EQ(check.stand_off, row.stand_off);
  EXPECT_EQ(check.expected.rotor_speed, row.delivery.rotor_speed);
  const auto& rig = outcome.answer.rig;
  const double speed = row.delivery.airflow / rig.ambient.density / rig.throat_area;
  EXPECT_NEAR(row.delivery.inducer_pressure - check.expected.tap_pressure,
              rig.ambient.density * speed * speed / 2.0,
              1e-9);
}

TEST(ColdCheck, BandHoldsTheExpectedReading) {
  for (const auto* name : {"demo", "too-small"}) {
    const auto check = cold_check(test::solved(name));
    EXPECT_LT(check.low.rotor_speed, check.expected.rotor_speed) << name;
    EXPECT_GT(check.high.rotor_speed, check.expected.rotor_speed) << name;
    EXPECT_LT(check.low.tap_pressure, check.expected.tap_pressure) << name;
    EXPECT_GT(check.high.tap_pressure, check.expected.tap_pressure) << name;
  }
}

TEST(ColdCheck, MeasuringTheJetNarrowsTheBand) {
  const auto width = [](const ColdCheck& check) {
    return (check.high.rotor_speed - check.low.rotor_speed) / check.expected.rotor_speed;
  };
  EXPECT_LT(width(cold_check(test::solved("demo"))), width(cold_check(test::without_readings())));
}

TEST(ColdCheck, LeastReadingIsBelowThatOfAFeasibleMount) {
  const auto check = cold_check(test::solved("demo"));
  EXPECT_LT(check.least.rotor_speed, check.expected.rotor_speed);
  EXPECT_LT(check.least.tap_pressure, check.expected.tap_pressure);
  EXPECT_GT(check.least.rotor_speed, 0.0);
}

TEST(ColdCheck, AResistanceHasNoRotorSpeed) {
  const auto& outcome = test::solved("measured-inches");
  const auto check = cold_check(outcome);
  EXPECT_TRUE(std::isnan(check.expected.rotor_speed));
  EXPECT_TRUE(std::isnan(check.least.rotor_speed));
  // Mouth pressure = loss factor x throat head; the wall tap reads it less the head.
  const auto& resistance = *outcome.bench.parts.engine.resistance;
  const auto& rig = outcome.answer.rig;
  const double speed = rig.starting_airflow / rig.ambient.density / rig.throat_area;
  const double head = rig.ambient.density * speed * speed / 2.0;
  EXPECT_NEAR(check.least.tap_pressure, (resistance.loss_factor - 1.0) * head, 0.01 * 14.0 * head);
}

}  // namespace
}  // namespace windgap::report
