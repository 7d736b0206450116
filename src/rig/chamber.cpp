#include "rig/chamber.h"

#include <cmath>

#include "engine/engine.h"
#include "units/root.h"

namespace windgap::rig {
namespace {

Chamber of(const engine::GasPath& path) {
  return {.pressure = path.compressor_exit.pressure,
          .temperature = path.compressor_exit.temperature,
          .velocity = path.flame_holder_velocity};
}

/// The engine swallowing a given airflow at a speed.
struct Fed {
  double gauge = unset;   ///< total pressure before the inducer that pushes it through [Pa]
  double torque = unset;  ///< left over on the rotor [N m]
  engine::GasPath path;
};

/// What pushes `airflow` through at `speed`: pressure at the exhaust follows that at the inlet
/// nearly one for one, so the residual itself is the step.
Fed fed(const Rig& rig, double airflow, double speed) {
  constexpr int most_steps = 50;
  constexpr double closed = 0.01;  // [Pa]
  Fed state{.gauge = rig.open.dynamic_head, .torque = unset, .path = {}};
  for (int i = 0; i < most_steps; ++i) {
    state.path = engine::march(rig.engine,
                               rig.ambient,
                               {.mass_flow = airflow,
                                .speed = speed,
                                .inlet_total_pressure = rig.ambient.pressure + state.gauge,
                                .inlet_total_temperature = rig.ambient.temperature});
    if (std::abs(state.path.pressure_residual) < closed) break;
    state.gauge -= state.path.pressure_residual;
  }
  state.torque = engine::net_torque(rig.engine, state.path, speed);
  return state;
}

}  // namespace

Chamber chamber(const Rig& rig, const Delivery& delivery) {
  if (rig.engine.resistance_only) {
    return {.pressure = rig.ambient.pressure + delivery.total_pressure,
            .temperature = rig.ambient.temperature};
  }
  return of(engine::march(rig.engine,
                          rig.ambient,
                          {.mass_flow = delivery.airflow,
                           .speed = delivery.rotor_speed,
                           .inlet_total_pressure = rig.ambient.pressure + delivery.wheel_pressure,
                           .inlet_total_temperature = rig.ambient.temperature,
                           .inlet_swirl = delivery.inlet_swirl}));
}

std::optional<Chamber> weakest_chamber(const Rig& rig) {
  const double airflow = rig.starting_airflow;
  if (rig.engine.resistance_only || !std::isfinite(airflow)) return std::nullopt;
  const auto reachable = [&](const Fed& state) -> std::optional<Chamber> {
    const bool brought = state.gauge > 0.0 && state.gauge <= rig.open.dynamic_head;
    return brought && !state.path.choked ? std::optional(of(state.path)) : std::nullopt;
  };
  const auto torque = [&](double speed) { return fed(rig, airflow, speed).torque; };
  const auto rest = fed(rig, airflow, 0.0);
  if (rest.torque < rig.engine.breakaway_torque) return reachable(rest);
  constexpr int steps = 40;
  RootEnd low{0.0, rest.torque};
  for (int i = 1; i <= steps; ++i) {
    const double speed = rig.engine.design_speed * static_cast<double>(i) / steps;
    const RootEnd high{speed, torque(speed)};
    if (high.value <= 0.0) {
      constexpr unsigned bits = 20;  // of the speed; the plug does not feel the rest
      return reachable(fed(rig, airflow, find_root(torque, low, high, bits).high));
    }
    low = high;
  }
  return std::nullopt;
}

}  // namespace windgap::rig
