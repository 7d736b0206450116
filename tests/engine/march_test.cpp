#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "engine/engine.h"
#include "engine/examples.h"
#include "engine/windmill.h"
#include "support/models.h"

namespace windgap::engine {
namespace {

using example::prepared;
using example::run;

constexpr double cold_exponent = 3.5;

/// States over the whole range: at rest, windmilling, braking, fast; cold and lit.
std::vector<example::Push> states() {
  std::vector<example::Push> all;
  for (const double t4 : {0.0, 600.0, 1050.0}) {
    for (const double speed : {0.0, 300.0, 1500.0, 5000.0, 10000.0}) {
      for (const double flow : {0.002, 0.01, 0.02, 0.04}) {
        for (const double swirl : {-0.2, 0.0, 0.2}) {
          all.push_back(
              {.mass_flow = flow, .speed = speed, .swirl = swirl, .turbine_temperature = t4});
        }
      }
    }
  }
  return all;
}

double cold_heat() {
  const auto room = example::room();
  return cold_exponent * room.pressure / (room.density * room.temperature);
}

TEST(EngineMarch, NoFlowAtRestLosesNothing) {
  const auto path = run(prepared(), {.mass_flow = 0.0, .speed = 0.0});
  EXPECT_NEAR(path.pressure_residual, 3500.0, 1e-9);
  EXPECT_EQ(path.compressor_torque, 0.0);
  EXPECT_EQ(path.turbine_torque, 0.0);
}

TEST(EngineMarch, StandstillIsALossThatRisesLikeTheSquare) {
  const Prepared e = prepared();
  const auto loss = [&](double flow) {
    return 3500.0 - run(e, {.mass_flow = flow}).pressure_residual;
  };
  // Friction falls a little with Reynolds number, hence not quite 4.
  EXPECT_NEAR(loss(0.012) / loss(0.006), 4.0, 0.1);
  double before = 1e9;
  for (double flow = 0.001; flow < 0.07; flow += 0.001) {
    const double residual = run(e, {.mass_flow = flow}).pressure_residual;
    EXPECT_LT(residual, before) << flow;
    before = residual;
  }
}

TEST(EngineMarch, BothWheelsTurnTheRotorForwardFromRest) {
  const auto path = run(prepared(), {.mass_flow = 0.02});
  EXPECT_GT(path.compressor_torque, 0.0);
  EXPECT_GT(path.turbine_torque, 0.0);
  EXPECT_EQ(path.compressor_work, 0.0);
  EXPECT_EQ(path.turbine_work, 0.0);
}

TEST(EngineMarch, TotalEnthalpyClosesWithTheWork) {
  const Prepared e = prepared();
  const auto& air = test::models().air;
  for (const auto& state : states()) {
    const auto path = run(e, state);
    EXPECT_NEAR(cold_heat() * (path.compressor_exit.temperature - example::room().temperature),
                path.compressor_work,
                1e-6 * std::abs(path.compressor_work) + 1e-6);
    const double heat =
        path.lit ? air::specific_heat(air, path.turbine_inlet.temperature, 0.015) : cold_heat();
    EXPECT_NEAR(heat * (path.turbine_inlet.temperature - path.turbine_exit.temperature),
                path.turbine_work,
                1e-6 * std::abs(path.turbine_work) + 1e-6);
  }
}

TEST(EngineMarch, TorqueTimesSpeedIsTheWorkWithoutDiscFriction) {
  Coefficients c = example::coefficients();
  c.compressor.disc_moment = 0.0;
  c.turbine.disc_moment = 0.0;
  const Prepared e = prepare(example::filled(), c, test::models().air);
  for (const auto& state : states()) {
    const auto path = run(e, state);
    EXPECT_NEAR(path.compressor_torque * state.speed,
                -state.mass_flow * path.compressor_work,
                1e-9 * std::abs(path.compressor_work));
    const double gas = state.mass_flow * (path.lit ? 1.015 : 1.0);
    EXPECT_NEAR(path.turbine_torque * state.speed,
                gas * path.turbine_work,
                1e-9 * std::abs(path.turbine_work));
  }
}

TEST(EngineMarch, DiscFrictionOnlyBrakes) {
  Coefficients c = example::coefficients();
  c.compressor.disc_moment = 0.0;
  c.turbine.disc_moment = 0.0;
  const Prepared smooth = prepare(example::filled(), c, test::models().air);
  const Prepared e = prepared();
  for (const auto& state : states()) {
    EXPECT_LE(run(e, state).compressor_torque, run(smooth, state).compressor_torque);
    EXPECT_LE(run(e, state).turbine_torque, run(smooth, state).turbine_torque);
  }
}

TEST(EngineMarch, LossesAreNeverNegative) {
  const Prepared e = prepared();
  const auto& air = test::models().air;
  for (const auto& state : states()) {
    const auto path = run(e, state);
    const double inlet = example::room().pressure + state.pressure;
    const double lossless =
        inlet *
        std::pow(path.compressor_exit.temperature / example::room().temperature, cold_exponent);
    EXPECT_LE(path.compressor_exit.pressure, lossless * (1.0 + 1e-12));
    EXPECT_LE(path.turbine_inlet.pressure, path.compressor_exit.pressure);
    const double exponent = path.lit
                                ? air::specific_heat(air, path.turbine_inlet.temperature, 0.015) /
                                      (air::gas_constant(air, 0.015))
                                : cold_exponent;
    EXPECT_LE(
        path.turbine_exit.pressure,
        path.turbine_inlet.pressure *
            std::pow(path.turbine_exit.temperature / path.turbine_inlet.temperature, exponent) *
            (1.0 + 1e-6));
  }
}

TEST(EngineMarch, SwirlWithTheRotorSavesCompressorWork) {
  const Prepared e = prepared();
  const double with = run(e, {.mass_flow = 0.02, .speed = 2000.0, .swirl = 0.2}).compressor_work;
  const double none = run(e, {.mass_flow = 0.02, .speed = 2000.0}).compressor_work;
  const double against =
      run(e, {.mass_flow = 0.02, .speed = 2000.0, .swirl = -0.2}).compressor_work;
  // The wheel's exit density shifts a little too: 1 %.
  EXPECT_NEAR(none - with, 2000.0 * 0.2, 0.01 * 2000.0 * 0.2);
  EXPECT_NEAR(against - none, 2000.0 * 0.2, 0.01 * 2000.0 * 0.2);
}

TEST(EngineMarch, SwirlFedToAWheelAtRestTurnsIt) {
  const Prepared e = prepared();
  EXPECT_NEAR(run(e, {.mass_flow = 0.02, .swirl = 0.2}).compressor_torque -
                  run(e, {.mass_flow = 0.02}).compressor_torque,
              0.02 * 0.2,
              1e-4);
}

/// A geometrically similar engine in flow that does not feel viscosity.
struct Similar {
  Prepared one;
  Prepared twice;
};

Similar similar_engines() {
  Coefficients c = example::coefficients();
  c.compressor.reynolds_fixed_share = 1.0;
  Engine small = example::filled();
  Engine large = small;
  const auto double_it = [](auto&... length) { ((length *= 2.0), ...); };
  auto& k = large.compressor;
  double_it(k.inducer_diameter,
            k.inducer_hub_diameter,
            k.exducer_diameter,
            k.tip_width,
            k.clearance,
            k.diffuser_diameter,
            k.volute_area_over_radius);
  auto& t = large.turbine;
  double_it(t.inducer_diameter,
            t.tip_width,
            t.exducer_diameter,
            t.exducer_hub_diameter,
            t.clearance,
            t.volute_area_over_radius);
  large.combustor.reference_area *= 4.0;
  large.combustor.flame_holder_area *= 4.0;
  large.exhaust.area *= 4.0;
  const auto& air = test::models().air;
  return {.one = prepare(small, c, air), .twice = prepare(large, c, air)};
}

TEST(EngineMarch, SimilarEnginesAtOneTipSpeedDoTheSame) {
  const Similar e = similar_engines();
  for (auto state : states()) {
    const auto small = run(e.one, state);
    auto scaled = state;
    scaled.mass_flow *= 4.0;
    scaled.speed *= 0.5;
    scaled.swirl *= 2.0;
    const auto large = run(e.twice, scaled);
    EXPECT_NEAR(large.pressure_residual, small.pressure_residual, 1e-6 * 1e5);
    EXPECT_NEAR(large.turbine_torque, 8.0 * small.turbine_torque, 1e-9 * 8.0);
    EXPECT_NEAR(large.compressor_torque, 8.0 * small.compressor_torque, 1e-9 * 8.0);
  }
}

TEST(EngineMarch, TwiceThePressureTakesTwiceTheFlow) {
  const Prepared e = similar_engines().one;
  auto thin = example::room();
  auto thick = thin;
  thick.pressure *= 2.0;
  thick.density *= 2.0;
  for (const double speed : {0.0, 2000.0, 9000.0}) {
    auto flow = example::flow({.mass_flow = 0.02, .speed = speed});
    const auto one = march(e, thin, flow);
    flow.mass_flow *= 2.0;
    flow.inlet_total_pressure *= 2.0;
    const auto two = march(e, thick, flow);
    EXPECT_NEAR(two.pressure_residual, 2.0 * one.pressure_residual, 1e-5);
    EXPECT_NEAR(two.turbine_torque, 2.0 * one.turbine_torque, 1e-12);
  }
}

/// Largest second difference over h, scaled so that a kink shows as growth when h shrinks.
double bend(const Prepared& e,
            example::Push push,
            double step,
            double example::Push::*along,
            double GasPath::*what) {
  auto low = push;
  auto high = push;
  low.*along -= step;
  high.*along += step;
  return std::abs(run(e, low).*what - 2.0 * run(e, push).*what + run(e, high).*what) /
         (step * step);
}

TEST(EngineMarch, IsSmoothInFlowAndSpeed) {
  const Prepared e = prepared();
  for (const double speed : {0.0, 900.0, 4000.0}) {
    for (double flow = 0.004; flow < 0.05; flow += 0.0007) {
      const example::Push push{.mass_flow = flow, .speed = speed + 50.0};
      const double coarse =
          bend(e, push, 4e-4, &example::Push::mass_flow, &GasPath::pressure_residual);
      const double fine =
          bend(e, push, 1e-5, &example::Push::mass_flow, &GasPath::pressure_residual);
      EXPECT_LT(fine, 3.0 * coarse + 1e6) << flow << ' ' << speed;
      const double along = bend(e, push, 40.0, &example::Push::speed, &GasPath::pressure_residual);
      const double finer = bend(e, push, 1.0, &example::Push::speed, &GasPath::pressure_residual);
      EXPECT_LT(finer, 3.0 * along + 1e-3) << flow << ' ' << speed;
    }
  }
}

TEST(EngineMarch, FarBeyondChokeIsFlaggedAndFinite) {
  const Prepared e = prepared();
  for (const double speed : {0.0, 3000.0, 14000.0}) {
    for (const double flow : {0.4, 2.0, 50.0}) {
      for (const double t4 : {0.0, 1100.0}) {
        const auto path = run(e, {.mass_flow = flow, .speed = speed, .turbine_temperature = t4});
        EXPECT_TRUE(path.choked);
        EXPECT_TRUE(std::isfinite(path.pressure_residual));
        EXPECT_TRUE(std::isfinite(path.turbine_torque));
        EXPECT_TRUE(std::isfinite(path.compressor_torque));
        EXPECT_LT(path.pressure_residual, 0.0);
      }
    }
  }
}

TEST(EngineMarch, ResidualPassesChokeWithoutAJump) {
  // The slope is infinite at choke, so the flow on both sides must be very near it.
  const Prepared e = prepared();
  for (const double speed : {0.0, 3000.0, 9000.0}) {
    double free = 0.01;
    double choked = 0.5;
    while (choked - free > 1e-14) {
      const double middle = 0.5 * (free + choked);
      (run(e, {.mass_flow = middle, .speed = speed}).choked ? choked : free) = middle;
    }
    EXPECT_NEAR(run(e, {.mass_flow = free, .speed = speed}).pressure_residual,
                run(e, {.mass_flow = choked, .speed = speed}).pressure_residual,
                1.0)
        << speed;
  }
}

TEST(EngineMarch, ChokedExhaustHoldsItsFlowWhateverTheRoom) {
  Engine engine = example::filled();
  engine.exhaust.area = 1.5e-4;
  const Prepared e = prepare(engine, example::coefficients(), test::models().air);
  const auto room = example::room();
  const Supply supply{.total_pressure = 2.5 * room.pressure, .total_temperature = room.temperature};
  const double flow = flow_at_speed(e, room, supply, 0.0);
  auto thin = room;
  thin.pressure *= 0.9;
  thin.density *= 0.9;
  EXPECT_NEAR(flow_at_speed(e, thin, supply, 0.0), flow, 1e-9);
  EXPECT_TRUE(run(e, {.mass_flow = flow, .pressure = 1.5 * room.pressure}).exhaust_choked);
}

TEST(EngineMarch, FireCutsTheAirflowAtASpeed) {
  // Design figure: to about 0.6 of the cold flow at light-off.
  const Prepared e = prepared();
  const auto room = example::room();
  Supply supply{.total_pressure = room.pressure + 3500.0, .total_temperature = room.temperature};
  const double cold = flow_at_speed(e, room, supply, e.lightoff_speed);
  supply.turbine_inlet_temperature = 1000.0;
  supply.fuel_air_ratio = 0.015;
  const double lit = flow_at_speed(e, room, supply, e.lightoff_speed);
  EXPECT_GT(lit / cold, 0.5);
  EXPECT_LT(lit / cold, 0.8);
}

TEST(EngineMarch, FireIsContinuousWithTheColdEngine) {
  const Prepared e = prepared();
  auto flow = example::flow({.mass_flow = 0.02, .speed = 2000.0});
  flow.fuel_air_ratio = 0.0;
  const auto cold = march(e, example::room(), flow);
  flow.turbine_inlet_temperature = cold.compressor_exit.temperature + 1e-6;
  const auto warm = march(e, example::room(), flow);
  EXPECT_TRUE(warm.lit);
  EXPECT_FALSE(cold.lit);
  // Cold air is taken as an ideal diatomic gas, the real specific heat is 0.2 % higher.
  EXPECT_NEAR(warm.pressure_residual, cold.pressure_residual, 3.0);
  EXPECT_NEAR(warm.turbine_torque, cold.turbine_torque, 3e-3 * cold.turbine_torque);
}

TEST(EngineMarch, LargerTurbinePassesMore) {
  Engine engine = example::filled();
  engine.calibration.turbine_area = 1.1;
  const Prepared wide = prepare(engine, example::coefficients(), test::models().air);
  EXPECT_GT(run(wide, {.mass_flow = 0.02}).pressure_residual,
            run(prepared(), {.mass_flow = 0.02}).pressure_residual);
}

TEST(EngineMarch, ResistanceFollowsItsDefinition) {
  Engine engine;
  engine.resistance = Resistance{.throat_diameter = 0.046, .loss_factor = 14.0};
  const Prepared e = prepare(engine, example::coefficients(), test::models().air);
  const auto room = example::room();
  const double area = 3.14159265358979 * 0.023 * 0.023;
  const double head = 0.5 * room.density * std::pow(0.02 / (room.density * area), 2);
  const auto path = run(e, {.mass_flow = 0.02});
  EXPECT_NEAR(path.pressure_residual, 3500.0 - 14.0 * head, 1e-6);
  EXPECT_EQ(path.turbine_torque, 0.0);
  EXPECT_EQ(bearing_torque(e, 100.0), 0.0);
}

TEST(EngineMarch, ThickenedSwirlAtTheWheelExitIsCalledSurge) {
  const Prepared e = prepared();
  EXPECT_TRUE(run(e, {.mass_flow = 0.01, .speed = 9000.0}).surge);
  EXPECT_FALSE(run(e, {.mass_flow = 0.08, .speed = 9000.0}).surge);
}

}  // namespace
}  // namespace windgap::engine
