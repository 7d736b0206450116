#include "engine/fallbacks.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "engine/examples.h"
#include "support/models.h"

namespace windgap::engine {
namespace {

TEST(EngineFallbacks, CalipersAreEnough) {
  const Engine e = example::filled();
  EXPECT_TRUE(missing(e).empty());
  EXPECT_NO_THROW((void)prepare(e, example::coefficients(), test::models().air));
}

TEST(EngineFallbacks, NameEveryValueTheyFill) {
  Engine e = example::calipers();
  const auto assumed = fill_fallbacks(e, example::coefficients());
  const auto named = [&](const char* field) {
    return std::any_of(
        assumed.begin(), assumed.end(), [&](const Assumed& a) { return a.field == field; });
  };
  EXPECT_TRUE(named("compressor.backsweep"));
  EXPECT_TRUE(named("turbine.clearance"));
  EXPECT_TRUE(named("combustor.cold_loss_factor"));
  EXPECT_TRUE(named("bearings.oil.inlet_temperature"));
  EXPECT_TRUE(named("rotor.inertia"));
  for (const auto& a : assumed) {
    EXPECT_TRUE(std::isfinite(a.value)) << a.field;
    EXPECT_FALSE(a.why.empty()) << a.field;
  }
}

TEST(EngineFallbacks, LeaveWhatWasMeasured) {
  Engine e = example::calipers();
  e.compressor.backsweep = 0.5;
  e.bearings.oil.inlet_temperature = 330.0;
  const auto assumed = fill_fallbacks(e, example::coefficients());
  EXPECT_EQ(e.compressor.backsweep, 0.5);
  EXPECT_EQ(e.bearings.oil.inlet_temperature, 330.0);
  for (const auto& a : assumed) EXPECT_NE(a.field, "compressor.backsweep");
}

TEST(EngineFallbacks, FillOnceOnly) {
  Engine e = example::calipers();
  fill_fallbacks(e, example::coefficients());
  EXPECT_TRUE(fill_fallbacks(e, example::coefficients()).empty());
}

TEST(EngineFallbacks, BallBearingsNeedNoJournal) {
  Engine e = example::calipers();
  e.bearings.kind = BearingKind::ball;
  fill_fallbacks(e, example::coefficients());
  EXPECT_TRUE(std::isnan(e.bearings.journal_diameter));
  EXPECT_NO_THROW((void)prepare(e, example::coefficients(), test::models().air));
}

TEST(EngineFallbacks, MissingNamesWhatNoRuleCanGive) {
  EXPECT_THAT(missing(Engine{}),
              testing::ElementsAre("compressor.inducer_diameter",
                                   "compressor.exducer_diameter",
                                   "turbine.inducer_diameter",
                                   "turbine.exducer_diameter",
                                   "turbine.volute_area_over_radius",
                                   "bearings.oil.cold.temperature",
                                   "bearings.oil.cold.kinematic_viscosity",
                                   "bearings.oil.hot.temperature",
                                   "bearings.oil.hot.kinematic_viscosity"));
}

TEST(EngineFallbacks, ResistanceNeedsItsTwoNumbersOnly) {
  Engine e;
  e.resistance = Resistance{.throat_diameter = 0.046};
  EXPECT_THAT(missing(e), testing::ElementsAre("resistance.loss_factor"));
  e.resistance->loss_factor = 14.0;
  fill_fallbacks(e, example::coefficients());
  EXPECT_EQ(e.mouth.throat_diameter, 0.046);
  EXPECT_NO_THROW((void)prepare(e, example::coefficients(), test::models().air));
}

TEST(EngineFallbacks, PrepareRefusesWhatIsUnsetOrOutOfOrder) {
  EXPECT_THROW((void)prepare(example::calipers(), example::coefficients(), test::models().air),
               std::logic_error);
  Engine e = example::filled();
  e.compressor.inducer_diameter = 2.0 * e.compressor.exducer_diameter;
  EXPECT_THROW((void)prepare(e, example::coefficients(), test::models().air), std::logic_error);
}

}  // namespace
}  // namespace windgap::engine
