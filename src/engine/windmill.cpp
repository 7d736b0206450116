#include "engine/windmill.h"

#include <cmath>
#include <utility>

#include "units/root.h"

namespace windgap::engine {
namespace {

constexpr unsigned digits = 40;  // binary, of a root
constexpr int flow_steps = 60;
constexpr int speed_steps = 80;

Flow make_flow(const Supply& supply, double mass_flow, double speed) {
  return {.mass_flow = mass_flow,
          .speed = speed,
          .inlet_total_pressure = supply.total_pressure,
          .inlet_total_temperature = supply.total_temperature,
          .inlet_swirl = supply.swirl,
          .turbine_inlet_temperature = supply.turbine_inlet_temperature,
          .fuel_air_ratio = supply.fuel_air_ratio};
}

/// Sonic flow through the inlet: no flow can be larger.
double largest_flow(const Prepared& e, const air::Ambient& ambient, const Supply& supply) {
  const double area = e.resistance_only ? e.resistance_area : e.compressor.inlet_area;
  const double constant = ambient.pressure / (ambient.density * ambient.temperature);
  return area * supply.total_pressure / std::sqrt(constant * supply.total_temperature);
}

}  // namespace

double flow_at_speed(const Prepared& e,
                     const air::Ambient& ambient,
                     const Supply& supply,
                     double speed) {
  const auto residual = [&](double m) {
    return march(e, ambient, make_flow(supply, m, speed)).pressure_residual;
  };
  const double largest = largest_flow(e, ambient, supply);
  // Steps grow with the square of their number, so that a small flow is bracketed finely too.
  double low = 0.0;
  double at_low = residual(low);
  if (!(at_low > 0.0)) return 0.0;
  for (int i = 1; i <= flow_steps; ++i) {
    const double share = static_cast<double>(i) / static_cast<double>(flow_steps);
    const double high = largest * share * share;
    const double at_high = residual(high);
    if (at_high <= 0.0) {
      return find_root(residual, {low, at_low}, {high, at_high}, digits).middle();
    }
    low = high;
    at_low = at_high;
  }
  return largest;
}

Windmill windmill(const Prepared& e, const air::Ambient& ambient, const Supply& supply) {
  Windmill out;
  const auto settle = [&](Settling settling, double speed) {
    out.settling = settling;
    out.speed = speed;
    out.mass_flow = flow_at_speed(e, ambient, supply, speed);
    out.path = march(e, ambient, make_flow(supply, out.mass_flow, speed));
    if (out.mass_flow <= 0.0) out.settling = Settling::no_flow;
    return out;
  };
  if (e.resistance_only) return settle(Settling::at_rest, 0.0);
  const auto torque = [&](double speed) {
    const double m = flow_at_speed(e, ambient, supply, speed);
    return net_torque(e, march(e, ambient, make_flow(supply, m, speed)), speed);
  };
  double low = 0.0;
  double at_low = torque(low);
  if (at_low < e.breakaway_torque) return settle(Settling::at_rest, 0.0);
  constexpr auto last = static_cast<double>(DragTable::points - 1);
  const double fastest = last * last / e.drag.per_speed;
  for (int i = 1; i <= speed_steps; ++i) {
    const double share = static_cast<double>(i) / static_cast<double>(speed_steps);
    const double high = fastest * share * share;
    const double at_high = torque(high);
    if (at_high <= 0.0) {
      const auto root = find_root(torque, {low, at_low}, {high, at_high}, digits);
      return settle(Settling::turning, root.middle());
    }
    low = high;
    at_low = at_high;
  }
  return settle(Settling::runs_away, fastest);
}

}  // namespace windgap::engine
