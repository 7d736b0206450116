#include "blockage/blockage.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <string>

namespace windgap::blockage {
namespace {

constexpr int bisections = 60;

void require(bool holds, const char* what) {
  if (!holds) {
    throw std::logic_error(std::string("blockage: ") + what);
  }
}

double circle(double radius) { return std::numbers::pi * radius * radius; }

/// One-dimensional flow of a perfect gas (Eq. 5).
struct Throat {
  double mach;
  double head_over_total_pressure;
  bool choked;
};

Throat throat_state(double flow_function, double gamma) {
  const double half = (gamma - 1.0) / 2.0;
  const double power = (gamma + 1.0) / (2.0 * (gamma - 1.0));
  const auto function = [&](double mach) {
    return std::sqrt(gamma) * mach * std::pow(1.0 + half * mach * mach, -power);
  };
  const bool choked = flow_function >= function(1.0);
  double low = 0.0;
  double high = 1.0;
  for (int step = 0; step < bisections && !choked; ++step) {
    const double middle = (low + high) / 2.0;
    (function(middle) < flow_function ? low : high) = middle;
  }
  const double static_ratio = std::pow(1.0 + half * high * high, -gamma / (gamma - 1.0));
  return {.mach = high,
          .head_over_total_pressure = gamma * high * high / 2.0 * static_ratio,
          .choked = choked};
}

/// Eq. 9: the fan's bore as a second way in, its loss moved to the throat's head.
double bore_coefficient(const ParkedFan& fan, double throat_area, const Coefficients& c) {
  if (fan.parked == Parked::closed) {
    return std::numeric_limits<double>::infinity();
  }
  const double annulus = circle(fan.bore_diameter / 2.0) - circle(fan.hub_diameter / 2.0);
  require(annulus > 0.0, "the parked fan needs a bore wider than its hub");
  const double loss = fan.parked == Parked::free ? c.bore_loss_free : c.bore_loss_braked;
  const double area_ratio = throat_area / annulus;
  return loss * area_ratio * area_ratio;
}

void set_guard(Prepared& ready,
               const Guard& guard,
               double mass_flow,
               const air::Ambient& ambient,
               const Coefficients& c) {
  if (guard.kind == GuardKind::none) {
    return;
  }
  const double area = circle(guard.diameter / 2.0);
  require(area > 0.0, "a guard needs the diameter it spans");
  const double velocity = mass_flow / (ambient.density * area);
  const double reynolds =
      ambient.density * velocity / guard.open_area * guard.wire_diameter / ambient.viscosity;
  const auto loss = screen_loss(guard, reynolds, c);
  ready.guard_pressure_loss = loss.coefficient * ambient.density * velocity * velocity / 2.0;
  ready.in_range = loss.in_range;
}

/// Eq. 12: thrust of an unchoked nozzle, flow and nozzle pressure both down by the loss.
double thrust_loss(const Prepared& inlet, double loss) {
  const double kept = 1.0 - loss;
  const double ratio = inlet.nozzle_pressure_ratio * kept;
  if (ratio <= 1.0) {
    return 1.0;
  }
  const double before = 1.0 - std::pow(inlet.nozzle_pressure_ratio, -inlet.nozzle_exponent);
  const double after = 1.0 - std::pow(ratio, -inlet.nozzle_exponent);
  return 1.0 - kept * std::sqrt(after / before);
}

/// The way between mouth and fan.
struct Gap {
  double area;          ///< of the cone between mouth edge and fan edge [m^2]
  double covered;       ///< share of the mouth's area that the fan covers [-]
  double strut_shadow;  ///< drag area of the bracket's arms over the gap's area [-]
};

Gap gap_at(const Prepared& inlet, double stand_off) {
  const double mouth = inlet.mouth_radius;
  const double fan = std::min(inlet.obstacle_radius, mouth);
  const double slant = std::hypot(stand_off, mouth - fan);  // Eq. 6
  const double cover = fan / mouth;
  const double rim = std::numbers::pi * (mouth + fan);
  const double spanned = slant > 0.0 ? std::min(inlet.strut_length / slant, 1.0) : 1.0;
  return {.area = rim * slant,
          .covered = cover * cover,
          .strut_shadow = inlet.strut_width * spanned / rim};
}

}  // namespace

Prepared prepare(const RunningInlet& inlet,
                 const ParkedFan* fan,
                 const Struts& struts,
                 const Guard& guard,
                 const air::Ambient& ambient,
                 const Coefficients& c,
                 const air::Coefficients& a) {
  require(inlet.throat_diameter > 0.0 && inlet.mouth_diameter >= inlet.throat_diameter,
          "the running inlet needs a throat, and a mouth no narrower than it");
  require(inlet.mass_flow > 0.0, "the running inlet needs its airflow");
  require(ambient.pressure > 0.0 && ambient.density > 0.0, "the air has no state");
  Prepared ready;
  ready.ambient_pressure = ambient.pressure;
  ready.throat_area = circle(inlet.throat_diameter / 2.0);
  ready.mouth_radius = inlet.mouth_diameter / 2.0;
  const double flow_function =
      inlet.mass_flow / ready.throat_area / std::sqrt(ambient.pressure * ambient.density);
  const auto throat = throat_state(flow_function, air::gamma(a, ambient.temperature));
  ready.throat_mach = throat.mach;
  ready.throat_head = throat.head_over_total_pressure * ambient.pressure;
  ready.choked = throat.choked;
  ready.curtain_loss = c.curtain_loss;
  ready.curtain_reach = c.curtain_reach * inlet.throat_diameter;
  ready.nozzle_pressure_ratio = std::isnan(inlet.nozzle_pressure_ratio)
                                    ? c.nozzle_pressure_ratio
                                    : inlet.nozzle_pressure_ratio;
  require(ready.nozzle_pressure_ratio > 1.0, "the nozzle pressure ratio must exceed 1");
  ready.nozzle_exponent = (c.nozzle_gamma - 1.0) / c.nozzle_gamma;
  set_guard(ready, guard, inlet.mass_flow, ambient, c);
  if (fan == nullptr) {
    return ready;
  }

  const double outer = std::isnan(fan->outer_diameter) ? fan->bore_diameter : fan->outer_diameter;
  require(outer > 0.0, "the parked fan needs its outer diameter");
  ready.obstacle_radius = outer / 2.0;
  ready.bore_coefficient = bore_coefficient(*fan, ready.throat_area, c);
  if (struts.count > 0) {
    require(struts.width >= 0.0 && struts.length >= 0.0, "bracket arms need width and length");
    ready.strut_width = c.strut_drag * struts.count * struts.width;
    ready.strut_length = struts.length;
  }
  return ready;
}

Obstruction obstruct(const Prepared& inlet, double stand_off) {
  Obstruction found;
  found.guard_pressure_loss = inlet.guard_pressure_loss;
  if (!(inlet.obstacle_radius > 0.0)) {
    return found;
  }
  const auto gap = gap_at(inlet, stand_off);
  const double velocity_ratio = inlet.throat_area / gap.area;
  const double curtain_head = velocity_ratio * velocity_ratio;
  const double reach = stand_off / inlet.curtain_reach;
  const double curtain = inlet.curtain_loss * gap.covered / (1.0 + reach * reach);
  found.curtain_coefficient = curtain * curtain_head;              // Eq. 7
  const double way = (curtain + gap.strut_shadow) * curtain_head;  // Eq. 8
  // Eq. 10, written so that a closed gap and a closed bore both stay finite arithmetic.
  const double openness = 1.0 / std::sqrt(way) + 1.0 / std::sqrt(inlet.bore_coefficient);
  found.coefficient = 1.0 / (openness * openness);
  found.bore_share = std::isinf(inlet.bore_coefficient)
                         ? 0.0
                         : 1.0 / (openness * std::sqrt(inlet.bore_coefficient));
  // No more than the whole total pressure can be lost.
  found.total_pressure_loss =
      std::min(found.coefficient * inlet.throat_head, inlet.ambient_pressure);
  found.running_loss = found.total_pressure_loss / inlet.ambient_pressure;  // Eq. 11
  found.airflow_loss = found.running_loss;
  found.thrust_loss = thrust_loss(inlet, found.running_loss);
  return found;
}

}  // namespace windgap::blockage
