#include "units/table.h"

#include <gtest/gtest.h>

#include <stdexcept>

namespace windgap {
namespace {

const Table rounded_entry{.x = {0.0, 0.02, 0.05, 0.10, 0.20}, .y = {0.50, 0.37, 0.22, 0.12, 0.03}};

TEST(Table, PassesThroughItsPoints) {
  for (std::size_t i = 0; i < rounded_entry.x.size(); ++i) {
    EXPECT_NEAR(interpolate(rounded_entry, rounded_entry.x[i]), rounded_entry.y[i], 1e-12);
  }
}

TEST(Table, StaysBetweenItsNeighboursAndHoldsItsEnds) {
  for (double x = 0.051; x < 0.0999; x += 0.001) {
    EXPECT_LT(interpolate(rounded_entry, x), 0.22);
    EXPECT_GT(interpolate(rounded_entry, x), 0.12);
  }
  EXPECT_EQ(interpolate(rounded_entry, -1.0), 0.50);
  EXPECT_EQ(interpolate(rounded_entry, 3.0), 0.03);
}

TEST(Table, JoinsTwoPointsByALine) {
  EXPECT_DOUBLE_EQ(interpolate({.x = {1.0, 3.0}, .y = {10.0, 20.0}}, 2.5), 17.5);
}

TEST(Table, RefusesPointsThatDoNotRise) {
  EXPECT_THROW((void)interpolate({.x = {0.0, 0.0}, .y = {1.0, 2.0}}, 0.0), std::logic_error);
  EXPECT_THROW((void)interpolate({.x = {0.0}, .y = {1.0}}, 0.0), std::logic_error);
}

}  // namespace
}  // namespace windgap
