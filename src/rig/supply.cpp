#include "rig/supply.h"

#include <algorithm>
#include <cmath>

namespace windgap::rig {
namespace {

struct Balance {
  double excess;
  double velocity;
};

/// Back-pressure and exit velocity that agree: the excess falls as more of a weaker stream is
/// swallowed, so Newton's iteration on a monotone function (models/rig.md, Eq. 2).
Balance balance(const Rig& rig, const capture::Spill& spill, double relative_flow) {
  constexpr int most_steps = 30;
  constexpr double tolerance = 1e-11;
  constexpr double nothing = 1e-12;
  double excess = capture::exit_excess(spill, relative_flow);
  if (rig.fan.holds_flow || excess <= nothing) return {.excess = excess, .velocity = 1.0};
  auto answer = respond(rig.response, excess);
  for (int step = 0; step < most_steps; ++step) {
    const double ratio = relative_flow / answer.velocity;
    const double miss = excess - capture::exit_excess(spill, ratio);
    const double slope =
        1.0 + capture::exit_excess_slope(spill, ratio) * ratio * answer.slope / answer.velocity;
    const double next = std::max(0.0, excess - miss / slope);
    const double change = std::abs(next - excess);
    // A straight line serves for the last step, whose error is the square of its length.
    answer.velocity += answer.slope * (next - excess);
    excess = next;
    if (change <= std::sqrt(tolerance)) break;
    answer = respond(rig.response, excess);
  }
  return {.excess = excess, .velocity = answer.velocity};
}

capture::Spill spill_at(const Rig& rig, double stand_off) {
  return capture::spill({.stand_off = stand_off,
                         .rim_diameter = 2.0 * rig.jet.exit.rim_radius,
                         .stream_area = rig.jet.exit.area,
                         .mouth = rig.mouth},
                        rig.capture_coefficients);
}

/// How far the jet's axis passes beside the mouth's centre [-, stream radii].
double miss_of(const Rig& rig, double stand_off, const jet::Section& section) {
  const double beside = std::abs(rig.mounting.offset + stand_off * std::tan(rig.mounting.tilt));
  return beside / jet::stream_radius(rig.jet.exit) + section.bend;
}

/// Flow the fan sends into the open [kg/s].
double open_flow_of(const Rig& rig) {
  return rig.ambient.density * rig.jet.exit.area * rig.open.exit_velocity;
}

}  // namespace

double back_pressure_ratio(const Rig& rig, double stand_off, double mass_flow) {
  if (!blows(rig)) return 0.0;
  return balance(rig, spill_at(rig, stand_off), mass_flow / open_flow_of(rig)).excess;
}

Supply::Supply(const Rig& rig, double stand_off, const jet::Section& section)
    : rig_(rig),
      gathering_(section, miss_of(rig, stand_off, section), rig.capture_coefficients),
      spill_(spill_at(rig, stand_off)),
      stream_radius_(jet::stream_radius(rig.jet.exit)),
      open_flow_(open_flow_of(rig)) {
  constexpr double half_the_pressure = 0.7;  // of the speed on the axis
  const double centre = jet::local(section, miss_of(rig, stand_off, section)).axial_clean;
  passes_beside_ = centre < half_the_pressure * section.peak;
}

double Supply::swirl_energy(double swirl, double capture_ratio) const {
  if (swirl == 0.0) return 0.0;
  const double wheel = rig_.engine.compressor.inlet_radius;
  const double tube = capture_ratio * stream_radius_ * stream_radius_ / 2.0;
  return swirl * swirl / std::max(wheel * wheel, tube);
}

Offered Supply::at(double mass_flow) {
  const auto [excess, velocity] = balance(rig_, spill_, mass_flow / open_flow_);
  const double exit_velocity = velocity * rig_.open.exit_velocity;
  const double capture_ratio = mass_flow / (open_flow_ * velocity);
  const auto swallowed = capture::swallow(gathering_.up_to(capture_ratio), capture_ratio);
  const double head = 0.5 * rig_.ambient.density * exit_velocity * exit_velocity;
  const double throat_speed = mass_flow / (rig_.ambient.density * rig_.throat_area);
  const double throat_head = 0.5 * rig_.ambient.density * throat_speed * throat_speed;
  const double air_speed = exit_velocity * swallowed.speed;
  const double still = std::max(0.0, 1.0 - air_speed / throat_speed);
  Offered state;
  state.total_pressure = head * (1.0 + excess) * swallowed.pressure;
  state.inducer_pressure =
      state.total_pressure - (rig_.guard_loss + rig_.entry_loss * still * still) * throat_head;
  state.swirl = rig_.swirl_sense * swallowed.spin * stream_radius_ * exit_velocity;
  state.wheel_pressure = state.inducer_pressure +
                         0.5 * rig_.ambient.density * swirl_energy(state.swirl, capture_ratio);
  state.speed = air_speed;
  state.excess = excess;
  state.capture_ratio = capture_ratio;
  return state;
}

}  // namespace windgap::rig
