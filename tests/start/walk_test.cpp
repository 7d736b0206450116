#include "start/walk.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace windgap::start {
namespace {

/// y' = -y, z' = 1.
void decay(const std::array<double, 2>& y, std::array<double, 2>& dy, double /*time*/) {
  dy = {-y[0], 1.0};
}

struct Errors {
  double at_ends = 0.0;
  double between = 0.0;
  int steps = 0;
};

Errors follow(double tolerance) {
  Walk<2> walk({.tolerance = tolerance, .longest_step = 0.5});
  walk.start({1.0, 0.0}, 0.0);
  Errors errors;
  for (double time = 0.0; time < 5.0; ++errors.steps) {
    const auto [from, to] = walk.step(decay);
    const double middle = 0.5 * (from + to);
    errors.at_ends = std::max(errors.at_ends, std::abs(walk.at(to)[0] - std::exp(-to)));
    errors.between = std::max(errors.between, std::abs(walk.at(middle)[0] - std::exp(-middle)));
    EXPECT_LE(to - from, 0.5 * (1.0 + 1e-12));
    EXPECT_NEAR(walk.at(middle)[1], middle, 1e-12);
    time = to;
  }
  return errors;
}

TEST(Walk, FollowsADecayInsideItsStepsToo) {
  const auto fine = follow(1e-8);
  EXPECT_LT(fine.at_ends, 1e-7);
  EXPECT_LT(fine.between, 1e-6);
}

TEST(Walk, ErrsLessWithATighterTolerance) {
  EXPECT_LT(follow(1e-9).at_ends, 0.1 * follow(1e-5).at_ends);
}

}  // namespace
}  // namespace windgap::start
