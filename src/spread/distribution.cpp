#include "spread/distribution.h"

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>
#include <numbers>

namespace windgap::spread {
namespace {

using Fast = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

}  // namespace

double normal_share(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

double normal_quantile(double share) {
  return -std::numbers::sqrt2 * boost::math::erfc_inv(2.0 * share, Fast());
}

double log_normal_share(double z) {
  constexpr double far = -30.0;
  if (z > far) return std::log(normal_share(z));
  // Leading term of the tail's asymptotic series.
  return -0.5 * z * z - std::log(-z * std::sqrt(2.0 * std::numbers::pi));
}

double moved(double value, const Shape& shape, double z) {
  const double within = std::clamp(z, -farthest_normal, farthest_normal);
  switch (shape.distribution) {
    case Distribution::normal:
      return value + within * shape.width;
    case Distribution::lognormal:
      return value * std::exp(within * shape.width);
    case Distribution::uniform:
      return value + (2.0 * normal_share(z) - 1.0) * shape.width;
    case Distribution::none:
      break;
  }
  return value;
}

}  // namespace windgap::spread
