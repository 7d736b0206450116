#include "placement/placement.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>
#include <stdexcept>

#include "placement/quantile.h"
#include "support/bench.h"
#include "support/models.h"

namespace windgap::placement {
namespace {

rig::Parts parts_needing(double airflow) {
  auto parts = test::garden_parts();
  parts.start.airflow = airflow;
  return parts;
}

rig::Rig garden_needing(double airflow) {
  return rig::assemble(parts_needing(airflow), test::models(), rig::JetChoice::nozzle_like);
}

Requirement relaxed() {
  auto need = test::usual_requirement();
  need.start_duration = 5.0;
  return need;
}

Placement place_at(double airflow, const Requirement& need = relaxed()) {
  return place(garden_needing(airflow), need, test::placement_models(), {});
}

TEST(Placement, OneMillimetreFartherFailsTheActiveConstraint) {
  const auto rig = garden_needing(0.019);
  const auto found = place(rig, relaxed(), test::placement_models(), {});
  ASSERT_TRUE(found.feasible);
  EXPECT_TRUE(look(rig, found.edge, relaxed()).feasible);
  const auto beyond = look(rig, found.edge + 1e-3, relaxed());
  EXPECT_FALSE(beyond.feasible);
  int active = 0;
  for (std::size_t i = 0; i < constraint_count; ++i) {
    if (!found.constraints[i].active) continue;
    ++active;
    EXPECT_LT(beyond.constraints[i].slack, 0.0);
  }
  EXPECT_EQ(active, 1);
}

TEST(Placement, SweepFindsNothingFarther) {
  const auto rig = garden_needing(0.019);
  const auto found = place(rig, relaxed(), test::placement_models(), {});
  for (double stand_off = found.edge + 1e-4; stand_off < 0.6; stand_off += 5e-4) {
    EXPECT_FALSE(look(rig, stand_off, relaxed()).feasible) << stand_off;
  }
}

TEST(Placement, SlipComesOffTheEdge) {
  auto need = relaxed();
  const double tight = place_at(0.019, need).stand_off;
  need.slip = 0.003;
  const auto found = place_at(0.019, need);
  EXPECT_NEAR(found.stand_off, tight - 0.003, 1e-6);
  EXPECT_NEAR(found.edge, tight, 1e-6);
}

TEST(Placement, HubWakeMakesTwoSlotsOrAHoleNearTheFan) {
  // Just above what the wake lets through close by, and below the best farther out: the nearest
  // stand-offs are lost to the wake while the middle holds.
  const auto found = place_at(0.0215);
  ASSERT_TRUE(found.feasible);
  EXPECT_GT(found.slots.back().near, 0.05);
  EXPECT_EQ(found.slots.back().near_limit, Constraint::starting_airflow);
  EXPECT_GT(found.wake_zone_end, 0.1);
}

TEST(Placement, LongTravelHidesNoHole) {
  auto need = relaxed();
  const auto usual = place_at(0.0215, need);
  need.farthest = 10.0;
  const auto wide = place_at(0.0215, need);
  ASSERT_EQ(wide.slots.size(), usual.slots.size());
  for (std::size_t i = 0; i < wide.slots.size(); ++i) {
    EXPECT_NEAR(wide.slots[i].near, usual.slots[i].near, 1e-6);
    EXPECT_NEAR(wide.slots[i].far, usual.slots[i].far, 1e-6);
  }
}

TEST(Placement, OutsideTheZonesCloserIsNeverWeaker) {
  const auto rig = garden_needing(0.019);
  const auto found = place(rig, relaxed(), test::placement_models(), {});
  double before = 1.0;
  const double start = std::max(found.wake_zone_end, found.back_pressure_zone_end);
  for (double stand_off = start; stand_off < 0.6; stand_off += 0.002) {
    const double airflow = rig::deliver(rig, stand_off).airflow;
    EXPECT_LE(airflow, before * (1.0 + 1e-7)) << stand_off;
    before = airflow;
  }
}

TEST(Placement, MoreNeedIsNeverFarther) {
  double before = 1.0;
  for (const double airflow : {0.012, 0.015, 0.018, 0.021}) {
    const auto found = place_at(airflow);
    ASSERT_TRUE(found.feasible);
    EXPECT_LE(found.edge, before + 1e-9);
    before = found.edge;
  }
}

TEST(Placement, TravelLimitsAWeakNeed) {
  const auto found = place_at(0.006);
  ASSERT_TRUE(found.feasible);
  EXPECT_DOUBLE_EQ(found.edge, 0.6);
  EXPECT_TRUE(found.constraints[static_cast<std::size_t>(Constraint::bracket_travel)].active);
}

TEST(Placement, SaysWhatIsShortAndWhatWouldMendIt) {
  const auto found = place_at(0.04);
  EXPECT_FALSE(found.feasible);
  ASSERT_TRUE(found.shortfall.has_value());
  EXPECT_EQ(found.shortfall->constraint, Constraint::starting_airflow);
  EXPECT_LT(found.shortfall->value, found.shortfall->limit);
  // The thrust it asks for does mend it: same stream, sped up.
  auto rig = garden_needing(0.04);
  rig.fan.holds_flow = true;
  const double speed = std::sqrt(found.shortfall->thrust_factor);
  rig.open.exit_velocity *= speed;
  rig.open.dynamic_head *= speed * speed;
  EXPECT_GE(rig::deliver(rig, found.shortfall->stand_off).airflow, 1.1 * 0.04 * (1 - 1e-4));
}

TEST(Placement, NoDesignInTheBoxReachesFartherThanTheFreeOne) {
  auto need = relaxed();
  need.throttle = Range{.lower = 0.6, .upper = 1.0};
  need.nozzle = Range{.lower = 0.045, .upper = 0.063};
  const auto free = place_at(0.02, need);
  ASSERT_TRUE(free.feasible);
  for (const auto& state : free.constraints) {
    if (std::isfinite(state.slack)) {
      EXPECT_GE(state.slack, -1e-6) << name(state.constraint);
    }
  }
  for (const double throttle : {0.7, 0.85, 1.0}) {
    for (const double nozzle : {0.046, 0.05, 0.054, 0.058, 0.062}) {
      const auto rig = rig::with_nozzle(rig::with_throttle(garden_needing(0.02), throttle), nozzle);
      const auto fixed = place(rig, relaxed(), test::placement_models(), {.scan_points = 61});
      if (!fixed.feasible) continue;
      EXPECT_LE(fixed.edge, free.edge + 1e-3) << throttle << " with " << nozzle;
    }
  }
}

TEST(Placement, EnsembleOfEqualsIsTheOne) {
  const std::vector<rig::Rig> members(5, garden_needing(0.019));
  const std::vector<double> weights{0.1, 0.3, 0.2, 0.2, 0.2};
  auto need = relaxed();
  need.reliability = 0.9;
  const auto many = place(members, weights, need, test::placement_models(), {});
  EXPECT_NEAR(many.edge, place_at(0.019).edge, 1e-7);
}

TEST(Placement, MoreReliabilityIsNeverFarther) {
  std::vector<rig::Rig> members;
  for (int i = 0; i < 20; ++i) members.push_back(garden_needing(0.016 + 0.0003 * i));
  const std::vector<double> weights(members.size(), 1.0);
  double before = 1.0;
  for (const double reliability : {0.5, 0.8, 0.95, 1.0}) {
    auto need = relaxed();
    need.reliability = reliability;
    const auto found = place(members, weights, need, test::placement_models(), {.scan_points = 41});
    ASSERT_TRUE(found.feasible);
    EXPECT_LT(found.edge, before);
    before = found.edge;
  }
}

TEST(Placement, ThreadsDoNotChangeTheAnswer) {
  std::vector<rig::Rig> members;
  for (int i = 0; i < 12; ++i) members.push_back(garden_needing(0.016 + 0.0004 * i));
  const std::vector<double> weights(members.size(), 1.0);
  const auto one = place(
      members, weights, relaxed(), test::placement_models(), {.scan_points = 31, .threads = 1});
  const auto two = place(
      members, weights, relaxed(), test::placement_models(), {.scan_points = 31, .threads = 2});
  EXPECT_EQ(one.stand_off, two.stand_off);
}

TEST(Placement, RefusesEmptyEnsemblesAndUpsideDownTravel) {
  EXPECT_THROW((void)place({}, {}, relaxed(), test::placement_models(), {}), std::logic_error);
  auto need = relaxed();
  need.farthest = need.nearest;
  EXPECT_THROW((void)place_at(0.02, need), std::logic_error);
}

TEST(Placement, UnmeasuredJetGivesTheNearerOfTwoBounds) {
  const auto both =
      answer(parts_needing(0.0145), test::models(), relaxed(), test::placement_models(), {});
  ASSERT_TRUE(both.nozzle_like && both.propeller_like);
  EXPECT_FALSE(both.jet_known);
  EXPECT_EQ(both.advice.stand_off,
            std::min(both.nozzle_like->stand_off, both.propeller_like->stand_off));
}

TEST(Placement, MeasuredJetGivesOneAnswer) {
  auto parts = parts_needing(0.0145);
  parts.propeller_share = 0.1;
  const auto one = answer(parts, test::models(), relaxed(), test::placement_models(), {});
  EXPECT_TRUE(one.jet_known);
  EXPECT_FALSE(one.nozzle_like.has_value());
}

TEST(Quantile, IsTheOnlyValueOfOne) {
  std::vector<Ranked> scratch;
  const std::vector<double> value{3.0};
  const std::vector<double> weight{2.0};
  for (const double share : {0.0, 0.5, 1.0}) {
    EXPECT_EQ(reached_by(value, weight, share, scratch), 3.0);
  }
}

TEST(Quantile, IsLinearBetweenMidWeights) {
  // Hazen's plotting positions: of 1..4 with equal weights, 0.125, 0.375, 0.625, 0.875.
  std::vector<Ranked> scratch;
  const std::vector<double> values{4.0, 1.0, 3.0, 2.0};
  const std::vector<double> weights(4, 1.0);
  EXPECT_DOUBLE_EQ(reached_by(values, weights, 0.125, scratch), 4.0);
  EXPECT_DOUBLE_EQ(reached_by(values, weights, 0.5, scratch), 2.5);
  EXPECT_DOUBLE_EQ(reached_by(values, weights, 0.875, scratch), 1.0);
  EXPECT_DOUBLE_EQ(reached_by(values, weights, 1.0, scratch), 1.0);
}

TEST(Quantile, IsThatOfTheWholeOrder) {
  // The definition on all members in order: interpolation between the mid-weights beside the share.
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> unit(0.0, 1.0);
  std::vector<double> values(4096);
  std::vector<double> weights(values.size());
  for (std::size_t i = 0; i < values.size(); ++i) {
    values[i] = i % 5 == 0 ? -3.0 : std::log(unit(random));  // many alike
    weights[i] = i % 7 == 0 ? 0.0 : std::pow(unit(random), 8);
  }
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::erase_if(order, [&](std::size_t i) { return weights[i] == 0.0; });
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return values[a] > values[b];
  });
  const double whole = std::accumulate(weights.begin(), weights.end(), 0.0);
  std::vector<Ranked> scratch;
  for (const double share : {0.0, 1e-6, 0.01, 0.05, 0.3, 0.5, 0.77, 0.95, 0.9999, 1.0}) {
    double passed = 0.0;
    double before = -1.0;
    std::size_t k = 0;
    while (k < order.size() && passed + 0.5 * weights[order[k]] < share * whole) {
      before = passed + 0.5 * weights[order[k]];
      passed += weights[order[k]];
      ++k;
    }
    double expected = values[order[std::min(k, order.size() - 1)]];
    if (k > 0 && k < order.size()) {
      const double along = (share * whole - before) / (passed + 0.5 * weights[order[k]] - before);
      expected = std::lerp(values[order[k - 1]], expected, along);
    }
    EXPECT_NEAR(reached_by(values, weights, share, scratch), expected, 1e-10) << share;
  }
}

}  // namespace
}  // namespace windgap::placement
