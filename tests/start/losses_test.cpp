#include "start/losses.h"

#include <gtest/gtest.h>

#include "start/examples.h"

namespace windgap::start {
namespace {

TEST(Losses, RaiseSelfSustainingSpeedOneByOne) {
  const examples::Example example;
  const auto table = loss_table(example.parts, test::models(), example.rig(), example.prepared());
  ASSERT_EQ(table.size(), 5U);
  EXPECT_EQ(table.front().added, Loss::none);
  for (std::size_t i = 1; i < table.size(); ++i) {
    EXPECT_GE(table[i].result.self_sustaining_speed, table[i - 1].result.self_sustaining_speed)
        << name(table[i].added);
  }
}

TEST(Losses, EndWithTheEngineAsItIs) {
  const examples::Example example;
  const auto table = loss_table(example.parts, test::models(), example.rig(), example.prepared());
  const auto whole = starting_airflow(example.rig(), example.prepared());
  EXPECT_DOUBLE_EQ(table.back().result.self_sustaining_speed, whole.self_sustaining_speed);
  EXPECT_DOUBLE_EQ(table.back().result.airflow, whole.airflow);
}

TEST(Losses, NameEveryStep) {
  for (const auto loss :
       {Loss::none, Loss::bearing_friction, Loss::heat_soak, Loss::reynolds, Loss::clearance}) {
    EXPECT_FALSE(name(loss).empty());
  }
}

}  // namespace
}  // namespace windgap::start
