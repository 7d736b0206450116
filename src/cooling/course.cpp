#include "cooling/course.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "cooling/stiff.h"

namespace windgap::cooling {
namespace {

/// State: temperatures, then where the heat went as degrees of the whole engine, then the charge as
/// seconds of a unit current; all of like size, so that one tolerance serves.
enum Place : std::size_t { air = part_count, convection, radiation, oil, charge, state_size };

class System : public StiffSystem {
 public:
  System(const Network& network, const Condition& condition, const Temperatures& start)
      : network_(network), condition_(condition) {
    for (std::size_t i = 0; i < part_count; ++i) capacity_ += capacity(i, start[i]);
    if (condition.purge) current_ = std::max(current_, condition.purge->pack_current.front());
  }

  [[nodiscard]] std::size_t size() const override { return state_size; }

  void rates(const double* x, double* rate) const override {
    Temperatures t;
    std::copy_n(x, part_count, t.begin());
    const auto flows = heat_flows(network_, condition_, t);
    for (std::size_t i = 0; i < part_count; ++i) rate[i] = flows.into[i] / capacity(i, t[i]);
    rate[Place::air] = flows.to_air / capacity_;
    rate[Place::convection] = flows.to_room_by_convection / capacity_;
    rate[Place::radiation] = flows.to_room_by_radiation / capacity_;
    rate[Place::oil] = flows.to_oil / capacity_;
    rate[Place::charge] =
        blown() ? purge_at(*condition_.purge, flows.turbine_temperature).pack_current / current_
                : 0.0;
  }

  /// By differences over a thousandth of a degree: rounding and curvature are both far below the
  /// tolerance. Only the temperatures act back.
  void slopes(const double* x, double* slope) const override {
    constexpr double nudge = 1e-3;  // [K]
    std::array<double, state_size> here{};
    std::array<double, state_size> there{};
    std::array<double, state_size> moved{};
    std::copy_n(x, state_size, moved.begin());
    std::fill_n(slope, state_size * state_size, 0.0);
    rates(x, here.data());
    for (std::size_t j = 0; j < part_count; ++j) {
      moved[j] = x[j] + nudge;
      rates(moved.data(), there.data());
      moved[j] = x[j];
      for (std::size_t i = 0; i < state_size; ++i) {
        slope[i * state_size + j] = (there[i] - here[i]) / nudge;
      }
    }
  }

  [[nodiscard]] Knot knot(double time, const double* x) const {
    Knot knot;
    knot.time = time;
    std::copy_n(x, part_count, knot.at.begin());
    const auto flows = heat_flows(network_, condition_, knot.at);
    for (std::size_t i = 0; i < part_count; ++i) {
      knot.rate[i] = flows.into[i] / capacity(i, knot.at[i]);
    }
    knot.bearing = bearing_temperature(network_, knot.at);
    knot.airflow = flows.airflow;
    knot.exit_temperature = flows.exit_temperature;
    if (blown()) {
      knot.rotor_speed = purge_at(*condition_.purge, flows.turbine_temperature).rotor_speed;
    }
    knot.spent = {.air = x[Place::air] * capacity_,
                  .room_convection = x[Place::convection] * capacity_,
                  .room_radiation = x[Place::radiation] * capacity_,
                  .oil = x[Place::oil] * capacity_,
                  .charge = x[Place::charge] * current_};
    return knot;
  }

 private:
  [[nodiscard]] bool blown() const { return condition_.purge && condition_.purge->flows(); }
  [[nodiscard]] double capacity(std::size_t part, double temperature) const {
    return network_.mass[part] * network_.content[part].specific_heat(temperature);
  }

  const Network& network_;
  const Condition& condition_;
  double capacity_ = 0.0;  ///< of the whole engine at the start [J/K]
  double current_ = 1.0;   ///< [A]
};

double lowest_of(const Watch& watch) {
  return std::min(watch.bearing, *std::min_element(watch.part.begin(), watch.part.end()));
}

double hottest(const Temperatures& t) { return *std::max_element(t.begin(), t.end()); }

/// Cubic between two knots with their slopes.
Temperatures between(const Knot& a, const Knot& b, double time) {
  const double h = b.time - a.time;
  if (h <= 0.0) return b.at;
  const double s = (time - a.time) / h;
  const double rest = 1.0 - s;
  Temperatures t;
  for (std::size_t i = 0; i < part_count; ++i) {
    t[i] = rest * rest * ((1.0 + 2.0 * s) * a.at[i] + s * h * a.rate[i]) +
           s * s * ((1.0 + 2.0 * rest) * b.at[i] - rest * h * b.rate[i]);
  }
  return t;
}

auto first_at_or_after(const Course& course, double time) {
  return std::find_if(course.knots.begin(), course.knots.end(), [&](const Knot& knot) {
    return knot.time >= time;
  });
}

}  // namespace

double Watch::lowest() const { return lowest_of(*this); }

double excess(const Watch& watch, const Temperatures& at, double bearing) {
  double most = bearing - watch.bearing;
  for (std::size_t i = 0; i < part_count; ++i) most = std::max(most, at[i] - watch.part[i]);
  return most;
}

Course follow(const Network& network,
              const Condition& condition,
              const Temperatures& start,
              const Span& span,
              const Watch& cooled,
              const Accuracy& accuracy) {
  constexpr double first_step = 0.5;      // [s]
  constexpr double least_step = 1e-9;     // [s]
  constexpr double absolute_share = 1.0;  // absolute tolerance [K] over the relative one
  const System system(network, condition, start);
  std::array<double, state_size> initial{};
  std::copy(start.begin(), start.end(), initial.begin());
  StiffStepper stepper(
      system,
      initial.data(),
      {.absolute = absolute_share * accuracy.relative, .relative = accuracy.relative});
  Course course;
  course.knots.push_back(system.knot(span.start, stepper.state()));
  const double end = span.start + span.length;
  const double low = cooled.lowest();
  double time = span.start;
  double step = first_step;
  while (time < end) {
    if (std::isfinite(low) && hottest(course.knots.back().at) < low) {
      course.ending = Ending::cooled;
      return course;
    }
    step = std::min(step, end - time);
    if (end - time - step < least_step) step = end - time;
    if (!stepper.try_step(time, step)) {
      if (step < least_step) {
        course.ending = Ending::failed;
        return course;
      }
      continue;
    }
    course.knots.push_back(system.knot(time, stepper.state()));
  }
  return course;
}

void append(Course& course, const Course& next) {
  const Ledger before = course.knots.back().spent;
  for (Knot knot : next.knots) {
    knot.spent.air += before.air;
    knot.spent.room_convection += before.room_convection;
    knot.spent.room_radiation += before.room_radiation;
    knot.spent.oil += before.oil;
    knot.spent.charge += before.charge;
    course.knots.push_back(knot);
  }
  course.ending = next.ending;
}

Temperatures temperatures_at(const Course& course, double time) {
  const auto& knots = course.knots;
  const auto after = first_at_or_after(course, time);
  if (after == knots.end()) return knots.back().at;
  if (after == knots.begin()) return after->at;
  return between(*std::prev(after), *after, time);
}

double charge_until(const Course& course, double time) {
  const auto& knots = course.knots;
  const auto after = first_at_or_after(course, time);
  if (after == knots.end()) return knots.back().spent.charge;
  if (after == knots.begin()) return after->spent.charge;
  const Knot& a = *std::prev(after);
  const double share = (time - a.time) / (after->time - a.time);
  return a.spent.charge + share * (after->spent.charge - a.spent.charge);
}

double below_for_good(const Network& network, const Course& course, const Watch& watch) {
  constexpr double resolution = 0.01;  // [s]
  const auto& knots = course.knots;
  const auto over = [&](const Knot& knot) { return excess(watch, knot.at, knot.bearing) > 0.0; };
  const auto last = std::find_if(knots.rbegin(), knots.rend(), over);
  if (last == knots.rend()) return 0.0;
  if (last == knots.rbegin()) return std::numeric_limits<double>::infinity();
  const Knot& above = *last;
  const Knot& below = *std::prev(last);
  double low = above.time;
  double high = below.time;
  while (high - low > resolution) {
    const double middle = 0.5 * (low + high);
    const auto t = between(above, below, middle);
    (excess(watch, t, bearing_temperature(network, t)) > 0.0 ? low : high) = middle;
  }
  return high;
}

Peak bearing_peak(const Course& course) {
  const auto most =
      std::max_element(course.knots.begin(), course.knots.end(), [](const Knot& a, const Knot& b) {
        return a.bearing < b.bearing;
      });
  return {.temperature = most->bearing, .time = most->time};
}

}  // namespace windgap::cooling
