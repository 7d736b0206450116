#include "blockage/screen_loss.h"

#include <gtest/gtest.h>

#include <stdexcept>

#include "blockage/blockage.h"
#include "support/models.h"

namespace windgap::blockage {
namespace {

const Coefficients& shipped() { return test::models().blockage; }

TEST(ScreenLoss, FallsWithOpenAreaAndReynoldsNumber) {
  for (const auto kind : {GuardKind::round_wire, GuardKind::perforated}) {
    double before = 1e6;
    for (double open = 0.1; open < 0.85; open += 0.01) {
      const double loss =
          screen_loss({.kind = kind, .open_area = open}, 150.0, shipped()).coefficient;
      EXPECT_LT(loss, before) << open;
      EXPECT_GT(loss, 0.0);
      before = loss;
    }
  }
  const Guard wire{.kind = GuardKind::round_wire, .open_area = 0.6};
  EXPECT_GT(screen_loss(wire, 30.0, shipped()).coefficient,
            screen_loss(wire, 300.0, shipped()).coefficient);
}

TEST(ScreenLoss, NoGuardCostsNothing) {
  EXPECT_EQ(screen_loss({}, 100.0, shipped()).coefficient, 0.0);
}

TEST(ScreenLoss, FlagsWhatTheHandbookDoesNotCover) {
  EXPECT_FALSE(
      screen_loss({.kind = GuardKind::perforated, .open_area = 0.9}, 0.0, shipped()).in_range);
  EXPECT_FALSE(
      screen_loss({.kind = GuardKind::round_wire, .open_area = 0.5}, 5.0, shipped()).in_range);
  EXPECT_TRUE(
      screen_loss({.kind = GuardKind::round_wire, .open_area = 0.5}, 1000.0, shipped()).in_range);
  EXPECT_THROW((void)screen_loss({.kind = GuardKind::perforated, .open_area = 1.2}, 0.0, shipped()),
               std::logic_error);
}

}  // namespace
}  // namespace windgap::blockage
