#pragma once

#include <algorithm>
#include <cmath>

#include "units/root.h"
#include "units/table.h"

/// The air that passes the engine: where the residual pressure of its march is zero. Internal to
/// start/.
namespace windgap::start {

/// Where a search starts: a neighbour's root.
struct FlowGuess {
  double flow = unset;   ///< [kg/s]
  double slope = unset;  ///< d(residual)/d(flow) [Pa s/kg]; unset: found by a small step
};

struct ClosedFlow {
  double flow = unset;
  double slope = unset;
  bool converged = false;
};

/// First + to - crossing from zero flow: growing steps about `scale`, then TOMS 748. A supply that
/// pushes not even a trickle through gives zero flow.
template <class Residual>
ClosedFlow bracket_flow(Residual&& residual, double scale) {
  constexpr int most_steps = 70;
  constexpr double first_share = 1e-4;
  constexpr double growth = 1.2;
  constexpr unsigned bits = 46;
  double low = first_share * scale;
  double at_low = residual(low);
  bool any = at_low > 0.0;
  for (int i = 1; i <= most_steps; ++i) {
    const double high = growth * low;
    const double at_high = residual(high);
    if (at_low > 0.0 && at_high <= 0.0) {
      const double root = find_root(residual, {low, at_low}, {high, at_high}, bits).middle();
      (void)residual(root);
      return {.flow = root, .slope = (at_high - at_low) / (high - low), .converged = true};
    }
    any = any || at_high > 0.0;
    low = high;
    at_low = at_high;
  }
  return {.flow = any ? low : 0.0, .slope = unset, .converged = !any};
}

/// Secant steps from the guess; where they do not settle on a falling residual, `bracket_flow`.
/// `residual` was last called at the returned flow.
template <class Residual>
ClosedFlow close_flow(Residual&& residual, const FlowGuess& guess, double tolerance) {
  constexpr int most_steps = 16;
  constexpr double probe = 1e-3;
  double flow = guess.flow;
  double slope = guess.slope;
  double value = residual(flow);
  if (!std::isfinite(slope)) {
    const double other = flow * (1.0 + probe);
    const double at_other = residual(other);
    slope = (at_other - value) / (other - flow);
    flow = other;
    value = at_other;
  }
  for (int step = 0; step < most_steps; ++step) {
    const double next = std::clamp(flow - value / slope, 0.5 * flow, 2.0 * flow);
    if (!(slope < 0.0)) break;
    const double change = next - flow;
    const double before = value;
    flow = next;
    value = residual(flow);
    if (std::abs(change) <= tolerance * flow) {
      return {.flow = flow, .slope = slope, .converged = true};
    }
    const double secant = (value - before) / change;
    if (std::isfinite(secant)) slope = secant;
  }
  return bracket_flow(residual, guess.flow);
}

}  // namespace windgap::start
