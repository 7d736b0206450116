#include "spread/sobol.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <set>

namespace windgap::spread {
namespace {

double mean(const Points& points, double (*f)(std::span<const double>)) {
  double sum = 0.0;
  for (std::size_t i = 0; i < points.count; ++i) sum += f(points.row(i));
  return sum / static_cast<double>(points.count);
}

TEST(Sobol, SameSeedSamePointsAndAnotherSeedOthers) {
  const Sample sample{.count = 64, .dimensions = 7, .seed = 3};
  EXPECT_EQ(uniform_points(sample).values, uniform_points(sample).values);
  EXPECT_NE(uniform_points(sample).values,
            uniform_points({.count = 64, .dimensions = 7, .seed = 4}).values);
}

TEST(Sobol, ASkippedStartContinuesTheSequence) {
  const auto whole = uniform_points({.count = 100, .dimensions = 5, .seed = 2});
  const auto rest = uniform_points({.count = 40, .dimensions = 5, .seed = 2}, 60);
  for (std::size_t i = 0; i < rest.count; ++i) {
    for (std::size_t j = 0; j < 5; ++j) EXPECT_EQ(rest.row(i)[j], whole.row(i + 60)[j]);
  }
}

// A Sobol sequence is a (t, s)-sequence in base 2 with t = 0 in every single dimension (Sobol
// 1967), and a digital shift keeps that: each of 512 equal intervals holds one of 512 points.
TEST(Sobol, EveryDimensionOfABlockIsStratified) {
  constexpr std::size_t dimensions = 80;
  // The sequence leaves its zeroth point out, so blocks begin at the second power of two.
  const auto points =
      uniform_points({.count = block, .dimensions = dimensions, .seed = 11}, block - 1);
  for (std::size_t j = 0; j < dimensions; ++j) {
    std::set<int> cells;
    for (std::size_t i = 0; i < block; ++i) {
      cells.insert(static_cast<int>(points.row(i)[j] * static_cast<double>(block)));
    }
    EXPECT_EQ(cells.size(), block) << "dimension " << j;
  }
}

// Sobol's g-function integrates to 1 over the unit cube, whatever its weights (Saltelli & Sobol
// 1995, Eq. 13; from memory). Tolerance: a tenth of what as many random points would give, whose
// standard error follows from the function's variance, prod(1 + 1/(3 (1 + a)^2)) - 1.
TEST(Sobol, IntegratesTheGFunction) {
  constexpr std::size_t dimensions = 8;
  const auto points = uniform_points({.count = 4096, .dimensions = dimensions, .seed = 1});
  const double integral = mean(points, [](std::span<const double> x) {
    double product = 1.0;
    for (std::size_t j = 0; j < x.size(); ++j) {
      const auto a = static_cast<double>(j);
      product *= (std::abs(4.0 * x[j] - 2.0) + a) / (1.0 + a);
    }
    return product;
  });
  double variance = 1.0;
  for (std::size_t j = 0; j < dimensions; ++j) {
    variance *= 1.0 + 1.0 / (3.0 * std::pow(1.0 + static_cast<double>(j), 2));
  }
  EXPECT_NEAR(integral, 1.0, 0.1 * std::sqrt((variance - 1.0) / 4096.0));
}

// Volume of the ball of radius 1 in four dimensions: pi^2/2, in sixteen orthants (closed form). The
// integrand jumps, where quasi-random points gain little: a random standard error is asked.
TEST(Sobol, MeasuresABall) {
  const auto points = uniform_points({.count = 16384, .dimensions = 4, .seed = 1});
  const double share = mean(points, [](std::span<const double> x) {
    double square = 0.0;
    for (const double one : x) square += one * one;
    return square < 1.0 ? 1.0 : 0.0;
  });
  const double exact = std::numbers::pi * std::numbers::pi / 32.0;
  const double random_error = std::sqrt(exact * (1.0 - exact) / 16384.0);
  EXPECT_NEAR(share, exact, random_error);
}

TEST(Sobol, NormalsHaveTheMomentsOfNormals) {
  const auto points = normal_points({.count = 4096, .dimensions = 12, .seed = 5});
  for (std::size_t j = 0; j < points.dimensions; ++j) {
    double first = 0.0;
    double second = 0.0;
    double fourth = 0.0;
    for (std::size_t i = 0; i < points.count; ++i) {
      const double z = points.row(i)[j];
      first += z;
      second += z * z;
      fourth += z * z * z * z;
    }
    EXPECT_NEAR(first / 4096.0, 0.0, 2e-3);
    EXPECT_NEAR(second / 4096.0, 1.0, 1e-2);
    EXPECT_NEAR(fourth / 4096.0, 3.0, 0.2);
  }
}

}  // namespace
}  // namespace windgap::spread
