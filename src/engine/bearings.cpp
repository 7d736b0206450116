#include "engine/bearings.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace windgap::engine {
namespace {

constexpr double square_millimetre = 1e-6;  // [m^2], the unit inside the double logarithm
constexpr double journals = 2.0;            // a rotor has two, with two thrust faces between them
constexpr double thrust_faces = 2.0;
constexpr int most_steps = 20;
constexpr double close_enough = 0x1p-24;  // of a film temperature

/// Eq. 4: ln ln Z = intercept - slope ln T with Z = (nu + offset)/mm^2.
struct Walther {
  double intercept = unset;
  double slope = unset;
};

double double_logarithm(double kinematic_viscosity, double offset) {
  return std::log(std::log((kinematic_viscosity + offset) / square_millimetre));
}

Walther walther(const Oil& oil, const BearingCoefficients& c) {
  const double cold = double_logarithm(oil.cold.kinematic_viscosity, c.viscosity_offset);
  const double hot = double_logarithm(oil.hot.kinematic_viscosity, c.viscosity_offset);
  const double slope = (cold - hot) / std::log(oil.hot.temperature / oil.cold.temperature);
  return {.intercept = cold + slope * std::log(oil.cold.temperature), .slope = slope};
}

/// Kinematic viscosity [m^2/s] and its derivative by temperature [m^2/(s K)].
struct Viscosity {
  double value = unset;
  double slope = unset;
};

Viscosity kinematic(const Walther& w, const BearingCoefficients& c, double temperature) {
  const double ln_z = std::exp(w.intercept - w.slope * std::log(temperature));
  const double z = std::exp(ln_z) * square_millimetre;
  return {.value = z - c.viscosity_offset, .slope = -z * ln_z * w.slope / temperature};
}

double to_the_fourth(double x) { return x * x * x * x; }

/// Torque of all journal and thrust films over dynamic viscosity and speed [m^3].
double films_per_viscosity(const Bearings& b, const BearingCoefficients& c) {
  const Film inner{.radius = 0.5 * b.journal_diameter,
                   .length = b.journal_length,
                   .clearance = b.inner_clearance};
  const double slipping = 1.0 - ring_speed_ratio(b, c);
  const double thrust = c.thrust_land_share * std::numbers::pi *
                        (to_the_fourth(0.5 * b.thrust_outer_diameter) -
                         to_the_fourth(0.5 * b.thrust_inner_diameter)) /
                        (2.0 * b.thrust_film);
  return journals * slipping * petroff_torque(inner, 1.0, 1.0) + thrust_faces * thrust;
}

double ball_pair(const Bearings& b,
                 const BearingCoefficients& c,
                 double kinematic_viscosity,
                 double speed) {
  const BallBearing one{.mean_diameter = b.ball_mean_diameter,
                        .load = b.ball_preload,
                        .kinematic_viscosity = kinematic_viscosity};
  return journals * ball_torque(one, c, speed);
}

}  // namespace

double petroff_torque(const Film& film, double viscosity, double speed) {
  return 2.0 * std::numbers::pi * viscosity * speed * film.radius * film.radius * film.radius *
         film.length / film.clearance;
}

double oil_viscosity(const Oil& oil, const BearingCoefficients& c, double temperature) {
  return oil.density * kinematic(walther(oil, c), c, temperature).value;
}

double ring_speed_ratio(const Bearings& b, const BearingCoefficients& c) {
  const Film inner{.radius = 0.5 * b.journal_diameter,
                   .length = b.journal_length,
                   .clearance = b.inner_clearance};
  const Film outer{.radius = 0.5 * b.ring_outer_diameter,
                   .length = b.ring_outer_length,
                   .clearance = b.outer_clearance};
  const double holding = c.ring_drag * petroff_torque(outer, 1.0, 1.0);
  const double driving = petroff_torque(inner, 1.0, 1.0);
  return driving / (driving + holding);
}

double ball_torque(const BallBearing& bearing, const BearingCoefficients& c, double speed) {
  // Palmgren's number is for mm, N mm, mm^2/s and 1/min; in SI the powers of ten go into f0's unit.
  const double d = bearing.mean_diameter;
  const double stirred = std::max(bearing.kinematic_viscosity * std::abs(speed), c.ball_onset);
  const double viscous = c.ball_viscous * std::cbrt(stirred * stirred) * d * d * d;
  return viscous + c.ball_load * bearing.load * d;
}

double drag_at_film_temperature(const Bearings& b,
                                const BearingCoefficients& c,
                                double speed,
                                double film_temperature) {
  const double nu = kinematic(walther(b.oil, c), c, film_temperature).value;
  if (b.kind == BearingKind::ball) return ball_pair(b, c, nu, speed);
  return films_per_viscosity(b, c) * b.oil.density * nu * std::abs(speed);
}

SteadyDrag steady_drag(const Bearings& b, const BearingCoefficients& c, double speed) {
  const double rate = std::abs(speed);
  const double warming = rate / (2.0 * b.oil.mass_flow * b.oil.specific_heat);  // [K/(N m)]
  const Walther oil = walther(b.oil, c);
  const double films =
      b.kind == BearingKind::journal ? films_per_viscosity(b, c) * b.oil.density * rate : unset;
  const auto torque_at = [&](double nu) {
    return b.kind == BearingKind::journal ? films * nu : ball_pair(b, c, nu, rate);
  };
  SteadyDrag steady{.film_temperature = b.oil.inlet_temperature};
  for (int step = 0; step < most_steps; ++step) {
    const Viscosity nu = kinematic(oil, c, steady.film_temperature);
    steady.torque = torque_at(nu.value);
    // Drag falls with film temperature, so Newton from the cold side climbs to the root without
    // passing it. For balls the film part's power 2/3 of viscosity makes this slope a safe bound.
    const double slope = steady.torque * nu.slope / nu.value;
    const double miss = b.oil.inlet_temperature + steady.torque * warming - steady.film_temperature;
    const double move = miss / (1.0 - slope * warming);
    steady.film_temperature += move;
    if (std::abs(move) < close_enough * steady.film_temperature) break;
  }
  steady.torque = torque_at(kinematic(oil, c, steady.film_temperature).value);
  return steady;
}

double breakaway_torque(const Bearings& b, const BearingCoefficients& c, const Resting& resting) {
  const double diameter =
      b.kind == BearingKind::journal ? b.journal_diameter : b.ball_mean_diameter;
  const double load = resting.rotor_mass * resting.gravity;
  const double seals =
      c.seal_drag * resting.exducer_diameter * resting.exducer_diameter * resting.exducer_diameter;
  return c.breakaway_friction * load * 0.5 * diameter + seals;
}

}  // namespace windgap::engine
