#pragma once

#include <string>
#include <vector>

#include "air/air.h"
#include "drive/drive.h"
#include "fan/characteristic.h"
#include "jet/jet.h"
#include "units/assumed.h"
#include "units/table.h"

/// A ducted fan anchored on its static point, and the stream that leaves it.
/// Equations and sources: models/fan.md (numbers in the comments are the equations there).
namespace windgap::fan {

/// Model coefficients, filled from models/physics/fan.yaml.
struct Coefficients {
  double datasheet_thrust = unset;         ///< real over printed thrust [-]
  double cone_hub_area = unset;            ///< share of the hub's area missed, tail cone [-]
  double euler_slope = unset;              ///< real over ideal slope of the work [-]
  double efficiency_curvature = unset;     ///< loss per squared departure of flow [-]
  double stall_flow = unset;               ///< flow at stall over static flow [-]
  double least_work = unset;               ///< Euler work over squared blade speed, least [-]
  double most_work = unset;                ///< ... most believed of a datasheet [-]
  double vane_efficiency = unset;          ///< swirl removed by straightening vanes [-]
  double vane_efficiency_unknown = unset;  ///< the same when nobody looked [-]
  double nozzle_loss = unset;              ///< on the nozzle's exit dynamic head [-]
  double nozzle_contraction = unset;       ///< stream area over nozzle area [-]
  double plausible_jet_power = unset;      ///< most jet power over electrical power [-]
  double usual_jet_power = unset;          ///< the same, assumed when no current is stated [-]
  double usual_work = unset;               ///< Euler work, assumed when no speed is known [-]
  double usual_hub_ratio = unset;          ///< hub over bore [-]
  double usual_outer_ratio = unset;        ///< shroud's outer diameter over bore [-]
  double usual_length_ratio = unset;       ///< length over bore [-]
  double usual_cell_voltage = unset;       ///< loaded, when the sheet names no voltage [V]
  double standard_density = unset;         ///< of a datasheet's air [kg/m^3]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  v("datasheet_thrust", c.datasheet_thrust);
  v("cone_hub_area", c.cone_hub_area);
  v("euler_slope", c.euler_slope);
  v("efficiency_curvature", c.efficiency_curvature);
  v("stall_flow", c.stall_flow);
  v("least_work", c.least_work);
  v("most_work", c.most_work);
  v("vane_efficiency", c.vane_efficiency);
  v("vane_efficiency_unknown", c.vane_efficiency_unknown);
  v("nozzle_loss", c.nozzle_loss);
  v("nozzle_contraction", c.nozzle_contraction);
  v("plausible_jet_power", c.plausible_jet_power);
  v("usual_jet_power", c.usual_jet_power);
  v("usual_work", c.usual_work);
  v("usual_hub_ratio", c.usual_hub_ratio);
  v("usual_outer_ratio", c.usual_outer_ratio);
  v("usual_length_ratio", c.usual_length_ratio);
  v("usual_cell_voltage", c.usual_cell_voltage);
  v("standard_density", c.standard_density);
}

enum class Vanes { yes, no, unknown };

/// Sense of rotation seen from behind the fan, along its stream.
enum class Rotation { clockwise, counterclockwise, unknown };

/// A full-throttle run against no back-pressure.
struct StaticPoint {
  double thrust = unset;            ///< [N]
  double voltage = unset;           ///< at the controller, under load [V]
  double current = unset;           ///< [A]
  double electrical_power = unset;  ///< [W]; stands for the current if that is unset
  double speed = unset;             ///< [rad/s]
  double density = unset;           ///< of the air then [kg/m^3]; unset: standard
};

/// One measured point of the pressure-flow curve, total to total.
struct CurvePoint {
  double flow = unset;           ///< volume flow [m^3/s]
  double pressure_rise = unset;  ///< [Pa]
};

/// Measured curve, flows rising, all points at one shaft speed and density.
struct Curve {
  std::vector<CurvePoint> points;
  double speed = unset;    ///< [rad/s]; unset: that of the static point
  double density = unset;  ///< [kg/m^3]; unset: standard
};

/// A fan as its datasheet and a caliper describe it.
struct Fan {
  StaticPoint datasheet;
  StaticPoint measured;          ///< on kitchen scales; its thrust, if set, overrides, unfactored
  Curve curve;                   ///< replaces the generic shape and the thrust; empty: none
  double bore_diameter = unset;  ///< [m]
  double hub_diameter = unset;   ///< [m]
  jet::HubEnd hub_end = jet::HubEnd::tail_cone;
  Vanes vanes = Vanes::unknown;
  Rotation rotation = Rotation::unknown;
  double exit_diameter = unset;    ///< if not the bore's [m]
  double nozzle_diameter = unset;  ///< exit of a converging nozzle; unset: none [m]
  double outer_diameter = unset;   ///< of the shroud [m]
  double length = unset;           ///< [m]
  double mass = unset;             ///< [kg]
  int blades = 0;                  ///< 0: not stated
};

/// A measured stream: holds its flow whatever stands in front of it.
struct Stream {
  double exit_diameter = unset;  ///< [m]
  double velocity = unset;       ///< mean over the area the stream fills [m/s]
  double hub_diameter = 0.0;     ///< [m]
  jet::HubEnd hub_end = jet::HubEnd::tail_cone;
  double swirl_number = 0.0;  ///< [-]
};

/// Fills what fan, motor and the rest of the drive leave open (it calls drive::fill_fallbacks) and
/// says so. What follows from given values is derived from them and not listed.
std::vector<Assumed> fill_fallbacks(Fan& fan,
                                    drive::Drive& drive,
                                    const Coefficients& c,
                                    const drive::Coefficients& d);

/// Sentences on values that cannot be true together, for the reader of a case; to be asked after
/// fill_fallbacks, with the nominal coefficients. Empty: the fan is believed.
[[nodiscard]] std::vector<std::string> contradictions(const Fan& fan,
                                                      const drive::Drive& drive,
                                                      const Coefficients& c);

/// Jet power of the believed static thrust against electrical power (Eq. 4).
struct Plausibility {
  double jet_power = unset;         ///< [W]
  double electrical_power = unset;  ///< [W]
  double ratio = unset;             ///< [-]
  double limit = unset;             ///< [-]
  bool plausible = false;
};
[[nodiscard]] Plausibility jet_power_share(const Fan& fan, const Coefficients& c);

/// Fan, drive and room, ready for hot solves; copying it allocates nothing.
struct Prepared {
  bool holds_flow = false;  ///< a Stream: no drive, no curve
  drive::Prepared drive;
  Characteristic curve;
  double density = unset;             ///< of the room [kg/m^3]
  double stream_area = unset;         ///< that the stream fills at the fan's exit [m^2]
  double exit_area = unset;           ///< the same where the jet starts, at a nozzle's tip [m^2]
  double loss = 0.0;                  ///< of the nozzle, on the exit's dynamic head [-]
  double nozzle_loss = unset;         ///< coefficient for with_nozzle [-]
  double nozzle_contraction = unset;  ///< coefficient for with_nozzle [-]
  double exit_velocity_per_speed = unset;  ///< static stream velocity over shaft speed [m]
  double velocity = unset;                 ///< of a Stream [m/s]
  double load_coefficient = unset;         ///< static torque over squared speed, here [N m s^2]
  double work = unset;                     ///< Euler work over squared blade speed, unbounded [-]
  double swirl_left = unset;               ///< share of the torque left as swirl [-]
  double swirl_number = unset;             ///< of a Stream [-]
  double bore_radius = unset;              ///< of the fan's own exit [m]
  double rim_radius = unset;               ///< of the duct's or nozzle's edge [m]
  double hub_radius = unset;               ///< [m]
  jet::HubEnd hub_end = jet::HubEnd::tail_cone;
};

/// @throws std::logic_error if something needed is unset or contradicts itself.
[[nodiscard]] Prepared prepare(const Fan& fan,
                               const drive::Drive& drive,
                               const air::Ambient& ambient,
                               const Coefficients& c,
                               const drive::Coefficients& d);
/// @throws std::logic_error if a length or the velocity is unset or not positive.
[[nodiscard]] Prepared prepare(const Stream& stream, const air::Ambient& ambient);

/// The same fan with a converging nozzle of that exit diameter [m] (Eq. 11): a few multiplications,
/// so that a search may try many. A Stream is returned as it is.
[[nodiscard]] Prepared with_nozzle(const Prepared& fan, double nozzle_diameter);

struct Operating {
  double speed = unset;                ///< of the shaft [rad/s]; 0 for a Stream
  double mass_flow = unset;            ///< [kg/s]
  double exit_velocity = unset;        ///< mean over exit_area [m/s]
  double dynamic_head = unset;         ///< rho U^2/2 at the exit [Pa]
  double exit_total_pressure = unset;  ///< gauge: dynamic_head (1 + back_pressure_ratio) [Pa]
  double shaft_torque = unset;         ///< [N m]
  double thrust = unset;               ///< momentum and excess exit pressure [N]
  double stall_margin = unset;         ///< flow over stall flow, less 1; infinity for a Stream [-]
  double swirl_number = unset;         ///< [-]
  drive::Running drive;                ///< currents, voltages, flags; zero for a Stream
};

/// Operating point at a throttle of 0 to 1 when the exit's static pressure stands
/// `back_pressure_ratio` >= 0 exit dynamic heads above the room (Eqs. 5 to 13). No allocation.
[[nodiscard]] Operating operate(const Prepared& fan,
                                double throttle,
                                double back_pressure_ratio = 0.0);

/// What the jet starts from (hub behind a nozzle: Eq. 12).
[[nodiscard]] jet::Exit jet_exit(const Prepared& fan, const Operating& operating);

}  // namespace windgap::fan
