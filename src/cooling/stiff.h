#pragma once

#include <cstddef>
#include <memory>

/// One controlled step of a stiff system after another. This header and its source are C++17: the
/// linear algebra inside Boost 1.74's Rosenbrock stepper uses allocator members that C++20 took
/// away, so its source alone is compiled as C++17.
namespace windgap::cooling {

/// dx/dt = f(x) with its slopes.
class StiffSystem {
 public:
  StiffSystem() = default;
  StiffSystem(const StiffSystem&) = delete;
  StiffSystem& operator=(const StiffSystem&) = delete;
  StiffSystem(StiffSystem&&) = delete;
  StiffSystem& operator=(StiffSystem&&) = delete;
  virtual ~StiffSystem() = default;

  [[nodiscard]] virtual std::size_t size() const = 0;
  /// `rate` and `x` hold `size()` values.
  virtual void rates(const double* x, double* rate) const = 0;
  /// slope[i * size() + j] = d rate_i / d x_j.
  virtual void slopes(const double* x, double* slope) const = 0;
};

/// Rosenbrock's method, fourth order with an embedded third, step size by error control.
class StiffStepper {
 public:
  struct Tolerance {
    double absolute = 0.0;
    double relative = 0.0;
  };
  StiffStepper(const StiffSystem& system, const double* start, Tolerance tolerance);
  StiffStepper(const StiffStepper&) = delete;
  StiffStepper& operator=(const StiffStepper&) = delete;
  StiffStepper(StiffStepper&&) = delete;
  StiffStepper& operator=(StiffStepper&&) = delete;
  ~StiffStepper();

  /// Tries a step of `step`; true: taken, `time` has moved on. Either way `step` becomes what
  /// should be tried next.
  [[nodiscard]] bool try_step(double& time, double& step);
  [[nodiscard]] const double* state() const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace windgap::cooling
