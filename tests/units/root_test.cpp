#include "units/root.h"

#include <gtest/gtest.h>

#include <cmath>

namespace windgap {
namespace {

// Dottie's number, the solution of cos x = x: 0.7390851332151607, from memory.
TEST(Root, FindsWhereTheCosineIsItsArgument) {
  const auto f = [](double x) { return std::cos(x) - x; };
  const auto root = find_root(f, {0.0, f(0.0)}, {1.0, f(1.0)}, 50U);
  EXPECT_NEAR(root.middle(), 0.7390851332151607, 1e-14);
}

TEST(Root, EnclosesTheRootAsTightlyAsAsked) {
  const auto f = [](double x) { return x * x * x - 2.0; };
  for (const unsigned bits : {10U, 20U, 40U}) {
    const auto root = find_root(f, {0.5, f(0.5)}, {4.0, f(4.0)}, bits);
    EXPECT_LE(f(root.low) * f(root.high), 0.0);
    EXPECT_LE(root.high - root.low, 4.0 * std::ldexp(root.low, 1 - static_cast<int>(bits)));
    EXPECT_LE(root.low, std::cbrt(2.0));
    EXPECT_GE(root.high, std::cbrt(2.0));
  }
}

TEST(Root, TakesAnEndThatIsTheRoot) {
  const auto f = [](double x) { return x - 1.0; };
  EXPECT_EQ(find_root(f, {1.0, 0.0}, {2.0, 1.0}, 40U).middle(), 1.0);
  EXPECT_EQ(find_root(f, {0.0, -1.0}, {1.0, 0.0}, 40U).middle(), 1.0);
}

}  // namespace
}  // namespace windgap
