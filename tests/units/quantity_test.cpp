#include "units/quantity.h"

#include <gtest/gtest.h>

#include <clocale>
#include <cmath>
#include <locale>
#include <numbers>
#include <string>

#include "units/format.h"

namespace windgap::units {
namespace {

struct Example {
  const char* text;
  Dimension dimension;
  double value;
  double tolerance = 0.0;
};

void PrintTo(const Example& example, std::ostream* out) { *out << example.text; }

double rpm(double n) { return n * 2 * std::numbers::pi / 60; }

class ReadsQuantity : public testing::TestWithParam<Example> {};

TEST_P(ReadsQuantity, InSi) {
  const auto& example = GetParam();
  const auto reading = parse(example.text, example.dimension);
  ASSERT_TRUE(reading.quantity) << reading.problem;
  EXPECT_NEAR(reading.quantity->value, example.value, 1e-12 * std::abs(example.value));
  EXPECT_NEAR(reading.quantity->tolerance, example.tolerance, 1e-9 * example.tolerance);
}

constexpr double lbf_per_in = 0.45359237 * 9.80665 / 0.0254;  // NIST SP 811, B.8: 1.751268e2 N/m

// Factors are exact definitions (SI brochure; international yard and pound); water columns are the
// conventional ones under standard gravity.
INSTANTIATE_TEST_SUITE_P(Units,
                         ReadsQuantity,
                         testing::Values(Example{"70 mm", Dimension::length, 0.07},
                                         Example{"70mm", Dimension::length, 0.07},
                                         Example{"  70   mm  ", Dimension::length, 0.07},
                                         Example{"7 cm", Dimension::length, 0.07},
                                         Example{"25 µm", Dimension::length, 25e-6},
                                         Example{"25 μm", Dimension::length, 25e-6},
                                         Example{"25 um", Dimension::length, 25e-6},
                                         Example{".63 in", Dimension::length, 0.016002},
                                         Example{"2 ft", Dimension::length, 0.6096},
                                         Example{"1e3 mm", Dimension::length, 1.0},
                                         Example{"+5 mm", Dimension::length, 0.005},
                                         Example{"5. mm", Dimension::length, 0.005},
                                         Example{"12 cm²", Dimension::area, 12e-4},
                                         Example{"12 cm2", Dimension::area, 12e-4},
                                         Example{"12 cm^2", Dimension::area, 12e-4},
                                         Example{"2 in²", Dimension::area, 0.00129032},
                                         Example{"90 km/h", Dimension::speed, 25.0},
                                         Example{"90 km / h", Dimension::speed, 25.0},
                                         Example{"10 mph", Dimension::speed, 4.4704},
                                         Example{"72 m/s", Dimension::speed, 72.0},
                                         Example{"24 g/s", Dimension::mass_flow, 0.024},
                                         Example{"60 lb/min", Dimension::mass_flow, 0.45359237},
                                         Example{"12 hPa", Dimension::pressure, 1200.0},
                                         Example{"21 mbar", Dimension::pressure, 2100.0},
                                         Example{"1.1 bar", Dimension::pressure, 1.1e5},
                                         Example{"1 kPa", Dimension::pressure, 1e3},
                                         Example{"1 inH2O", Dimension::pressure, 249.08891},
                                         Example{"1 in H2O", Dimension::pressure, 249.08891},
                                         Example{"1 inH₂O", Dimension::pressure, 249.08891},
                                         Example{"1 mmH2O", Dimension::pressure, 9.80665},
                                         Example{"-3 degC", Dimension::temperature, 270.15},
                                         Example{"−3 °C", Dimension::temperature, 270.15},
                                         Example{"-3 ° C", Dimension::temperature, 270.15},
                                         Example{"-3 ℃", Dimension::temperature, 270.15},
                                         Example{"212 degF", Dimension::temperature, 373.15},
                                         Example{"212 °F", Dimension::temperature, 373.15},
                                         Example{"300 K", Dimension::temperature, 300.0},
                                         Example{"21 krpm", Dimension::angular_speed, rpm(21000)},
                                         Example{"21000 rpm", Dimension::angular_speed, rpm(21000)},
                                         Example{
                                             "2200 rpm/V", Dimension::speed_constant, rpm(2200)},
                                         Example{"21.8 V", Dimension::voltage, 21.8},
                                         Example{"85 A", Dimension::current, 85.0},
                                         Example{"4.5 mohm", Dimension::resistance, 0.0045},
                                         Example{"4.5 mΩ", Dimension::resistance, 0.0045},
                                         Example{"4.5 mΩ", Dimension::resistance, 0.0045},
                                         Example{"2 MΩ", Dimension::resistance, 2e6},
                                         Example{"3300 mAh", Dimension::charge, 11880.0},
                                         Example{"73 Wh", Dimension::energy, 262800.0},
                                         Example{"20 mJ", Dimension::energy, 0.02},
                                         Example{"1.8 kW", Dimension::power, 1800.0},
                                         Example{"380 g", Dimension::mass, 0.38},
                                         Example{"2 lb", Dimension::mass, 0.90718474},
                                         Example{"16 oz", Dimension::mass, 0.45359237},
                                         Example{"2 lb", Dimension::force, 0.90718474 * 9.80665},
                                         Example{"2 lbf", Dimension::force, 0.90718474 * 9.80665},
                                         Example{"1.6 kg", Dimension::force, 1.6 * 9.80665},
                                         Example{"1600 g", Dimension::force, 1.6 * 9.80665},
                                         Example{"16 oz", Dimension::force, 0.45359237 * 9.80665},
                                         Example{"17 N", Dimension::force, 17.0},
                                         Example{"1 lbf/in", Dimension::stiffness, lbf_per_in},
                                         Example{"9 N/mm", Dimension::stiffness, 9e3},
                                         Example{"12 mN·m", Dimension::torque, 0.012},
                                         Example{"12 mNm", Dimension::torque, 0.012},
                                         Example{"1 N*m", Dimension::torque, 1.0},
                                         Example{"1 N m", Dimension::torque, 1.0},
                                         Example{"1 N⋅m", Dimension::torque, 1.0},
                                         Example{"2.4e-5 kg·m²", Dimension::inertia, 2.4e-5},
                                         Example{"2.4e-5 kg m2", Dimension::inertia, 2.4e-5},
                                         Example{"2.4e-5 kgm^2", Dimension::inertia, 2.4e-5},
                                         Example{"32 cSt", Dimension::kinematic_viscosity, 32e-6},
                                         Example{"32 mm²/s", Dimension::kinematic_viscosity, 32e-6},
                                         Example{"1.9 kJ/(kg K)", Dimension::specific_heat, 1900.0},
                                         Example{"300 mL/min", Dimension::volume_flow, 5e-6},
                                         Example{"8 s", Dimension::time, 8.0},
                                         Example{"2 min", Dimension::time, 120.0},
                                         Example{"85 %", Dimension::ratio, 0.85},
                                         Example{"85%", Dimension::ratio, 0.85},
                                         Example{"0.85", Dimension::ratio, 0.85},
                                         Example{"14", Dimension::number, 14.0},
                                         Example{"180 deg", Dimension::angle, std::numbers::pi},
                                         Example{"1 °", Dimension::angle, std::numbers::pi / 180},
                                         Example{"8 mH", Dimension::inductance, 8e-3},
                                         Example{"1 µF", Dimension::capacitance, 1e-6},
                                         Example{"47 nF", Dimension::capacitance, 47e-9},
                                         Example{"3 kHz", Dimension::frequency, 3e3},
                                         Example{"18 kV", Dimension::voltage, 18e3}));

INSTANTIATE_TEST_SUITE_P(
    Tolerances,
    ReadsQuantity,
    testing::Values(Example{"46 ± 0.2 mm", Dimension::length, 0.046, 0.0002},
                    Example{"46±0.2mm", Dimension::length, 0.046, 0.0002},
                    Example{"46 +- 0.2 mm", Dimension::length, 0.046, 0.0002},
                    Example{"46 +/- 0.2 mm", Dimension::length, 0.046, 0.0002},
                    Example{"46 mm ± 0.2", Dimension::length, 0.046, 0.0002},
                    Example{"46 mm ± 200 µm", Dimension::length, 0.046, 0.0002},
                    Example{"46 mm ± 2 %", Dimension::length, 0.046, 0.00092},
                    Example{"-2 mm ± 50 %", Dimension::length, -0.002, 0.001},
                    Example{"0 ± 2 mm", Dimension::length, 0.0, 0.002},
                    Example{
                        "1.6 kg ± 2 oz", Dimension::force, 1.6 * 9.80665, 0.45359237 / 8 * 9.80665},
                    Example{"14 ± 10 %", Dimension::number, 14.0, 1.4},
                    Example{"14 ± 2", Dimension::number, 14.0, 2.0},
                    Example{"90 ± 5 %", Dimension::ratio, 0.9, 0.05},
                    Example{"90 % ± 5 %", Dimension::ratio, 0.9, 0.05},
                    Example{"0.9 ± 0.05", Dimension::ratio, 0.9, 0.05},
                    // A half width is a difference: no offset of the scale in it.
                    Example{"50 ± 5 degF", Dimension::temperature, 283.15, 25.0 / 9},
                    Example{"10 ± 5 degC", Dimension::temperature, 283.15, 5.0},
                    Example{"10 degC ± 9 degF", Dimension::temperature, 283.15, 5.0},
                    Example{"10 degC ± 2 K", Dimension::temperature, 283.15, 2.0}));

TEST(Quantity, KeepsTheUnitAsWritten) {
  EXPECT_EQ(parse("46 ± 0.2 mm", Dimension::length).quantity->unit, "mm");
  EXPECT_EQ(parse("11 °C", Dimension::temperature).quantity->unit, "°C");
  EXPECT_EQ(parse("0.9", Dimension::ratio).quantity->unit, "");
}

struct BadExample {
  const char* text;
  Dimension dimension;
  const char* problem;
  const char* suggestion = "";
};

void PrintTo(const BadExample& example, std::ostream* out) { *out << example.text; }

class RefusesQuantity : public testing::TestWithParam<BadExample> {};

TEST_P(RefusesQuantity, SayingWhy) {
  const auto& example = GetParam();
  const auto reading = parse(example.text, example.dimension);
  EXPECT_FALSE(reading.quantity);
  EXPECT_EQ(reading.problem, example.problem);
  EXPECT_EQ(reading.suggestion, example.suggestion);
}

INSTANTIATE_TEST_SUITE_P(
    Units,
    RefusesQuantity,
    testing::Values(
        BadExample{"0.63", Dimension::length, "the unit is missing", "0.63 mm or 0.63 in"},
        BadExample{"0", Dimension::length, "the unit is missing", "0 mm or 0 in"},
        BadExample{"24", Dimension::mass_flow, "the unit is missing"},
        BadExample{"46 ± 2 %", Dimension::length, "the unit is missing", "46 mm or 46 in"},
        BadExample{"46 g", Dimension::length, "\"g\" measures a mass, not a length"},
        BadExample{"46 %", Dimension::length, "\"%\" measures a share, not a length"},
        BadExample{"46 mm", Dimension::ratio, "a share has no unit \"mm\"", "46 %"},
        BadExample{"46 %", Dimension::number, "a plain number has no unit \"%\"", "46"},
        BadExample{"46 MM", Dimension::length, "unknown unit \"MM\"", "46 mm"},
        BadExample{"1 xyzxyzxyzxyzxyzxyzxyzxyzxyzxyzxµz",
                   Dimension::length,
                   "unknown unit \"xyzxyzxyzxyzxyzxyzxyzxyzxyzxyzx…\"",
                   ""},
        BadExample{"46 Mm", Dimension::length, "unknown unit \"Mm\"", "46 mm"},
        BadExample{"11 C",
                   Dimension::temperature,
                   "\"C\" measures a charge, not a temperature",
                   "11 degC"},
        BadExample{"11 F",
                   Dimension::temperature,
                   "\"F\" measures a capacitance, not a temperature",
                   "11 degF"},
        BadExample{"2 lbs", Dimension::mass, "unknown unit \"lbs\"", "2 lb"},
        BadExample{"5 m m", Dimension::length, "unknown unit \"m m\""},
        BadExample{"5 mm2", Dimension::length, "\"mm2\" measures an area, not a length"},
        BadExample{"10² mm", Dimension::length, "unknown unit \"² mm\""},
        BadExample{"46 furlong", Dimension::length, "unknown unit \"furlong\""},
        BadExample{"46 mm mm", Dimension::length, "unknown unit \"mm mm\""},
        BadExample{"46 mm 3", Dimension::length, "unknown unit \"mm 3\""},
        BadExample{"1 000 mm", Dimension::length, "unknown unit \"000 mm\""},
        BadExample{"2.4 kgf", Dimension::mass, "\"kgf\" measures a force, not a mass"}));

INSTANTIATE_TEST_SUITE_P(
    Numbers,
    RefusesQuantity,
    testing::Values(
        BadExample{"", Dimension::length, "a number is missing"},
        BadExample{"   ", Dimension::length, "a number is missing"},
        BadExample{"mm", Dimension::length, "it does not start with a finite decimal number"},
        BadExample{"nan", Dimension::number, "it does not start with a finite decimal number"},
        BadExample{"-NaN mm", Dimension::length, "it does not start with a finite decimal number"},
        BadExample{"inf mm", Dimension::length, "it does not start with a finite decimal number"},
        BadExample{
            "-infinity", Dimension::number, "it does not start with a finite decimal number"},
        BadExample{".inf", Dimension::number, "it does not start with a finite decimal number"},
        BadExample{"--5 mm", Dimension::length, "it does not start with a finite decimal number"},
        BadExample{"- 5 mm", Dimension::length, "it does not start with a finite decimal number"},
        BadExample{"+-5 mm", Dimension::length, "a number is missing"},
        BadExample{". mm", Dimension::length, "it does not start with a finite decimal number"},
        BadExample{"1e999 mm", Dimension::length, "the number is too large or too small to hold"},
        BadExample{"1e-999 mm", Dimension::length, "the number is too large or too small to hold"},
        BadExample{"1e308 km", Dimension::length, "the number is too large or too small to hold"},
        BadExample{"0x1p3 mm", Dimension::length, "it is not a decimal number"},
        BadExample{"0X10", Dimension::number, "it is not a decimal number"},
        BadExample{"46,5 mm", Dimension::length, "the decimal sign is a point, not a comma"},
        BadExample{"4.6.1 mm", Dimension::length, "unknown unit \".1 mm\""},
        BadExample{"12abc", Dimension::number, "a plain number has no unit \"abc\"", "12"}));

INSTANTIATE_TEST_SUITE_P(
    Tolerances,
    RefusesQuantity,
    testing::Values(BadExample{"46 ± mm",
                               Dimension::length,
                               "after the ±, it does not start with a finite decimal number"},
                    BadExample{"46 mm ±", Dimension::length, "after the ±, a number is missing"},
                    BadExample{"46 ± nan mm",
                               Dimension::length,
                               "after the ±, it does not start with a finite decimal number"},
                    BadExample{"46 ± -1 mm", Dimension::length, "the tolerance is negative"},
                    BadExample{"46 ± 1 ± 1 mm", Dimension::length, "unknown unit \"+- 1 mm\""},
                    BadExample{
                        "46 mm ± 1 g", Dimension::length, "\"g\" measures a mass, not a length"},
                    BadExample{"0.9 ± 5 %",
                               Dimension::ratio,
                               "it is not clear what the percent sign belongs to",
                               "0.90 ± 0.05 or 90 % ± 5 %"},
                    BadExample{"10 degC ± 5 %",
                               Dimension::temperature,
                               "a tolerance in percent means nothing for a temperature"}));

TEST(Quantity, ReadsEveryUnitOfTheTable) {
  for (const auto& unit : all_units()) {
    const auto reading = parse("2 " + std::string(unit.symbol), unit.dimension);
    ASSERT_TRUE(reading.quantity) << unit.symbol << ": " << reading.problem;
    EXPECT_EQ(reading.quantity->value, unit.offset + 2 * unit.factor) << unit.symbol;
  }
}

struct DecimalComma : std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
};

TEST(Quantity, ReadsTheSameInALocaleWithDecimalCommas) {
  const auto before = std::locale::global(std::locale(std::locale::classic(), new DecimalComma));
  EXPECT_EQ(parse("46.5 mm", Dimension::length).quantity->value, 46.5 * 1e-3);
  EXPECT_EQ(format(0.0465, Dimension::length, System::metric), "46.5 mm");
  std::locale::global(before);
  // Only locales that the machine has can be tried; the C locale always passes.
  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8", "C"}) {
    if (std::setlocale(LC_ALL, name) == nullptr) continue;
    EXPECT_EQ(parse("46.5 mm", Dimension::length).quantity->value, 46.5 * 1e-3);
  }
  std::setlocale(LC_ALL, "C");
}

TEST(Quantity, SurvivesHugeText) {
  EXPECT_FALSE(parse(std::string(1 << 20, '9') + " mm", Dimension::length).quantity);
  EXPECT_FALSE(parse("1 " + std::string(1 << 20, 'm'), Dimension::length).quantity);
}

TEST(Quantity, SaysWhatIsWanted) {
  EXPECT_EQ(wanted_text(Dimension::length), "a length with its unit, such as 46 mm or 1.8 in");
  EXPECT_EQ(wanted_text(Dimension::ratio), "a share, such as 85 % or 0.85");
}

}  // namespace
}  // namespace windgap::units
