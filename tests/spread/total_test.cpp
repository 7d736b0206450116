#include "spread/total.h"

#include <gtest/gtest.h>

namespace windgap::spread {
namespace {

// Propagation of uncertainty: independent parts add as squares, fully correlated ones straight
// (Guide to the Expression of Uncertainty in Measurement, 5.1.2 and 5.2.2 note 1, from memory).
TEST(Total, SquaresAddOfWhatIsIndependent) {
  Total total;
  total.add("", 3.0);
  total.add("", -4.0);
  EXPECT_DOUBLE_EQ(total.deviation(), 5.0);
}

TEST(Total, WhatMovesTogetherAddsUpFirst) {
  Total total;
  total.add("bearing", 7.0);
  total.add("bearing", -4.0);
  total.add("housing", 4.0);
  EXPECT_DOUBLE_EQ(total.deviation(), 5.0);
}

TEST(Total, NothingIsSureToNothing) { EXPECT_EQ(Total().deviation(), 0.0); }

}  // namespace
}  // namespace windgap::spread
