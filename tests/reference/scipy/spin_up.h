#pragma once

#include <algorithm>
#include <vector>

#include "start/bench.h"
#include "start/walk.h"

/// The blown rotor's spin-up from rest, cold: what the reference script integrates too.
namespace windgap::reference {

struct SpinUp {
  std::vector<double> time;   ///< [s]
  std::vector<double> speed;  ///< [rad/s]
};

/// Speeds at equally spaced times, by the start's own rates and steps.
[[nodiscard]] inline SpinUp spin_up(start::Bench& bench,
                                    const std::vector<double>& times,
                                    double tolerance) {
  using Walk = start::Walk<4>;
  const start::Controls blown{.throttle = bench.full_throttle()};
  const double room = bench.rig().ambient.temperature;
  const auto rates = [&](const Walk::Point& y, Walk::Point& dy, double /*time*/) {
    const auto now = bench.at({.speed = std::max(0.0, y[0]),
                               .tube_temperature = room,
                               .vaporizer_temperature = room,
                               .housing_temperature = room,
                               .film_temperature = y[1],
                               .winding_temperature = y[2],
                               .charge_used = y[3]},
                              blown);
    dy = {now.rates.speed,
          now.rates.film_temperature,
          now.rates.winding_temperature,
          now.rates.charge_used};
  };
  Walk walk({.tolerance = tolerance});
  walk.start({0.0, bench.start().oil_temperature, room, 0.0}, times.front());
  SpinUp out{.time = times, .speed = {0.0}};
  double reached = times.front();
  for (std::size_t i = 1; i < times.size(); ++i) {
    while (reached < times[i]) reached = walk.step(rates).second;
    out.speed.push_back(walk.at(times[i])[0]);
  }
  return out;
}

}  // namespace windgap::reference
