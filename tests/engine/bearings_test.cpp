#include "engine/bearings.h"

#include <gtest/gtest.h>

#include <cmath>

#include "engine/examples.h"
#include "engine/fallbacks.h"

namespace windgap::engine {
namespace {

const BearingCoefficients& coefficients() { return example::coefficients().bearings; }

TEST(Bearings, RingTurnsAtTheSpeedReportedForFloatingRings) {
  // Fit, not validation: ring_drag is set so that usual rings lie in 0.12 to 0.24.
  const double ratio = ring_speed_ratio(example::filled().bearings, coefficients());
  EXPECT_GT(ratio, 0.12);
  EXPECT_LT(ratio, 0.24);
}

TEST(Bearings, RingTorquesBalance) {
  const Bearings b = example::filled().bearings;
  const double ratio = ring_speed_ratio(b, coefficients());
  const Film inner{.radius = 0.5 * b.journal_diameter,
                   .length = b.journal_length,
                   .clearance = b.inner_clearance};
  const Film outer{.radius = 0.5 * b.ring_outer_diameter,
                   .length = b.ring_outer_length,
                   .clearance = b.outer_clearance};
  EXPECT_NEAR(petroff_torque(inner, 0.03, 1.0 - ratio),
              coefficients().ring_drag * petroff_torque(outer, 0.03, ratio),
              1e-15);
}

TEST(Bearings, OilMeetsItsLabel) {
  const Oil oil = example::filled().bearings.oil;
  for (const auto& point : {oil.cold, oil.hot}) {
    EXPECT_NEAR(oil_viscosity(oil, coefficients(), point.temperature),
                oil.density * point.kinematic_viscosity,
                1e-12);
  }
}

TEST(Bearings, OilThinsWithWarmth) {
  const Oil oil = example::filled().bearings.oil;
  double before = 10.0;
  for (double t = 263.15; t < 423.0; t += 10.0) {
    const double mu = oil_viscosity(oil, coefficients(), t);
    EXPECT_LT(mu, before) << t;
    EXPECT_GT(mu, 0.0) << t;
    before = mu;
  }
}

TEST(Bearings, SteadyFilmCarriesItsOwnHeatAway) {
  // P = 2 m c (T_film - T_in), and the torque belongs to that film temperature.
  for (auto kind : {BearingKind::journal, BearingKind::ball}) {
    Engine e = example::calipers();
    e.bearings.kind = kind;
    fill_fallbacks(e, example::coefficients());
    const Oil& oil = e.bearings.oil;
    for (const double speed : {10.0, 500.0, 3000.0, 14000.0}) {
      const auto steady = steady_drag(e.bearings, coefficients(), speed);
      EXPECT_NEAR(2.0 * oil.mass_flow * oil.specific_heat *
                      (steady.film_temperature - oil.inlet_temperature),
                  steady.torque * speed,
                  1e-4 * steady.torque * speed + 1e-9)
          << speed;
      EXPECT_NEAR(
          drag_at_film_temperature(e.bearings, coefficients(), speed, steady.film_temperature),
          steady.torque,
          1e-6 * steady.torque)
          << speed;
    }
  }
}

TEST(Bearings, ThrustShareIsNearTheMeasuredOne) {
  // Fit: Hoepke et al. (2015), abstract, find up to 38 % of the drag in the thrust bearing;
  // thrust_film is set for it. 0.05: the film's own spread moves the share by more.
  Bearings b = example::filled().bearings;
  const double all = drag_at_film_temperature(b, coefficients(), 1000.0, 330.0);
  b.thrust_outer_diameter = b.thrust_inner_diameter;
  const double journals = drag_at_film_temperature(b, coefficients(), 1000.0, 330.0);
  EXPECT_NEAR(1.0 - journals / all, 0.38, 0.05);
}

TEST(Bearings, TableFollowsTheFilms) {
  const Engine e = example::filled();
  const Prepared p = example::prepared();
  for (double speed = 200.0; speed < 1.3 * p.design_speed; speed += 173.0) {
    const double direct = steady_drag(e.bearings, coefficients(), speed).torque;
    EXPECT_NEAR(bearing_torque(p, speed), direct, 2e-3 * direct) << speed;
    EXPECT_EQ(bearing_torque(p, speed), bearing_torque(p, -speed));
  }
}

TEST(Bearings, TableHasNoKinks) {
  const Prepared p = example::prepared();
  const double h = 1e-3;
  for (std::size_t i = 1; i < DragTable::points; ++i) {
    const double node = static_cast<double>(i * i) / p.drag.per_speed;
    const double left = (bearing_torque(p, node) - bearing_torque(p, node - h)) / h;
    const double right = (bearing_torque(p, node + h) - bearing_torque(p, node)) / h;
    EXPECT_NEAR(left, right, 1e-3 * std::abs(left) + 1e-10) << i;
  }
}

TEST(Bearings, JournalDragVanishesAtRestAndBallDragDoesNot) {
  EXPECT_EQ(steady_drag(example::filled().bearings, coefficients(), 0.0).torque, 0.0);
  Engine e = example::calipers();
  e.bearings.kind = BearingKind::ball;
  fill_fallbacks(e, example::coefficients());
  EXPECT_GT(steady_drag(e.bearings, coefficients(), 0.0).torque, 0.0);
}

TEST(Bearings, BallsRunLighterThanRingsWhenColdAndFast) {
  Engine rings = example::calipers();
  rings.bearings.oil.inlet_temperature = 278.15;
  Engine balls = rings;
  balls.bearings.kind = BearingKind::ball;
  fill_fallbacks(rings, example::coefficients());
  fill_fallbacks(balls, example::coefficients());
  EXPECT_LT(steady_drag(balls.bearings, coefficients(), 3000.0).torque,
            steady_drag(rings.bearings, coefficients(), 3000.0).torque);
}

TEST(Bearings, HeavierRotorBreaksAwayLater) {
  const Bearings b = example::filled().bearings;
  const Resting light{.rotor_mass = 0.2, .exducer_diameter = 0.06, .gravity = 9.81};
  Resting heavy = light;
  heavy.rotor_mass = 0.4;
  const double shift =
      breakaway_torque(b, coefficients(), heavy) - breakaway_torque(b, coefficients(), light);
  EXPECT_NEAR(
      shift, coefficients().breakaway_friction * 0.2 * 9.81 * 0.5 * b.journal_diameter, 1e-15);
}

}  // namespace
}  // namespace windgap::engine
