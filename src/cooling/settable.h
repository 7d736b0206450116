#pragma once

#include <algorithm>
#include <cmath>

/// What a person beside the bench can set: the throttle in whole percents, the fan's end on a
/// watch.
namespace windgap::cooling {

/// How finely a watch is read about a time [s]: whole seconds below ten, five seconds up to half an
/// hour, whole minutes beyond.
[[nodiscard]] inline double time_step(double seconds) {
  constexpr double finely_below = 10.0;
  constexpr double coarsely_above = 1800.0;
  constexpr double coarse = 5.0;
  constexpr double minute = 60.0;
  if (seconds < finely_below) return 1.0;
  return seconds > coarsely_above ? minute : coarse;
}

/// The next time that is read off a watch [s], never earlier. Infinity stays.
[[nodiscard]] inline double settable_time(double seconds) {
  if (!std::isfinite(seconds)) return seconds;
  const double step = time_step(seconds);
  return step * std::ceil(std::max(seconds, 0.0) / step);
}

/// Whole percents of throttle within a range; empty if none lies in it.
struct Percents {
  int least = 0;
  int most = 0;
  [[nodiscard]] bool empty() const noexcept { return most < least; }
  /// A share of the way from the least to the most.
  [[nodiscard]] int between(double share) const {
    return least + static_cast<int>(std::lround(share * (most - least)));
  }
  /// Nearest of them.
  [[nodiscard]] int nearest(double throttle) const {
    return std::clamp(static_cast<int>(std::lround(100.0 * throttle)), least, most);
  }
};

[[nodiscard]] inline Percents whole_percents(double least_throttle, double most_throttle) {
  constexpr double rounding = 1e-9;
  return {.least = static_cast<int>(std::ceil(100.0 * least_throttle - rounding)),
          .most = static_cast<int>(std::floor(100.0 * most_throttle + rounding))};
}

[[nodiscard]] inline double throttle_of(int percent) { return percent / 100.0; }
[[nodiscard]] inline int percent_of(double throttle) {
  return static_cast<int>(std::lround(100.0 * throttle));
}

}  // namespace windgap::cooling
