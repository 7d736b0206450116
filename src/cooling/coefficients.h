#pragma once

#include "cooling/convection.h"
#include "units/table.h"

namespace windgap::cooling {

/// Model coefficients, filled from models/physics/cooling.yaml. Meaning: models/cooling.md.
struct Coefficients {
  ConvectionCoefficients convection;
  // Masses and sheet, for what was not weighed.
  double turbine_housing_mass = unset;  ///< over density times turbine inducer diameter cubed [-]
  double centre_housing_mass = unset;  ///< over density times compressor exducer diameter cubed [-]
  double compressor_mass = unset;      ///< housing, backplate and wheel, the same [-]
  double heat_shield_thickness = unset;  ///< pressed sheet [m]
  double liner_thickness = unset;        ///< flame tube sheet [m]
  double casing_thickness = unset;       ///< combustor case wall [m]
  // Surfaces and passages, over the square (areas) or the first power (lengths) of a diameter.
  double heat_shield_area = unset;       ///< one face, over turbine inducer diameter squared [-]
  double housing_inner_area = unset;     ///< turbine housing, wetted by gas [-]
  double housing_outer_area = unset;     ///< turbine housing, outside [-]
  double housing_diameter = unset;       ///< of the turbine housing as a cylinder in air [-]
  double volute_radius = unset;          ///< of the throat's centroid over the wheel's radius [-]
  double wheel_area = unset;             ///< turbine blades and hub [-]
  double wheel_passage = unset;          ///< hydraulic diameter between blades [-]
  double wheel_shroud_area = unset;      ///< wheel facing the housing [-]
  double wheel_gap = unset;              ///< wheel to shield and to housing [m]
  double centre_outer_area = unset;      ///< over compressor exducer diameter squared [-]
  double centre_diameter = unset;        ///< of the centre housing as a cylinder in air [-]
  double compressor_inner_area = unset;  ///< over compressor exducer diameter squared [-]
  double compressor_outer_area = unset;  ///< the same outside [-]
  double compressor_diameter = unset;    ///< of the compressor housing as a cylinder in air [-]
  // Forced convection.
  double scroll_enhancement = unset;     ///< of a smooth tube's coefficient in a scroll [-]
  double combustor_enhancement = unset;  ///< of a smooth duct's in annulus and flame tube [-]
  double combustor_flow_share = unset;   ///< mean flow along liner and case over the whole [-]
  double stray_share =
      unset;  ///< speed of stray fan air along the engine over that at the mouth [-]
  // Conduction.
  double contact_conductance = unset;  ///< of a clamped dry joint [W/(m^2 K)]
  double flange_diameter =
      unset;  ///< turbine housing to centre housing, over turbine inducer diameter [-]
  double flange_width = unset;  ///< of that ring, the same [-]
  double seat_width = unset;    ///< of the heat shield's clamped rim, the same [-]
  double backplate_width =
      unset;  ///< of the compressor's joint, over compressor exducer diameter [-]
  double centre_length = unset;          ///< of the centre housing, the same [-]
  double reference_temperature = unset;  ///< of conductivities and inner emissivities [K]
  double bearing_depth =
      unset;  ///< turbine-side bearing from the middle, over half that length [-]
  double shaft_length =
      unset;  ///< wheel to the bearings' middle, over compressor exducer diameter [-]
  double transfer_length = unset;  ///< pipe from combustor to turbine, over the case's diameter [-]
  // Oil.
  double oil_wetted_area =
      unset;  ///< inside the centre housing, over compressor exducer diameter squared [-]
  double oil_coefficient = unset;  ///< oil to that surface [W/(m^2 K)]
  // The run before.
  double running_speed_share = unset;    ///< rotor speed at load over full speed [-]
  double work_coefficient = unset;       ///< compressor work over tip speed squared [-]
  double flame_temperature = unset;      ///< as the liner sees it [K]
  double flame_emissivity = unset;       ///< [-]
  double usual_gas_temperature = unset;  ///< ahead of the turbine, nobody read it [K]
  double usual_run = unset;              ///< at load before the stop [s]
  // Limits.
  double coking_mineral = unset;    ///< bearing temperature at which mineral oil begins to coke [K]
  double coking_synthetic = unset;  ///< the same of synthetic oil [K]
  Table glove_limit;                ///< hot side [K] against performance level
  Table
      contact_limit;  ///< burn threshold of bare metal [K] against log10 of contact time in seconds
  double dry_speed = unset;      ///< rotor speed allowed with the oil pump off [rad/s]
  double greatest_biot = unset;  ///< up to which a part is taken at one temperature [-]
  // Pack.
  double pack_specific_energy = unset;    ///< of a pack nobody weighed [J/kg]
  double pack_specific_heat = unset;      ///< [J/(kg K)]
  double pack_temperature_limit = unset;  ///< [K]
  double pack_reserve = unset;            ///< of its capacity, never drawn [-]
  double least_throttle = unset;          ///< at which a fan turns steadily [-]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  visit(c.convection, v);
  v("turbine_housing_mass", c.turbine_housing_mass);
  v("centre_housing_mass", c.centre_housing_mass);
  v("compressor_mass", c.compressor_mass);
  v("heat_shield_thickness", c.heat_shield_thickness);
  v("liner_thickness", c.liner_thickness);
  v("casing_thickness", c.casing_thickness);
  v("heat_shield_area", c.heat_shield_area);
  v("housing_inner_area", c.housing_inner_area);
  v("housing_outer_area", c.housing_outer_area);
  v("housing_diameter", c.housing_diameter);
  v("volute_radius", c.volute_radius);
  v("wheel_area", c.wheel_area);
  v("wheel_passage", c.wheel_passage);
  v("wheel_shroud_area", c.wheel_shroud_area);
  v("wheel_gap", c.wheel_gap);
  v("centre_outer_area", c.centre_outer_area);
  v("centre_diameter", c.centre_diameter);
  v("compressor_inner_area", c.compressor_inner_area);
  v("compressor_outer_area", c.compressor_outer_area);
  v("compressor_diameter", c.compressor_diameter);
  v("scroll_enhancement", c.scroll_enhancement);
  v("combustor_enhancement", c.combustor_enhancement);
  v("combustor_flow_share", c.combustor_flow_share);
  v("stray_share", c.stray_share);
  v("contact_conductance", c.contact_conductance);
  v("flange_diameter", c.flange_diameter);
  v("flange_width", c.flange_width);
  v("seat_width", c.seat_width);
  v("backplate_width", c.backplate_width);
  v("centre_length", c.centre_length);
  v("reference_temperature", c.reference_temperature);
  v("bearing_depth", c.bearing_depth);
  v("shaft_length", c.shaft_length);
  v("transfer_length", c.transfer_length);
  v("oil_wetted_area", c.oil_wetted_area);
  v("oil_coefficient", c.oil_coefficient);
  v("running_speed_share", c.running_speed_share);
  v("work_coefficient", c.work_coefficient);
  v("flame_temperature", c.flame_temperature);
  v("flame_emissivity", c.flame_emissivity);
  v("usual_gas_temperature", c.usual_gas_temperature);
  v("usual_run", c.usual_run);
  v("coking_mineral", c.coking_mineral);
  v("coking_synthetic", c.coking_synthetic);
  v("glove_limit", c.glove_limit);
  v("contact_limit", c.contact_limit);
  v("dry_speed", c.dry_speed);
  v("greatest_biot", c.greatest_biot);
  v("pack_specific_energy", c.pack_specific_energy);
  v("pack_specific_heat", c.pack_specific_heat);
  v("pack_temperature_limit", c.pack_temperature_limit);
  v("pack_reserve", c.pack_reserve);
  v("least_throttle", c.least_throttle);
}

}  // namespace windgap::cooling
