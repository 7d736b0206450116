#include "units/dimension.h"

#include <gtest/gtest.h>

#include <set>
#include <string>
#include <utility>

namespace windgap::units {
namespace {

TEST(Dimension, HasNoUnitTwice) {
  std::set<std::pair<std::string_view, Dimension>> seen;
  for (const auto& unit : all_units()) {
    EXPECT_TRUE(seen.emplace(unit.symbol, unit.dimension).second) << unit.symbol;
  }
}

TEST(Dimension, ShowsExamplesThatItAccepts) {
  for (const auto& unit : all_units()) {
    const auto words = wording(unit.dimension);
    const std::string example(words.examples.substr(0, words.examples.find(" or ")));
    const auto first = example.substr(0, example.find(','));
    const auto digits = first.find_first_not_of("0123456789.e-");
    const auto symbol = digits == std::string::npos ? "" : first.substr(digits);
    EXPECT_TRUE(find_unit(symbol, unit.dimension)) << first;
  }
}

TEST(Dimension, KnowsWhatAUnitMeasures) {
  EXPECT_EQ(measured_by("mm"), Dimension::length);
  EXPECT_EQ(measured_by("kg"), Dimension::mass);
  EXPECT_EQ(measured_by("parsec"), std::nullopt);
}

}  // namespace
}  // namespace windgap::units
