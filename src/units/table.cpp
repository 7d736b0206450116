#include "units/table.h"

// NOLINTNEXTLINE(modernize-deprecated-headers)
#include <math.h>  // Boost 1.74 calls isnan without std::

#include <algorithm>
#include <boost/math/interpolators/pchip.hpp>
#include <stdexcept>

namespace windgap {
namespace {

/// Two or three points are too few for the cubic; straight lines serve.
double interpolate_linearly(const Table& table, double x) {
  const auto above = std::upper_bound(table.x.begin() + 1, table.x.end() - 1, x);
  const auto i = static_cast<std::size_t>(above - table.x.begin());
  const double share = (x - table.x[i - 1]) / (table.x[i] - table.x[i - 1]);
  return table.y[i - 1] + share * (table.y[i] - table.y[i - 1]);
}

constexpr std::size_t fewest_for_cubic = 4;

}  // namespace

double interpolate(const Table& table, double x) {
  const bool rises =
      std::adjacent_find(table.x.begin(), table.x.end(), std::greater_equal<>()) == table.x.end();
  if (table.x.size() < 2 || table.x.size() != table.y.size() || !rises) {
    throw std::logic_error("a table needs two points or more, rising in x, with one y for each");
  }
  if (x <= table.x.front()) return table.y.front();
  if (x >= table.x.back()) return table.y.back();
  if (table.x.size() < fewest_for_cubic) return interpolate_linearly(table, x);
  auto abscissas = table.x;
  auto ordinates = table.y;
  const boost::math::interpolators::pchip<std::vector<double>> cubic(std::move(abscissas),
                                                                     std::move(ordinates));
  return cubic(x);
}

}  // namespace windgap
