#include "engine/fallbacks.h"

#include <cmath>
#include <numbers>
#include <string>
#include <utility>

#include "engine/rotor.h"

namespace windgap::engine {
namespace {

constexpr double pi = std::numbers::pi;

class Filler {
 public:
  void fill(double& field, const char* key, double value, const char* why) {
    if (!std::isnan(field)) return;
    field = value;
    assumed_.push_back({.field = key, .value = value, .why = why});
  }
  [[nodiscard]] std::vector<Assumed> take() { return std::move(assumed_); }

 private:
  std::vector<Assumed> assumed_;
};

void fill_compressor(Filler& f, Compressor& k, const CompressorCoefficients& c) {
  f.fill(k.inducer_hub_diameter,
         "compressor.inducer_hub_diameter",
         c.hub_ratio * k.inducer_diameter,
         "usual share of the inducer (hub_ratio)");
  f.fill(k.tip_width,
         "compressor.tip_width",
         c.tip_width_ratio * k.exducer_diameter,
         "usual share of the exducer (tip_width_ratio)");
  f.fill(k.blades, "compressor.blades", c.full_blades, "usual count (full_blades)");
  f.fill(k.splitters, "compressor.splitters", c.splitter_blades, "usual count (splitter_blades)");
  f.fill(k.backsweep, "compressor.backsweep", c.backsweep, "usual angle (backsweep)");
  f.fill(k.inducer_tip_angle,
         "compressor.inducer_tip_angle",
         c.inducer_tip_angle,
         "usual angle (inducer_tip_angle)");
  f.fill(k.clearance,
         "compressor.clearance",
         c.clearance_ratio * k.tip_width,
         "usual share of the tip width (clearance_ratio)");
  f.fill(k.diffuser_diameter,
         "compressor.diffuser_diameter",
         c.diffuser_ratio * k.exducer_diameter,
         "usual multiple of the exducer (diffuser_ratio)");
  f.fill(k.volute_area_over_radius,
         "compressor.volute_area_over_radius",
         2.0 * pi * k.tip_width * c.volute_matching,
         "housing drawn for the wheel's swirl at full speed (volute_matching)");
}

void fill_turbine(Filler& f, Turbine& t, const TurbineCoefficients& c) {
  f.fill(t.tip_width,
         "turbine.tip_width",
         c.tip_width_ratio * t.inducer_diameter,
         "usual share of the wheel (tip_width_ratio)");
  f.fill(t.exducer_hub_diameter,
         "turbine.exducer_hub_diameter",
         c.hub_ratio * t.exducer_diameter,
         "usual share of the exducer (hub_ratio)");
  f.fill(t.blades, "turbine.blades", c.blades, "usual count (blades)");
  f.fill(t.exit_blade_angle,
         "turbine.exit_blade_angle",
         c.exit_blade_angle,
         "usual angle (exit_blade_angle)");
  f.fill(t.clearance,
         "turbine.clearance",
         c.clearance_ratio * 0.5 * (t.exducer_diameter - t.exducer_hub_diameter),
         "usual share of the outlet blade height (clearance_ratio)");
}

void fill_gas_path(Filler& f, Engine& e, const CombustorCoefficients& c) {
  const double inducer = 0.25 * pi * e.compressor.inducer_diameter * e.compressor.inducer_diameter;
  Combustor& b = e.combustor;
  f.fill(b.reference_area,
         "combustor.reference_area",
         c.reference_area_ratio * inducer,
         "usual multiple of the inducer's area (reference_area_ratio)");
  f.fill(b.flame_holder_area,
         "combustor.flame_holder_area",
         c.flame_holder_area_ratio * b.reference_area,
         "usual share of the case (flame_holder_area_ratio)");
  const double diameter = std::sqrt(4.0 * b.reference_area / pi);
  f.fill(b.volume,
         "combustor.volume",
         c.tube_area_ratio * b.reference_area * c.length_ratio * diameter,
         "usual flame tube (tube_area_ratio, length_ratio)");
  f.fill(b.cold_loss_factor,
         "combustor.cold_loss_factor",
         c.cold_loss_factor,
         "tubular burner (cold_loss_factor)");
  f.fill(b.hot_loss_factor,
         "combustor.hot_loss_factor",
         c.hot_loss_factor,
         "heating in a duct (hot_loss_factor)");
  const Turbine& t = e.turbine;
  f.fill(e.exhaust.area,
         "exhaust.area",
         c.exhaust_area_ratio * 0.25 * pi *
             (t.exducer_diameter * t.exducer_diameter -
              t.exducer_hub_diameter * t.exducer_hub_diameter),
         "usual multiple of the turbine's outlet (exhaust_area_ratio)");
  f.fill(e.exhaust.loss_factor,
         "exhaust.loss_factor",
         c.exhaust_loss_factor,
         "short pipe (exhaust_loss_factor)");
}

void fill_journals(Filler& f, Bearings& b, const BearingCoefficients& c, double exducer) {
  f.fill(b.journal_diameter,
         "bearings.journal_diameter",
         c.journal_ratio * exducer,
         "usual share of the compressor wheel (journal_ratio)");
  f.fill(b.journal_length,
         "bearings.journal_length",
         c.journal_length_ratio * b.journal_diameter,
         "usual share of the journal (journal_length_ratio)");
  f.fill(b.inner_clearance,
         "bearings.inner_clearance",
         c.inner_clearance_ratio * b.journal_diameter,
         "usual share of the journal (inner_clearance_ratio)");
  f.fill(b.outer_clearance,
         "bearings.outer_clearance",
         c.outer_clearance_ratio * b.journal_diameter,
         "usual share of the journal (outer_clearance_ratio)");
  f.fill(b.ring_outer_diameter,
         "bearings.ring_outer_diameter",
         c.ring_diameter_ratio * b.journal_diameter,
         "usual multiple of the journal (ring_diameter_ratio)");
  f.fill(b.ring_outer_length,
         "bearings.ring_outer_length",
         c.ring_length_ratio * b.journal_length,
         "usual multiple of the film (ring_length_ratio)");
  f.fill(b.thrust_inner_diameter,
         "bearings.thrust_inner_diameter",
         c.thrust_inner_ratio * b.journal_diameter,
         "usual multiple of the journal (thrust_inner_ratio)");
  f.fill(b.thrust_outer_diameter,
         "bearings.thrust_outer_diameter",
         c.thrust_outer_ratio * b.journal_diameter,
         "usual multiple of the journal (thrust_outer_ratio)");
  f.fill(b.thrust_film, "bearings.thrust_film", c.thrust_film, "usual film (thrust_film)");
}

void fill_bearings(Filler& f, Bearings& b, const BearingCoefficients& c, double exducer) {
  const bool journals = b.kind == BearingKind::journal;
  if (journals) {
    fill_journals(f, b, c, exducer);
  } else {
    f.fill(b.ball_mean_diameter,
           "bearings.ball_mean_diameter",
           c.ball_diameter_ratio * exducer,
           "usual share of the compressor wheel (ball_diameter_ratio)");
    f.fill(b.ball_preload, "bearings.ball_preload", c.ball_preload, "usual spring (ball_preload)");
  }
  const double width = journals ? b.journal_diameter : c.ball_flow_share * b.ball_mean_diameter;
  f.fill(b.oil.density, "bearings.oil.density", c.oil_density, "mineral oil (oil_density)");
  f.fill(b.oil.specific_heat,
         "bearings.oil.specific_heat",
         c.oil_specific_heat,
         "mineral oil (oil_specific_heat)");
  f.fill(b.oil.inlet_temperature,
         "bearings.oil.inlet_temperature",
         c.oil_inlet_temperature,
         "an unheated workshop (oil_inlet_temperature)");
  f.fill(b.oil.mass_flow,
         "bearings.oil.mass_flow",
         c.oil_flow_per_area * width * width,
         "usual pump (oil_flow_per_area)");
}

void fill_mouth(Filler& f, Mouth& m, double throat) {
  f.fill(m.throat_diameter, "mouth.throat_diameter", throat, "the inducer's bore");
  f.fill(m.lip_radius, "mouth.lip_radius", 0.0, "no lip stated: a bare edge");
  f.fill(m.diameter, "mouth.diameter", m.throat_diameter + 2.0 * m.lip_radius, "throat and lip");
  f.fill(m.face_diameter, "mouth.face_diameter", m.diameter, "no flange stated");
}

}  // namespace

std::vector<Assumed> fill_fallbacks(Engine& e, const Coefficients& c) {
  Filler f;
  if (e.resistance) {
    fill_mouth(f, e.mouth, e.resistance->throat_diameter);
    return f.take();
  }
  fill_mouth(f, e.mouth, e.compressor.inducer_diameter);
  fill_compressor(f, e.compressor, c.compressor);
  fill_turbine(f, e.turbine, c.turbine);
  fill_gas_path(f, e, c.combustor);
  fill_bearings(f, e.bearings, c.bearings, e.compressor.exducer_diameter);
  f.fill(e.rotor.inertia,
         "rotor.inertia",
         rotor_inertia(e, c.engine),
         "wheels and shaft by size (compressor_wheel_inertia, turbine_wheel_inertia)");
  f.fill(e.rotor.mass,
         "rotor.mass",
         rotor_mass(e, c.engine),
         "wheels and shaft by size (compressor_wheel_mass, turbine_wheel_mass)");
  f.fill(e.design_tip_speed,
         "design_tip_speed",
         c.engine.design_tip_speed,
         "usual full speed (design_tip_speed)");
  return f.take();
}

std::vector<std::string> missing(const Engine& e) {
  std::vector<std::string> keys;
  const auto need = [&](double value, const char* key) {
    if (std::isnan(value)) keys.emplace_back(key);
  };
  if (e.resistance) {
    need(e.resistance->throat_diameter, "resistance.throat_diameter");
    need(e.resistance->loss_factor, "resistance.loss_factor");
    return keys;
  }
  need(e.compressor.inducer_diameter, "compressor.inducer_diameter");
  need(e.compressor.exducer_diameter, "compressor.exducer_diameter");
  need(e.turbine.inducer_diameter, "turbine.inducer_diameter");
  need(e.turbine.exducer_diameter, "turbine.exducer_diameter");
  need(e.turbine.volute_area_over_radius, "turbine.volute_area_over_radius");
  const Oil& oil = e.bearings.oil;
  need(oil.cold.temperature, "bearings.oil.cold.temperature");
  need(oil.cold.kinematic_viscosity, "bearings.oil.cold.kinematic_viscosity");
  need(oil.hot.temperature, "bearings.oil.hot.temperature");
  need(oil.hot.kinematic_viscosity, "bearings.oil.hot.kinematic_viscosity");
  return keys;
}

}  // namespace windgap::engine
