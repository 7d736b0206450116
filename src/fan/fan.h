#pragma once

#include <vector>

#include "air/air.h"
#include "drive/drive.h"
#include "fan/characteristic.h"
#include "jet/jet.h"
#include "units/assumed.h"
#include "units/table.h"

/// A ducted fan anchored on its static point, its pressure-flow characteristic, and the stream that
/// leaves it. Equations and sources: models/fan.md (numbers in the comments are the equations
/// there).
namespace windgap::fan {

/// Model coefficients, filled from models/physics/fan.yaml.
struct Coefficients {
  double datasheet_thrust = unset;  ///< real over printed thrust [-]
  double cone_hub_area = unset;     ///< share of the hub's area the stream misses, tail cone [-]
  double euler_slope = unset;       ///< share of the ideal work slope a real rotor shows [-]
  double efficiency_curvature = unset;     ///< loss of efficiency per squared flow departure [-]
  double stall_flow = unset;               ///< flow at stall over static flow [-]
  double vane_efficiency = unset;          ///< swirl removed by straightening vanes [-]
  double vane_efficiency_unknown = unset;  ///< the same when nobody looked [-]
  double nozzle_loss = unset;              ///< on the nozzle's exit dynamic head [-]
  double nozzle_contraction = unset;       ///< stream area over nozzle area [-]
  double plausible_jet_power = unset;      ///< most jet power over electrical power [-]
  double usual_jet_power = unset;          ///< the same as assumed when no current is stated [-]
  double usual_work = unset;          ///< Euler work over squared mean blade speed, no speed [-]
  double usual_hub_ratio = unset;     ///< hub over bore [-]
  double usual_outer_ratio = unset;   ///< shroud's outer diameter over bore [-]
  double usual_length_ratio = unset;  ///< length over bore [-]
  double usual_cell_voltage = unset;  ///< loaded, when the sheet names no voltage [V]
  double standard_density = unset;    ///< of a datasheet's air [kg/m^3]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  v("datasheet_thrust", c.datasheet_thrust);
  v("cone_hub_area", c.cone_hub_area);
  v("euler_slope", c.euler_slope);
  v("efficiency_curvature", c.efficiency_curvature);
  v("stall_flow", c.stall_flow);
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

/// A run against no back-pressure.
struct StaticPoint {
  double thrust = unset;            ///< [N]
  double voltage = unset;           ///< at the controller [V]
  double current = unset;           ///< [A]
  double electrical_power = unset;  ///< [W]; stands for current if that is unset
  double speed = unset;             ///< [rad/s]
  double density = unset;           ///< of the air then [kg/m^3]; unset: standard
};

/// One measured point of the pressure-flow curve.
struct CurvePoint {
  double flow = unset;           ///< volume flow [m^3/s]
  double pressure_rise = unset;  ///< total to total [Pa]
};

/// Measured curve, flows rising; all points at one shaft speed and density.
struct Curve {
  std::vector<CurvePoint> points;
  double speed = unset;    ///< [rad/s]; unset: of the static point
  double density = unset;  ///< [kg/m^3]; unset: standard
};

/// A fan as its datasheet and a caliper describe it.
struct Fan {
  StaticPoint datasheet;
  StaticPoint measured;  ///< a kitchen-scale run; thrust set: overrides the datasheet, unfactored
  Curve curve;           ///< empty: generic curve
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

/// Fills what the fan and its motor leave open, best rule first, and says so. Currents, speeds and
/// motor constants that can be derived from each other are derived, not assumed.
std::vector<Assumed> fill_fallbacks(Fan& fan,
                                    drive::Drive& drive,
                                    const Coefficients& c,
                                    const drive::Coefficients& d);

/// Jet power of the static point against its electrical power.
struct Plausibility {
  double jet_power = unset;         ///< T U/2 of the believed thrust [W]
  double electrical_power = unset;  ///< [W]
  double ratio = unset;             ///< [-]
  double limit = unset;             ///< [-]
  bool plausible = false;
};
[[nodiscard]] Plausibility jet_power_share(const Fan& fan, const Coefficients& c);

/// Fan and drive in one room, ready for the hot solve; copying it allocates nothing.
struct Prepared {
  bool holds_flow = false;  ///< a Stream: no drive, no curve
  drive::Prepared drive;    ///< unused by a Stream
  Characteristic curve;
  double density = unset;             ///< of the room [kg/m^3]
  double viscosity = unset;           ///< [Pa s]
  double stream_area = unset;         ///< what the stream fills at the fan's exit [m^2]
  double exit_area = unset;           ///< the same where the jet starts (nozzle tip, if any) [m^2]
  double nozzle_loss = 0.0;           ///< on the exit dynamic head [-]
  double nozzle_contraction = unset;  ///< kept for with_nozzle [-]
  double nozzle_loss_coefficient = unset;  ///< kept for with_nozzle [-]
  double exit_velocity_per_speed = unset;  ///< static point's stream velocity over shaft speed [m]
  double velocity = unset;                 ///< of a Stream [m/s]
  double load_coefficient = unset;  ///< static torque over squared speed in this room [N m s^2]
  double swirl_left = unset;        ///< share of the shaft's torque left as swirl [-]
  double swirl_number = unset;      ///< of a Stream [-]
  double bore_radius = unset;       ///< of the fan's exit [m]
  double radius = unset;            ///< where the jet starts [m]
  double hub_radius = unset;        ///< as the jet sees it [m]
  jet::HubEnd hub_end = jet::HubEnd::tail_cone;
};

/// @throws std::logic_error if a field needed here is unset or out of sense (fill_fallbacks first).
[[nodiscard]] Prepared prepare(const Fan& fan,
                               const drive::Drive& drive,
                               const air::Ambient& ambient,
                               const Coefficients& c,
                               const drive::Coefficients& d);
[[nodiscard]] Prepared prepare(const Stream& stream, const air::Ambient& ambient);

/// The same fan with a converging nozzle of that exit diameter [m]: a few multiplications, so the
/// search may try many. A Stream is returned as it is.
[[nodiscard]] Prepared with_nozzle(const Prepared& fan, double nozzle_diameter);

struct Operating {
  double speed = unset;                ///< of the shaft [rad/s]; 0 for a Stream
  double mass_flow = unset;            ///< [kg/s]
  double exit_velocity = unset;        ///< mean over exit_area [m/s]
  double dynamic_head = unset;         ///< rho U^2/2 at the exit [Pa]
  double exit_total_pressure = unset;  ///< gauge: dynamic_head (1 + back_pressure_ratio) [Pa]
  double shaft_torque = unset;         ///< [N m]
  double thrust = unset;               ///< on the fan: momentum and excess exit pressure [N]
  double stall_margin = unset;         ///< flow over stall flow, less 1 [-]; infinity for a Stream
  double swirl_number = unset;         ///< [-]
  drive::Running drive;                ///< currents, voltages, flags
};

/// Operating point at a throttle of 0 to 1 when the exit's static pressure stands
/// back_pressure_ratio exit dynamic heads above the room (Eqs. 5 to 11). At ratio 0 without nozzle
/// it is a closed form; otherwise a safeguarded Newton root of the relative flow.
[[nodiscard]] Operating operate(const Prepared& fan,
                                double throttle,
                                double back_pressure_ratio = 0.0);

/// What the jet starts from.
[[nodiscard]] jet::Exit jet_exit(const Prepared& fan, const Operating& operating);

}  // namespace windgap::fan
