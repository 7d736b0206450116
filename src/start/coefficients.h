#pragma once

#include "start/purge.h"
#include "units/table.h"

namespace windgap::start {

/// Model coefficients, filled from models/physics/start.yaml and purge.yaml.
struct Coefficients {
  // Burner.
  double half_efficiency_loading = unset;    ///< loading at which half the fuel burns
  double loading_pressure = unset;           ///< its unit of pressure [Pa]
  double loading_pressure_exponent = unset;  ///< [-]
  double loading_temperature_rate = unset;   ///< of the exponential [1/K]
  double loading_temperature_datum = unset;  ///< [K]
  double greatest_loading = unset;           ///< beyond it no mixture lights
  double cold_liquid_efficiency = unset;     ///< share of a liquid's efficiency, burner cold [-]
  double liquid_ready_temperature = unset;   ///< flame tube vaporizes everything above this [K]
  double primary_share = unset;              ///< of the air, hole areas unknown [-]
  double lightoff_lean = unset;              ///< of the lower explosion limit's mixture [-]
  double blowout_lean = unset;               ///< the same for a burning flame [-]
  double rich_share = unset;                 ///< of the upper explosion limit's mixture [-]
  double burning_velocity_factor = unset;    ///< blow-off over light-off velocity [-]
  double nozzle_rated_pressure = unset;      ///< at which spray nozzles are rated [Pa]
  double nozzle_least_pressure = unset;      ///< at which they still spray [Pa]
  double greatest_fuel_air_ratio = unset;    ///< of the valve's widest, over running airflow [-]
  // Hot walls.
  double stanton_factor = unset;             ///< [-]
  double stanton_reynolds_exponent = unset;  ///< [-]
  double stanton_prandtl_exponent = unset;   ///< [-]
  double gas_prandtl = unset;                ///< [-]
  double volute_enhancement = unset;         ///< of heat transfer by turning and swirl [-]
  double tube_enhancement = unset;           ///< by stirring, inside [-]
  double annulus_enhancement = unset;        ///< outside the flame tube [-]
  double volute_radius_ratio = unset;        ///< volute's centre over wheel radius [-]
  double housing_wetted_ratio = unset;       ///< gas-wetted area over wheel diameter squared [-]
  double housing_mass_ratio = unset;         ///< mass over density and wheel diameter cubed [-]
  double housing_density = unset;            ///< [kg/m^3]
  double housing_specific_heat = unset;      ///< [J/(kg K)]
  double housing_outside_ratio = unset;      ///< outer over wetted area [-]
  double room_heat_transfer = unset;         ///< from the housing to the room [W/(m^2 K)]
  double tube_thickness = unset;             ///< of the flame tube's sheet [m]
  double tube_density = unset;               ///< [kg/m^3]
  double tube_specific_heat = unset;         ///< [J/(kg K)]
  double flame_gas_temperature = unset;      ///< of the gas that burns, in the primary zone [K]
  double emissivity_factor = unset;          ///< of a flame's emissivity [K^1.5/(kPa m^0.5)]
  double beam_length_ratio = unset;   ///< mean beam over volume and surface of the flame tube [-]
  double wall_emissivity = unset;     ///< of oxidized steel sheet [-]
  double flame_length_share = unset;  ///< of the flame tube's side that sees the flame [-]
  double vaporizer_area_ratio =
      unset;                      ///< surface of the vaporizer tubes over the flame tube's side [-]
  double vaporizer_bore = unset;  ///< of one of them [m]
  double vaporizer_thickness = unset;     ///< of their wall [m]
  double vaporizer_length_ratio = unset;  ///< of one of them over the flame tube's diameter [-]
  double vaporizer_air_share = unset;     ///< of the air, through them [-]
  double vaporizer_heat =
      unset;  ///< that a kg of liquid takes up in them until it is vapour [J/kg]
  double crossflow_factor = unset;             ///< of heat to a tube across the flow [-]
  double crossflow_reynolds_exponent = unset;  ///< [-]
  double crossflow_prandtl_exponent = unset;   ///< [-]
  double wall_warming =
      unset;  ///< housing's warming when the torque is least, over its limit's [-]
  // Oil.
  double film_mass_ratio = unset;     ///< metal and oil that warm, over journal cubed [-]
  double film_density = unset;        ///< [kg/m^3]
  double film_specific_heat = unset;  ///< [J/(kg K)]
  // The run.
  double gas_temperature_limit = unset;  ///< of a start, behind the burner [K]
  double control_margin = unset;         ///< a controlled fuel stays below the limit by [K]
  double speed_margin = unset;           ///< over self-sustaining speed, fan off [-]
  double blown_beyond_idle = unset;      ///< speed over idle to which a burning rotor is blown [-]
  double idle_share = unset;             ///< idle over design speed [-]
  double ignition_delay = unset;         ///< from fuel to flame, mixture right [s]
  double patience = unset;               ///< fuel on without flame before giving up [s]
  double spin_up_time = unset;           ///< light-off to fan off that a start may take [s]
  double time_limit = unset;             ///< of one attempt [s]
  double settled_rate = unset;           ///< relative acceleration of a settled rotor [1/s]
  double hang_rate = unset;              ///< acceleration over design speed that hangs [1/s]
  double hang_time = unset;              ///< for this long [s]
  double fan_spool_time = unset;         ///< throttle from nothing to full, and back [s]
  double ramp_time = unset;              ///< fan from light-off throttle to full [s]
  double preheated_temperature = unset;  ///< flame tube at which gas gives way to liquid [K]
  double changeover_time = unset;        ///< [s]
  // Other starters, where a comparison asks for one and the case has none.
  double motor_stall_torque = unset;    ///< at the rotor [N m]
  double motor_free_speed = unset;      ///< of the rotor [rad/s]
  double blower_exit_diameter = unset;  ///< [m]
  double blower_velocity = unset;       ///< [m/s]
  double blower_stand_off = unset;      ///< [m]
  double winter_temperature = unset;    ///< of air and oil in the cold comparison [K]
  double summer_temperature = unset;    ///< in the warm one [K]
  PurgePractice purge;                  ///< a file of its own
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  v("half_efficiency_loading", c.half_efficiency_loading);
  v("loading_pressure", c.loading_pressure);
  v("loading_pressure_exponent", c.loading_pressure_exponent);
  v("loading_temperature_rate", c.loading_temperature_rate);
  v("loading_temperature_datum", c.loading_temperature_datum);
  v("greatest_loading", c.greatest_loading);
  v("cold_liquid_efficiency", c.cold_liquid_efficiency);
  v("liquid_ready_temperature", c.liquid_ready_temperature);
  v("primary_share", c.primary_share);
  v("lightoff_lean", c.lightoff_lean);
  v("blowout_lean", c.blowout_lean);
  v("rich_share", c.rich_share);
  v("burning_velocity_factor", c.burning_velocity_factor);
  v("nozzle_rated_pressure", c.nozzle_rated_pressure);
  v("nozzle_least_pressure", c.nozzle_least_pressure);
  v("greatest_fuel_air_ratio", c.greatest_fuel_air_ratio);
  v("stanton_factor", c.stanton_factor);
  v("stanton_reynolds_exponent", c.stanton_reynolds_exponent);
  v("stanton_prandtl_exponent", c.stanton_prandtl_exponent);
  v("gas_prandtl", c.gas_prandtl);
  v("volute_enhancement", c.volute_enhancement);
  v("tube_enhancement", c.tube_enhancement);
  v("annulus_enhancement", c.annulus_enhancement);
  v("volute_radius_ratio", c.volute_radius_ratio);
  v("housing_wetted_ratio", c.housing_wetted_ratio);
  v("housing_mass_ratio", c.housing_mass_ratio);
  v("housing_density", c.housing_density);
  v("housing_specific_heat", c.housing_specific_heat);
  v("housing_outside_ratio", c.housing_outside_ratio);
  v("room_heat_transfer", c.room_heat_transfer);
  v("tube_thickness", c.tube_thickness);
  v("tube_density", c.tube_density);
  v("tube_specific_heat", c.tube_specific_heat);
  v("flame_gas_temperature", c.flame_gas_temperature);
  v("emissivity_factor", c.emissivity_factor);
  v("beam_length_ratio", c.beam_length_ratio);
  v("wall_emissivity", c.wall_emissivity);
  v("flame_length_share", c.flame_length_share);
  v("vaporizer_area_ratio", c.vaporizer_area_ratio);
  v("vaporizer_bore", c.vaporizer_bore);
  v("vaporizer_thickness", c.vaporizer_thickness);
  v("vaporizer_length_ratio", c.vaporizer_length_ratio);
  v("vaporizer_air_share", c.vaporizer_air_share);
  v("vaporizer_heat", c.vaporizer_heat);
  v("crossflow_factor", c.crossflow_factor);
  v("crossflow_reynolds_exponent", c.crossflow_reynolds_exponent);
  v("crossflow_prandtl_exponent", c.crossflow_prandtl_exponent);
  v("wall_warming", c.wall_warming);
  v("film_mass_ratio", c.film_mass_ratio);
  v("film_density", c.film_density);
  v("film_specific_heat", c.film_specific_heat);
  v("gas_temperature_limit", c.gas_temperature_limit);
  v("control_margin", c.control_margin);
  v("speed_margin", c.speed_margin);
  v("blown_beyond_idle", c.blown_beyond_idle);
  v("idle_share", c.idle_share);
  v("ignition_delay", c.ignition_delay);
  v("patience", c.patience);
  v("spin_up_time", c.spin_up_time);
  v("time_limit", c.time_limit);
  v("settled_rate", c.settled_rate);
  v("hang_rate", c.hang_rate);
  v("hang_time", c.hang_time);
  v("fan_spool_time", c.fan_spool_time);
  v("ramp_time", c.ramp_time);
  v("preheated_temperature", c.preheated_temperature);
  v("changeover_time", c.changeover_time);
  v("motor_stall_torque", c.motor_stall_torque);
  v("motor_free_speed", c.motor_free_speed);
  v("blower_exit_diameter", c.blower_exit_diameter);
  v("blower_velocity", c.blower_velocity);
  v("blower_stand_off", c.blower_stand_off);
  v("winter_temperature", c.winter_temperature);
  v("summer_temperature", c.summer_temperature);
}

}  // namespace windgap::start
