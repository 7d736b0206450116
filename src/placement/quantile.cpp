#include "placement/quantile.h"

#include <algorithm>

namespace windgap::placement {
namespace {

/// Largest first; of equal values the earlier member.
bool comes_first(const Ranked& a, const Ranked& b) {
  return a.value > b.value || (a.value == b.value && a.member < b.member);
}

}  // namespace

double reached_by(std::span<const double> values,
                  std::span<const double> weights,
                  double share,
                  std::vector<Ranked>& scratch) {
  constexpr std::ptrdiff_t few = 32;
  scratch.clear();
  double whole = 0.0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (weights[i] <= 0.0) continue;
    scratch.push_back({.value = values[i], .weight = weights[i], .member = i});
    whole += weights[i];
  }
  const double wanted = share * whole;
  // Halve what may hold the wanted weight, its first member lying before it or being the very
  // first.
  auto from = scratch.begin();
  auto to = scratch.end();
  double passed = 0.0;
  while (to - from > few) {
    const auto middle = from + (to - from) / 2;
    std::nth_element(from, middle, to, comes_first);
    double before = passed;
    for (auto it = from; it != middle; ++it) before += it->weight;
    if (before + 0.5 * middle->weight < wanted) {
      from = middle;
      passed = before;
    } else {
      to = middle + 1;
    }
  }
  std::sort(from, to, comes_first);
  double last_middle = passed;
  double last_value = from->value;
  for (auto it = from; it != to; ++it) {
    const double middle = passed + 0.5 * it->weight;
    if (wanted <= middle) {
      if (it == scratch.begin()) return it->value;
      const double along = (wanted - last_middle) / (middle - last_middle);
      return last_value + along * (it->value - last_value);
    }
    passed += it->weight;
    last_middle = middle;
    last_value = it->value;
  }
  return last_value;
}

}  // namespace windgap::placement
