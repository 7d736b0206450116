#include "engine/rotor.h"

#include <cmath>
#include <numbers>

namespace windgap::engine {
namespace {

struct Shaft {
  double radius = unset;  ///< [m]
  double mass = unset;    ///< [kg]
};

/// A plain bar of turbine-wheel steel, as thick as the journal.
Shaft shaft(const Engine& engine, const EngineCoefficients& c) {
  const double diameter = engine.bearings.kind == BearingKind::journal
                              ? engine.bearings.journal_diameter
                              : c.ball_shaft_share * engine.bearings.ball_mean_diameter;
  const double radius = 0.5 * diameter;
  const double length = c.shaft_length_ratio * engine.compressor.exducer_diameter;
  return {.radius = radius,
          .mass = c.turbine_wheel_density * std::numbers::pi * radius * radius * length};
}

}  // namespace

double rotor_inertia(const Engine& engine, const EngineCoefficients& c) {
  if (!std::isnan(engine.rotor.inertia)) return engine.rotor.inertia;
  const double r2 = 0.5 * engine.compressor.exducer_diameter;
  const double r3 = 0.5 * engine.turbine.inducer_diameter;
  const Shaft bar = shaft(engine, c);
  return c.compressor_wheel_inertia * c.compressor_wheel_density * r2 * r2 * r2 * r2 * r2 +
         c.turbine_wheel_inertia * c.turbine_wheel_density * r3 * r3 * r3 * r3 * r3 +
         0.5 * bar.mass * bar.radius * bar.radius;
}

double rotor_mass(const Engine& engine, const EngineCoefficients& c) {
  if (!std::isnan(engine.rotor.mass)) return engine.rotor.mass;
  const double r2 = 0.5 * engine.compressor.exducer_diameter;
  const double r3 = 0.5 * engine.turbine.inducer_diameter;
  return c.compressor_wheel_mass * c.compressor_wheel_density * r2 * r2 * r2 +
         c.turbine_wheel_mass * c.turbine_wheel_density * r3 * r3 * r3 + shaft(engine, c).mass;
}

double lightoff_speed(const Engine& engine, const EngineCoefficients& c) {
  return c.lightoff_share * engine.design_tip_speed / (0.5 * engine.compressor.exducer_diameter);
}

}  // namespace windgap::engine
