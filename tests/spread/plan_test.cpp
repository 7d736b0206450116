#include "spread/plan.h"

#include <gtest/gtest.h>

#include "support/bench.h"
#include "support/models.h"

namespace windgap::spread {
namespace {

/// Nothing moves but what a test adds.
Plan still_plan() {
  Plan plan;
  auto models = test::models();
  rig::visit_modules(models, [&](std::string_view, auto& module) {
    visit(module, [&](std::string_view, auto&) { plan.coefficients.emplace_back(); });
  });
  return plan;
}

Subject subject() {
  Subject made;
  made.parts = test::garden_parts();
  made.models = test::models();
  return made;
}

TEST(Plan, NamesOneAxisForAGroupAndAnotherForItsStarts) {
  Plan plan;
  EXPECT_EQ(plan.axis("pack", Varies::bench), 0U);
  EXPECT_EQ(plan.axis("pack", Varies::start), 1U);
  EXPECT_EQ(plan.axis("pack", Varies::bench), 0U);
}

TEST(Maker, TheMiddleIsTheNominalBench) {
  auto plan = still_plan();
  (void)plan.axis("unused", Varies::bench);
  const auto made = subject();
  Maker maker(plan, made);
  const std::vector<double> middle(plan.axes.size(), 0.0);
  const auto nominal =
      rig::assemble(test::garden_parts(), test::models(), rig::JetChoice::estimated);
  EXPECT_EQ(rig::deliver(maker.make(middle), 0.2).airflow, rig::deliver(nominal, 0.2).airflow);
}

TEST(Maker, MovesTheCoefficientWhoseEntryIsNamed) {
  auto plan = still_plan();
  auto models = test::models();
  const std::size_t axis = plan.axis("thrust", Varies::bench);
  std::size_t next = 0;
  rig::visit_modules(models, [&](std::string_view module, auto& coefficients) {
    visit(coefficients, [&](std::string_view key, auto&) {
      if (module == "fan" && key == "datasheet_thrust") {
        plan.coefficients[next] = {.axis = axis,
                                   .shape = {.distribution = Distribution::normal, .width = 0.1}};
      }
      ++next;
    });
  });
  const auto made = subject();
  Maker maker(plan, made);
  auto expected = test::models();
  expected.fan.datasheet_thrust += 0.05;
  const std::vector<double> z{0.5};
  EXPECT_DOUBLE_EQ(
      maker.make(z).open.thrust,
      rig::assemble(test::garden_parts(), expected, rig::JetChoice::estimated).open.thrust);
  // The next draw starts from the nominal values again.
  EXPECT_DOUBLE_EQ(maker.make(z).open.thrust, maker.make(z).open.thrust);
}

TEST(Maker, KeepsADrawnNumberWithinItsBounds) {
  auto plan = still_plan();
  plan.parts.push_back({.move = {.axis = plan.axis("wind", Varies::start),
                                 .shape = {.distribution = Distribution::normal, .width = 5.0}},
                        .find = [](rig::Parts& parts) { return &parts.site.wind; },
                        .least = 0.0});
  const auto made = subject();
  Maker maker(plan, made);
  EXPECT_EQ(maker.make(std::vector{-3.0}).ambient.wind, 0.0);
}

TEST(Maker, RefusesTooFewNormals) {
  auto plan = still_plan();
  (void)plan.axis("one", Varies::bench);
  const auto made = subject();
  Maker maker(plan, made);
  EXPECT_THROW((void)maker.make({}), std::logic_error);
}

}  // namespace
}  // namespace windgap::spread
