#include "casefile/nearest.h"

#include <gtest/gtest.h>

#include <vector>

namespace windgap::casefile {
namespace {

const std::vector<std::string> keys{"exit_diameter", "hub_diameter", "thrust", "tilt", "slip"};

TEST(Nearest, FindsTheWordAFewLettersApart) {
  EXPECT_EQ(nearest("exit_diamter", keys), "exit_diameter");
  EXPECT_EQ(nearest("Hub-Diameter", keys), "hub_diameter");
  EXPECT_EQ(nearest("thurst", keys), "thrust");
  EXPECT_EQ(nearest("silp", keys), "slip");
}

TEST(Nearest, KeepsQuietWhenNothingIsNear) {
  EXPECT_EQ(nearest("colour", keys), "");
  EXPECT_EQ(nearest("", keys), "");
  EXPECT_EQ(nearest(std::string(1000, 'a'), keys), "");
  EXPECT_EQ(nearest("slip", std::vector<std::string>{}), "");
}

}  // namespace
}  // namespace windgap::casefile
