#include "spark/gap.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "support/models.h"

namespace windgap::spark {
namespace {

class SparkGap : public testing::Test {
 protected:
  const GapCoefficients c = test::spark_models().gap;
  const Gas room{.pressure = c.reference_pressure, .temperature = c.reference_temperature};

  [[nodiscard]] double voltage(double length, Electrodes electrodes = Electrodes::uniform) const {
    return breakdown({length, electrodes}, room, c).voltage;
  }
};

TEST_F(SparkGap, DensityFollowsPressureAndTemperature) {
  EXPECT_DOUBLE_EQ(relative_density(room, c), 1.0);
  EXPECT_DOUBLE_EQ(relative_density({2.0 * room.pressure, room.temperature}, c), 2.0);
  EXPECT_DOUBLE_EQ(relative_density({room.pressure, 2.0 * room.temperature}, c), 0.5);
}

TEST_F(SparkGap, OnlyDensityTimesLengthCounts) {
  const Gas dense{.pressure = 1.6 * room.pressure, .temperature = room.temperature};
  for (const auto electrodes : {Electrodes::uniform, Electrodes::plug_worn, Electrodes::points}) {
    EXPECT_NEAR(breakdown({1e-3, electrodes}, dense, c).voltage, voltage(1.6e-3, electrodes), 1e-9);
  }
}

TEST_F(SparkGap, RisesWithLengthAboveTheMinimum) {
  for (const auto electrodes : {Electrodes::uniform, Electrodes::plug_edged, Electrodes::points}) {
    double below = voltage(5e-6, electrodes);
    for (double length = 6e-6; length < 0.03; length *= 1.05) {
      const double here = voltage(length, electrodes);
      EXPECT_GE(here, below) << length;
      below = here;
    }
  }
}

TEST_F(SparkGap, TheTwoFormsMeetWithoutAStep) {
  const double join = c.paschen_join / c.reference_pressure;
  EXPECT_NEAR(voltage(join * (1.0 - 1e-9)), voltage(join * (1.0 + 1e-9)), 1e-4);
}

// Where they meet, Paschen's form with handbook constants and the uniform-field form agree by
// themselves: the scaling at the join is no fit.
TEST_F(SparkGap, TheTwoFormsAgreeWhereTheyMeet) {
  const double losses = std::log(c.paschen_a / std::log(1.0 + 1.0 / c.paschen_gamma));
  const double paschen = c.paschen_b * c.paschen_join / (losses + std::log(c.paschen_join));
  EXPECT_NEAR(voltage(c.paschen_join / c.reference_pressure), paschen, 0.005 * paschen);
}

TEST_F(SparkGap, SharpElectrodesNeedLess) {
  const double uniform = voltage(4e-3);
  EXPECT_LT(voltage(4e-3, Electrodes::plug_edged), uniform);
  EXPECT_LT(voltage(4e-3, Electrodes::points), voltage(4e-3, Electrodes::plug_edged));
}

TEST_F(SparkGap, LongestGapIsTheInverse) {
  const Gas warm{.pressure = 1.1e5, .temperature = 320.0};
  for (const auto electrodes : {Electrodes::uniform, Electrodes::plug_edged, Electrodes::points}) {
    for (const double length : {60e-6, 0.3e-3, 1e-3, 4e-3, 12e-3}) {
      const double needed = breakdown({length, electrodes}, warm, c).voltage;
      EXPECT_NEAR(longest_gap(needed, electrodes, warm, c), length, 1e-6 * length);
    }
  }
}

TEST_F(SparkGap, AtTheMinimumTheLongestGapIsTheEndOfTheFlatPiece) {
  const double end = longest_gap(c.minimum_voltage, Electrodes::uniform, room, c);
  EXPECT_DOUBLE_EQ(voltage(0.999 * end), c.minimum_voltage);
  EXPECT_GT(voltage(1.001 * end), c.minimum_voltage);
}

TEST_F(SparkGap, NoGapBreaksDownBelowTheMinimum) {
  EXPECT_EQ(longest_gap(0.99 * c.minimum_voltage, Electrodes::uniform, room, c), 0.0);
}

TEST_F(SparkGap, SaysWhenItExtrapolates) {
  const auto validity = [&](double length, const Gas& gas) {
    return breakdown({length, Electrodes::uniform}, gas, c).validity;
  };
  EXPECT_EQ(validity(2e-3, room), Validity::inside);
  EXPECT_EQ(validity(5e-6, room), Validity::extrapolated);
  EXPECT_EQ(validity(40e-3, room), Validity::extrapolated);
  EXPECT_EQ(validity(1e-3, {20e5, room.temperature}), Validity::extrapolated);
  EXPECT_EQ(validity(1e-3, {room.pressure, 1200.0}), Validity::extrapolated);
}

TEST_F(SparkGap, TheCheckedGapsEndWhereTheFlagBegins) {
  const Gas dense{.pressure = 2.0 * room.pressure, .temperature = room.temperature};
  const auto checked = checked_gap(dense, c);
  EXPECT_DOUBLE_EQ(checked.density, 2.0);
  EXPECT_NEAR(checked.longest, 15e-3, 1e-12);
  const auto validity = [&](double length) {
    return breakdown({length, Electrodes::uniform}, dense, c).validity;
  };
  EXPECT_EQ(validity(0.999 * checked.longest), Validity::inside);
  EXPECT_EQ(validity(1.001 * checked.longest), Validity::extrapolated);
  EXPECT_EQ(validity(1.001 * checked.shortest), Validity::inside);
  EXPECT_EQ(validity(0.999 * checked.shortest), Validity::extrapolated);
}

TEST_F(SparkGap, ImpossibleInputIsTheCallersMistake) {
  EXPECT_THROW((void)breakdown({0.0, Electrodes::uniform}, room, c), std::logic_error);
  EXPECT_THROW((void)breakdown({1e-3, Electrodes::uniform}, {-1.0, 300.0}, c), std::logic_error);
  EXPECT_THROW((void)breakdown({1e-3, Electrodes::uniform}, {1e5, unset}, c), std::logic_error);
  EXPECT_THROW((void)longest_gap(unset, Electrodes::uniform, room, c), std::logic_error);
}

// Used to choose the points' factor, so no validation: needle points, 760 mmHg, 25 degC (American
// Institute of Electrical Engineers, transcription).
TEST_F(SparkGap, PointsFollowTheTableTheyWereFittedTo) {
  const Gas air{.pressure = 101325.0, .temperature = 298.15};
  const double table[][2] = {{4.2e-3, 5e3}, {8.5e-3, 10e3}, {13.0e-3, 15e3}, {17.5e-3, 20e3}};
  for (const auto& [length, peak] : table) {
    EXPECT_NEAR(breakdown({length, Electrodes::points}, air, c).voltage, peak, 0.1 * peak);
  }
}

}  // namespace
}  // namespace windgap::spark
