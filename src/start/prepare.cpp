#include "start/prepare.h"

#include <cmath>
#include <initializer_list>
#include <numbers>
#include <stdexcept>

namespace windgap::start {
namespace {

constexpr double pi = std::numbers::pi;

void require_positive(std::initializer_list<double> values) {
  for (const double value : values) {
    if (!(value > 0.0) || !std::isfinite(value)) {
      throw std::logic_error("start::prepare: a field is unset or not positive");
    }
  }
}

FuelLine make_line(const FuelSupply& supply, const FuelCoefficients& fuels, double gas_constant) {
  return {.mixture = make_mixture(make_fuel(fuels, supply.kind), gas_constant),
          .metering = supply.metering,
          .flow = supply.flow,
          .final_flow = supply.final_flow,
          .ramp_time = supply.ramp_time,
          .least_flow = supply.least_flow,
          .greatest_flow = supply.greatest_flow};
}

Burner make_burner(const Setup& setup,
                   const engine::Combustor& combustor,
                   double room_temperature,
                   const Coefficients& c) {
  return {.volume = combustor.volume,
          .primary_share = setup.burner.primary_share,
          .half_loading = c.half_efficiency_loading,
          .loading_pressure = c.loading_pressure,
          .pressure_exponent = c.loading_pressure_exponent,
          .temperature_rate = c.loading_temperature_rate,
          .temperature_datum = c.loading_temperature_datum,
          .greatest_loading = c.greatest_loading,
          .cold_liquid_efficiency = c.cold_liquid_efficiency,
          .ready_temperature = c.liquid_ready_temperature,
          .cold_temperature = room_temperature,
          .lightoff_lean = c.lightoff_lean,
          .blowout_lean = c.blowout_lean,
          .rich_share = c.rich_share,
          .lightoff_velocity = setup.burner.flame_holder_velocity,
          .burning_velocity = c.burning_velocity_factor * setup.burner.flame_holder_velocity};
}

Stanton stanton_of(const Coefficients& c) {
  return {.factor = c.stanton_factor,
          .reynolds_exponent = c.stanton_reynolds_exponent,
          .prandtl_exponent = c.stanton_prandtl_exponent,
          .prandtl = c.gas_prandtl};
}

/// Of the flame tube.
struct TubeSize {
  double volume = unset;   ///< [m^3]
  double side = unset;     ///< [m^2]
  double section = unset;  ///< [m^2]
};

void set_flame(Prepared& out, const TubeSize& tube, const Coefficients& c) {
  out.glow = make_glow(
      {.temperature = c.flame_gas_temperature,
       .factor = c.emissivity_factor,
       .beam_length = c.beam_length_ratio * tube.volume / (tube.side + 2.0 * tube.section),
       .wall_emissivity = c.wall_emissivity});
  out.flame_area = c.flame_length_share * tube.side;
}

/// Tubes across the primary zone, air and fuel inside.
void set_vaporizer(Prepared& out,
                   const TubeSize& tube,
                   const air::Coefficients& air,
                   const Coefficients& c) {
  const double outer = c.vaporizer_bore + 2.0 * c.vaporizer_thickness;
  const double length = c.vaporizer_length_ratio * std::sqrt(4.0 * tube.section / pi);
  out.vaporizer_area = c.vaporizer_area_ratio * tube.side;
  const double count = out.vaporizer_area / (pi * outer * length);
  const double hot = air::viscosity(air, c.flame_gas_temperature);
  const double reynolds_per_flow = out.burner.primary_share * outer / (tube.section * hot);
  out.crossflow_exponent = c.crossflow_reynolds_exponent;
  out.vaporizer_crossflow =
      c.crossflow_factor * std::pow(reynolds_per_flow, c.crossflow_reynolds_exponent) *
      std::pow(c.gas_prandtl, c.crossflow_prandtl_exponent) *
      air::conductivity(air, c.flame_gas_temperature) / outer * out.vaporizer_area;
  const double bore = pi / 4.0 * c.vaporizer_bore * c.vaporizer_bore;
  out.vaporizer_inside = make_side({.wetted_area = pi * c.vaporizer_bore * length,
                                    .flow_area = bore,
                                    .viscosity = air::viscosity(air, out.burner.cold_temperature)},
                                   stanton_of(c));
  // One tube's units follow its own share of the airflow.
  out.vaporizer_inside.transfer_scale *=
      std::pow(c.vaporizer_air_share / count, out.vaporizer_inside.exponent);
  out.vaporizer_air_share = c.vaporizer_air_share;
  out.vaporizer_heat = c.vaporizer_heat;
  out.vaporizer_capacity =
      out.vaporizer_area * c.vaporizer_thickness * c.tube_density * c.tube_specific_heat;
}

void set_walls(Prepared& out,
               const Setup& setup,
               const rig::Parts& parts,
               const rig::Coefficients& models,
               const Coefficients& c) {
  const Stanton stanton = stanton_of(c);
  const auto& combustor = parts.engine.combustor;
  const double section = models.engine.combustor.tube_area_ratio * combustor.reference_area;
  const double side = 4.0 * combustor.volume / std::sqrt(4.0 * section / pi);
  const double hot = air::viscosity(models.air, setup.gas_temperature_limit);
  const double cold = air::viscosity(models.air, out.burner.cold_temperature);
  out.tube_inside = make_side({.wetted_area = side,
                               .flow_area = section,
                               .enhancement = c.tube_enhancement,
                               .viscosity = hot},
                              stanton);
  out.tube_outside = make_side({.wetted_area = side,
                                .flow_area = combustor.reference_area - section,
                                .enhancement = c.annulus_enhancement,
                                .viscosity = cold},
                               stanton);
  const auto& turbine = parts.engine.turbine;
  out.housing = make_side({.wetted_area = setup.housing.wetted_area,
                           .flow_area = turbine.volute_area_over_radius * c.volute_radius_ratio *
                                        turbine.inducer_diameter / 2.0,
                           .enhancement = c.volute_enhancement,
                           .viscosity = hot},
                          stanton);
  out.tube_capacity = setup.burner.tube_mass * c.tube_specific_heat;
  const TubeSize tube{.volume = combustor.volume, .side = side, .section = section};
  set_flame(out, tube, c);
  set_vaporizer(out, tube, models.air, c);
  out.vaporizes = out.main.mixture.liquid_share > 0.0 && std::isnan(setup.fuel.nozzle_flow);
  out.housing_capacity = setup.housing.mass * c.housing_specific_heat;
  out.room_conductance = c.room_heat_transfer * c.housing_outside_ratio * setup.housing.wetted_area;
}

void set_oil(Prepared& out,
             const engine::Bearings& bearings,
             const rig::Coefficients& models,
             const Coefficients& c) {
  const double width = bearings.kind == engine::BearingKind::journal
                           ? bearings.journal_diameter
                           : models.engine.bearings.ball_flow_share * bearings.ball_mean_diameter;
  out.film_capacity =
      c.film_mass_ratio * c.film_density * width * width * width * c.film_specific_heat;
  out.oil_conductance = 2.0 * bearings.oil.mass_flow * bearings.oil.specific_heat;
  out.oil_temperature = bearings.oil.inlet_temperature;
}

}  // namespace

Prepared prepare(const Setup& setup,
                 const rig::Parts& parts,
                 const rig::Coefficients& models,
                 const FuelCoefficients& fuels,
                 const Coefficients& c) {
  if (parts.engine.resistance) {
    throw std::logic_error("start::prepare: a measured resistance has no rotor to start");
  }
  if (!missing(setup).empty()) throw std::logic_error("start::prepare: the setup is incomplete");
  require_positive({setup.burner.primary_share,
                    setup.burner.flame_holder_velocity,
                    setup.burner.tube_mass,
                    setup.housing.mass,
                    setup.housing.wetted_area,
                    setup.sequence.purge.volume,
                    setup.sequence.spin_up_time,
                    setup.sequence.time_limit,
                    setup.sequence.idle_speed,
                    setup.fan.spool_time,
                    parts.engine.rotor.inertia,
                    parts.engine.combustor.volume,
                    parts.engine.bearings.oil.mass_flow});
  const auto room = air::make_ambient(models.air, parts.site);
  const double gas_constant = air::gas_constant(models.air);
  Prepared out;
  out.burner = make_burner(setup, parts.engine.combustor, room.temperature, c);
  out.main = make_line(setup.fuel, fuels, gas_constant);
  out.preheats = !setup.preheat.empty();
  if (out.preheats) {
    const auto& preheat = setup.preheat.front();
    out.preheat = make_line(preheat.gas, fuels, gas_constant);
    out.changeover_temperature = preheat.tube_temperature;
    out.changeover_time = preheat.changeover_time;
  }
  set_walls(out, setup, parts, models, c);
  set_oil(out, parts.engine.bearings, models, c);
  out.limit = setup.gas_temperature_limit;
  out.control_temperature = out.limit - c.control_margin;
  out.usual_wall = room.temperature + c.wall_warming * (out.limit - room.temperature);
  out.speed_margin = setup.speed_margin;
  out.blown_beyond_idle = c.blown_beyond_idle;
  out.starter = setup.starter;
  out.shaft_motor = setup.shaft_motor;
  out.fan = setup.fan;
  out.lights = setup.ignition.lights;
  out.spark_wait = setup.ignition.wait;
  out.sequence = setup.sequence;
  out.settled_rate = c.settled_rate;
  const double design_speed =
      2.0 * parts.engine.design_tip_speed / parts.engine.compressor.exducer_diameter;
  out.hang_rate = c.hang_rate * design_speed;
  out.hang_time = c.hang_time;
  return out;
}

}  // namespace windgap::start
