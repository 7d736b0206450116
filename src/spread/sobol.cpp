#include "spread/sobol.h"

#include <boost/random/sobol.hpp>
#include <random>
#include <stdexcept>

#include "spread/distribution.h"
#include "units/parallel.h"

namespace windgap::spread {
namespace {

/// The upper 53 digits as the middle of their interval.
double fraction(std::uint64_t digits) {
  constexpr unsigned dropped = 11;
  constexpr double scale = 1.0 / 9007199254740992.0;  // 2^-53
  return (static_cast<double>(digits >> dropped) + 0.5) * scale;
}

}  // namespace

Points uniform_points(const Sample& sample, std::size_t start) {
  if (sample.count == 0 || sample.dimensions == 0) {
    throw std::logic_error("a sample needs points and dimensions");
  }
  std::mt19937_64 shifts(sample.seed);
  std::vector<std::uint64_t> shift(sample.dimensions);
  for (auto& digits : shift) digits = shifts();
  boost::random::sobol sequence(sample.dimensions);
  sequence.discard(static_cast<std::uintmax_t>(start) * sample.dimensions);
  Points points{.count = sample.count, .dimensions = sample.dimensions, .values = {}};
  points.values.reserve(sample.count * sample.dimensions);
  for (std::size_t i = 0; i < sample.count; ++i) {
    for (std::size_t j = 0; j < sample.dimensions; ++j) {
      points.values.push_back(fraction(sequence() ^ shift[j]));
    }
  }
  return points;
}

Points normal_points(const Sample& sample, std::size_t start) {
  constexpr std::size_t grain = 4096;
  auto points = uniform_points(sample, start);
  in_blocks(points.values.size(), grain, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) points.values[i] = normal_quantile(points.values[i]);
  });
  return points;
}

}  // namespace windgap::spread
