#include "placement/quantile.h"

#include <algorithm>
#include <numeric>

namespace windgap::placement {

double reached_by(std::span<const double> values,
                  std::span<const double> weights,
                  double share,
                  std::vector<std::size_t>& order) {
  order.resize(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return values[a] > values[b] || (values[a] == values[b] && a < b);
  });
  const double whole = std::accumulate(weights.begin(), weights.end(), 0.0);
  const double wanted = share * whole;
  double passed = 0.0;
  double last_middle = 0.0;
  double last_value = values[order.front()];
  for (const std::size_t i : order) {
    if (weights[i] <= 0.0) continue;
    const double middle = passed + 0.5 * weights[i];
    if (wanted <= middle) {
      if (passed <= 0.0) return values[i];
      const double along = (wanted - last_middle) / (middle - last_middle);
      return last_value + along * (values[i] - last_value);
    }
    passed += weights[i];
    last_middle = middle;
    last_value = values[i];
  }
  return last_value;
}

}  // namespace windgap::placement
