#pragma once

#include <span>

#include "units/table.h"

/// The free jet between fan and mouth: a core inside a Gaussian shear layer that conserves axial
/// and angular momentum, the hub's wake inside it, and what wind does to it.
/// Equations, sources and validity: models/jet.md (the numbers below are the equations there).
namespace windgap::jet {

/// Model coefficients, filled from models/physics/jet.yaml.
struct Coefficients {
  double core_length_nozzle = unset;     ///< core length over exit diameter, clean nozzle [-]
  double core_length_propeller = unset;  ///< the same for an open-propeller-like jet [-]
  double spread_rate_nozzle = unset;     ///< d(shear width)/dx beyond the core, clean nozzle [-]
  double spread_rate_propeller = unset;  ///< the same for an open-propeller-like jet [-]
  double early_growth_deficit = unset;   ///< of the shear layer's growth at the exit [-]
  double swirl_propeller = unset;        ///< swirl number of a fully propeller-like jet [-]
  double mixing_without_vanes = unset;   ///< propeller share added by unstraightened flow [-]
  double mixing_blunt_hub = unset;       ///< propeller share added by a hub that ends blunt [-]
  double share_reach = unset;      ///< propeller share above the estimate that vanes leave open [-]
  double wake_drag_cone = unset;   ///< momentum that a hub with a tail cone takes [-]
  double wake_drag_blunt = unset;  ///< the same, hub ends blunt [-]
  double wake_spread_rate = unset;       ///< d(wake width)/dx by speed difference over sum [-]
  double dead_air_length = unset;        ///< hub diameters of air at rest behind a blunt hub [-]
  double dead_air_smear = unset;         ///< hub diameters over which its end wanders [-]
  double crosswind_penetration = unset;  ///< A of x/(rD) = A (z/(rD))^B [-]
  double crosswind_exponent = unset;     ///< B of the same [-]
  double crosswind_stripping = unset;    ///< growth of the spread per wind speed / jet speed [-]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  v("core_length_nozzle", c.core_length_nozzle);
  v("core_length_propeller", c.core_length_propeller);
  v("spread_rate_nozzle", c.spread_rate_nozzle);
  v("spread_rate_propeller", c.spread_rate_propeller);
  v("early_growth_deficit", c.early_growth_deficit);
  v("swirl_propeller", c.swirl_propeller);
  v("mixing_without_vanes", c.mixing_without_vanes);
  v("mixing_blunt_hub", c.mixing_blunt_hub);
  v("share_reach", c.share_reach);
  v("wake_drag_cone", c.wake_drag_cone);
  v("wake_drag_blunt", c.wake_drag_blunt);
  v("wake_spread_rate", c.wake_spread_rate);
  v("dead_air_length", c.dead_air_length);
  v("dead_air_smear", c.dead_air_smear);
  v("crosswind_penetration", c.crosswind_penetration);
  v("crosswind_exponent", c.crosswind_exponent);
  v("crosswind_stripping", c.crosswind_stripping);
}

/// How the hub ends, and so where the annular stream closes.
enum class HubEnd { blunt, tail_cone };

/// What leaves the fan or its nozzle, as the jet sees it.
struct Exit {
  double rim_radius = unset;           ///< of the duct's or nozzle's edge [m]
  double area = unset;                 ///< that the stream fills at the exit plane [m^2]
  double hub_radius = 0.0;             ///< 0 without hub [m]
  HubEnd hub_end = HubEnd::tail_cone;  ///< irrelevant without hub
  double swirl_number = 0.0;  ///< angular momentum flux / (axial momentum flux x rim radius) [-]
};

/// The stream that runs round the hub's wake, for a stream of given mean speed over `exit.area`.
struct Ring {
  double speed = 1.0;  ///< outside the wake, over the mean speed: the flow is the stated one [-]
  double area = 1.0;   ///< that carries the thrust at that speed, over the exit's area [-]
};

/// Flow and thrust of a stream whose hub closes ahead of its exit (Eq. 11); the ring around a blunt
/// hub is `exit.area` itself.
[[nodiscard]] Ring ring(const Exit& exit, const Coefficients& c);

/// Where in the family of jets this one sits, between the clean nozzle and the open propeller.
struct Regime {
  double core_length = unset;  ///< over the exit diameter [-]
  double spread_rate = unset;  ///< d(shear width)/dx beyond the core [-]
};

/// Regime at a given share of propeller likeness, 0 = clean nozzle, 1 = open propeller (Eq. 3).
[[nodiscard]] Regime regime(double propeller_share, const Coefficients& c);

/// Largest propeller share that the fan's build leaves possible (Eq. 4): 1, or with straightening
/// vanes the estimate and `share_reach`.
[[nodiscard]] double largest_propeller_share(const Exit& exit,
                                             bool straightened,
                                             const Coefficients& c);

/// Propeller share that swirl, missing vanes and a blunt hub suggest for this exit (Eq. 4), 0 to 1.
/// `straightened` is false where there are no vanes or nobody knows.
[[nodiscard]] double propeller_share(const Exit& exit, bool straightened, const Coefficients& c);

/// Everything that makes a jet except its speed: the profile is the same at every throttle.
struct Shape {
  Exit exit;
  Regime regime;
  double wind_ratio = 0.0;  ///< crosswind over exit velocity [-]
};

/// One pressure reading taken in the free jet with a tube facing the stream.
struct AxisReading {
  double distance = unset;  ///< from the exit plane [m]
  double radius = 0.0;      ///< off the axis [m]
  double ratio = unset;     ///< reading over the exit's dynamic pressure [-]
};

struct CoreFit {
  Regime regime;
  double propeller_share = unset;  ///< [-]
  double misfit = unset;           ///< root mean square of the ratios' residuals [-]
  bool at_bound = false;           ///< the readings lie at or beyond an end of the family of jets
};

/// The propeller share that suits the readings best, least squares (Eq. 10). Readings nearer than
/// six hub diameters belong off the axis. @throws std::logic_error without any reading.
[[nodiscard]] CoreFit fit_readings(const Shape& shape,
                                   std::span<const AxisReading> readings,
                                   const Coefficients& c);

/// State of the jet at one distance. Lengths in exit (stream) radii, speeds in exit velocities.
struct Section {
  double core_radius = unset;  ///< rc [-]
  double shear_width = unset;  ///< b [-]
  double peak = unset;         ///< axial speed inside the core, without wake [-]
  double wake_width = unset;   ///< w [-]
  double wake_depth = 0.0;     ///< share of the axial speed missing on the axis [-]
  double rotation = 0.0;       ///< tangential speed / (radius x axial speed) [-]
  double bend = 0.0;           ///< downwind shift of the axis [-]
};

/// Section of the jet at `distance` [m] from the exit plane (Eqs. 1 to 9, 11). No allocation.
/// Valid 0 <= distance <= 60 exit diameters.
[[nodiscard]] Section section(const Shape& shape, double distance, const Coefficients& c);

/// Local values at a radius [-, exit radii].
struct Local {
  double axial = unset;        ///< u/U with the wake [-]
  double axial_clean = unset;  ///< u/U as if there were no hub [-]
};
[[nodiscard]] Local local(const Section& section, double radius);

/// Radius beyond which the section carries nothing that matters [-, exit radii].
[[nodiscard]] double outer_radius(const Section& section);

/// Radius of a uniform stream of the exit's area [m].
[[nodiscard]] double stream_radius(const Exit& exit);

}  // namespace windgap::jet
