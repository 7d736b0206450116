#pragma once

#include <array>

#include "units/table.h"

/// The free jet between fan and mouth: a core with a Gaussian shear layer that conserves axial and
/// angular momentum, the hub's wake inside it, and what wind does to it.
/// Equations, sources, validity: models/jet.md (numbers in the comments are the equations there).
namespace windgap::jet {

/// Model coefficients, filled from models/physics/jet.yaml.
struct Coefficients {
  double core_length_nozzle = unset;     ///< core length over exit diameter, clean nozzle [-]
  double core_length_propeller = unset;  ///< the same for an open-propeller-like jet [-]
  double spread_rate_nozzle = unset;     ///< d(shear width)/dx beyond the core, clean nozzle [-]
  double spread_rate_propeller = unset;  ///< the same for an open-propeller-like jet [-]
  double swirl_propeller = unset;        ///< swirl number that makes a jet propeller-like [-]
  double mixing_without_vanes =
      unset;                        ///< share of propeller likeness from unstraightened flow [-]
  double mixing_blunt_hub = unset;  ///< the same from a hub that ends blunt [-]
  double wake_drag_cone = unset;    ///< hub base drag, tail cone behind the hub [-]
  double wake_drag_blunt = unset;   ///< hub base drag, hub ends blunt [-]
  double wake_width_start = unset;  ///< wake width at the exit over the hub radius [-]
  double wake_growth = unset;       ///< d(wake width / hub radius)/d(x / hub diameter) [-]
  double crosswind_penetration = unset;  ///< A of x/(rD) = A (z/(rD))^B [-]
  double crosswind_exponent = unset;     ///< B of the same [-]
  double crosswind_stripping = unset;    ///< growth of the spread rate per wind/jet speed [-]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  v("core_length_nozzle", c.core_length_nozzle);
  v("core_length_propeller", c.core_length_propeller);
  v("spread_rate_nozzle", c.spread_rate_nozzle);
  v("spread_rate_propeller", c.spread_rate_propeller);
  v("swirl_propeller", c.swirl_propeller);
  v("mixing_without_vanes", c.mixing_without_vanes);
  v("mixing_blunt_hub", c.mixing_blunt_hub);
  v("wake_drag_cone", c.wake_drag_cone);
  v("wake_drag_blunt", c.wake_drag_blunt);
  v("wake_width_start", c.wake_width_start);
  v("wake_growth", c.wake_growth);
  v("crosswind_penetration", c.crosswind_penetration);
  v("crosswind_exponent", c.crosswind_exponent);
  v("crosswind_stripping", c.crosswind_stripping);
}

/// How the hub ends: where the annular stream closes.
enum class HubEnd { blunt, tail_cone };

/// What leaves the fan (or nozzle), as the jet sees it. Speeds are relative to `velocity`, so one
/// profile serves every throttle.
struct Exit {
  double radius = unset;    ///< of the stream at the exit plane [m]
  double hub_radius = 0.0;  ///< 0 without hub [m]
  HubEnd hub_end = HubEnd::tail_cone;
  double swirl_number = 0.0;  ///< angular over axial momentum flux and radius [-]
  double velocity = unset;    ///< mean axial speed over the area the stream fills [m/s]
};

/// Where in the family of jets this one sits.
struct Regime {
  double core_length = unset;  ///< over exit diameter [-]
  double spread_rate = unset;  ///< beyond the core [-]
};

}  // namespace windgap::jet
