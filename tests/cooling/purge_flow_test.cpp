#include "cooling/purge_flow.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "cooling/scene.h"
#include "engine/windmill.h"
#include "rig/rig.h"
#include "support/bench.h"
#include "support/models.h"

namespace windgap::cooling {
namespace {

constexpr double stand_off = 0.15;

TEST(PurgeFlow, StartsFromTheColdDelivery) {
  for (const double throttle : {0.3, 0.6, 1.0}) {
    const auto rig = rig::with_throttle(test::garden_rig(), throttle);
    const auto table = tabulate_purge(rig, stand_off, 600.0);
    const auto cold = rig::deliver(rig, stand_off);
    const auto at = purge_at(table, rig.ambient.temperature);
    EXPECT_TRUE(table.converged);
    EXPECT_DOUBLE_EQ(at.airflow, cold.airflow);
    EXPECT_DOUBLE_EQ(at.rotor_speed, cold.rotor_speed);
    EXPECT_NEAR(
        at.pack_current, rig::fan_operation(rig, cold).drive.pack_current, 1e-9 * at.pack_current);
  }
}

TEST(PurgeFlow, HotWallsChokeTheFlowAndDriveTheRotor) {
  const auto rig = rig::with_throttle(test::garden_rig(), 0.4);
  const auto table = tabulate_purge(rig, stand_off, 600.0);
  for (std::size_t i = 1; i < PurgeFlow::points; ++i) {
    EXPECT_LT(table.airflow[i], table.airflow[i - 1]);
    EXPECT_GT(table.rotor_speed[i], table.rotor_speed[i - 1]);
  }
}

TEST(PurgeFlow, HotRootBalancesFlowAndTorque) {
  // With the pressure that the bench offers at the hot flow, the engine alone settles at the same
  // flow and speed.
  const auto rig = rig::with_throttle(test::garden_rig(), 0.5);
  const double hottest = 600.0;
  const auto table = tabulate_purge(rig, stand_off, hottest);
  const double airflow = table.airflow.back();
  rig::Rig plain = rig;
  plain.engine.resistance_only = true;
  plain.engine.resistance_area = rig.throat_area;
  double low = 0.01;
  double high = 1e6;
  for (int i = 0; i < 100; ++i) {
    plain.engine.resistance_loss = std::sqrt(low * high);
    (rig::deliver(plain, stand_off).airflow > airflow ? low : high) = plain.engine.resistance_loss;
  }
  const auto offer = rig::deliver(plain, stand_off);
  const auto settled =
      engine::windmill(rig.engine,
                       rig.ambient,
                       {.total_pressure = rig.ambient.pressure + offer.inducer_pressure,
                        .total_temperature = rig.ambient.temperature,
                        .swirl = offer.inlet_swirl,
                        .turbine_inlet_temperature = hottest});
  EXPECT_NEAR(settled.mass_flow, airflow, 2e-3 * airflow);
  EXPECT_NEAR(settled.speed, table.rotor_speed.back(), 5e-3 * settled.speed);
}

TEST(PurgeFlow, NoticesWhenHotAirWouldCarryTheRotorAway) {
  const auto table = tabulate_purge(test::garden_rig(), stand_off, 1300.0);
  EXPECT_GT(table.self_driving, 400.0);
  EXPECT_LT(table.self_driving, 1300.0);
  EXPECT_EQ(table.airflow[PurgeFlow::points - 1], table.airflow[PurgeFlow::points - 2]);
}

TEST(PurgeFlow, ReadingIsSmoothBetweenPoints) {
  const auto table = tabulate_purge(rig::with_throttle(test::garden_rig(), 0.5), stand_off, 600.0);
  double before = table.airflow.front();
  for (double t = table.coldest; t < 600.0; t += 1.0) {
    EXPECT_NEAR(purge_airflow(table, t), before, 1e-3 * before);
    before = purge_airflow(table, t);
  }
  EXPECT_EQ(purge_airflow(table, 2000.0), table.airflow.back());
}

TEST(PurgeFlow, AJetThatTheWindCarriesAwayBringsNothing) {
  auto parts = test::garden_parts();
  parts.site.wind = 3.0;
  const auto rig = rig::assemble(parts, test::models(), rig::JetChoice::estimated);
  EXPECT_FALSE(tabulate_purge(rig, 10.0, 900.0).flows());
  EXPECT_TRUE(tabulate_purge(rig, 0.15, 900.0).flows());
}

TEST(PurgeFlow, ColdWallsAreACallersMistake) {
  EXPECT_THROW((void)tabulate_purge(test::garden_rig(), stand_off, 200.0), std::logic_error);
}

}  // namespace
}  // namespace windgap::cooling
