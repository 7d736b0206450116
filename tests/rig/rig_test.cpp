#include "rig/rig.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "engine/windmill.h"
#include "support/bench.h"
#include "support/models.h"

namespace windgap::rig {
namespace {

constexpr double rpm = std::numbers::pi / 30.0;

Rig garden(JetChoice choice = JetChoice::estimated) {
  return assemble(test::garden_parts(), test::models(), choice);
}

TEST(Rig, DeliversWhatTheEngineAloneWouldTakeFromThatSupply) {
  // The rig's fast root against the engine's own nested roots, fed with the rig's supply.
  const auto rig = garden();
  for (const double stand_off : {0.05, 0.15, 0.4}) {
    const auto d = deliver(rig, stand_off);
    ASSERT_TRUE(d.converged);
    const engine::Flow flow{.mass_flow = d.airflow,
                            .speed = d.rotor_speed,
                            .inlet_total_pressure = rig.ambient.pressure + d.wheel_pressure,
                            .inlet_total_temperature = rig.ambient.temperature,
                            .inlet_swirl = d.inlet_swirl};
    const auto path = engine::march(rig.engine, rig.ambient, flow);
    EXPECT_NEAR(path.pressure_residual, 0.0, 1e-6 * d.inducer_pressure);
    EXPECT_NEAR(engine::net_torque(rig.engine, path, d.rotor_speed),
                0.0,
                1e-7 * engine::bearing_torque(rig.engine, d.rotor_speed));
  }
}

TEST(Rig, SettlesAtTheFirstBalanceFromRest) {
  const auto rig = garden();
  const auto d = deliver(rig, 0.15);
  engine::Flow flow{.mass_flow = d.airflow,
                    .inlet_total_pressure = rig.ambient.pressure + d.wheel_pressure,
                    .inlet_total_temperature = rig.ambient.temperature};
  for (double share = 0.05; share < 0.99; share += 0.05) {
    flow.speed = share * d.rotor_speed;
    const auto path = engine::march(rig.engine, rig.ambient, flow);
    EXPECT_GT(engine::net_torque(rig.engine, path, flow.speed), 0.0) << share;
  }
  EXPECT_FALSE(has_second_branch(rig, 0.15));
}

TEST(Rig, TurnsAsFastAsSmallUnitsDo) {
  // Common practice, no source: some 20 000 rpm blown cold; a factor of two either way.
  const auto d = deliver(garden(), 0.15);
  EXPECT_GT(d.rotor_speed, 10000 * rpm);
  EXPECT_LT(d.rotor_speed, 40000 * rpm);
}

TEST(Rig, ColdThickOilSlowsTheRotor) {
  auto parts = test::garden_parts();
  const auto warm = deliver(assemble(parts, test::models(), JetChoice::estimated), 0.15);
  parts.engine.bearings.oil.inlet_temperature = 275.15;
  const auto cold = deliver(assemble(parts, test::models(), JetChoice::estimated), 0.15);
  EXPECT_LT(cold.rotor_speed, 0.8 * warm.rotor_speed);
  EXPECT_LT(cold.airflow, warm.airflow);
}

TEST(Rig, BoundsEncloseTheEstimate) {
  for (const double stand_off : {0.1, 0.2, 0.4, 0.6}) {
    const double far = deliver(garden(JetChoice::nozzle_like), stand_off).airflow;
    const double near = deliver(garden(JetChoice::propeller_like), stand_off).airflow;
    const double between = deliver(garden(), stand_off).airflow;
    EXPECT_LT(near, between * (1.0 + 1e-9));
    EXPECT_GT(far * (1.0 + 1e-2), between);
  }
}

TEST(Rig, MoreThrottleMoreAir) {
  const auto rig = garden();
  double before = 0.0;
  for (const double throttle : {0.4, 0.6, 0.8, 1.0}) {
    const double airflow = deliver(with_throttle(rig, throttle), 0.2).airflow;
    EXPECT_GT(airflow, before);
    before = airflow;
  }
}

TEST(Rig, MirroredBenchAnswersTheSame) {
  auto parts = test::garden_parts();
  const double right = deliver(assemble(parts, test::models(), JetChoice::estimated), 0.2).airflow;
  parts.mounting = {.offset = -parts.mounting.offset, .tilt = -parts.mounting.tilt};
  const double left = deliver(assemble(parts, test::models(), JetChoice::estimated), 0.2).airflow;
  EXPECT_DOUBLE_EQ(right, left);
}

TEST(Rig, UnknownSenseOfRotationIsTheWorseOne) {
  auto parts = test::garden_parts();
  std::get<fan::Fan>(parts.source).vanes = fan::Vanes::no;
  const auto airflow = [&](Sense sense) {
    parts.sense = sense;
    return deliver(assemble(parts, test::models(), JetChoice::estimated), 0.15).airflow;
  };
  const double same = airflow(Sense::same);
  const double opposite = airflow(Sense::opposite);
  EXPECT_NE(same, opposite);
  EXPECT_DOUBLE_EQ(airflow(Sense::unknown), std::min(same, opposite));
}

TEST(Rig, AirflowIsSmoothAlongTheGap) {
  // A tenth of a millimetre: third differences of a smooth curve vanish against solver noise.
  const auto rig = garden(JetChoice::nozzle_like);
  const double h = 1e-4;
  for (double stand_off = 0.03; stand_off < 0.35; stand_off += 0.0101) {
    std::array<double, 4> m{};
    for (std::size_t i = 0; i < m.size(); ++i) {
      m[i] = deliver(rig, stand_off + h * static_cast<double>(i)).airflow;
    }
    const double third = m[3] - 3.0 * m[2] + 3.0 * m[1] - m[0];
    EXPECT_LT(std::abs(third), 1e-6 * m[0]) << stand_off;
  }
}

TEST(Rig, ReadingsDecideTheRegime) {
  auto parts = test::garden_parts();
  parts.drive.pack.state_of_charge = 1.0;
  parts.drive.pack.temperature = unset;
  const auto truth = assemble(parts, test::models(), JetChoice::propeller_like);
  const double distance = 0.25;
  const double radius = 0.7 * truth.jet.exit.rim_radius;
  const auto section = jet::section(truth.jet, distance, truth.jet_coefficients);
  const double u = jet::local(section, radius / jet::stream_radius(truth.jet.exit)).axial;
  parts.axis_readings = {
      {.distance = distance, .radius = radius, .pressure = u * u * truth.open.dynamic_head}};
  const auto fitted = assemble(parts, test::models(), JetChoice::estimated);
  EXPECT_EQ(fitted.jet_source, JetSource::readings);
  EXPECT_NEAR(fitted.propeller_share, truth.propeller_share, 1e-3);
}

TEST(Rig, ReadingsBelongToTheThrottleTheyWereTakenAt) {
  auto parts = test::garden_parts();
  parts.drive.pack.state_of_charge = 1.0;
  parts.drive.pack.temperature = unset;
  const auto blown = assemble(parts, test::models(), JetChoice::estimated);
  const double head = blown.open.dynamic_head;
  parts.axis_readings = {{.distance = 0.25, .radius = 0.02, .pressure = 0.45 * head},
                         {.distance = 0.40, .radius = 0.02, .pressure = 0.25 * head}};
  const auto full = assemble(parts, test::models(), JetChoice::estimated);
  parts.throttle = 0.8;
  const auto less = assemble(parts, test::models(), JetChoice::estimated);
  // The same jet, slower: swirl and wind change a little with it.
  EXPECT_NEAR(less.propeller_share, full.propeller_share, 5e-3);
  EXPECT_LT(deliver(less, 0.25).airflow, 0.95 * deliver(full, 0.25).airflow);
  // Read at the lower throttle, the same pressures are more of the lower head.
  for (auto& reading : parts.axis_readings) reading.throttle = 0.8;
  const auto read_low = assemble(parts, test::models(), JetChoice::estimated);
  EXPECT_LT(read_low.propeller_share, full.propeller_share);
}

TEST(Rig, ReadingsSayTheSameOfTheJetWhateverThePackHolds) {
  auto parts = test::garden_parts();
  parts.drive.pack.state_of_charge = 1.0;
  parts.axis_readings = {{.distance = 0.25, .radius = 0.02, .pressure = 2000.0}};
  const auto charged = assemble(parts, test::models(), JetChoice::estimated);
  parts.drive.pack.state_of_charge = 0.3;
  const auto weak = assemble(parts, test::models(), JetChoice::estimated);
  // Swirl and wind change a little with the speed of the jet.
  EXPECT_NEAR(weak.propeller_share, charged.propeller_share, 2e-3);
  EXPECT_LT(deliver(weak, 0.2).airflow, deliver(charged, 0.2).airflow);
}

TEST(Rig, AskedRotorSpeedSetsTheStartingAirflow) {
  auto parts = test::garden_parts();
  parts.start.rotor_speed = 9000 * rpm;
  const auto slow = assemble(parts, test::models(), JetChoice::estimated);
  parts.start.rotor_speed = 12000 * rpm;
  const auto fast = assemble(parts, test::models(), JetChoice::estimated);
  EXPECT_LT(slow.starting_airflow, fast.starting_airflow);
  parts.start.airflow = 0.02;
  EXPECT_EQ(assemble(parts, test::models(), JetChoice::estimated).starting_airflow, 0.02);
}

TEST(Rig, StartingAirflowIsWhatTheEngineAloneTakesAtThatSpeed) {
  // Against the engine's own nested roots: raise the supply until it settles at the speed.
  auto parts = test::garden_parts();
  for (const double speed : {4000 * rpm, 10000 * rpm, 20000 * rpm, 35000 * rpm}) {
    parts.start.rotor_speed = speed;
    const auto rig = assemble(parts, test::models(), JetChoice::estimated);
    double low = 10.0;
    double high = 60e3;
    engine::Windmill settled;
    for (int i = 0; i < 60; ++i) {
      const double middle = 0.5 * (low + high);
      settled = engine::windmill(rig.engine,
                                 rig.ambient,
                                 {.total_pressure = rig.ambient.pressure + middle,
                                  .total_temperature = rig.ambient.temperature});
      (settled.speed < speed ? low : high) = middle;
    }
    EXPECT_NEAR(rig.starting_airflow, settled.mass_flow, 1e-5 * settled.mass_flow) << speed;
  }
}

TEST(Rig, ResponseTableFollowsTheFan) {
  const auto rig = garden();
  for (const double ratio : {0.03, 0.2, 0.7, 1.6, 4.0}) {
    const double exact =
        fan::operate(rig.fan, rig.throttle, ratio).exit_velocity / rig.open.exit_velocity;
    EXPECT_NEAR(respond(rig.response, ratio).velocity, exact, 2e-3);
  }
}

}  // namespace
}  // namespace windgap::rig
