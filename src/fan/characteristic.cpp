#include "fan/characteristic.h"

#include <algorithm>
#include <cmath>

namespace windgap::fan {
namespace {

constexpr int most_steps = 60;
constexpr double tolerance = 1e-13;

CharacteristicPoint generic_pressure(const Characteristic& curve, double flow) {
  const double departure = 1.0 - flow;
  const double work = 1.0 + curve.work_slope * departure;
  const double efficiency = 1.0 - curve.curvature * departure * departure;
  return {.value = work * efficiency,
          .slope = -curve.work_slope * efficiency + 2.0 * curve.curvature * departure * work};
}

/// Cubic through two points with given slopes; the last and first points continue straight.
CharacteristicPoint measured_pressure(const Characteristic& curve, double flow) {
  const auto* const begin = curve.flow.data();
  const auto* const end = begin + curve.count;
  if (flow <= *begin || flow >= *(end - 1)) {
    const std::size_t i = flow <= *begin ? 0 : curve.count - 1;
    return {.value = curve.pressure[i] + curve.slope[i] * (flow - curve.flow[i]),
            .slope = curve.slope[i]};
  }
  const auto i = static_cast<std::size_t>(std::upper_bound(begin, end, flow) - begin) - 1;
  const double width = curve.flow[i + 1] - curve.flow[i];
  const double t = (flow - curve.flow[i]) / width;
  const double rise = curve.pressure[i + 1] - curve.pressure[i];
  const double left = width * curve.slope[i];
  const double right = width * curve.slope[i + 1];
  const double square = 3.0 * rise - 2.0 * left - right;
  const double cube = left + right - 2.0 * rise;
  return {.value = curve.pressure[i] + t * (left + t * (square + t * cube)),
          .slope = (left + t * (2.0 * square + 3.0 * t * cube)) / width};
}

CharacteristicPoint sound_pressure(const Characteristic& curve, double flow) {
  return curve.count == 0 ? generic_pressure(curve, flow) : measured_pressure(curve, flow);
}

CharacteristicPoint sound_torque(const Characteristic& curve, double flow) {
  return {.value = flow * (1.0 + curve.work_slope * (1.0 - flow)),
          .slope = 1.0 + curve.work_slope * (1.0 - 2.0 * flow)};
}

/// Eq. 9: from the stall point level to zero flow, value and slope continuous.
CharacteristicPoint stalled(const CharacteristicPoint& at_stall, double stall_flow, double flow) {
  return {.value = at_stall.value +
                   at_stall.slope * (flow * flow - stall_flow * stall_flow) / (2.0 * stall_flow),
          .slope = at_stall.slope * flow / stall_flow};
}

/// Slopes that keep a cubic monotone between its points: the weighted harmonic mean of the
/// neighbouring chords, zero at an extremum (Fritsch and Butland 1984).
void set_slopes(Characteristic& curve) {
  const std::size_t last = curve.count - 1;
  const auto width = [&](std::size_t i) { return curve.flow[i + 1] - curve.flow[i]; };
  const auto chord = [&](std::size_t i) {
    return (curve.pressure[i + 1] - curve.pressure[i]) / width(i);
  };
  curve.slope[0] = chord(0);
  curve.slope[last] = chord(last - 1);
  for (std::size_t i = 1; i < last; ++i) {
    const double before = chord(i - 1);
    const double after = chord(i);
    const double weight_before = 2.0 * width(i) + width(i - 1);
    const double weight_after = width(i) + 2.0 * width(i - 1);
    curve.slope[i] = before * after > 0.0 ? (weight_before + weight_after) /
                                                (weight_before / before + weight_after / after)
                                          : 0.0;
  }
}

/// Where the generic curve stops rising towards lower flow, if that is above `low`.
double generic_stall(const Characteristic& curve, double low) {
  if (generic_pressure(curve, low).slope <= 0.0) {
    return low;
  }
  double high = 1.0;  // there the slope is that of the work line, negative
  for (int step = 0; step < most_steps; ++step) {
    const double middle = (low + high) / 2.0;
    (generic_pressure(curve, middle).slope > 0.0 ? low : high) = middle;
  }
  return high;
}

/// The first maximum met from the high-flow end.
double measured_stall(const Characteristic& curve) {
  std::size_t i = curve.count - 1;
  while (i > 0 && curve.pressure[i - 1] > curve.pressure[i]) {
    --i;
  }
  return curve.flow[i];
}

}  // namespace

CharacteristicPoint pressure_at(const Characteristic& curve, double flow) {
  if (flow >= curve.stall_flow) {
    return sound_pressure(curve, flow);
  }
  return stalled(sound_pressure(curve, curve.stall_flow), curve.stall_flow, flow);
}

double torque_at(const Characteristic& curve, double flow) {
  if (flow >= curve.stall_flow) {
    return sound_torque(curve, flow).value;
  }
  return stalled(sound_torque(curve, curve.stall_flow), curve.stall_flow, flow).value;
}

double balance(const Characteristic& curve, double resistance) {
  double low = 0.0;
  double high = 1.0;
  const auto excess = [&](double flow) {
    const auto point = pressure_at(curve, flow);
    return CharacteristicPoint{.value = point.value - resistance * flow * flow,
                               .slope = point.slope - 2.0 * resistance * flow};
  };
  for (int step = 0; step < most_steps && excess(high).value > 0.0; ++step) {
    low = high;
    high *= 2.0;
  }
  double flow = std::clamp(1.0, low, high);
  for (int step = 0; step < most_steps; ++step) {
    const auto [value, slope] = excess(flow);
    if (value == 0.0) {
      break;
    }
    (value > 0.0 ? low : high) = flow;
    double next = flow - value / slope;
    if (!(next > low && next < high)) {
      next = (low + high) / 2.0;
    }
    const bool settled = std::abs(next - flow) < tolerance;
    flow = next;
    if (settled) {
      break;
    }
  }
  return flow;
}

void complete(Characteristic& curve, double stall_flow) {
  if (curve.count > 0) {
    set_slopes(curve);
    curve.stall_flow = measured_stall(curve);
  } else {
    curve.stall_flow = generic_stall(curve, stall_flow);
  }
}

}  // namespace windgap::fan
