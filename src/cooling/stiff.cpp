#include "cooling/stiff.h"

#include <algorithm>
#include <boost/numeric/odeint/stepper/rosenbrock4.hpp>
#include <boost/numeric/odeint/stepper/rosenbrock4_controller.hpp>
#include <utility>

namespace windgap::cooling {

namespace odeint = boost::numeric::odeint;

struct StiffStepper::Inside {
  using Vector = boost::numeric::ublas::vector<double>;
  using Matrix = boost::numeric::ublas::matrix<double>;
  using Controller = odeint::rosenbrock4_controller<odeint::rosenbrock4<double>>;

  const StiffSystem& system;
  Controller controller;
  Vector x;
};

StiffStepper::StiffStepper(const StiffSystem& system, const double* start, Tolerance tolerance)
    : inside_(new Inside{system,
                         Inside::Controller(tolerance.absolute, tolerance.relative),
                         Inside::Vector(system.size())}) {
  std::copy_n(start, system.size(), inside_->x.begin());
}

StiffStepper::~StiffStepper() = default;

bool StiffStepper::try_step(double& time, double& step) {
  const auto& system = inside_->system;
  const auto rates = [&](const Inside::Vector& x, Inside::Vector& rate, double) {
    system.rates(x.data().begin(), rate.data().begin());
  };
  const auto slopes =
      [&](const Inside::Vector& x, Inside::Matrix& slope, double, Inside::Vector& by_time) {
        system.slopes(x.data().begin(), &slope(0, 0));
        by_time.clear();
      };
  return inside_->controller.try_step(std::make_pair(rates, slopes), inside_->x, time, step) ==
         odeint::success;
}

const double* StiffStepper::state() const { return inside_->x.data().begin(); }

}  // namespace windgap::cooling
