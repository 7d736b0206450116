#include "placement/first_order.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "support/bench.h"
#include "support/models.h"

namespace windgap::placement {
namespace {

rig::Parts parts() {
  auto bench = test::garden_parts();
  bench.start.airflow = 0.0145;
  bench.propeller_share = 0.1;
  return bench;
}

placement::Answer placed(const rig::Parts& bench, const rig::Coefficients& models) {
  return placement::answer(bench, models, test::usual_requirement(), test::placement_models(), {});
}

Variation spread_rate(double by) {
  return {.name = "jet.spread_rate_nozzle",
          .group = "",
          .apply = [by](rig::Parts&, rig::Coefficients& c) { c.jet.spread_rate_nozzle += by; }};
}

TEST(FirstOrder, AgreesWithPlacingTheChangedBench) {
  const auto nominal = placed(parts(), test::models());
  ASSERT_TRUE(nominal.advice.feasible);
  auto changed = test::models();
  changed.jet.spread_rate_nozzle += 0.002;
  const double moved = placed(parts(), changed).advice.edge - nominal.advice.edge;
  const auto found = first_order(
      parts(), test::models(), nominal, test::usual_requirement(), {spread_rate(0.002)});
  ASSERT_EQ(found.influences.size(), 1U);
  EXPECT_NEAR(found.influences.front().stand_off, moved, 0.05 * std::abs(moved));
  EXPECT_DOUBLE_EQ(found.stand_off_deviation, std::abs(found.influences.front().stand_off));
}

TEST(FirstOrder, AddsIndependentsBySquaresAndGroupsByThemselves) {
  const auto nominal = placed(parts(), test::models());
  const auto deviation = [&](const std::string& group) {
    auto twice = std::vector(2, spread_rate(0.002));
    for (auto& variation : twice) variation.group = group;
    return first_order(parts(), test::models(), nominal, test::usual_requirement(), twice)
        .supply_deviation;
  };
  EXPECT_NEAR(deviation("jet") / deviation(""), std::sqrt(2.0), 1e-9);
}

TEST(FirstOrder, NeedsAMount) {
  auto hopeless = parts();
  hopeless.start.airflow = 0.2;
  EXPECT_THROW((void)first_order(hopeless,
                                 test::models(),
                                 placed(hopeless, test::models()),
                                 test::usual_requirement(),
                                 {}),
               std::logic_error);
}

}  // namespace
}  // namespace windgap::placement
