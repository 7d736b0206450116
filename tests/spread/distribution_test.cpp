#include "spread/distribution.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace windgap::spread {
namespace {

TEST(Distribution, NothingMovesAtTheMiddle) {
  for (const auto kind :
       {Distribution::none, Distribution::normal, Distribution::lognormal, Distribution::uniform}) {
    EXPECT_DOUBLE_EQ(moved(3.0, {.distribution = kind, .width = 0.2}, 0.0), 3.0);
  }
}

TEST(Distribution, OneDeviationIsWhatTheEntrySays) {
  EXPECT_DOUBLE_EQ(moved(3.0, {.distribution = Distribution::normal, .width = 0.2}, 1.0), 3.2);
  EXPECT_DOUBLE_EQ(moved(3.0, {.distribution = Distribution::lognormal, .width = 0.2}, -1.0),
                   3.0 * std::exp(-0.2));
}

TEST(Distribution, AUniformOneFillsItsHalfWidthEvenly) {
  const Shape shape{.distribution = Distribution::uniform, .width = 0.5};
  EXPECT_NEAR(moved(1.0, shape, normal_quantile(0.75)), 1.25, 1e-12);
  EXPECT_GT(moved(1.0, shape, -9.0), 0.5 - 1e-12);
  EXPECT_LT(moved(1.0, shape, 9.0), 1.5 + 1e-12);
}

TEST(Distribution, NoNormalDrawLeavesThreeDeviations) {
  EXPECT_DOUBLE_EQ(moved(1.0, {.distribution = Distribution::normal, .width = 0.1}, 7.0), 1.3);
}

TEST(Distribution, QuantileUndoesTheShare) {
  for (const double share : {1e-12, 0.001, 0.3, 0.5, 0.95, 0.9999}) {
    EXPECT_NEAR(normal_share(normal_quantile(share)), share, 1e-12);
  }
}

TEST(Distribution, TheFarTailKeepsWithinMillsBounds) {
  // phi(z)/z (1 - 1/z^2) < 1 - Phi(z) < phi(z)/z, an identity of the normal tail.
  for (const double z : {31.0, 40.0}) {
    const double upper = -0.5 * z * z - std::log(z * std::sqrt(2.0 * std::numbers::pi));
    EXPECT_LE(log_normal_share(-z), upper + 1e-12);
    EXPECT_GT(log_normal_share(-z), upper + std::log1p(-1.0 / (z * z)));
  }
}

}  // namespace
}  // namespace windgap::spread
