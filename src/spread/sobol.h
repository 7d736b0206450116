#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace windgap::spread {

/// Points of a randomly shifted Sobol sequence, row by row.
struct Points {
  std::size_t count = 0;
  std::size_t dimensions = 0;
  std::vector<double> values;

  [[nodiscard]] std::span<const double> row(std::size_t i) const {
    return std::span(values).subspan(i * dimensions, dimensions);
  }
  [[nodiscard]] std::span<double> row(std::size_t i) {
    return std::span(values).subspan(i * dimensions, dimensions);
  }
};

/// Consecutive points in blocks of this many are well spread for themselves: what they differ by
/// tells the sampling error.
inline constexpr std::size_t block = 512;

struct Sample {
  std::size_t count = 4096;
  std::size_t dimensions = 1;
  std::uint64_t seed = 1;
};

/// Uniform in (0, 1). The shift of every dimension, digit by digit, follows from the seed; the same
/// seed gives the same points (models/spread.md, Eq. 3). `start` skips that many points.
[[nodiscard]] Points uniform_points(const Sample& sample, std::size_t start = 0);

/// The same as independent standard normals.
[[nodiscard]] Points normal_points(const Sample& sample, std::size_t start = 0);

}  // namespace windgap::spread
