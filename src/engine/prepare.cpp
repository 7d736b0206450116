#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <numbers>
#include <stdexcept>

#include "engine/bearings.h"
#include "engine/engine.h"
#include "engine/fallbacks.h"
#include "engine/rotor.h"
#include "engine/throat.h"

namespace windgap::engine {
namespace {

constexpr double pi = std::numbers::pi;

struct Annulus {
  double tip_diameter = unset;
  double hub_diameter = unset;

  [[nodiscard]] double area() const {
    return 0.25 * pi * (tip_diameter * tip_diameter - hub_diameter * hub_diameter);
  }
  /// Radius that halves the area.
  [[nodiscard]] double mean_radius() const {
    return std::sqrt((tip_diameter * tip_diameter + hub_diameter * hub_diameter) / 8.0);
  }
};

/// Eq. 8: slip factor after Wiesner, with his loss of slip beyond a radius ratio.
double slip_factor(const Compressor& p, const CompressorCoefficients& c, double radius_ratio) {
  const double z = p.blades + c.splitter_weight * p.splitters;
  const double cosine = std::cos(p.backsweep);
  const double basic = 1.0 - std::sqrt(cosine) / std::pow(z, c.slip_exponent);
  const double limit = std::exp(-c.slip_radius_limit * cosine / z);
  const double beyond = std::max(0.0, (radius_ratio - limit) / (1.0 - limit));
  return basic * (1.0 - std::pow(beyond, c.slip_radius_exponent));
}

double hydraulic_diameter(double height, double pitch) {
  return 2.0 * height * pitch / (height + pitch);
}

/// Eq. 10: friction of the blade passages on the mean of the relative heads.
double passage_friction(const Compressor& p,
                        const CompressorCoefficients& c,
                        const Annulus& inlet,
                        double inlet_tangent) {
  const double r2 = 0.5 * p.exducer_diameter;
  const double inlet_pitch =
      2.0 * pi * inlet.mean_radius() / p.blades / std::sqrt(1.0 + inlet_tangent * inlet_tangent);
  const double exit_pitch = 2.0 * pi * r2 / (p.blades + p.splitters) * std::cos(p.backsweep);
  const double at_inlet =
      hydraulic_diameter(0.5 * (inlet.tip_diameter - inlet.hub_diameter), inlet_pitch);
  const double at_exit = hydraulic_diameter(p.tip_width, exit_pitch);
  return 4.0 * c.skin_friction * c.passage_length_ratio * r2 / (0.5 * (at_inlet + at_exit));
}

PreparedCompressor prepare(const Compressor& p, const CompressorCoefficients& c) {
  const Annulus inlet{.tip_diameter = p.inducer_diameter, .hub_diameter = p.inducer_hub_diameter};
  const double r1 = inlet.mean_radius();
  const double r2 = 0.5 * p.exducer_diameter;
  PreparedCompressor out;
  out.tip_radius = r2;
  out.inlet_radius = r1;
  out.inlet_area = c.inducer_open_area * inlet.area();
  out.exit_area = c.exit_open_area * 2.0 * pi * r2 * p.tip_width;
  out.inlet_tangent = std::tan(p.inducer_tip_angle) * r1 / (0.5 * p.inducer_diameter);
  out.exit_tangent = std::tan(p.backsweep);
  out.slip = 1.0 - slip_factor(p, c, r1 / r2);
  out.incidence_loss = c.incidence_loss;
  out.friction_loss = passage_friction(p, c, inlet, out.inlet_tangent);
  out.clearance_loss = c.clearance_loss * p.clearance / p.tip_width;
  out.diffuser_loss = c.diffuser_loss;
  out.per_diffuser_ratio = p.exducer_diameter / p.diffuser_diameter;
  out.volute_ratio = out.exit_area / (0.5 * p.diffuser_diameter * p.volute_area_over_radius);
  out.mixing_loss = c.volute_mixing_loss;
  out.cone_loss = c.volute_cone_loss;
  out.disc_torque = 0.5 * c.disc_moment * std::pow(r2, 5);
  out.reynolds_length = p.tip_width;
  out.reynolds_reference = c.reynolds_reference;
  out.reynolds_fixed_share = c.reynolds_fixed_share;
  out.reynolds_exponent = c.reynolds_exponent;
  out.surge_swirl = c.surge_swirl;
  return out;
}

struct PreparedOutlet {
  PreparedTurbine turbine;
  double loss = unset;  ///< on the relative outlet head [-]
};

PreparedOutlet prepare(const Turbine& p,
                       const TurbineCoefficients& c,
                       double area_factor,
                       double exhaust_area) {
  const Annulus outlet{.tip_diameter = p.exducer_diameter, .hub_diameter = p.exducer_hub_diameter};
  const double r3 = 0.5 * p.inducer_diameter;
  const double volute = area_factor * p.volute_area_over_radius;
  const double swirl = c.swirl_coefficient / (r3 * volute);  // times m/rho3, Eq. 18
  const double radial = 1.0 / (c.inlet_open_area * 2.0 * pi * r3 * p.tip_width);
  const double angle = p.exit_blade_angle - c.exit_deviation;
  const double height = 0.5 * (p.exducer_diameter - p.exducer_hub_diameter);
  PreparedTurbine out;
  out.inlet_radius = r3;
  out.outlet_radius = outlet.mean_radius();
  out.volute_area = 1.0 / std::hypot(swirl, radial);
  out.swirl_share = swirl * out.volute_area;
  out.best_swirl = 1.0 - c.incidence_slip / p.blades;
  out.outlet_sine = std::sin(angle);
  const double axial_area = area_factor * c.exit_open_area * outlet.area();
  out.outlet_area = axial_area * std::cos(angle);
  out.outlet_step = std::cos(angle) * (1.0 - axial_area / exhaust_area);
  out.inlet_loss =
      0.5 * (c.volute_loss + c.passage_loss * radial * radial * out.volute_area * out.volute_area);
  out.incidence_loss = c.incidence_loss;
  out.swirl_loss = c.exit_swirl_loss;
  out.expansion_loss = c.exit_expansion_loss;
  out.disc_torque = 0.5 * c.disc_moment * std::pow(r3, 5);
  return {.turbine = out, .loss = c.passage_loss + c.clearance_loss * p.clearance / height};
}

/// Slopes by central differences: third order. Drag is even in the root of the speed, so the first
/// slope is 0; the last is a one-sided parabola's.
DragTable tabulate(const Engine& engine, const Coefficients& c, double highest_speed) {
  constexpr std::size_t last = DragTable::points - 1;
  constexpr auto squared = static_cast<double>(last * last);
  DragTable table;
  table.per_speed = squared / highest_speed;
  for (std::size_t i = 0; i <= last; ++i) {
    const double speed = static_cast<double>(i * i) / table.per_speed;
    table.torque[i] =
        engine.calibration.friction * steady_drag(engine.bearings, c.bearings, speed).torque;
  }
  const auto& t = table.torque;
  for (std::size_t i = 1; i < last; ++i) table.slope[i] = 0.5 * (t[i + 1] - t[i - 1]);
  table.slope[last] = 2.0 * (t[last] - t[last - 1]) - table.slope[last - 1];
  return table;
}

void require(std::initializer_list<double> positive) {
  for (const double value : positive) {
    if (!(value > 0.0) || !std::isfinite(value)) {
      throw std::logic_error("engine::prepare: a needed size is unset or not positive");
    }
  }
}

void require_parts(const Engine& e) {
  const auto& k = e.compressor;
  const auto& t = e.turbine;
  const auto& b = e.bearings;
  require({k.inducer_diameter,
           k.exducer_diameter,
           k.tip_width,
           k.blades,
           k.volute_area_over_radius,
           k.diffuser_diameter,
           k.inducer_tip_angle,
           t.inducer_diameter,
           t.tip_width,
           t.exducer_diameter,
           t.blades,
           t.exit_blade_angle,
           t.volute_area_over_radius,
           e.combustor.reference_area,
           e.combustor.flame_holder_area,
           e.exhaust.area,
           e.design_tip_speed,
           b.oil.cold.temperature,
           b.oil.cold.kinematic_viscosity,
           b.oil.hot.temperature,
           b.oil.hot.kinematic_viscosity,
           b.oil.density,
           b.oil.specific_heat,
           b.oil.inlet_temperature,
           b.oil.mass_flow});
  if (b.kind == BearingKind::journal) {
    require({b.journal_diameter,
             b.journal_length,
             b.inner_clearance,
             b.outer_clearance,
             b.ring_outer_diameter,
             b.ring_outer_length,
             b.thrust_film});
  } else {
    require({b.ball_mean_diameter});
  }
  for (const double zero_or_more : {k.inducer_hub_diameter,
                                    k.splitters,
                                    k.backsweep,
                                    k.clearance,
                                    t.exducer_hub_diameter,
                                    t.clearance,
                                    e.combustor.cold_loss_factor,
                                    e.combustor.hot_loss_factor,
                                    e.exhaust.loss_factor}) {
    if (!(zero_or_more >= 0.0)) {
      throw std::logic_error("engine::prepare: a needed value is unset or negative");
    }
  }
  if (!(k.inducer_hub_diameter < k.inducer_diameter && k.inducer_diameter < k.exducer_diameter &&
        t.exducer_hub_diameter < t.exducer_diameter && k.diffuser_diameter >= k.exducer_diameter)) {
    throw std::logic_error("engine::prepare: diameters out of order");
  }
}

Prepared prepare(const Resistance& resistance, const air::Coefficients& air) {
  require({resistance.throat_diameter, resistance.loss_factor});
  Prepared out;
  out.resistance_only = true;
  out.resistance_area = 0.25 * pi * resistance.throat_diameter * resistance.throat_diameter;
  out.resistance_loss = resistance.loss_factor;
  out.drag.per_speed = 1.0;
  out.breakaway_torque = 0.0;
  out.air = air;
  return out;
}

}  // namespace

Prepared prepare(const Engine& engine, const Coefficients& c, const air::Coefficients& air) {
  if (engine.resistance) return prepare(*engine.resistance, air);
  require_parts(engine);
  Prepared out;
  out.compressor = prepare(engine.compressor, c.compressor);
  out.combustor_per_area_squared =
      1.0 / (engine.combustor.reference_area * engine.combustor.reference_area);
  out.flame_holder_area = engine.combustor.flame_holder_area;
  out.combustor_cold_loss = engine.combustor.cold_loss_factor;
  out.combustor_hot_loss = engine.combustor.hot_loss_factor;
  const auto [turbine, outlet_loss] =
      prepare(engine.turbine, c.turbine, engine.calibration.turbine_area, engine.exhaust.area);
  out.turbine = turbine;
  out.exhaust_area = engine.exhaust.area;
  out.exhaust_loss = engine.exhaust.loss_factor;
  out.inducer_throat = make_throat(0.0, DiatomicPower::exponent);
  out.volute_throat = make_throat_family(c.turbine.volute_loss);
  out.outlet_throat = make_throat_family(outlet_loss);
  out.design_speed = engine.design_tip_speed / out.compressor.tip_radius;
  out.drag = tabulate(engine, c, c.engine.tabulated_share * out.design_speed);
  out.breakaway_torque = engine.calibration.friction *
                         breakaway_torque(engine.bearings,
                                          c.bearings,
                                          {.rotor_mass = rotor_mass(engine, c.engine),
                                           .exducer_diameter = engine.compressor.exducer_diameter,
                                           .gravity = air.gravity});
  out.inertia = rotor_inertia(engine, c.engine);
  out.lightoff_speed = lightoff_speed(engine, c.engine);
  out.air = air;
  return out;
}

}  // namespace windgap::engine
