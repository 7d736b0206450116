#pragma once

#include "units/table.h"

/// What burns: heating value, stoichiometry, flammable range. Equations and sources:
/// models/start.md (numbers in the comments are the equations there).
namespace windgap::start {

enum class FuelKind { kerosene, diesel, propane };

enum class Phase { liquid, gas };

/// One fuel.
struct Fuel {
  double heating_value = unset;         ///< lower, per kg [J/kg]
  double stoichiometric_ratio = unset;  ///< fuel over dry air by mass [-]
  double lower_limit = unset;           ///< of explosion, volume share of vapour in air [-]
  double upper_limit = unset;           ///< the same [-]
  double molar_mass = unset;            ///< [kg/mol]
  double product_heat = unset;          ///< of its products over kerosene's, per kg burnt [-]
  double luminosity = unset;            ///< of its flame, a clean gas one [-]
  Phase phase = Phase::liquid;
};

/// The numbers of one fuel in models/physics/fuels.yaml.
struct FuelNumbers {
  double heating_value = unset;
  double stoichiometric_ratio = unset;
  double lower_limit = unset;
  double upper_limit = unset;
  double molar_mass = unset;
  double product_heat = unset;
  double luminosity = unset;
};

/// Model coefficients, filled from models/physics/fuels.yaml.
struct FuelCoefficients {
  FuelNumbers kerosene;
  FuelNumbers diesel;
  FuelNumbers propane;
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(FuelCoefficients& c, Visitor&& v) {
  v("kerosene_heating_value", c.kerosene.heating_value);
  v("kerosene_stoichiometric_ratio", c.kerosene.stoichiometric_ratio);
  v("kerosene_lower_limit", c.kerosene.lower_limit);
  v("kerosene_upper_limit", c.kerosene.upper_limit);
  v("kerosene_molar_mass", c.kerosene.molar_mass);
  v("kerosene_product_heat", c.kerosene.product_heat);
  v("kerosene_luminosity", c.kerosene.luminosity);
  v("diesel_heating_value", c.diesel.heating_value);
  v("diesel_stoichiometric_ratio", c.diesel.stoichiometric_ratio);
  v("diesel_lower_limit", c.diesel.lower_limit);
  v("diesel_upper_limit", c.diesel.upper_limit);
  v("diesel_molar_mass", c.diesel.molar_mass);
  v("diesel_product_heat", c.diesel.product_heat);
  v("diesel_luminosity", c.diesel.luminosity);
  v("propane_heating_value", c.propane.heating_value);
  v("propane_stoichiometric_ratio", c.propane.stoichiometric_ratio);
  v("propane_lower_limit", c.propane.lower_limit);
  v("propane_upper_limit", c.propane.upper_limit);
  v("propane_molar_mass", c.propane.molar_mass);
  v("propane_product_heat", c.propane.product_heat);
  v("propane_luminosity", c.propane.luminosity);
}

[[nodiscard]] Fuel make_fuel(const FuelCoefficients& c, FuelKind kind);

/// Equivalence ratio of a mixture whose vapour takes `volume_share` of it [-] (Eq. 1).
/// @param air_gas_constant of dry air [J/(kg K)]
[[nodiscard]] double equivalence_ratio(const Fuel& fuel,
                                       double volume_share,
                                       double air_gas_constant);

/// Two fuels burning together, per kg of both (Eq. 2).
struct Mixture {
  double heating_value = unset;         ///< [J/kg]
  double stoichiometric_ratio = unset;  ///< [-]
  double lean_limit = unset;            ///< equivalence ratio of the lower explosion limit [-]
  double rich_limit = unset;            ///< of the upper [-]
  double liquid_share = unset;          ///< by mass [-]
  double product_heat = unset;          ///< of its products over kerosene's, per kg burnt [-]
  double luminosity = unset;            ///< of its flame [-]
};

[[nodiscard]] Mixture make_mixture(const Fuel& fuel, double air_gas_constant);

/// @param share of `b` by mass, 0 to 1
[[nodiscard]] Mixture blend(const Mixture& a, const Mixture& b, double share) noexcept;

}  // namespace windgap::start
