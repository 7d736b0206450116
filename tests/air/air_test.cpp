#include "air/air.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "support/models.h"

namespace windgap::air {
namespace {

const Coefficients& shipped() { return test::models().air; }

TEST(Air, StandardAtmosphereIsHydrostatic) {
  constexpr double step = 0.5;
  for (const double altitude : {0.0, 300.0, 1200.0, 4000.0}) {
    const auto here = standard_atmosphere(shipped(), altitude);
    const double slope = (standard_atmosphere(shipped(), altitude + step).pressure -
                          standard_atmosphere(shipped(), altitude - step).pressure) /
                         (2 * step);
    const double density = here.pressure / (shipped().gas_constant * here.temperature);
    EXPECT_NEAR(slope, -density * shipped().gravity, 1e-6 * density * shipped().gravity);
  }
}

TEST(Air, MeasuredPressureAndTemperatureOverrideTheAltitude) {
  const auto room =
      make_ambient(shipped(), {.altitude = 2000.0, .pressure = 101325.0, .temperature = 288.15});
  EXPECT_DOUBLE_EQ(room.pressure, 101325.0);
  EXPECT_NEAR(room.density, 1.2250, 5e-5);
}

TEST(Air, HumidAirIsLighter) {
  const Site dry{.altitude = 0.0, .temperature = 303.15};
  Site humid = dry;
  humid.relative_humidity = 1.0;
  const double ratio =
      make_ambient(shipped(), humid).density / make_ambient(shipped(), dry).density;
  EXPECT_LT(ratio, 1.0);
  // Saturated at 30 degC: 42.4 hPa of vapour, 0.378 e/p lighter.
  EXPECT_NEAR(ratio, 1.0 - 0.378 * 4243.0 / 101325.0, 3e-4);
}

TEST(Air, RefusesAnImpossibleSite) {
  EXPECT_THROW((void)make_ambient(shipped(), {.pressure = -1.0}), std::logic_error);
  EXPECT_THROW((void)make_ambient(shipped(), {.temperature = 0.0}), std::logic_error);
  EXPECT_THROW((void)make_ambient(shipped(), {.relative_humidity = -0.1}), std::logic_error);
}

TEST(Air, EnthalpyIsTheIntegralOfSpecificHeat) {
  constexpr double step = 0.01;
  for (const double ratio : {0.0, 0.015, 0.03}) {
    for (double temperature = 250.0; temperature <= 1500.0; temperature += 62.5) {
      const double slope = (enthalpy(shipped(), temperature + step, ratio) -
                            enthalpy(shipped(), temperature - step, ratio)) /
                           (2 * step);
      EXPECT_NEAR(slope, specific_heat(shipped(), temperature, ratio), 1e-4);
    }
    EXPECT_NEAR(enthalpy(shipped(), shipped().enthalpy_datum, ratio), 0.0, 1e-6);
  }
}

TEST(Air, TemperatureAtEnthalpyInvertsEnthalpy) {
  for (const double ratio : {0.0, 0.03}) {
    for (double temperature = 220.0; temperature <= 1800.0; temperature += 79.0) {
      EXPECT_NEAR(
          temperature_at_enthalpy(shipped(), enthalpy(shipped(), temperature, ratio), ratio),
          temperature,
          1e-6);
    }
  }
}

TEST(Air, BurntFuelRaisesSpecificHeat) {
  EXPECT_GT(specific_heat(shipped(), 1100.0, 0.02), specific_heat(shipped(), 1100.0));
  EXPECT_LT(gamma(shipped(), 1100.0, 0.02), gamma(shipped(), 1100.0));
}

TEST(Air, RangeIsFlagged) {
  EXPECT_TRUE(within_range(shipped(), 288.15));
  EXPECT_FALSE(within_range(shipped(), 240.0));
  EXPECT_FALSE(within_range(shipped(), 1700.0));
}

}  // namespace
}  // namespace windgap::air
