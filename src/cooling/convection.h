#pragma once

#include "units/table.h"

/// Heat-transfer correlations. Numbers in the comments are the equations of models/cooling.md,
/// sources and ranges are there and in models/physics/cooling.yaml. Outside its range a correlation
/// is still evaluated; no allocation, no throw.
namespace windgap::cooling {

struct ConvectionCoefficients {
  // Cross-flow over a cylinder, Churchill and Bernstein.
  double cross_base = unset;            ///< [-]
  double cross_scale = unset;           ///< [-]
  double cross_prandtl = unset;         ///< [-]
  double cross_prandtl_power = unset;   ///< [-]
  double cross_prandtl_root = unset;    ///< [-]
  double cross_reynolds = unset;        ///< [-]
  double cross_reynolds_power = unset;  ///< [-]
  double cross_reynolds_root = unset;   ///< [-]
  // Natural convection from a horizontal cylinder, Churchill and Chu.
  double natural_base = unset;            ///< [-]
  double natural_scale = unset;           ///< [-]
  double natural_rayleigh_power = unset;  ///< [-]
  double natural_prandtl = unset;         ///< [-]
  double natural_prandtl_power = unset;   ///< [-]
  double natural_prandtl_root = unset;    ///< [-]
  double blend_power = unset;             ///< of natural with forced convection [-]
  // Ducts.
  double duct_scale = unset;           ///< Gnielinski [-]
  double duct_reynolds_shift = unset;  ///< Gnielinski [-]
  double duct_prandtl_power = unset;   ///< Gnielinski [-]
  double friction_slope = unset;       ///< smooth wall, on ln Re [-]
  double friction_offset = unset;      ///< [-]
  double laminar_nusselt = unset;      ///< [-]
  double laminar_end = unset;          ///< Reynolds number [-]
  double turbulent_start = unset;      ///< Reynolds number [-]
  double power_law_scale = unset;      ///< Dittus and Boelter [-]
  double power_law_reynolds = unset;   ///< [-]
  double power_law_heated = unset;     ///< exponent of Pr, wall hotter than the fluid [-]
  double power_law_cooled = unset;     ///< exponent of Pr, wall colder [-]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(ConvectionCoefficients& c, Visitor&& v) {
  v("cross_base", c.cross_base);
  v("cross_scale", c.cross_scale);
  v("cross_prandtl", c.cross_prandtl);
  v("cross_prandtl_power", c.cross_prandtl_power);
  v("cross_prandtl_root", c.cross_prandtl_root);
  v("cross_reynolds", c.cross_reynolds);
  v("cross_reynolds_power", c.cross_reynolds_power);
  v("cross_reynolds_root", c.cross_reynolds_root);
  v("natural_base", c.natural_base);
  v("natural_scale", c.natural_scale);
  v("natural_rayleigh_power", c.natural_rayleigh_power);
  v("natural_prandtl", c.natural_prandtl);
  v("natural_prandtl_power", c.natural_prandtl_power);
  v("natural_prandtl_root", c.natural_prandtl_root);
  v("blend_power", c.blend_power);
  v("duct_scale", c.duct_scale);
  v("duct_reynolds_shift", c.duct_reynolds_shift);
  v("duct_prandtl_power", c.duct_prandtl_power);
  v("friction_slope", c.friction_slope);
  v("friction_offset", c.friction_offset);
  v("laminar_nusselt", c.laminar_nusselt);
  v("laminar_end", c.laminar_end);
  v("turbulent_start", c.turbulent_start);
  v("power_law_scale", c.power_law_scale);
  v("power_law_reynolds", c.power_law_reynolds);
  v("power_law_heated", c.power_law_heated);
  v("power_law_cooled", c.power_law_cooled);
}

/// Mean Nusselt number of a cylinder in cross-flow (Eq. 1), properties at film temperature.
/// Re Pr > 0.2.
[[nodiscard]] double cylinder_in_cross_flow(const ConvectionCoefficients& c,
                                            double reynolds,
                                            double prandtl);

/// Mean Nusselt number of a hot horizontal cylinder in still air (Eq. 2), Ra < 1e12.
[[nodiscard]] double cylinder_in_still_air(const ConvectionCoefficients& c,
                                           double rayleigh,
                                           double prandtl);

/// Natural and forced convection acting together on one surface (Eq. 3), Nusselt numbers or
/// coefficients alike.
[[nodiscard]] double blend(const ConvectionCoefficients& c, double natural, double forced);

/// Darcy friction factor of a smooth tube (Eq. 4), 3000 < Re < 5e6.
[[nodiscard]] double smooth_friction(const ConvectionCoefficients& c, double reynolds);

/// Both duct laws for one Prandtl number, its powers taken once.
struct DuctLaw {
  ConvectionCoefficients c;
  double prandtl = unset;  ///< [-]
  double shape = unset;    ///< factor of the friction's root in Eq. 5 [-]
  double heated = unset;   ///< Eq. 7 over its power of Re, wall hotter than the fluid [-]
  double cooled = unset;   ///< the same, wall colder [-]
};
[[nodiscard]] DuctLaw duct_law(const ConvectionCoefficients& c, double prandtl);

/// Smooth duct at any Reynolds number: laminar value, turbulent law, and the straight line between
/// (Eqs. 4 to 6).
[[nodiscard]] double duct(const DuctLaw& law, double reynolds);

/// Turbulent flow through a duct of known Darcy friction factor (Eq. 5).
[[nodiscard]] double turbulent_duct(const DuctLaw& law, double reynolds, double friction);

/// Which way the heat goes.
enum class Heat { to_fluid, from_fluid };

/// Turbulent passage by the plain power law (Eq. 7), Re > 1e4.
[[nodiscard]] double passage(const DuctLaw& law, double reynolds, Heat heat);

/// A stream along a wall of one temperature (Eq. 14).
struct AlongWall {
  double conductance = unset;    ///< film coefficient times area [W/K]
  double capacity_rate = unset;  ///< mass flow times specific heat [W/K]
  double inlet = unset;          ///< of the stream [K]
  double wall = unset;           ///< [K]
};
/// What the wall gives the stream [W].
[[nodiscard]] double heat_along_wall(const AlongWall& stream);

/// Radiation of a grey surface into a room much larger than itself, net [W/m^2] (Eq. 8).
struct Radiating {
  double emissivity = unset;           ///< [-]
  double temperature = unset;          ///< [K]
  double ambient_temperature = unset;  ///< [K]
};
[[nodiscard]] double radiation_to_room(const Radiating& surface);

/// Radiation between a grey body and a grey enclosure, over the body's area, divided by the
/// difference of the fourth powers of their temperatures [W/(m^2 K^4)] (Eq. 9).
struct Enclosure {
  double inner_emissivity = unset;  ///< [-]
  double outer_emissivity = unset;  ///< [-]
  double area_ratio = unset;        ///< inner over outer area, 1 for close plates [-]
};
[[nodiscard]] double enclosure_exchange(const Enclosure& enclosure);

}  // namespace windgap::cooling
