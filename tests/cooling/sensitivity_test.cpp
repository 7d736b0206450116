#include "cooling/sensitivity.h"

#include <gtest/gtest.h>

#include <cmath>

#include "cooling/scene.h"
#include "support/bench.h"
#include "support/models.h"

namespace windgap::cooling {
namespace {

constexpr PlanNeed need{.stand_off = 0.15, .least_throttle = 0.2, .charge = 8000.0};

Scene scene_with(const Coefficients& own) {
  HotEngine hot;
  (void)fill_fallbacks(hot, test::garden_parts(), test::models(), own, test::material_models());
  hot.pump = PumpUse::while_purging;
  return make_scene(
      hot, test::garden_parts(), test::garden_rig(), test::models(), own, test::material_models());
}

Sensitivity sensitivity_to(const std::vector<Variation>& variations, double supply_deviation) {
  const auto scene = scene_with(test::cooling_models());
  const auto parts = test::garden_parts();
  const auto materials = test::material_models();
  HotEngine stated;
  stated.pump = PumpUse::while_purging;
  return sensitivity(plan(scene, test::garden_rig(), need),
                     scene,
                     test::garden_rig(),
                     need,
                     {.stated = stated,
                      .parts = parts,
                      .models = test::models(),
                      .own = test::cooling_models(),
                      .materials = materials},
                     variations,
                     supply_deviation);
}

const Variation rougher{.name = "scroll", .group = "", .apply = [](Coefficients& c, Materials&) {
                          c.scroll_enhancement *= 1.4;
                        }};
const Variation heavier{.name = "mass", .group = "", .apply = [](Coefficients& c, Materials&) {
                          c.turbine_housing_mass *= 1.2;
                        }};

TEST(CoolSensitivity, IsThatOfThePurgeFollowedAgain) {
  const auto found = sensitivity_to({heavier, rougher}, unset);
  ASSERT_EQ(found.influences.size(), 2U);
  EXPECT_GT(std::abs(found.influences[0].seconds), std::abs(found.influences[1].seconds));
  auto own = test::cooling_models();
  own.turbine_housing_mass *= 1.2;
  const auto scene = scene_with(test::cooling_models());
  auto steps = plan(scene, test::garden_rig(), need).purge.steps;
  steps.back().end = unset;
  const double as_is = try_purge(scene, test::garden_rig(), need, steps, Ends::exact).seconds;
  const double moved =
      try_purge(scene_with(own), test::garden_rig(), need, steps, Ends::exact).seconds;
  const auto& mass = found.influences[found.influences[0].name == "mass" ? 0 : 1];
  EXPECT_NEAR(mass.seconds, moved - as_is, 1.0);  // two ends of half a second each
  EXPECT_NEAR(found.deviation,
              std::hypot(found.influences[0].seconds, found.influences[1].seconds) / as_is,
              0.005);
}

TEST(CoolSensitivity, AHeavierHousingTakesLongerAndBetterFilmsLess) {
  for (const auto& influence : sensitivity_to({heavier, rougher}, unset).influences) {
    EXPECT_EQ(influence.seconds > 0.0, influence.name == "mass");
  }
}

TEST(CoolSensitivity, LessAirTakesLonger) {
  const auto found = sensitivity_to({}, 0.1);
  ASSERT_EQ(found.influences.size(), 1U);
  EXPECT_EQ(found.influences[0].name, "delivered airflow");
  EXPECT_GT(found.influences[0].seconds, 0.0);
}

// Hands touch metal that stood as they touch metal that was blown: its times are not surer.
TEST(CoolSensitivity, WithoutAPlanItIsThatOfStandingFollowedAgain) {
  const auto scene = scene_with(test::cooling_models());
  const auto parts = test::garden_parts();
  const auto materials = test::material_models();
  const auto found = sensitivity({},
                                 scene,
                                 test::garden_rig(),
                                 need,
                                 {.stated = {},
                                  .parts = parts,
                                  .models = test::models(),
                                  .own = test::cooling_models(),
                                  .materials = materials},
                                 {heavier},
                                 0.1);
  const auto warm = [](const Scene& one) {
    return verdict(one, standing_course(one, one.start, 0.0)).warm;
  };
  auto own = test::cooling_models();
  own.turbine_housing_mass *= 1.2;
  const double as_is = warm(scene);
  const double moved = warm(scene_with(own));
  ASSERT_EQ(found.influences.size(), 1U);  // no air is delivered that could be less
  EXPECT_GT(moved, as_is);
  EXPECT_NEAR(found.influences.front().seconds, moved - as_is, 1.0);
  EXPECT_NEAR(found.deviation, (moved - as_is) / as_is, 0.005);
}

}  // namespace
}  // namespace windgap::cooling
