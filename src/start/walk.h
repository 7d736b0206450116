#pragma once

#include <array>
#include <boost/numeric/odeint.hpp>
#include <cstddef>
#include <utility>

/// Dormand and Prince's pair with dense output, one bounded step at a time. Internal to start/.
namespace windgap::start {

struct WalkLimits {
  double tolerance = 1e-6;    ///< of a step, relative to the state and, a hundredth of it, to one
  double longest_step = 0.5;  ///< [s]
  double first_step = 1e-3;   ///< [s]
};

template <std::size_t N>
class Walk {
 public:
  using Point = std::array<double, N>;

  explicit Walk(const WalkLimits& limits)
      : limits_(limits),
        stepper_(boost::numeric::odeint::make_dense_output(
            absolute_share * limits.tolerance, limits.tolerance, limits.longest_step, Pair())) {}

  /// Starts anew, after a jump in the equations.
  void start(const Point& point, double time) {
    stepper_.initialize(point, time, limits_.first_step);
  }

  /// One accepted step; rates(point, derivatives, time). @returns its ends [s]
  /// @throws boost::numeric::odeint::no_progress_error when no step is small enough.
  template <class Rates>
  std::pair<double, double> step(Rates&& rates) {
    return stepper_.do_step(rates);
  }

  /// On the last step.
  [[nodiscard]] Point at(double time) {
    Point point;
    stepper_.calc_state(time, point);
    return point;
  }

 private:
  using Pair = boost::numeric::odeint::runge_kutta_dopri5<Point>;
  using Stepper = typename boost::numeric::odeint::result_of::make_dense_output<Pair>::type;
  static constexpr double absolute_share = 0.01;

  WalkLimits limits_;
  Stepper stepper_;
};

}  // namespace windgap::start
