#include <algorithm>
#include <cmath>

#include "placement/placement.h"

namespace windgap::placement {
namespace {

constexpr std::size_t index(Constraint constraint) { return static_cast<std::size_t>(constraint); }

/// value >= limit, slack relative to the limit.
void at_least(ConstraintStates& states, Constraint which, double value, double limit) {
  states[index(which)] = {
      .constraint = which, .value = value, .limit = limit, .slack = value / limit - 1.0};
}

/// value <= limit.
void at_most(ConstraintStates& states, Constraint which, double value, double limit) {
  states[index(which)] = {
      .constraint = which, .value = value, .limit = limit, .slack = 1.0 - value / limit};
}

void airflow_states(ConstraintStates& states,
                    const rig::Rig& rig,
                    const rig::Delivery& delivery,
                    const Requirement& need) {
  if (std::isfinite(rig.starting_airflow)) {
    at_least(states,
             Constraint::starting_airflow,
             delivery.airflow,
             (1.0 + need.margin) * rig.starting_airflow);
  } else {
    // No supply pressure in the model's range turns this rotor to its light-off speed.
    states[index(Constraint::starting_airflow)].value = delivery.airflow;
    states[index(Constraint::starting_airflow)].slack = -1.0;
  }
  if (rig.engine.resistance_only) return;
  states[index(Constraint::lightoff_speed)].value = delivery.rotor_speed;
  if (std::isfinite(rig.lightoff_speed)) {
    at_least(states, Constraint::lightoff_speed, delivery.rotor_speed, rig.lightoff_speed);
  }
  at_most(states,
          Constraint::lightoff_velocity,
          delivery.flame_holder_velocity,
          need.flame_holder_velocity);
}

void fan_states(ConstraintStates& states,
                const rig::Rig& rig,
                const fan::Operating& fan,
                const Requirement& need) {
  if (rig.fan.holds_flow) return;
  states[index(Constraint::fan_stall)] = {.constraint = Constraint::fan_stall,
                                          .value = fan.stall_margin,
                                          .limit = 0.0,
                                          .slack = fan.stall_margin};
  states[index(Constraint::drive_current)] = {.constraint = Constraint::drive_current,
                                              .value = fan.drive.pack_current,
                                              .limit = fan.drive.pack_current / fan.drive.burst_use,
                                              .slack = 1.0 - fan.drive.burst_use};
  const double seconds = drive::allowed_burst(rig.fan.drive, fan.drive, rig.ambient.temperature);
  states[index(Constraint::burst_heating)] = {.constraint = Constraint::burst_heating,
                                              .value = seconds,
                                              .limit = need.start_duration,
                                              .slack = 1.0 - need.start_duration / seconds};
}

}  // namespace

std::string_view name(Constraint constraint) {
  switch (constraint) {
    case Constraint::starting_airflow:
      return "starting_airflow";
    case Constraint::lightoff_speed:
      return "lightoff_speed";
    case Constraint::lightoff_velocity:
      return "lightoff_velocity";
    case Constraint::fan_stall:
      return "fan_stall";
    case Constraint::drive_current:
      return "drive_current";
    case Constraint::burst_heating:
      return "burst_heating";
    case Constraint::running_loss:
      return "running_loss";
    case Constraint::bracket_travel:
      return "bracket_travel";
  }
  return "";
}

Row look(const rig::Rig& rig, double stand_off, const Requirement& need) {
  Row row;
  row.stand_off = stand_off;
  row.delivery = rig::deliver(rig, stand_off);
  row.fan = rig::fan_operation(rig, row.delivery);
  row.obstruction = blockage::obstruct(rig.blockage, stand_off);
  for (std::size_t i = 0; i < constraint_count; ++i) {
    row.constraints[i].constraint = static_cast<Constraint>(i);
  }
  airflow_states(row.constraints, rig, row.delivery, need);
  fan_states(row.constraints, rig, row.fan, need);
  at_most(row.constraints,
          Constraint::running_loss,
          row.obstruction.running_loss,
          need.allowed_running_loss);
  const bool beyond = stand_off > 0.5 * (need.nearest + need.farthest);
  row.constraints[index(Constraint::bracket_travel)] = {
      .constraint = Constraint::bracket_travel,
      .value = stand_off,
      .limit = beyond ? need.farthest : need.nearest,
      .slack = std::min(stand_off - need.nearest, need.farthest - stand_off) /
               (need.farthest - need.nearest)};
  row.feasible = row.delivery.converged;
  for (const auto& state : row.constraints) {
    if (state.constraint != Constraint::bracket_travel && state.slack < 0.0) row.feasible = false;
  }
  return row;
}

}  // namespace windgap::placement
