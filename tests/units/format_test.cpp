#include "units/format.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "units/quantity.h"

namespace windgap::units {
namespace {

TEST(Format, ShowsWhatPeopleReadInEachSystem) {
  EXPECT_EQ(format(0.262, Dimension::length, System::metric), "262 mm");
  EXPECT_EQ(format(0.262, Dimension::length, System::inch), "10.3 in");
  EXPECT_EQ(format(220.0, Dimension::length, System::metric), "220 m");
  EXPECT_EQ(format(1.2621, Dimension::length, System::metric), "1262 mm");
  EXPECT_EQ(format(0.0312, Dimension::mass_flow, System::metric), "31.2 g/s");
  EXPECT_EQ(format(0.0312, Dimension::mass_flow, System::inch), "4.13 lb/min");
  EXPECT_EQ(format(2100.0, Dimension::pressure, System::metric), "21 mbar");
  EXPECT_EQ(format(2100.0, Dimension::pressure, System::inch), "8.43 inH2O");
  EXPECT_EQ(format(101325.0, Dimension::pressure, System::metric), "1013 mbar");
  EXPECT_EQ(format(101325.0, Dimension::pressure, System::inch), "14.7 psi");
  EXPECT_EQ(format(284.15, Dimension::temperature, System::metric), "11 °C");
  EXPECT_EQ(format(284.15, Dimension::temperature, System::inch), "51.8 °F");
  EXPECT_EQ(format(0.38, Dimension::mass, System::metric), "380 g");
  EXPECT_EQ(format(0.38, Dimension::mass, System::inch), "13.4 oz");
  EXPECT_EQ(format(0.85, Dimension::ratio, System::metric), "85 %");
  EXPECT_EQ(format(0.003, Dimension::ratio, System::metric), "0.3 %");
  EXPECT_EQ(format(0.0045, Dimension::resistance, System::metric), "4.5 mΩ");
  EXPECT_EQ(format(0.012, Dimension::torque, System::metric), "12 mN·m");
  EXPECT_EQ(format(12e-4, Dimension::area, System::metric), "12 cm²");
  EXPECT_EQ(format(2.4e-5, Dimension::inertia, System::metric), "24 kg·mm²");
  EXPECT_EQ(format(1850.0, Dimension::power, System::metric), "1.85 kW");
  EXPECT_EQ(format(std::numbers::pi / 180, Dimension::angle, System::metric), "1°");
  EXPECT_EQ(format(14.0, Dimension::number, System::metric), "14");
}

TEST(Format, RoundsRotorSpeedsToThreeDigits) {
  const double rpm = 2 * std::numbers::pi / 60;
  EXPECT_EQ(format(22345 * rpm, Dimension::angular_speed, System::metric), "22300 rpm");
  EXPECT_EQ(format(99960 * rpm, Dimension::angular_speed, System::metric), "100000 rpm");
  EXPECT_EQ(format(-450 * rpm, Dimension::angular_speed, System::metric), "-450 rpm");
}

TEST(Format, CallsAMissingValueMissing) {
  EXPECT_EQ(format(std::nan(""), Dimension::length, System::metric), "n/a");
  EXPECT_EQ(format(std::numeric_limits<double>::infinity(), Dimension::length, System::inch),
            "n/a");
}

TEST(Format, ShowsZeroPlainly) {
  EXPECT_EQ(format(0.0, Dimension::length, System::metric), "0 mm");
  EXPECT_EQ(format(-0.0, Dimension::length, System::metric), "0 mm");
  EXPECT_EQ(format(273.15, Dimension::temperature, System::metric), "0 °C");
  EXPECT_EQ(format(273.15, Dimension::temperature, System::inch), "32 °F");
}

TEST(Format, WritesALimitInTheUnitOfThePerson) {
  EXPECT_EQ(format_in(0.001, Dimension::length, "in"), "0.03937 in");
  EXPECT_EQ(format_in(373.15, Dimension::temperature, "°C"), "100 °C");
  EXPECT_EQ(format_in(2.0, Dimension::ratio, ""), "2");
  EXPECT_THROW((void)format_in(1.0, Dimension::length, "kg"), std::logic_error);
}

TEST(Format, IsReadBackWithinItsDigits) {
  for (const auto& unit : all_units()) {
    for (const auto system : {System::metric, System::inch}) {
      for (const double si : {1.234e-9, 1.234e-4, 0.1234, 12.34, 1234.0, 1.234e6}) {
        const auto text = format(si, unit.dimension, system);
        const auto reading = parse(text, unit.dimension);
        ASSERT_TRUE(reading.quantity) << text << ": " << reading.problem;
        const double zero = display_unit(si, unit.dimension, system).offset;
        const double slack = 0.005 * std::abs(si - zero);
        EXPECT_NEAR(reading.quantity->value, si, slack) << text;
      }
    }
  }
}

}  // namespace
}  // namespace windgap::units
