#include "cooling/convection.h"

#include <cmath>
#include <numbers>

namespace windgap::cooling {
namespace {

constexpr double pi = std::numbers::pi;

/// From the exact constants of the SI: 2 pi^5 k^4 / (15 h^3 c^2) [W/(m^2 K^4)].
double stefan_boltzmann() {
  constexpr double boltzmann = 1.380649e-23;  // [J/K]
  constexpr double planck = 6.62607015e-34;   // [J s]
  constexpr double light = 299792458.0;       // [m/s]
  constexpr double per_planck = boltzmann / planck;
  return 2.0 * pi * pi * pi * pi * pi / 15.0 * per_planck * per_planck * per_planck * boltzmann /
         (light * light);
}

double square(double x) { return x * x; }

}  // namespace

double cylinder_in_cross_flow(const ConvectionCoefficients& c, double reynolds, double prandtl) {
  const double damping = std::pow(1.0 + std::pow(c.cross_prandtl / prandtl, c.cross_prandtl_power),
                                  c.cross_prandtl_root);
  const double growth = std::pow(
      1.0 + std::pow(reynolds / c.cross_reynolds, c.cross_reynolds_power), c.cross_reynolds_root);
  return c.cross_base + c.cross_scale * std::sqrt(reynolds) * std::cbrt(prandtl) / damping * growth;
}

double cylinder_in_still_air(const ConvectionCoefficients& c, double rayleigh, double prandtl) {
  const double damping = std::pow(
      1.0 + std::pow(c.natural_prandtl / prandtl, c.natural_prandtl_power), c.natural_prandtl_root);
  return square(c.natural_base +
                c.natural_scale * std::pow(rayleigh, c.natural_rayleigh_power) / damping);
}

double blend(const ConvectionCoefficients& c, double natural, double forced) {
  return std::pow(std::pow(natural, c.blend_power) + std::pow(forced, c.blend_power),
                  1.0 / c.blend_power);
}

double smooth_friction(const ConvectionCoefficients& c, double reynolds) {
  return 1.0 / square(c.friction_slope * std::log(reynolds) - c.friction_offset);
}

DuctLaw duct_law(const ConvectionCoefficients& c, double prandtl) {
  return {.c = c,
          .prandtl = prandtl,
          .shape = c.duct_scale * (std::pow(prandtl, c.duct_prandtl_power) - 1.0),
          .heated = c.power_law_scale * std::pow(prandtl, c.power_law_heated),
          .cooled = c.power_law_scale * std::pow(prandtl, c.power_law_cooled)};
}

double turbulent_duct(const DuctLaw& law, double reynolds, double friction) {
  const double eighth = friction / 8.0;  // half of Fanning's factor: a definition
  return eighth * (reynolds - law.c.duct_reynolds_shift) * law.prandtl /
         (1.0 + law.shape * std::sqrt(eighth));
}

double duct(const DuctLaw& law, double reynolds) {
  const auto& c = law.c;
  if (reynolds <= c.laminar_end) return c.laminar_nusselt;
  if (reynolds >= c.turbulent_start) {
    return turbulent_duct(law, reynolds, smooth_friction(c, reynolds));
  }
  const double share = (reynolds - c.laminar_end) / (c.turbulent_start - c.laminar_end);
  return (1.0 - share) * c.laminar_nusselt +
         share * turbulent_duct(law, c.turbulent_start, smooth_friction(c, c.turbulent_start));
}

double passage(const DuctLaw& law, double reynolds, Heat heat) {
  const double factor = heat == Heat::to_fluid ? law.heated : law.cooled;
  return factor * std::pow(reynolds, law.c.power_law_reynolds);
}

double heat_along_wall(const AlongWall& s) {
  return s.capacity_rate * (s.wall - s.inlet) * -std::expm1(-s.conductance / s.capacity_rate);
}

double radiation_to_room(const Radiating& surface) {
  return surface.emissivity * stefan_boltzmann() *
         (square(square(surface.temperature)) - square(square(surface.ambient_temperature)));
}

double enclosure_exchange(const Enclosure& enclosure) {
  return stefan_boltzmann() / (1.0 / enclosure.inner_emissivity +
                               enclosure.area_ratio * (1.0 / enclosure.outer_emissivity - 1.0));
}

}  // namespace windgap::cooling
