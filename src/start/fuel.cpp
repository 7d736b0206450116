#include "start/fuel.h"

namespace windgap::start {
namespace {

constexpr double molar_gas_constant = 8.31446261815324;  // [J/(mol K)], exact

// NOLINTNEXTLINE(bugprone-easily-swappable-parameters): two values and a share
double between(double a, double b, double share) { return a + share * (b - a); }

}  // namespace

Fuel make_fuel(const FuelCoefficients& c, FuelKind kind) {
  const FuelNumbers& numbers = kind == FuelKind::kerosene ? c.kerosene
                               : kind == FuelKind::diesel ? c.diesel
                                                          : c.propane;
  return {.heating_value = numbers.heating_value,
          .stoichiometric_ratio = numbers.stoichiometric_ratio,
          .lower_limit = numbers.lower_limit,
          .upper_limit = numbers.upper_limit,
          .molar_mass = numbers.molar_mass,
          .product_heat = numbers.product_heat,
          .luminosity = numbers.luminosity,
          .phase = kind == FuelKind::propane ? Phase::gas : Phase::liquid};
}

double equivalence_ratio(const Fuel& fuel, double volume_share, double air_gas_constant) {
  const double air_molar_mass = molar_gas_constant / air_gas_constant;
  const double fuel_air_ratio =
      volume_share / (1.0 - volume_share) * fuel.molar_mass / air_molar_mass;
  return fuel_air_ratio / fuel.stoichiometric_ratio;
}

Mixture make_mixture(const Fuel& fuel, double air_gas_constant) {
  return {.heating_value = fuel.heating_value,
          .stoichiometric_ratio = fuel.stoichiometric_ratio,
          .lean_limit = equivalence_ratio(fuel, fuel.lower_limit, air_gas_constant),
          .rich_limit = equivalence_ratio(fuel, fuel.upper_limit, air_gas_constant),
          .liquid_share = fuel.phase == Phase::liquid ? 1.0 : 0.0,
          .product_heat = fuel.product_heat,
          .luminosity = fuel.luminosity};
}

Mixture blend(const Mixture& a, const Mixture& b, double share) noexcept {
  // The air that a kg needs adds up, hence the stoichiometric ratios as harmonic mean.
  return {.heating_value = between(a.heating_value, b.heating_value, share),
          .stoichiometric_ratio =
              1.0 / between(1.0 / a.stoichiometric_ratio, 1.0 / b.stoichiometric_ratio, share),
          .lean_limit = between(a.lean_limit, b.lean_limit, share),
          .rich_limit = between(a.rich_limit, b.rich_limit, share),
          .liquid_share = between(a.liquid_share, b.liquid_share, share),
          .product_heat = between(a.product_heat, b.product_heat, share),
          .luminosity = between(a.luminosity, b.luminosity, share)};
}

}  // namespace windgap::start
