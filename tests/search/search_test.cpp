#include "search/search.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

namespace windgap::search {
namespace {

/// Rosenbrock (1960), Computer Journal 3, 175-184: least at (1, 1).
double valley(std::span<const double> p) {
  return -(100.0 * std::pow(p[1] - p[0] * p[0], 2) + std::pow(1.0 - p[0], 2));
}

/// Branin (1972), IBM J. Res. Dev. 16, 504-522: least value 0.397887 at three points.
double branin(std::span<const double> p) {
  const double pi = std::acos(-1.0);
  const double bend = p[1] - 5.1 / (4 * pi * pi) * p[0] * p[0] + 5 / pi * p[0] - 6;
  return -(bend * bend + 10 * (1 - 1 / (8 * pi)) * std::cos(p[0]) + 10);
}

TEST(Search, FindsTheBestOfSeveralHills) {
  const auto result = search_box(branin, {.lower = {-5, 0}, .upper = {10, 15}}, {});
  EXPECT_TRUE(result.usable());
  EXPECT_NEAR(result.value, -0.397887, 1e-4);
}

TEST(Search, IsTheSameTwice) {
  const Bounds box{.lower = {-5, 0}, .upper = {10, 15}};
  const auto first = search_box(branin, box, {});
  const auto second = search_box(branin, box, {});
  EXPECT_EQ(first.point, second.point);
  EXPECT_EQ(first.evaluations, second.evaluations);
}

TEST(Search, ClimbsToAConstraint) {
  // Farthest point of the disc x^2 + y^2 <= 2 along (1, 1): (1, 1).
  for (const std::vector<double>& start : {std::vector{0.1, 0.2}, {-1.0, 0.5}, {0.9, -1.0}}) {
    const auto result = climb([](std::span<const double> p) { return p[0] + p[1]; },
                              [](std::span<const double> p, std::span<double> slacks) {
                                slacks[0] = 2.0 - p[0] * p[0] - p[1] * p[1];
                              },
                              1,
                              {.lower = {-3, -3}, .upper = {3, 3}},
                              start,
                              {});
    ASSERT_TRUE(result.usable()) << result.message;
    EXPECT_NEAR(result.point[0], 1.0, 1e-3);
    EXPECT_NEAR(result.point[1], 1.0, 1e-3);
    EXPECT_LE(result.point[0] * result.point[0] + result.point[1] * result.point[1], 2.0);
  }
}

TEST(Search, SaysWhenNothingIsFeasible) {
  const auto result =
      climb([](std::span<const double> p) { return p[0]; },
            [](std::span<const double>, std::span<double> slacks) { slacks[0] = -1.0; },
            1,
            {.lower = {0}, .upper = {1}},
            std::vector{0.5},
            {});
  EXPECT_EQ(result.status, Status::infeasible);
  EXPECT_FALSE(result.usable());
}

TEST(Search, KeepsTheBestPointWhenTheBudgetEnds) {
  const auto result =
      search_box(valley, {.lower = {-2, -2}, .upper = {2, 2}}, {.most_evaluations = 40});
  EXPECT_EQ(result.status, Status::budget_spent);
  EXPECT_DOUBLE_EQ(result.value, valley(result.point));
}

TEST(Search, PassesOnWhatTheObjectiveThrows) {
  EXPECT_THROW(
      (void)search_box(
          [](std::span<const double>) -> double { throw std::out_of_range("beyond the table"); },
          {.lower = {0}, .upper = {1}},
          {}),
      std::out_of_range);
}

TEST(Search, RefusesAnEmptyOrUpsideDownBox) {
  EXPECT_THROW((void)search_box(valley, {}, {}), std::logic_error);
  EXPECT_THROW((void)search_box(valley, {.lower = {1, 1}, .upper = {0, 2}}, {}), std::logic_error);
}

}  // namespace
}  // namespace windgap::search
