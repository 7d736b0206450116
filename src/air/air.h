#pragma once

#include "units/table.h"

/// Air and combustion gas: the standard atmosphere, humid-air density, transport and caloric
/// properties. Equations and sources: models/air.md (numbers in the comments are the equations
/// there). Everything but make_ambient is a short closed form for hot solves: no allocation, no
/// throw; outside `within_range` the same form is still evaluated.
namespace windgap::air {

/// Model coefficients, filled from models/physics/air.yaml.
struct Coefficients {
  double sea_level_pressure = unset;        ///< [Pa]
  double sea_level_temperature = unset;     ///< [K]
  double lapse_rate = unset;                ///< fall of temperature with height [K/m]
  double gravity = unset;                   ///< [m/s^2]
  double gas_constant = unset;              ///< of dry air [J/(kg K)]
  double vapour_gas_constant = unset;       ///< of water vapour [J/(kg K)]
  double saturation_pressure = unset;       ///< of water at saturation_temperature [Pa]
  double saturation_temperature = unset;    ///< [K]
  double saturation_slope = unset;          ///< exponent's factor [-]
  double saturation_offset = unset;         ///< exponent's temperature offset [K]
  double viscosity_scale = unset;           ///< Sutherland's beta [Pa s/sqrt(K)]
  double viscosity_temperature = unset;     ///< Sutherland's S [K]
  double conductivity_scale = unset;        ///< [W/(m K^1.5)]
  double conductivity_temperature = unset;  ///< [K]
  double conductivity_decay = unset;        ///< [K]
  double temperature_scale = unset;         ///< of the heat polynomials' argument [K]
  double air_heat_0 = unset;                ///< specific heat of dry air, power 0 [J/(kg K)]
  double air_heat_1 = unset;                ///< ... power 1
  double air_heat_2 = unset;                ///< ... power 2
  double air_heat_3 = unset;                ///< ... power 3
  double air_heat_4 = unset;                ///< ... power 4
  double products_heat_0 = unset;           ///< what 1 kg of burnt fuel adds [J/(kg K)]
  double products_heat_1 = unset;           ///< ... power 1
  double products_heat_2 = unset;           ///< ... power 2
  double products_heat_3 = unset;           ///< ... power 3
  double products_heat_4 = unset;           ///< ... power 4
  double products_gas_constant = unset;     ///< what 1 kg of burnt fuel adds [J/(kg K)]
  double enthalpy_datum = unset;            ///< where enthalpy is zero [K]
  double least_temperature = unset;         ///< of the caloric fits [K]
  double greatest_temperature = unset;      ///< of the caloric fits [K]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  v("sea_level_pressure", c.sea_level_pressure);
  v("sea_level_temperature", c.sea_level_temperature);
  v("lapse_rate", c.lapse_rate);
  v("gravity", c.gravity);
  v("gas_constant", c.gas_constant);
  v("vapour_gas_constant", c.vapour_gas_constant);
  v("saturation_pressure", c.saturation_pressure);
  v("saturation_temperature", c.saturation_temperature);
  v("saturation_slope", c.saturation_slope);
  v("saturation_offset", c.saturation_offset);
  v("viscosity_scale", c.viscosity_scale);
  v("viscosity_temperature", c.viscosity_temperature);
  v("conductivity_scale", c.conductivity_scale);
  v("conductivity_temperature", c.conductivity_temperature);
  v("conductivity_decay", c.conductivity_decay);
  v("temperature_scale", c.temperature_scale);
  v("air_heat_0", c.air_heat_0);
  v("air_heat_1", c.air_heat_1);
  v("air_heat_2", c.air_heat_2);
  v("air_heat_3", c.air_heat_3);
  v("air_heat_4", c.air_heat_4);
  v("products_heat_0", c.products_heat_0);
  v("products_heat_1", c.products_heat_1);
  v("products_heat_2", c.products_heat_2);
  v("products_heat_3", c.products_heat_3);
  v("products_heat_4", c.products_heat_4);
  v("products_gas_constant", c.products_gas_constant);
  v("enthalpy_datum", c.enthalpy_datum);
  v("least_temperature", c.least_temperature);
  v("greatest_temperature", c.greatest_temperature);
}

/// The still room around the bench.
struct Ambient {
  double pressure = unset;         ///< static, absolute [Pa]
  double temperature = unset;      ///< [K]
  double relative_humidity = 0.0;  ///< [-], 0 to 1
  double density = unset;          ///< of the humid air [kg/m^3]
  double viscosity = unset;        ///< dynamic [Pa s]
  double wind = 0.0;               ///< across the jet, worst direction [m/s]
};

/// What the case says about the place. One of altitude and pressure is enough; pressure wins.
struct Site {
  double altitude = unset;         ///< geopotential [m]
  double pressure = unset;         ///< absolute [Pa]; unset: standard at the altitude
  double temperature = unset;      ///< [K]; unset: standard at the altitude
  double relative_humidity = 0.0;  ///< [-], 0 to 1
  double wind = 0.0;               ///< [m/s]
};

/// A state of the standard atmosphere.
struct Standard {
  double temperature = unset;  ///< [K]
  double pressure = unset;     ///< [Pa]
};

/// Standard atmosphere below the tropopause (Eqs. 1, 2).
[[nodiscard]] Standard standard_atmosphere(const Coefficients& c, double altitude);

/// The bench's air from what the case gives (Eqs. 1 to 4). Neither altitude nor pressure: sea
/// level.
/// @throws std::logic_error if a given value is not finite, or pressure or temperature not
/// positive.
[[nodiscard]] Ambient make_ambient(const Coefficients& c, const Site& site);

/// Dynamic viscosity of air [Pa s] (Eq. 5).
[[nodiscard]] double viscosity(const Coefficients& c, double temperature);

/// Thermal conductivity of air [W/(m K)] (Eq. 6).
[[nodiscard]] double conductivity(const Coefficients& c, double temperature);

/// Specific heat at constant pressure of air (fuel-air ratio 0) or lean combustion gas
/// [J/(kg K)] (Eq. 7). `fuel_air_ratio` is kg of *burnt* fuel per kg of air.
[[nodiscard]] double specific_heat(const Coefficients& c,
                                   double temperature,
                                   double fuel_air_ratio = 0.0);

/// Enthalpy [J/kg], zero at `enthalpy_datum` for every fuel-air ratio, so that a heating value
/// measured there enters an energy balance as it stands (Eq. 8).
[[nodiscard]] double enthalpy(const Coefficients& c,
                              double temperature,
                              double fuel_air_ratio = 0.0);

/// Temperature [K] at which `enthalpy` has the given value: Newton's method on Eq. 8.
[[nodiscard]] double temperature_at_enthalpy(const Coefficients& c,
                                             double enthalpy,
                                             double fuel_air_ratio = 0.0);

/// Gas constant of dry air or lean combustion gas [J/(kg K)] (Eq. 9).
[[nodiscard]] double gas_constant(const Coefficients& c, double fuel_air_ratio = 0.0);

/// Ratio of specific heats [-]: cp/(cp - R).
[[nodiscard]] double gamma(const Coefficients& c, double temperature, double fuel_air_ratio = 0.0);

/// True where the caloric fits were made.
[[nodiscard]] bool within_range(const Coefficients& c, double temperature);

}  // namespace windgap::air
