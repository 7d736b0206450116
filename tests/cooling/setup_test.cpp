#include "cooling/setup.h"

#include <gtest/gtest.h>

#include <cmath>

#include "cooling/scene.h"
#include "rig/running.h"
#include "support/bench.h"
#include "support/models.h"

namespace windgap::cooling {
namespace {

HotEngine filled(HotEngine hot = {}) {
  (void)fill_fallbacks(
      hot, test::garden_parts(), test::models(), test::cooling_models(), test::material_models());
  return hot;
}

Scene scene_of(const HotEngine& hot) {
  return make_scene(hot,
                    test::garden_parts(),
                    test::garden_rig(),
                    test::models(),
                    test::cooling_models(),
                    test::material_models());
}

constexpr PlanNeed need{.stand_off = 0.15, .least_throttle = 0.2, .charge = 8000.0};

TEST(HotEngine, FallbacksLeaveNothingUnsetButTheTemperatures) {
  const auto hot = filled();
  EXPECT_DOUBLE_EQ(hot.gas_temperature, test::cooling_models().usual_gas_temperature);
  EXPECT_DOUBLE_EQ(hot.run, test::cooling_models().usual_run);
  EXPECT_DOUBLE_EQ(hot.dry_speed, test::cooling_models().dry_speed);
  for (const double mass : hot.build.mass) EXPECT_GT(mass, 0.0);
  for (const double temperature : hot.temperature) EXPECT_TRUE(std::isnan(temperature));
}

TEST(HotEngine, GivenTemperaturesStandBesideThoseOfTheRun) {
  auto hot = filled();
  hot.temperature[index(Part::rotor)] = 801.0;
  const auto scene = scene_of(hot);
  EXPECT_DOUBLE_EQ(scene.start[index(Part::rotor)], 801.0);
  EXPECT_DOUBLE_EQ(scene.start[index(Part::turbine_housing)],
                   scene_of(filled()).start[index(Part::turbine_housing)]);
}

TEST(HotEngine, HotterGasAndLongerRunsLeaveAHotterHousing) {
  constexpr auto housing = index(Part::turbine_housing);
  auto hot = filled();
  const double usual = scene_of(hot).start[housing];
  hot.gas_temperature += 50.0;
  EXPECT_GT(scene_of(hot).start[housing], usual + 20.0);
  hot = filled();
  hot.run = 60.0;
  EXPECT_LT(scene_of(hot).start[housing], usual - 20.0);
}

TEST(HotEngine, AllowedDrySpeedIsThatOfThePerson) {
  auto hot = filled();
  hot.dry_speed = 321.0;
  EXPECT_DOUBLE_EQ(scene_of(hot).network.coefficients.dry_speed, 321.0);
}

TEST(PackBeforeThePurge, StartsTakeCurrentTimesTime) {
  const double one =
      charge_of_starts(test::garden_rig(), {.count = 1.0, .seconds = 15.0, .stand_off = 0.15});
  const auto fan = rig::fan_operation(test::garden_rig(), rig::deliver(test::garden_rig(), 0.15));
  EXPECT_DOUBLE_EQ(one, 15.0 * fan.drive.pack_current);
  EXPECT_DOUBLE_EQ(
      charge_of_starts(test::garden_rig(), {.count = 3.0, .seconds = 15.0, .stand_off = 0.15}),
      3.0 * one);
}

TEST(PackBeforeThePurge, ReserveIsKeptAndNothingIsOwed) {
  const drive::Pack pack{.capacity = 10000.0, .state_of_charge = 0.9};
  auto c = test::cooling_models();
  c.pack_reserve = 0.2;
  EXPECT_NEAR(charge_left(pack, 1000.0, c), 6000.0, 1e-9);
  EXPECT_EQ(charge_left(pack, 8000.0, c), 0.0);
}

TEST(CooldownDemand, TakesLessChargeAndMoreTimeThanTheShortestPlan) {
  auto scene = scene_of(filled());
  scene.pump = PumpUse::while_purging;
  const auto demand = cooldown_demand(scene, test::garden_rig(), need);
  const auto shortest = plan(scene, test::garden_rig(), need);
  ASSERT_TRUE(demand.feasible);
  ASSERT_TRUE(shortest.feasible);
  EXPECT_LT(demand.charge, shortest.purge.charge);
  EXPECT_GT(demand.seconds, shortest.purge.seconds);
  const auto again =
      try_purge(scene, test::garden_rig(), need, {{.throttle = demand.throttle}}, Ends::settable);
  EXPECT_NEAR(again.seconds, demand.seconds, 0.01 * demand.seconds);
  EXPECT_NEAR(again.charge, demand.charge, 0.01 * demand.charge);
}

TEST(CooldownDemand, SaysWhenThePackCannotDoIt) {
  auto scene = scene_of(filled());
  scene.pump = PumpUse::while_purging;
  auto poor = need;
  poor.charge = 20.0;
  EXPECT_FALSE(cooldown_demand(scene, test::garden_rig(), poor).feasible);
  poor.charge = 0.0;
  EXPECT_FALSE(cooldown_demand(scene, test::garden_rig(), poor).feasible);
  EXPECT_FALSE(plan(scene, test::garden_rig(), poor).feasible);
}

}  // namespace
}  // namespace windgap::cooling
