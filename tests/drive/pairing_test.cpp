#include "drive/pairing.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "support/models.h"

namespace windgap::drive {
namespace {

constexpr double load = 2.5e-8;  // N m s^2: about 90 A

Drive example() {
  Drive drive;
  drive.pack = {.cells = 6,
                .capacity = 3.3 * 3600.0,
                .cell_resistance = 0.003,
                .continuous_current = 120.0,
                .burst_current = 160.0};
  drive.leads.resistance = 0.002;
  drive.controller = {.rated_current = 100.0, .burst_current = 120.0, .resistance = 0.002};
  drive.motor = {.speed_constant = 199.0,
                 .resistance = 0.020,
                 .no_load_current = 2.5,
                 .max_current = 110.0,
                 .winding_heat_capacity = 25.0,
                 .winding_conductance = 1.0};
  return drive;
}

std::vector<WrongPair> judged(const Drive& drive, double load_coefficient = load) {
  const auto prepared = prepare(drive, test::models().drive);
  return wrong_pairs(drive, prepared, run(prepared, load_coefficient, 1.0));
}

const WrongPair* find(const std::vector<WrongPair>& found, Mismatch mismatch) {
  const auto at = std::find_if(
      found.begin(), found.end(), [&](const WrongPair& w) { return w.mismatch == mismatch; });
  return at == found.end() ? nullptr : &*at;
}

TEST(Pairing, PartsThatBelongTogetherAreLeftAlone) { EXPECT_TRUE(judged(example()).empty()); }

TEST(Pairing, MoreCellsThanTheControllerStandsAreRefused) {
  auto drive = example();
  drive.controller.most_cells = 4;
  const auto found = judged(drive);
  const auto* wrong = find(found, Mismatch::too_many_cells);
  ASSERT_NE(wrong, nullptr);
  EXPECT_EQ(wrong->value, 6.0);
  EXPECT_EQ(wrong->limit, 4.0);
}

TEST(Pairing, CurrentsAboveRatingsAreRefusedWithBothNumbers) {
  auto drive = example();
  drive.pack.burst_current = 20.0;
  drive.controller.burst_current = 30.0;
  drive.motor.max_current = 40.0;
  const auto found = judged(drive);
  for (const auto mismatch :
       {Mismatch::pack_current, Mismatch::controller_current, Mismatch::motor_current}) {
    const auto* wrong = find(found, mismatch);
    ASSERT_NE(wrong, nullptr);
    EXPECT_GT(wrong->value, wrong->limit);
  }
  EXPECT_EQ(find(found, Mismatch::pack_current)->limit, 20.0);
}

TEST(Pairing, TiredPackIsRefusedForItsSag) {
  auto drive = example();
  drive.pack.state_of_charge = 0.05;
  drive.pack.cell_resistance = 0.012;
  const auto found = judged(drive);
  const auto* wrong = find(found, Mismatch::sags);
  ASSERT_NE(wrong, nullptr);
  EXPECT_NEAR(wrong->limit, 3.2, 1e-12);
  EXPECT_LT(wrong->value, wrong->limit);
}

TEST(Pairing, MotorThatDoesNotTurnIsRefused) {
  auto drive = example();
  drive.pack.cells = 1;
  drive.motor.no_load_current = 200.0;
  EXPECT_NE(find(judged(drive), Mismatch::does_not_turn), nullptr);
}

}  // namespace
}  // namespace windgap::drive
