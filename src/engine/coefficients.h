#pragma once

#include "units/table.h"

/// Coefficients of the engine model, one struct for each file in models/physics/: compressor.yaml,
/// combustor.yaml, turbine.yaml, bearings.yaml, engine.yaml. Meaning: models/engine.md.
namespace windgap::engine {

struct CompressorCoefficients {
  // Rules for what was not measured.
  double hub_ratio = unset;          ///< inducer hub over inducer diameter [-]
  double tip_width_ratio = unset;    ///< tip width over exducer diameter [-]
  double full_blades = unset;        ///< [-]
  double splitter_blades = unset;    ///< [-]
  double backsweep = unset;          ///< [rad]
  double inducer_tip_angle = unset;  ///< [rad]
  double clearance_ratio = unset;    ///< clearance over tip width [-]
  double diffuser_ratio = unset;     ///< diffuser exit over exducer diameter [-]
  double volute_matching = unset;    ///< meridional over swirl speed the housing is drawn for [-]
  // Flow and losses.
  double inducer_open_area = unset;     ///< effective over geometric area [-]
  double exit_open_area = unset;        ///< the same at the wheel tip [-]
  double slip_exponent = unset;         ///< of the blade number in the slip factor [-]
  double slip_radius_limit = unset;     ///< of the radius ratio beyond which slip grows [-]
  double slip_radius_exponent = unset;  ///< of that growth [-]
  double splitter_weight = unset;       ///< share of a full blade that a splitter counts [-]
  double incidence_loss = unset;        ///< share of the lost tangential kinetic energy [-]
  double skin_friction = unset;         ///< friction factor at the reference Reynolds number [-]
  double passage_length_ratio = unset;  ///< passage length over tip radius [-]
  double reynolds_reference = unset;    ///< on tip width [-]
  double reynolds_fixed_share = unset;  ///< share of the friction that does not scale [-]
  double reynolds_exponent = unset;     ///< [-]
  double clearance_loss = unset;        ///< times clearance/width and exit swirl squared [-]
  double diffuser_loss = unset;         ///< wall friction on the wheel exit head [-]
  double volute_mixing_loss = unset;    ///< share of the mismatched swirl energy lost [-]
  double volute_cone_loss = unset;      ///< on the volute head, down to the pipe [-]
  double disc_moment = unset;           ///< moment coefficient of one disc face [-]
  double surge_swirl = unset;           ///< tangent of the wheel exit flow angle at surge [-]
};

struct CombustorCoefficients {
  double reference_area_ratio = unset;     ///< case section over inducer area [-]
  double flame_holder_area_ratio = unset;  ///< open flame-holder area over the case section [-]
  double length_ratio = unset;             ///< flame tube length over case diameter [-]
  double tube_area_ratio = unset;          ///< flame tube section over case section [-]
  double cold_loss_factor = unset;         ///< on the reference head [-]
  double hot_loss_factor = unset;          ///< for each unit of T4/T3 - 1 [-]
  double exhaust_area_ratio = unset;       ///< exhaust over turbine outlet annulus [-]
  double exhaust_loss_factor = unset;      ///< on the exhaust head [-]
};

struct TurbineCoefficients {
  // Rules for what was not measured.
  double tip_width_ratio = unset;   ///< tip width over inducer diameter [-]
  double hub_ratio = unset;         ///< outlet hub over exducer diameter [-]
  double blades = unset;            ///< [-]
  double exit_blade_angle = unset;  ///< from axial at the mean radius [rad]
  double clearance_ratio = unset;   ///< clearance over outlet blade height [-]
  // Flow and losses.
  double swirl_coefficient = unset;    ///< kappa, swirl at the wheel over the free vortex's [-]
  double inlet_open_area = unset;      ///< effective over geometric area [-]
  double exit_open_area = unset;       ///< [-]
  double exit_deviation = unset;       ///< flow leaves less turned than the blade by this [rad]
  double volute_loss = unset;          ///< on the wheel inlet head [-]
  double incidence_slip = unset;       ///< best swirl is wheel speed (1 - this / blades) [-]
  double incidence_loss = unset;       ///< share of the lost tangential kinetic energy [-]
  double passage_loss = unset;         ///< on the relative heads at inlet and outlet [-]
  double clearance_loss = unset;       ///< on the relative outlet head, times clearance/height [-]
  double exit_swirl_loss = unset;      ///< share of the outlet swirl energy lost [-]
  double exit_expansion_loss = unset;  ///< share of the step loss into the exhaust [-]
  double disc_moment = unset;          ///< moment coefficient of the wheel's back [-]
};

struct BearingCoefficients {
  // Rules for what was not measured.
  double journal_ratio = unset;          ///< journal over compressor exducer diameter [-]
  double journal_length_ratio = unset;   ///< length over journal diameter [-]
  double inner_clearance_ratio = unset;  ///< radial clearance over journal diameter [-]
  double outer_clearance_ratio = unset;  ///< the same for the outer film [-]
  double ring_diameter_ratio = unset;    ///< ring outside over journal diameter [-]
  double ring_length_ratio = unset;      ///< outer over inner film length [-]
  double thrust_inner_ratio = unset;     ///< over journal diameter [-]
  double thrust_outer_ratio = unset;     ///< over journal diameter [-]
  double thrust_film = unset;            ///< [m]
  double oil_density = unset;            ///< [kg/m^3]
  double oil_specific_heat = unset;      ///< [J/(kg K)]
  double oil_inlet_temperature = unset;  ///< [K]
  double oil_flow_per_area = unset;    ///< oil mass flow over journal diameter squared [kg/(s m^2)]
  double ball_diameter_ratio = unset;  ///< ball mean diameter over exducer diameter [-]
  double ball_flow_share = unset;      ///< journal of like oil flow over ball mean diameter [-]
  double ball_preload = unset;         ///< [N]
  // Drag.
  double ring_drag = unset;          ///< ring drag over that of its outer film alone [-]
  double thrust_land_share = unset;  ///< share of a thrust face that shears oil [-]
  double viscosity_offset = unset;   ///< added to the viscosity in the double logarithm [m^2/s]
  double ball_viscous = unset;       ///< f0 of the ball-bearing moment [-]
  double ball_load = unset;          ///< f1 of the ball-bearing moment [-]
  double ball_onset = unset;  ///< viscosity times speed below which f0's part is flat [m^2/s^2]
  double breakaway_friction = unset;  ///< of shaft on ring or ball, at rest [-]
  double seal_drag = unset;  ///< of the seal rings over compressor exducer diameter cubed [N/m^2]
};

struct EngineCoefficients {
  double compressor_wheel_inertia = unset;  ///< polar inertia over density radius^5 [-]
  double turbine_wheel_inertia = unset;     ///< [-]
  double compressor_wheel_mass = unset;     ///< mass over density radius^3 [-]
  double turbine_wheel_mass = unset;        ///< [-]
  double compressor_wheel_density = unset;  ///< [kg/m^3]
  double turbine_wheel_density = unset;     ///< [kg/m^3]
  double ball_shaft_share = unset;          ///< shaft over ball-bearing mean diameter [-]
  double shaft_length_ratio = unset;        ///< over the compressor exducer diameter [-]
  double design_tip_speed = unset;          ///< [m/s]
  double tabulated_share = unset;           ///< end of the drag table over design speed [-]
  double lightoff_share = unset;            ///< light-off over design tip speed [-]
  double least_area_factor = unset;         ///< plausible turbine area multiplier, from [-]
  double greatest_area_factor = unset;      ///< to [-]
  double least_friction_factor = unset;     ///< plausible bearing drag multiplier, from [-]
  double greatest_friction_factor = unset;  ///< to [-]
};

struct Coefficients {
  CompressorCoefficients compressor;
  CombustorCoefficients combustor;
  TurbineCoefficients turbine;
  BearingCoefficients bearings;
  EngineCoefficients engine;
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(CompressorCoefficients& c, Visitor&& v) {
  v("hub_ratio", c.hub_ratio);
  v("tip_width_ratio", c.tip_width_ratio);
  v("full_blades", c.full_blades);
  v("splitter_blades", c.splitter_blades);
  v("backsweep", c.backsweep);
  v("inducer_tip_angle", c.inducer_tip_angle);
  v("clearance_ratio", c.clearance_ratio);
  v("diffuser_ratio", c.diffuser_ratio);
  v("volute_matching", c.volute_matching);
  v("inducer_open_area", c.inducer_open_area);
  v("exit_open_area", c.exit_open_area);
  v("slip_exponent", c.slip_exponent);
  v("slip_radius_limit", c.slip_radius_limit);
  v("slip_radius_exponent", c.slip_radius_exponent);
  v("splitter_weight", c.splitter_weight);
  v("incidence_loss", c.incidence_loss);
  v("skin_friction", c.skin_friction);
  v("passage_length_ratio", c.passage_length_ratio);
  v("reynolds_reference", c.reynolds_reference);
  v("reynolds_fixed_share", c.reynolds_fixed_share);
  v("reynolds_exponent", c.reynolds_exponent);
  v("clearance_loss", c.clearance_loss);
  v("diffuser_loss", c.diffuser_loss);
  v("volute_mixing_loss", c.volute_mixing_loss);
  v("volute_cone_loss", c.volute_cone_loss);
  v("disc_moment", c.disc_moment);
  v("surge_swirl", c.surge_swirl);
}

template <class Visitor>
void visit(CombustorCoefficients& c, Visitor&& v) {
  v("reference_area_ratio", c.reference_area_ratio);
  v("flame_holder_area_ratio", c.flame_holder_area_ratio);
  v("length_ratio", c.length_ratio);
  v("tube_area_ratio", c.tube_area_ratio);
  v("cold_loss_factor", c.cold_loss_factor);
  v("hot_loss_factor", c.hot_loss_factor);
  v("exhaust_area_ratio", c.exhaust_area_ratio);
  v("exhaust_loss_factor", c.exhaust_loss_factor);
}

template <class Visitor>
void visit(TurbineCoefficients& c, Visitor&& v) {
  v("tip_width_ratio", c.tip_width_ratio);
  v("hub_ratio", c.hub_ratio);
  v("blades", c.blades);
  v("exit_blade_angle", c.exit_blade_angle);
  v("clearance_ratio", c.clearance_ratio);
  v("swirl_coefficient", c.swirl_coefficient);
  v("inlet_open_area", c.inlet_open_area);
  v("exit_open_area", c.exit_open_area);
  v("exit_deviation", c.exit_deviation);
  v("volute_loss", c.volute_loss);
  v("incidence_slip", c.incidence_slip);
  v("incidence_loss", c.incidence_loss);
  v("passage_loss", c.passage_loss);
  v("clearance_loss", c.clearance_loss);
  v("exit_swirl_loss", c.exit_swirl_loss);
  v("exit_expansion_loss", c.exit_expansion_loss);
  v("disc_moment", c.disc_moment);
}

template <class Visitor>
void visit(BearingCoefficients& c, Visitor&& v) {
  v("journal_ratio", c.journal_ratio);
  v("journal_length_ratio", c.journal_length_ratio);
  v("inner_clearance_ratio", c.inner_clearance_ratio);
  v("outer_clearance_ratio", c.outer_clearance_ratio);
  v("ring_diameter_ratio", c.ring_diameter_ratio);
  v("ring_length_ratio", c.ring_length_ratio);
  v("thrust_inner_ratio", c.thrust_inner_ratio);
  v("thrust_outer_ratio", c.thrust_outer_ratio);
  v("thrust_film", c.thrust_film);
  v("oil_density", c.oil_density);
  v("oil_specific_heat", c.oil_specific_heat);
  v("oil_inlet_temperature", c.oil_inlet_temperature);
  v("oil_flow_per_area", c.oil_flow_per_area);
  v("ball_diameter_ratio", c.ball_diameter_ratio);
  v("ball_flow_share", c.ball_flow_share);
  v("ball_preload", c.ball_preload);
  v("ring_drag", c.ring_drag);
  v("thrust_land_share", c.thrust_land_share);
  v("viscosity_offset", c.viscosity_offset);
  v("ball_viscous", c.ball_viscous);
  v("ball_load", c.ball_load);
  v("ball_onset", c.ball_onset);
  v("breakaway_friction", c.breakaway_friction);
  v("seal_drag", c.seal_drag);
}

template <class Visitor>
void visit(EngineCoefficients& c, Visitor&& v) {
  v("compressor_wheel_inertia", c.compressor_wheel_inertia);
  v("turbine_wheel_inertia", c.turbine_wheel_inertia);
  v("compressor_wheel_mass", c.compressor_wheel_mass);
  v("turbine_wheel_mass", c.turbine_wheel_mass);
  v("compressor_wheel_density", c.compressor_wheel_density);
  v("turbine_wheel_density", c.turbine_wheel_density);
  v("ball_shaft_share", c.ball_shaft_share);
  v("shaft_length_ratio", c.shaft_length_ratio);
  v("design_tip_speed", c.design_tip_speed);
  v("tabulated_share", c.tabulated_share);
  v("lightoff_share", c.lightoff_share);
  v("least_area_factor", c.least_area_factor);
  v("greatest_area_factor", c.greatest_area_factor);
  v("least_friction_factor", c.least_friction_factor);
  v("greatest_friction_factor", c.greatest_friction_factor);
}

/// Calls v(file stem, struct) for each file of models/physics/ that the engine reads.
template <class Visitor>
void visit_files(Coefficients& c, Visitor&& v) {
  v("compressor", c.compressor);
  v("combustor", c.combustor);
  v("turbine", c.turbine);
  v("bearings", c.bearings);
  v("engine", c.engine);
}

}  // namespace windgap::engine
