#include "choice/charge.h"

#include <gtest/gtest.h>

#include <cmath>

namespace windgap::choice {
namespace {

Coefficients rules() {
  Coefficients c;
  c.controller_sizes = {.x = {1, 2, 3}, .y = {40, 80, 120}};
  c.controller_reserve = 1.25;
  c.charge_left = 0.2;
  return c;
}

start::Purge purge_of(double volume) { return {.changes = 5.0, .volume = volume, .least = 10.0}; }

TEST(Charge, CountsPurgeAndStartOutOfWhatMayBeUsed) {
  drive::Pack pack;
  pack.capacity = 3.6e4;  // 10 Ah
  pack.state_of_charge = 0.9;
  drive::Running running;
  running.pack_current = 100.0;
  StartCycle cycle{.purge = purge_of(0.01), .volume_flow = 0.0025, .start_seconds = 15.0};
  const auto spent = spend(pack, running, cycle, rules());
  EXPECT_NEAR(spent.purge_seconds, 20.0, 1e-12);  // 5 changes of 10 L at 2.5 L/s
  EXPECT_NEAR(spent.purge_charge, 2000.0, 1e-9);
  EXPECT_NEAR(spent.start_charge, 1500.0, 1e-9);
  EXPECT_NEAR(spent.usable_charge, 0.7 * 3.6e4, 1e-9);
  EXPECT_NEAR(spent.starts, 25200.0 / 3500.0, 1e-9);
  cycle.cooldown_charge = 3500.0;
  EXPECT_NEAR(spend(pack, running, cycle, rules()).starts, 25200.0 / 7000.0, 1e-9);
}

TEST(Charge, PurgeIsNeverShorterThanAPersonsCount) {
  drive::Pack pack;
  pack.capacity = 3.6e4;
  drive::Running running;
  running.pack_current = 100.0;
  const StartCycle cycle{.purge = purge_of(0.001), .volume_flow = 0.02, .start_seconds = 15.0};
  EXPECT_EQ(spend(pack, running, cycle, rules()).purge_seconds, 10.0);
}

TEST(Charge, PackBelowItsReserveStartsNothing) {
  drive::Pack pack;
  pack.capacity = 3.6e4;
  pack.state_of_charge = 0.15;
  drive::Running running;
  running.pack_current = 100.0;
  EXPECT_EQ(
      spend(pack, running, StartCycle{.purge = purge_of(0.001), .start_seconds = 15.0}, rules())
          .starts,
      0.0);
}

TEST(Charge, ControllerIsTheNextSizeAboveTheReserve) {
  EXPECT_EQ(controller_size(30.0, rules()), 40.0);
  EXPECT_EQ(controller_size(32.0, rules()), 40.0);
  EXPECT_EQ(controller_size(33.0, rules()), 80.0);
  EXPECT_TRUE(std::isnan(controller_size(97.0, rules())));
}

}  // namespace
}  // namespace windgap::choice
