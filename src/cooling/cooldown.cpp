#include "cooling/cooldown.h"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <stdexcept>

namespace windgap::cooling {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();

Pump pump_while_purging(PumpUse use) { return use == PumpUse::off ? Pump::off : Pump::on; }
Pump pump_while_standing(PumpUse use) { return use == PumpUse::always ? Pump::on : Pump::off; }

/// Largest excess after the fan stops at a time of the purge.
double overshoot(const Scene& scene,
                 const Condition& still,
                 const Course& purge,
                 const Watch& watch,
                 double time,
                 const Accuracy& accuracy) {
  const auto course = follow(scene.network,
                             still,
                             temperatures_at(purge, time),
                             {.start = time, .length = scene.longest},
                             watch,
                             accuracy);
  double most = -never;
  for (const auto& knot : course.knots) {
    most = std::max(most, excess(watch, knot.at, knot.bearing));
  }
  return most;
}

}  // namespace

Fire fire_of(const Run& run, const rig::Rig& rig, const Coefficients& c) {
  const double tip_speed =
      c.running_speed_share * rig.engine.design_speed * rig.engine.compressor.tip_radius;
  const double room = rig.ambient.temperature;
  return {.airflow = run.airflow,
          .delivery_temperature = room + c.work_coefficient * tip_speed * tip_speed /
                                             air::specific_heat(rig.engine.air, room),
          .gas_temperature = run.gas_temperature};
}

Temperatures after_running(const Network& network, const Run& run, const Fire& fire) {
  Temperatures cold;
  cold.fill(network.ambient.temperature);
  return follow(network, running(network, fire), cold, {.length = run.seconds}).knots.back().at;
}

PurgeFlow purge_of(const Network& network,
                   const Temperatures& start,
                   const rig::Rig& rig,
                   double stand_off) {
  const double room = network.ambient.temperature;
  const auto cold = rig::deliver(rig, stand_off);
  double hottest = *std::max_element(start.begin(), start.end());
  if (!(hottest > room)) throw std::logic_error("a cold engine needs no purge");
  if (cold.airflow > 0.0) {
    const auto half =
        steady_purge({.airflow = 0.5 * cold.airflow, .coldest = room, .hottest = hottest});
    hottest = heat_flows(network, purging(network, half, Pump::off), start).turbine_temperature;
  }
  return tabulate_purge(rig, stand_off, hottest);
}

Course purge_course(const Scene& scene,
                    std::span<const PurgeStep> steps,
                    const Watch& cooled,
                    const Accuracy& accuracy) {
  Course course;
  for (const auto& step : steps) {
    const bool last = &step == &steps.back();
    const bool first = course.knots.empty();
    const auto next = follow(scene.network,
                             purging(scene.network, step.flow, pump_while_purging(scene.pump)),
                             first ? scene.start : course.knots.back().at,
                             {.start = first ? 0.0 : course.end(), .length = step.seconds},
                             last ? cooled : Watch{},
                             accuracy);
    if (first) {
      course = next;
    } else {
      append(course, next);
    }
  }
  return course;
}

Course standing_course(const Scene& scene,
                       const Temperatures& start,
                       double time,
                       const Accuracy& accuracy) {
  const auto condition = standing(scene.network, pump_while_standing(scene.pump));
  return follow(scene.network,
                condition,
                start,
                {.start = time, .length = scene.longest},
                watch_touchable(std::min(scene.limits.contact, scene.limits.coking)),
                accuracy);
}

double shortest_purge(const Scene& scene,
                      const Course& purge,
                      const Watch& watch,
                      const Accuracy& accuracy) {
  constexpr double resolution = 0.5;  // [s]
  constexpr double stretch = 1.1;
  constexpr double slight = 1e-3;  // [K]
  const double first = below_for_good(scene.network, purge, watch);
  if (!std::isfinite(first)) return never;
  const auto still = standing(scene.network, pump_while_standing(scene.pump));
  const auto after = [&](double time) {
    return overshoot(scene, still, purge, watch, time, accuracy) - slight;
  };
  double low = first;
  double at_low = after(low);
  if (at_low <= 0.0) return first;
  while (low < purge.end()) {
    const double high = std::min(purge.end(), stretch * low + 2.0 * resolution);
    const double at_high = after(high);
    if (at_high <= 0.0) {
      std::uintmax_t evaluations = 20;
      const auto close = [&](double a, double b) { return b - a <= resolution; };
      return boost::math::tools::toms748_solve(
                 after, low, high, at_low, at_high, close, evaluations)
          .second;
    }
    low = high;
    at_low = at_high;
  }
  return never;
}

Verdict verdict(const Scene& scene, const Course& course) {
  Verdict v{.bearing_safe = below_for_good(scene.network, course, watch_bearing(scene.limits)),
            .warm = below_for_good(scene.network, course, watch_touchable(scene.limits.gloves)),
            .contact = below_for_good(scene.network, course, watch_touchable(scene.limits.contact)),
            .bearing = bearing_peak(course),
            .fastest_cooling = 0.0,
            .spent = course.knots.back().spent};
  for (const auto& knot : course.knots) {
    v.fastest_cooling = std::max(v.fastest_cooling, -knot.rate[index(Part::turbine_housing)]);
    v.fastest_rotor = std::max(v.fastest_rotor, knot.rotor_speed);
  }
  return v;
}

}  // namespace windgap::cooling
