#include "blockage/blockage.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "support/models.h"

namespace windgap::blockage {
namespace {

const Coefficients& shipped() { return test::models().blockage; }

const air::Coefficients& air_coefficients() { return test::models().air; }

air::Ambient room() { return air::make_ambient(air_coefficients(), {}); }

const RunningInlet inlet{.throat_diameter = 0.046, .mouth_diameter = 0.060, .mass_flow = 0.24};
const ParkedFan parked{.outer_diameter = 0.066,
                       .bore_diameter = 0.062,
                       .hub_diameter = 0.026,
                       .parked = Parked::closed};

Prepared prepared(const ParkedFan* fan, const Struts& struts = {}, const Guard& guard = {}) {
  return prepare(inlet, fan, struts, guard, room(), shipped(), air_coefficients());
}

TEST(Blockage, NothingInFrontCostsNothing) {
  const auto none = obstruct(prepared(nullptr), 0.05);
  EXPECT_EQ(none.running_loss, 0.0);
  EXPECT_EQ(none.thrust_loss, 0.0);
  EXPECT_EQ(none.guard_pressure_loss, 0.0);
}

TEST(Blockage, FallsWithDistanceForEveryWayOfParking) {
  for (const auto way : {Parked::free, Parked::braked, Parked::closed}) {
    auto fan = parked;
    fan.parked = way;
    const auto ready = prepared(&fan, {.count = 3, .width = 0.006, .length = 0.05});
    double before = 2.0 * room().pressure;
    for (double stand_off = 0.004; stand_off < 0.6; stand_off *= 1.1) {
      const auto here = obstruct(ready, stand_off);
      EXPECT_LT(here.total_pressure_loss, before) << stand_off;
      EXPECT_GT(here.total_pressure_loss, 0.0);
      before = here.total_pressure_loss;
    }
    EXPECT_LT(before, 1.0);
  }
}

TEST(Blockage, FarFieldFallsWithTheFourthPowerAndNearFieldWithTheSquare) {
  const auto ready = prepared(&parked);
  const auto order = [&](double stand_off) {
    return std::log(obstruct(ready, stand_off).curtain_coefficient /
                    obstruct(ready, 1.01 * stand_off).curtain_coefficient) /
           std::log(1.01);
  };
  EXPECT_NEAR(order(0.001), 2.0, 0.01);
  EXPECT_NEAR(order(1.0), 4.0, 0.01);
}

TEST(Blockage, OpenBoreCapsTheLossOfAClosedGap) {
  auto fan = parked;
  fan.parked = Parked::free;
  const auto ready = prepared(&fan);
  const auto touching = obstruct(ready, 0.0);
  const double annulus = std::numbers::pi / 4.0 * (0.062 * 0.062 - 0.026 * 0.026);
  const double throat = std::numbers::pi / 4.0 * 0.046 * 0.046;
  EXPECT_NEAR(touching.coefficient, shipped().bore_loss_free * std::pow(throat / annulus, 2), 1e-9);
  EXPECT_NEAR(touching.bore_share, 1.0, 1e-9);
  EXPECT_GT(obstruct(prepared(&parked), 1e-6).running_loss, 0.9);
  EXPECT_LE(obstruct(prepared(&parked), 0.0).running_loss, 1.0);
}

TEST(Blockage, TouchingWithArmsIsStillANumber) {
  const auto touching =
      obstruct(prepared(&parked, {.count = 3, .width = 0.006, .length = 0.05}), 0.0);
  EXPECT_FALSE(std::isnan(touching.total_pressure_loss));
  EXPECT_FALSE(std::isnan(touching.thrust_loss));
}

TEST(Blockage, FlowsThroughGapAndBoreLoseTheSame) {
  auto fan = parked;
  fan.parked = Parked::braked;
  const auto ready = prepared(&fan);
  const auto found = obstruct(ready, 0.01);
  const double gap_share = 1.0 - found.bore_share;
  EXPECT_NEAR(gap_share * gap_share * found.curtain_coefficient, found.coefficient, 1e-9);
  EXPECT_NEAR(
      found.bore_share * found.bore_share * ready.bore_coefficient, found.coefficient, 1e-9);
}

TEST(Blockage, ClosedIsWorseThanBrakedIsWorseThanFree) {
  auto fan = parked;
  const double closed = obstruct(prepared(&fan), 0.015).running_loss;
  fan.parked = Parked::braked;
  const double braked = obstruct(prepared(&fan), 0.015).running_loss;
  fan.parked = Parked::free;
  const double free = obstruct(prepared(&fan), 0.015).running_loss;
  EXPECT_GT(closed, braked);
  EXPECT_GT(braked, free);
}

TEST(Blockage, SmallFanBlocksLessAndVanishesWithItsSize) {
  auto fan = parked;
  double before = 1.0;
  for (double outer = 0.058; outer > 0.002; outer *= 0.8) {
    fan.outer_diameter = outer;
    const double loss = obstruct(prepared(&fan), 0.002).running_loss;
    EXPECT_LT(loss, before) << outer;
    before = loss;
  }
  EXPECT_LT(before, 1e-4);
}

TEST(Blockage, ThroatHeadIsCompressible) {
  const auto ready = prepared(nullptr);
  const double area = std::numbers::pi / 4.0 * 0.046 * 0.046;
  const double incompressible = 0.24 * 0.24 / (2.0 * room().density * area * area);
  EXPECT_GT(ready.throat_head, incompressible);
  // Mass flow of the state found: rho V A with rho V^2 = 2 q and V = M a.
  const double static_temperature =
      room().temperature / (1.0 + 0.2 * ready.throat_mach * ready.throat_mach);
  const double velocity = ready.throat_mach * std::sqrt(1.4 * 287.053 * static_temperature);
  EXPECT_NEAR(2.0 * ready.throat_head / velocity * area, 0.24, 0.24 * 2e-3);  // gamma is 1.4006
  EXPECT_FALSE(ready.choked);
  auto greedy = inlet;
  greedy.mass_flow = 1.0;
  EXPECT_TRUE(prepare(greedy, nullptr, {}, {}, room(), shipped(), air_coefficients()).choked);
}

TEST(Blockage, ThrustFallsMoreThanAirflow) {
  const auto found = obstruct(prepared(&parked), 0.012);
  EXPECT_EQ(found.airflow_loss, found.running_loss);
  EXPECT_GT(found.thrust_loss, 2.0 * found.airflow_loss);
  EXPECT_LT(found.thrust_loss, 5.0 * found.airflow_loss);
}

TEST(Blockage, GuardCostsTheSameAtEveryDistance) {
  const Guard guard{
      .kind = GuardKind::round_wire, .open_area = 0.7, .wire_diameter = 0.001, .diameter = 0.060};
  const auto ready = prepared(&parked, {}, guard);
  EXPECT_GT(ready.guard_pressure_loss, 0.0);
  EXPECT_EQ(obstruct(ready, 0.02).guard_pressure_loss, obstruct(ready, 0.2).guard_pressure_loss);
  EXPECT_EQ(obstruct(ready, 0.02).running_loss, obstruct(prepared(&parked), 0.02).running_loss);
}

TEST(Blockage, RefusesAHalfDescribedInlet) {
  auto half = inlet;
  half.mass_flow = unset;
  EXPECT_THROW((void)prepare(half, nullptr, {}, {}, room(), shipped(), air_coefficients()),
               std::logic_error);
  auto fan = parked;
  fan.hub_diameter = 0.07;
  fan.parked = Parked::free;
  EXPECT_THROW((void)prepared(&fan), std::logic_error);
}

}  // namespace
}  // namespace windgap::blockage
