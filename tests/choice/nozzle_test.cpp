#include "choice/nozzle.h"

#include <gtest/gtest.h>

#include <cmath>

#include "choice/scene.h"
#include "support/bench.h"
#include "support/models.h"

namespace windgap::choice {
namespace {

TEST(Nozzle, NeverPushesAFanIntoStallAndNeverLosesToTheBareFanUnsaid) {
  for (const auto* engine : {"shed-34", "garden-46", "field-76"}) {
    const auto& m = test::market(engine);
    for (const auto& tried : m.ranking.nozzles) {
      const auto& nozzle = tried.nozzle;
      if (!std::isfinite(nozzle.stand_off)) continue;
      EXPECT_GE(nozzle.stall_margin, -1e-9);
      EXPECT_GT(nozzle.throttle, 0.0);
      EXPECT_LE(nozzle.throttle, 1.0);
      if (nozzle.helps && std::isfinite(nozzle.gain)) {
        EXPECT_GT(nozzle.gain, 0.0);
      }
    }
  }
}

TEST(Nozzle, FindsWhatTheSearchOverTheWholeBoxFinds) {
  // The same free design by placement's own search: dividing rectangles over nozzle and throttle.
  auto need = test::usual_requirement();
  need.margin = 0.1;
  auto parts = test::garden_parts();
  parts.start.airflow = 0.018;
  const auto& limits = test::placement_models();
  const auto bare = rig::assemble(parts, test::models(), rig::JetChoice::propeller_like);
  const auto placed = placement::place(bare, need, limits, {});
  ASSERT_TRUE(placed.feasible);
  Coefficients rules;
  rules.worthwhile_gain = 0.03;
  rules.print_error = 0.0;
  const double widest = 2.0 * bare.fan.bore_radius;
  const NozzleRange range{.exit_diameter = {.lower = 0.65 * widest, .upper = widest},
                          .throttle = {.lower = 0.5, .upper = 1.0}};
  const auto found = best_nozzle(bare, placed, range, need, limits, rules);
  auto free = need;
  free.nozzle = range.exit_diameter;
  free.throttle = range.throttle;
  const auto whole = placement::place(bare, free, limits, {});
  ASSERT_TRUE(whole.feasible);
  ASSERT_TRUE(std::isfinite(found.stand_off));
  EXPECT_NEAR(found.stand_off, whole.stand_off, 0.02 * whole.stand_off);
}

// Whoever prints the advised nozzle and describes it in a case must find the same mount there.
TEST(Nozzle, PlacementOfABenchThatHasItAgreesToTheLastDigit) {
  int checked = 0;
  for (const auto* engine : {"shed-34", "garden-46", "field-76"}) {
    const auto& m = test::market(engine);
    for (const auto& tried : m.ranking.nozzles) {
      const auto& nozzle = tried.nozzle;
      if (!std::isfinite(nozzle.stand_off)) continue;
      const auto& choice = m.ranking.choices[tried.choice];
      auto parts = bench_of(
          m.question, m.list.fans[choice.fan], choice.pack ? &m.list.packs[*choice.pack] : nullptr);
      auto* const ducted = std::get_if<fan::Fan>(&parts.source);
      ASSERT_NE(ducted, nullptr);
      ducted->nozzle_diameter = nozzle.exit_diameter;
      parts.throttle = nozzle.throttle;
      const auto placed = [&] {
        return placement::answer(parts,
                                 m.question.models,
                                 m.question.need,
                                 m.question.limits,
                                 {.extent = placement::Extent::advice},
                                 m.question.deriving);
      };
      EXPECT_EQ(placed().advice.stand_off, nozzle.stand_off);
      ducted->nozzle_diameter = nozzle.exit_diameter - m.question.rules.print_error;
      EXPECT_TRUE(placed().advice.feasible);
      ++checked;
    }
  }
  EXPECT_GT(checked, 0);
}

TEST(Nozzle, MeasuredStreamIsLeftAlone) {
  auto parts = test::garden_parts();
  parts.source = fan::Stream{.exit_diameter = 0.06, .velocity = 70.0};
  parts.fan_outer_diameter = 0.066;
  parts.start.airflow = 0.018;
  const auto need = test::usual_requirement();
  const auto& limits = test::placement_models();
  const auto bare = rig::assemble(parts, test::models(), rig::JetChoice::estimated);
  const auto placed = placement::place(bare, need, limits, {});
  const auto found = best_nozzle(bare, placed, {}, need, limits, {});
  EXPECT_FALSE(found.searched);
  EXPECT_FALSE(found.helps);
}

}  // namespace
}  // namespace windgap::choice
