#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "properties/scenes.h"
#include "support/models.h"

/// The edges of the box: high, cold, hot, small, large, beside the axis. Answers move the right way
/// and smoothly: a solver that stops at another last digit from point to point shows as second
/// differences that change sign.
namespace windgap::rig {
namespace {

using test::Scene;

Scene usual() {
  return {.inducer_diameter = 0.046,
          .bore_share = 1.4,
          .exit_velocity = 70.0,
          .hub_share = 0.42,
          .throttle = 1.0,
          .offset_share = 0.0,
          .tilt = 0.0,
          .altitude = 0.0,
          .temperature = 288.15,
          .oil_temperature = 313.15,
          .stand_off_share = 2.5,
          .vanes = true};
}

Rig of(const Scene& scene) {
  return assemble(test::fan_parts(scene), test::models(), JetChoice::estimated);
}

double delivered(const Scene& scene) { return deliver(of(scene), test::stand_off(scene)).airflow; }

/// Sign changes among second differences that are larger than a share `noise` of the values.
int ripples(const std::vector<double>& values, double noise) {
  int count = 0;
  double last = 0.0;
  for (std::size_t i = 1; i + 1 < values.size(); ++i) {
    const double bend = values[i - 1] - 2.0 * values[i] + values[i + 1];
    if (std::abs(bend) < noise * std::abs(values[i])) continue;
    if (bend * last < 0.0) ++count;
    last = bend;
  }
  return count;
}

/// Airflow at `points` values of one number of the scene from `low` to `high`.
std::vector<double> along(double Scene::*number, double low, double high, int points = 201) {
  std::vector<double> values;
  auto scene = usual();
  for (int i = 0; i < points; ++i) {
    scene.*number = low + (high - low) * i / (points - 1);
    values.push_back(delivered(scene));
  }
  return values;
}

void expect_rising(const std::vector<double>& values, double slack = 0.0) {
  for (std::size_t i = 1; i < values.size(); ++i) {
    EXPECT_GE(values[i], values[i - 1] * (1.0 - slack)) << "at " << i;
  }
}

void expect_falling(const std::vector<double>& values) {
  for (std::size_t i = 1; i < values.size(); ++i) {
    EXPECT_LE(values[i], values[i - 1]) << "at " << i;
  }
}

constexpr double noise = 1e-7;  // of the airflow; the solver closes to less

TEST(Edge, AirflowIsSmoothAlongTheBracketsTravel) {
  const auto rig = of(usual());
  std::vector<double> airflow;
  for (double mm = 20.0; mm <= 1000.0; mm += 1.0) {
    airflow.push_back(deliver(rig, mm / 1000.0).airflow);
  }
  EXPECT_LE(ripples(airflow, noise), 8);
}

TEST(Edge, TheRotorSettlesOnNoSpeedOfTheSearch) {
  // The search from rest steps through speeds; one that lies beside the balance must not be taken
  // for it.
  auto scene = usual();
  for (const double diameter : {0.034, 0.046, 0.060, 0.076}) {
    for (const double oil : {273.15, 293.15, 313.15, 333.15}) {
      scene.inducer_diameter = diameter;
      scene.oil_temperature = oil;
      const auto rig = of(scene);
      std::vector<double> speed;
      for (double mm = 100.0; mm <= 700.0; mm += 0.3) {
        speed.push_back(deliver(rig, mm / 1000.0).rotor_speed);
      }
      EXPECT_LE(ripples(speed, noise), 2) << diameter << " m, oil at " << oil << " K";
    }
  }
}

TEST(Edge, FarOffTheJetNoAirComesBack) {
  constexpr double trace = 1e-5;  // kg/s: a thousandth of what starts an engine
  auto scene = usual();
  scene.tilt = 0.0175;
  for (double throttle = 0.3; throttle < 1.01; throttle += 0.1) {
    scene.throttle = throttle;
    auto parts = test::fan_parts(scene);
    parts.site.wind = 1.0;
    for (const auto choice : {JetChoice::nozzle_like, JetChoice::propeller_like}) {
      const auto rig = assemble(parts, test::models(), choice);
      double last = deliver(rig, 2.0).airflow;
      for (double metres = 2.05; metres < 10.0; metres += 0.05) {
        const auto d = deliver(rig, metres);
        EXPECT_LE(d.airflow, last + trace) << throttle << " at " << metres;
        EXPECT_GE(d.total_pressure, 0.0) << throttle << " at " << metres;
        last = d.airflow;
      }
    }
  }
}

TEST(Edge, BesideAWeakJetTracesOfAirDoNotJumpBack) {
  // A mouth that the jet passes by may balance at two flows; which one is told must not hang on
  // where an iteration began.
  constexpr double mark = 0.02;   // of the larger neighbour
  constexpr double trace = 2e-5;  // [kg/s]: a thousandth of what starts an engine
  auto scene = usual();
  scene.offset_share = 0.65;
  for (const double throttle : {0.15, 0.25, 0.4}) {
    for (const double wind : {3.0, 7.0}) {
      scene.throttle = throttle;
      auto parts = test::fan_parts(scene);
      parts.site.wind = wind;
      const auto rig = assemble(parts, test::models(), JetChoice::estimated);
      std::vector<double> airflow;
      for (double mm = 100.0; mm <= 700.0; mm += 1.0) {
        const auto d = deliver(rig, mm / 1000.0);
        EXPECT_TRUE(d.converged) << throttle << ", " << wind << " m/s at " << mm;
        airflow.push_back(d.airflow);
      }
      int spikes = 0;
      for (std::size_t i = 1; i + 1 < airflow.size(); ++i) {
        const double before = airflow[i] - airflow[i - 1];
        const double after = airflow[i + 1] - airflow[i];
        const double least = mark * std::max(airflow[i - 1], airflow[i + 1]) + trace;
        if (before * after < 0.0 && std::abs(before) > least && std::abs(after) > least) ++spikes;
      }
      EXPECT_EQ(spikes, 0) << throttle << ", " << wind << " m/s";
    }
  }
}

TEST(Edge, HigherAltitudeLessAirSmoothly) {
  const auto airflow = along(&Scene::altitude, 0.0, 4000.0);
  expect_falling(airflow);
  EXPECT_LE(ripples(airflow, noise), 4);
}

TEST(Edge, WarmerRoomLessMassSmoothly) {
  const auto airflow = along(&Scene::temperature, 253.15, 318.15);
  expect_falling(airflow);
  EXPECT_LE(ripples(airflow, noise), 4);
}

TEST(Edge, WarmerOilMoreAirSmoothly) {
  const auto airflow = along(&Scene::oil_temperature, 263.15, 353.15);
  expect_rising(airflow, 1e-9);
  EXPECT_LE(ripples(airflow, noise), 4);
}

TEST(Edge, BesideTheAxisLessAirSmoothly) {
  const auto airflow = along(&Scene::offset_share, 0.0, 0.5);
  // Near the axis the hub's wake may hide in the wheel's own hub; the whole way brings less.
  EXPECT_LT(airflow.back(), airflow.front());
  EXPECT_LE(ripples(airflow, noise), 4);
}

TEST(Edge, LargerInducerMoreAirSmoothly) {
  const auto airflow = along(&Scene::inducer_diameter, 0.034, 0.120);
  expect_rising(airflow);
  EXPECT_LE(ripples(airflow, noise), 4);
}

TEST(Edge, FasterExitMoreAirSmoothly) {
  const auto airflow = along(&Scene::exit_velocity, 30.0, 110.0);
  expect_rising(airflow);
  EXPECT_LE(ripples(airflow, noise), 4);
}

}  // namespace
}  // namespace windgap::rig
