#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace windgap::rig {

/// Two equations in two unknowns by Broyden's first method: the slopes are improved from the steps
/// themselves, so each step costs one evaluation. Unknowns and equations should be of order one.
struct PairRoot {
  std::array<double, 2> at{};
  bool converged = false;  ///< the last step was so short that the next would change no digit shown
};

/// `f(x)` returns the two residuals; `slopes[i][j]` = d f_i / d x_j near the start. Steps longer
/// than `longest` in either unknown are shortened. No allocation.
template <class Function>
[[nodiscard]] PairRoot solve_pair(Function&& f,
                                  std::array<double, 2> start,
                                  std::array<std::array<double, 2>, 2> slopes,
                                  double longest) {
  constexpr int most_steps = 24;
  constexpr double short_step = 1e-7;  // steps shrink by orders: an error below 1e-10 is left
  auto x = start;
  auto value = f(x);
  auto& j = slopes;
  for (int step = 0; step < most_steps; ++step) {
    const double determinant = j[0][0] * j[1][1] - j[0][1] * j[1][0];
    if (!(std::abs(determinant) > 0.0)) break;
    std::array<double, 2> move{(-value[0] * j[1][1] + value[1] * j[0][1]) / determinant,
                               (-value[1] * j[0][0] + value[0] * j[1][0]) / determinant};
    const double size = std::max(std::abs(move[0]), std::abs(move[1]));
    if (!std::isfinite(size)) break;
    if (size > longest) {
      move[0] *= longest / size;
      move[1] *= longest / size;
    }
    x = {x[0] + move[0], x[1] + move[1]};
    const auto next = f(x);
    if (size <= short_step) return {.at = x, .converged = true};
    const double square = move[0] * move[0] + move[1] * move[1];
    for (std::size_t i = 0; i < 2; ++i) {
      const double miss = next[i] - value[i] - j[i][0] * move[0] - j[i][1] * move[1];
      j[i][0] += miss * move[0] / square;
      j[i][1] += miss * move[1] / square;
    }
    value = next;
  }
  return {.at = x};
}

}  // namespace windgap::rig
