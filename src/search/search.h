#pragma once

#include <functional>
#include <span>
#include <string>
#include <vector>

/// The only room that knows NLopt: bounded maximization of a continuous function, optionally under
/// inequality constraints. Deterministic: no stage draws random numbers.
namespace windgap::search {

struct Bounds {
  std::vector<double> lower;
  std::vector<double> upper;  ///< same length, each above its lower
};

/// Value at a point; larger is better. Must be finite.
using Objective = std::function<double(std::span<const double> point)>;

/// Fills `slacks`; a point is feasible where all are >= 0.
using Constraints = std::function<void(std::span<const double> point, std::span<double> slacks)>;

struct Options {
  int most_evaluations = 2000;
  double relative_tolerance = 1e-8;  ///< of the point, over the bounds' width
};

enum class Status {
  converged,     ///< tolerance reached
  budget_spent,  ///< the best point so far is usable
  infeasible,    ///< no feasible point was met
  failed         ///< NLopt gave up; see message
};

struct Result {
  std::vector<double> point;  ///< best feasible one seen, whatever NLopt returned
  double value = 0.0;
  Status status = Status::failed;
  int evaluations = 0;
  std::string message;
  [[nodiscard]] bool usable() const {
    return status == Status::converged || status == Status::budget_spent;
  }
};

/// Over the whole box: locally biased dividing rectangles. @throws std::logic_error on bad bounds;
/// what the objective throws passes through.
[[nodiscard]] Result search_box(const Objective& objective,
                                const Bounds& bounds,
                                const Options& options);

/// Uphill from `start` under `count` constraints, by linear models in a shrinking trust region
/// (no derivatives). Constraints should be of order one.
[[nodiscard]] Result climb(const Objective& objective,
                           const Constraints& constraints,
                           std::size_t count,
                           const Bounds& bounds,
                           std::span<const double> start,
                           const Options& options);

}  // namespace windgap::search
