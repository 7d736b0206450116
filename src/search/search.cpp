#include "search/search.h"

#include <algorithm>
#include <cmath>
#include <exception>
#include <nlopt.hpp>
#include <stdexcept>

namespace windgap::search {
namespace {

void require_box(const Bounds& bounds) {
  bool sound = !bounds.lower.empty() && bounds.lower.size() == bounds.upper.size();
  for (std::size_t i = 0; sound && i < bounds.lower.size(); ++i) {
    sound = std::isfinite(bounds.lower[i]) && std::isfinite(bounds.upper[i]) &&
            bounds.lower[i] < bounds.upper[i];
  }
  if (!sound) throw std::logic_error("a search needs finite bounds, each upper above its lower");
}

/// NLopt sees the unit box, so that one tolerance serves every variable; this keeps the way back,
/// the best feasible point of all that were tried, and what the caller's function threw.
struct Watch {
  const Objective* objective = nullptr;
  const Constraints* constraints = nullptr;
  const Bounds* bounds = nullptr;
  std::vector<double> point;
  std::vector<double> slacks;
  std::vector<double> constrained_at;  ///< unit-box point that `slacks` belong to
  Result best;
  bool found = false;
  std::exception_ptr thrown;

  void scale(const double* unit, std::size_t n) {
    for (std::size_t i = 0; i < n; ++i) {
      point[i] = bounds->lower[i] + unit[i] * (bounds->upper[i] - bounds->lower[i]);
    }
  }

  void evaluate_constraints(const double* unit, std::size_t n) {
    if (constraints == nullptr || std::equal(unit, unit + n, constrained_at.begin())) return;
    scale(unit, n);
    (*constraints)(point, slacks);
    constrained_at.assign(unit, unit + n);
  }

  void note(double value, const double* unit, std::size_t n) {
    ++best.evaluations;
    evaluate_constraints(unit, n);
    for (const double slack : slacks) {
      if (slack < 0.0) return;
    }
    if (found && value <= best.value) return;
    scale(unit, n);
    found = true;
    best.value = value;
    best.point = point;
  }
};

template <class Function>
double guarded(Watch& watch, Function&& function) {
  try {
    return function();
  } catch (...) {
    watch.thrown = std::current_exception();
    throw nlopt::forced_stop();
  }
}

double call_objective(unsigned n, const double* unit, double* /*gradient*/, void* data) {
  auto& watch = *static_cast<Watch*>(data);
  return guarded(watch, [&] {
    watch.scale(unit, n);
    const double value = (*watch.objective)(watch.point);
    watch.note(value, unit, n);
    return value;
  });
}

void call_constraints(
    unsigned m, double* result, unsigned n, const double* unit, double* /*gradient*/, void* data) {
  auto& watch = *static_cast<Watch*>(data);
  (void)guarded(watch, [&] {
    watch.evaluate_constraints(unit, n);
    for (unsigned i = 0; i < m; ++i) result[i] = -watch.slacks[i];
    return 0.0;
  });
}

Watch make_watch(const Objective& objective, const Bounds& bounds, std::size_t constraint_count) {
  const std::size_t n = bounds.lower.size();
  Watch watch;
  watch.objective = &objective;
  watch.bounds = &bounds;
  watch.point.assign(n, 0.0);
  watch.slacks.assign(constraint_count, 0.0);
  watch.constrained_at.assign(n, std::nan(""));
  return watch;
}

Result run(nlopt::opt& solver, Watch& watch, std::vector<double> unit) {
  double value = 0.0;
  Status status = Status::failed;
  std::string message;
  try {
    const nlopt::result code = solver.optimize(unit, value);
    status = code == nlopt::MAXEVAL_REACHED ? Status::budget_spent : Status::converged;
    message = nlopt_result_to_string(static_cast<nlopt_result>(code));
  } catch (const nlopt::roundoff_limited& stopped) {
    status = Status::converged;
    message = stopped.what();
  } catch (const std::exception& stopped) {
    message = stopped.what();
  }
  if (watch.thrown) std::rethrow_exception(watch.thrown);
  Result result = watch.best;
  result.message = message;
  result.status = status != Status::failed && !watch.found ? Status::infeasible : status;
  return result;
}

void set_limits(nlopt::opt& solver, const Options& options) {
  const unsigned n = solver.get_dimension();
  solver.set_lower_bounds(std::vector<double>(n, 0.0));
  solver.set_upper_bounds(std::vector<double>(n, 1.0));
  solver.set_maxeval(options.most_evaluations);
  solver.set_xtol_abs(options.relative_tolerance);
}

}  // namespace

Result search_box(const Objective& objective, const Bounds& bounds, const Options& options) {
  require_box(bounds);
  const auto n = static_cast<unsigned>(bounds.lower.size());
  Watch watch = make_watch(objective, bounds, 0);
  nlopt::opt solver(nlopt::GN_DIRECT_L, n);
  set_limits(solver, options);
  solver.set_max_objective(call_objective, &watch);
  return run(solver, watch, std::vector<double>(n, 0.5));
}

Result climb(const Objective& objective,
             const Constraints& constraints,
             std::size_t count,
             const Bounds& bounds,
             std::span<const double> start,
             const Options& options) {
  require_box(bounds);
  const auto n = static_cast<unsigned>(bounds.lower.size());
  if (start.size() != n) throw std::logic_error("a climb starts from a point of the box");
  constexpr double first_step = 0.05;
  Watch watch = make_watch(objective, bounds, count);
  watch.constraints = &constraints;
  nlopt::opt solver(nlopt::LN_COBYLA, n);
  set_limits(solver, options);
  solver.set_max_objective(call_objective, &watch);
  solver.add_inequality_mconstraint(call_constraints, &watch, std::vector<double>(count, 0.0));
  solver.set_initial_step(first_step);
  std::vector<double> unit(n);
  for (std::size_t i = 0; i < n; ++i) {
    const double share = (start[i] - bounds.lower[i]) / (bounds.upper[i] - bounds.lower[i]);
    unit[i] = std::clamp(share, 0.0, 1.0);
  }
  return run(solver, watch, std::move(unit));
}

}  // namespace windgap::search
