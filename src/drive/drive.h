#pragma once

#include <string>
#include <vector>

#include "units/assumed.h"
#include "units/table.h"

/// Pack, leads, speed controller and motor turning a load whose torque grows with speed squared.
/// Equations and sources: models/drive.md (numbers in the comments are the equations there).
namespace windgap::drive {

/// Model coefficients, filled from models/physics/drive.yaml.
struct Coefficients {
  Table open_circuit_lithium_polymer;            ///< cell voltage [V] against state of charge [-]
  Table open_circuit_lithium_ion;                ///< the same
  Table open_circuit_iron_phosphate;             ///< the same
  double lowest_voltage_lithium = unset;         ///< loaded cell, below which it is hurt [V]
  double lowest_voltage_iron_phosphate = unset;  ///< the same
  double resistance_capacity = unset;    ///< cell resistance times capacity [ohm C], no data
  double continuous_rate = unset;        ///< current over capacity a pack really sustains [1/s]
  double burst_rate = unset;             ///< the same for some seconds [1/s]
  Table resistance_temperature;          ///< cell resistance over that at 25 degC, against [K]
  double lead_resistance = unset;        ///< both leads and plugs, no data [ohm]
  double copper_resistivity = unset;     ///< of leads [ohm m]
  double plug_resistance = unset;        ///< both poles of one plug [ohm]
  double controller_resistance = unset;  ///< in the motor path, no data [ohm]
  double controller_burst = unset;       ///< burst over rated current, no data [-]
  double switching_loss = unset;         ///< extra pack current per motor current off-duty [-]
  double motor_efficiency = unset;       ///< at the rated point, no motor constants [-]
  double copper_share = unset;           ///< copper loss over all motor loss, no constants [-]
  double motor_specific_power = unset;   ///< electrical power over motor mass, no mass [W/kg]
  double copper_temperature_coefficient = unset;  ///< of resistance, at 25 degC [1/K]
  double heated_specific_heat = unset;            ///< of copper and iron together [J/(kg K)]
  double heated_mass_share = unset;  ///< mass that warms with the winding over motor mass [-]
  double copper_heat_share = unset;  ///< of the heated capacity, in the winding's copper alone [-]
  double copper_drop_share = unset;  ///< of the steady rise, from copper to the iron [-]
  double winding_rise = unset;       ///< steady, at full current in the fan's own stream [K]
  double winding_temperature_limit = unset;  ///< [K]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  v("open_circuit_lithium_polymer", c.open_circuit_lithium_polymer);
  v("open_circuit_lithium_ion", c.open_circuit_lithium_ion);
  v("open_circuit_iron_phosphate", c.open_circuit_iron_phosphate);
  v("lowest_voltage_lithium", c.lowest_voltage_lithium);
  v("lowest_voltage_iron_phosphate", c.lowest_voltage_iron_phosphate);
  v("resistance_capacity", c.resistance_capacity);
  v("continuous_rate", c.continuous_rate);
  v("burst_rate", c.burst_rate);
  v("resistance_temperature", c.resistance_temperature);
  v("lead_resistance", c.lead_resistance);
  v("copper_resistivity", c.copper_resistivity);
  v("plug_resistance", c.plug_resistance);
  v("controller_resistance", c.controller_resistance);
  v("controller_burst", c.controller_burst);
  v("switching_loss", c.switching_loss);
  v("motor_efficiency", c.motor_efficiency);
  v("copper_share", c.copper_share);
  v("motor_specific_power", c.motor_specific_power);
  v("copper_temperature_coefficient", c.copper_temperature_coefficient);
  v("heated_specific_heat", c.heated_specific_heat);
  v("heated_mass_share", c.heated_mass_share);
  v("copper_heat_share", c.copper_heat_share);
  v("copper_drop_share", c.copper_drop_share);
  v("winding_rise", c.winding_rise);
  v("winding_temperature_limit", c.winding_temperature_limit);
}

enum class Chemistry { lithium_polymer, lithium_ion, iron_phosphate };

struct Pack {
  Chemistry chemistry = Chemistry::lithium_polymer;
  int cells = 0;                      ///< in series
  double capacity = unset;            ///< [C]
  double cell_resistance = unset;     ///< of one series position, at 25 degC [ohm]
  double temperature = unset;         ///< [K]; unset: as when its resistance was read
  double state_of_charge = 1.0;       ///< 0 to 1
  double continuous_current = unset;  ///< [A]
  double burst_current = unset;       ///< [A]
  double mass = unset;                ///< [kg]
};

/// Both leads and all plugs between pack and controller.
struct Leads {
  double resistance = unset;  ///< [ohm]; unset: from the wire, or the usual
  double length = unset;      ///< of one lead [m]
  double wire_area = unset;   ///< copper of one lead [m^2]
  int plugs = 0;              ///< between pack and controller
};

struct Controller {
  double rated_current = unset;  ///< [A]
  double burst_current = unset;  ///< [A]
  int most_cells = 0;            ///< 0: not stated
  double resistance = unset;     ///< in the motor's path [ohm]
  double current_limit = unset;  ///< motor current it holds by cutting duty [A]; unset: none
  double mass = unset;           ///< [kg]
};

struct Motor {
  double speed_constant = unset;         ///< [rad/(s V)]; the torque constant is its inverse
  double resistance = unset;             ///< at 25 degC [ohm]
  double no_load_current = unset;        ///< [A]
  double max_current = unset;            ///< [A]
  double mass = unset;                   ///< [kg]
  double winding_heat_capacity = unset;  ///< of what warms with the winding [J/K]
  double winding_conductance = unset;    ///< to the air stream [W/K]; unset: from the full current
};

struct Drive {
  Pack pack;
  Leads leads;
  Controller controller;
  Motor motor;
};

/// Open-circuit voltage of one cell [V].
[[nodiscard]] double open_circuit_voltage(const Coefficients& c,
                                          Chemistry chemistry,
                                          double charge);

/// Cooling of a winding that reaches its usual steady temperature at `full_current` [A].
[[nodiscard]] Assumed cooling_at(const Motor& motor, double full_current, const Coefficients& c);

/// Fills what pack, leads, controller and winding leave open and says so. Motor constants and mass
/// come from the fan's static point (fan::fill_fallbacks, which calls this too). A current limit
/// that nobody states is not assumed: it is not checked.
std::vector<Assumed> fill_fallbacks(Drive& drive, const Coefficients& c);

/// Why a motor stands still however little it drives.
enum class Standstill {
  none,           ///< it turns
  current_limit,  ///< the controller allows no more than the motor takes at no load
  voltage         ///< its no-load current leaves none of the voltage over
};

/// Of a drive with every fallback filled, at a throttle of 0 to 1. @throws as `prepare`
[[nodiscard]] Standstill standstill(const Drive& drive, const Coefficients& c, double throttle);

/// A drive boiled down to what a solve needs; copying it allocates nothing.
struct Prepared {
  double open_circuit_voltage = unset;       ///< of the pack [V]
  double pack_resistance = unset;            ///< cells and leads [ohm]
  double controller_resistance = unset;      ///< [ohm]
  double switching_loss = unset;             ///< [-]
  double speed_constant = unset;             ///< [rad/(s V)]
  double motor_resistance = unset;           ///< [ohm]
  double no_load_current = unset;            ///< [A]
  double current_limit = unset;              ///< [A]; infinity: none
  double pack_continuous_current = unset;    ///< [A]
  double pack_burst_current = unset;         ///< [A]
  double controller_rated_current = unset;   ///< [A]
  double controller_burst_current = unset;   ///< [A]
  double motor_max_current = unset;          ///< [A]
  double lowest_voltage = unset;             ///< of the loaded pack [V]
  double capacity = unset;                   ///< [C]
  double charge = unset;                     ///< in the pack as it stands [C]
  double winding_heat_capacity = unset;      ///< of all that warms with the winding [J/K]
  double winding_conductance = unset;        ///< [W/K]
  double copper_heat_share = unset;          ///< of that capacity [-]
  double copper_drop_share = unset;          ///< of the steady rise [-]
  double winding_temperature_limit = unset;  ///< [K]
  double temperature_coefficient = unset;    ///< of the winding's resistance [1/K]
};

/// @throws std::logic_error if a field needed here is still unset or out of sense.
[[nodiscard]] Prepared prepare(const Drive& drive, const Coefficients& c);

/// What the drive does against a load.
struct Running {
  double speed = unset;            ///< [rad/s]
  double torque = unset;           ///< at the shaft [N m]
  double shaft_power = unset;      ///< [W]
  double duty = unset;             ///< of the controller [-]
  double motor_voltage = unset;    ///< mean at the motor's terminals [V]
  double motor_current = unset;    ///< [A]
  double pack_voltage = unset;     ///< at the controller [V]
  double pack_current = unset;     ///< [A]
  double winding_loss = unset;     ///< I^2 R [W]
  double no_load_loss = unset;     ///< I0 (V - I R) [W]
  double controller_loss = unset;  ///< [W]
  double pack_loss = unset;        ///< in cells and leads [W]
  double burst_use = unset;        ///< largest current over its stated burst limit [-]
  double continuous_use = unset;   ///< the same over the continuous limits [-]
  bool turns = false;              ///< false: the voltage does not overcome no-load current
  bool limited = false;            ///< the controller cut the duty to hold its current limit
  bool sagged = false;             ///< the loaded pack is below its lowest voltage
};

/// Speed and currents against torque = load_coefficient * speed^2 [N m s^2] at a throttle of 0 to 1
/// (Eqs. 2 to 6): one closed-form root.
[[nodiscard]] Running run(const Prepared& drive, double load_coefficient, double throttle);

/// Temperature rise of the winding's copper after `seconds` at constant current, all at the air's
/// temperature before [K]: copper and iron as two capacities (Eq. 7).
[[nodiscard]] double burst_temperature_rise(const Prepared& drive,
                                            const Running& running,
                                            double seconds);

/// Seconds until the winding reaches its limit from the air's temperature [K] (Eq. 8); infinity if
/// it never does, 0 if the air is hotter.
[[nodiscard]] double allowed_burst(const Prepared& drive,
                                   const Running& running,
                                   double air_temperature);

}  // namespace windgap::drive
