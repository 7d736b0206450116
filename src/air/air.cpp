#include "air/air.h"

#include <cmath>
#include <stdexcept>

namespace windgap::air {
namespace {

constexpr int most_newton_steps = 20;
constexpr double newton_tolerance = 1e-10;

struct Quartic {
  double c0, c1, c2, c3, c4;
};

Quartic mixture(const Coefficients& c, double f) {
  const double share = 1.0 / (1.0 + f);
  return {share * (c.air_heat_0 + f * c.products_heat_0),
          share * (c.air_heat_1 + f * c.products_heat_1),
          share * (c.air_heat_2 + f * c.products_heat_2),
          share * (c.air_heat_3 + f * c.products_heat_3),
          share * (c.air_heat_4 + f * c.products_heat_4)};
}

double value(const Quartic& q, double t) {
  return q.c0 + t * (q.c1 + t * (q.c2 + t * (q.c3 + t * q.c4)));
}

double integral(const Quartic& q, double t) {
  return t * (q.c0 + t * (q.c1 / 2 + t * (q.c2 / 3 + t * (q.c3 / 4 + t * q.c4 / 5))));
}

double saturation_pressure(const Coefficients& c, double temperature) {
  return c.saturation_pressure *
         std::exp(c.saturation_slope * (temperature - c.saturation_temperature) /
                  (temperature - c.saturation_offset));
}

double given_or(double value, double otherwise) { return std::isnan(value) ? otherwise : value; }

}  // namespace

Standard standard_atmosphere(const Coefficients& c, double altitude) {
  const double temperature = c.sea_level_temperature - c.lapse_rate * altitude;  // Eq. 1
  const double exponent = c.gravity / (c.gas_constant * c.lapse_rate);
  const double pressure =
      c.sea_level_pressure * std::pow(temperature / c.sea_level_temperature, exponent);  // Eq. 2
  return {.temperature = temperature, .pressure = pressure};
}

Ambient make_ambient(const Coefficients& c, const Site& site) {
  const auto standard = standard_atmosphere(c, given_or(site.altitude, 0.0));
  const double pressure = given_or(site.pressure, standard.pressure);
  const double temperature = given_or(site.temperature, standard.temperature);
  if (!(pressure > 0.0 && temperature > c.saturation_offset) || !std::isfinite(pressure) ||
      !std::isfinite(temperature) || !(site.relative_humidity >= 0.0) || !(site.wind >= 0.0)) {
    throw std::logic_error("a site needs positive pressure and temperature, no negative wind");
  }
  const double vapour = site.relative_humidity * saturation_pressure(c, temperature);  // Eq. 3
  const double density = (pressure - vapour) / (c.gas_constant * temperature) +
                         vapour / (c.vapour_gas_constant * temperature);  // Eq. 4
  return {.pressure = pressure,
          .temperature = temperature,
          .relative_humidity = site.relative_humidity,
          .density = density,
          .viscosity = viscosity(c, temperature),
          .wind = site.wind};
}

double viscosity(const Coefficients& c, double temperature) {
  return c.viscosity_scale * temperature * std::sqrt(temperature) /
         (temperature + c.viscosity_temperature);
}

double conductivity(const Coefficients& c, double temperature) {
  return c.conductivity_scale * temperature * std::sqrt(temperature) /
         (temperature + c.conductivity_temperature * std::exp(-c.conductivity_decay / temperature));
}

double specific_heat(const Coefficients& c, double temperature, double fuel_air_ratio) {
  return value(mixture(c, fuel_air_ratio), temperature / c.temperature_scale);
}

double enthalpy(const Coefficients& c, double temperature, double fuel_air_ratio) {
  const auto heat = mixture(c, fuel_air_ratio);
  return c.temperature_scale * (integral(heat, temperature / c.temperature_scale) -
                                integral(heat, c.enthalpy_datum / c.temperature_scale));
}

double temperature_at_enthalpy(const Coefficients& c, double enthalpy, double fuel_air_ratio) {
  const auto heat = mixture(c, fuel_air_ratio);
  const double datum = c.enthalpy_datum / c.temperature_scale;
  const double target = enthalpy / c.temperature_scale + integral(heat, datum);
  double t = datum + enthalpy / (c.temperature_scale * value(heat, datum));
  for (int step = 0; step < most_newton_steps; ++step) {
    const double change = (target - integral(heat, t)) / value(heat, t);
    t += change;
    if (std::abs(change) < newton_tolerance) {
      break;
    }
  }
  return t * c.temperature_scale;
}

double gas_constant(const Coefficients& c, double fuel_air_ratio) {
  return (c.gas_constant + fuel_air_ratio * c.products_gas_constant) / (1.0 + fuel_air_ratio);
}

double gamma(const Coefficients& c, double temperature, double fuel_air_ratio) {
  const double cp = specific_heat(c, temperature, fuel_air_ratio);
  return cp / (cp - gas_constant(c, fuel_air_ratio));
}

bool within_range(const Coefficients& c, double temperature) {
  return temperature >= c.least_temperature && temperature <= c.greatest_temperature;
}

}  // namespace windgap::air
