#include "rig/chamber.h"

#include <gtest/gtest.h>

#include <cmath>

#include "support/bench.h"
#include "support/models.h"

namespace windgap::rig {
namespace {

Rig garden(double starting_airflow) {
  auto parts = test::garden_parts();
  parts.start.airflow = starting_airflow;
  return assemble(parts, test::models(), JetChoice::estimated);
}

TEST(Chamber, LiesAboveOutsideByLessThanBlowerAndCompressorGive) {
  const auto rig = garden(0.018);
  const auto delivery = deliver(rig, 0.1);
  const auto gas = chamber(rig, delivery);
  EXPECT_GT(gas.pressure, rig.ambient.pressure);
  EXPECT_LT(gas.pressure, rig.ambient.pressure + 2.0 * rig.open.dynamic_head);
  EXPECT_GT(gas.temperature, rig.ambient.temperature);
  EXPECT_LT(gas.temperature, rig.ambient.temperature + 15.0);
  EXPECT_DOUBLE_EQ(gas.velocity, delivery.flame_holder_velocity);
}

TEST(Chamber, WeakestStartHoldsJustTheStartingAirflow) {
  const auto rig = garden(0.018);
  const auto weakest = weakest_chamber(rig);
  ASSERT_TRUE(weakest);
  // Velocity at the flame holder follows from airflow and the gas's own density.
  const double density = weakest->pressure / (rig.ambient.pressure / rig.ambient.density /
                                              rig.ambient.temperature * weakest->temperature);
  EXPECT_NEAR(weakest->velocity * density * rig.engine.flame_holder_area / 0.018, 1.0, 0.01);
  EXPECT_LT(weakest->velocity, chamber(rig, deliver(rig, 0.1)).velocity);
}

TEST(Chamber, NoWeakestStartWhereTheFanCannotBringIt) {
  EXPECT_FALSE(weakest_chamber(garden(0.5)));
}

TEST(Chamber, AMeasuredResistanceHasNoFlameHolder) {
  auto parts = test::garden_parts();
  parts.engine.resistance = engine::Resistance{.throat_diameter = 0.046, .loss_factor = 14.0};
  parts.start = {.airflow = 0.018};
  const auto rig = assemble(parts, test::models(), JetChoice::estimated);
  const auto delivery = deliver(rig, 0.1);
  EXPECT_TRUE(std::isnan(chamber(rig, delivery).velocity));
  EXPECT_DOUBLE_EQ(chamber(rig, delivery).pressure, rig.ambient.pressure + delivery.total_pressure);
  EXPECT_FALSE(weakest_chamber(rig));
}

}  // namespace
}  // namespace windgap::rig
