#include "report/cautions.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace windgap::report {
namespace {

TEST(Cautions, RulesComeFirstAndNothingIsLeftOut) {
  const auto list = cautions();
  ASSERT_FALSE(list.empty());
  EXPECT_EQ(list.front().key, "rules_first");
  for (const auto* key : {"rotor_burst",
                          "eyes_and_ears",
                          "debris",
                          "loose_parts",
                          "hands_off",
                          "parked_fan",
                          "fuel_vapour",
                          "purge_again",
                          "hot_metal",
                          "lithium_packs"}) {
    EXPECT_TRUE(std::any_of(list.begin(), list.end(), [&](const auto& caution) {
      return caution.key == key;
    })) << key;
  }
}

TEST(Cautions, FullFormsAreSentences) {
  for (const auto& caution : cautions()) {
    EXPECT_EQ(caution.full.back(), '.') << caution.key;
    EXPECT_GT(caution.full.size(), caution.brief.size()) << caution.key;
  }
}

}  // namespace
}  // namespace windgap::report
