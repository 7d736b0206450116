#pragma once

#include "rig/rig.h"
#include "start/prepare.h"

/// Starting airflow from the engine's own torques and its burner's least flame (Eqs. 15 to 18 of
/// models/start.md). Fast enough for every member of an ensemble.
namespace windgap::start {

/// What decides the starting airflow.
enum class Need {
  torque,          ///< lit torque must stay positive up to self-sustaining speed
  cooler_gas,      ///< the least steady fuel must not overheat the lit airflow
  nothing,         ///< it sustains itself from any speed and the least fuel suits any airflow
  cannot_sustain,  ///< no speed up to idle is self-sustaining at this gas temperature
  cannot_cool,     ///< even the leanest steady flame is hotter than the limit
  out_of_range     ///< more pressure than the model tries would be needed
};

struct StartingAirflow {
  Need need = Need::out_of_range;
  double airflow = unset;         ///< cold, delivered: the larger of both parts [kg/s]; unset if
                                  ///< there is none
  double torque_part = unset;     ///< [kg/s]; 0: no such need
  double hot_start_part = unset;  ///< [kg/s]; 0: no such need
  double lit_airflow = unset;     ///< through the burning engine at the same supply [kg/s]
  double rotor_speed = unset;     ///< cold, windmilling at that airflow [rad/s]
  double total_pressure = unset;  ///< gauge, at the inducer [Pa]
  double self_sustaining_speed = unset;  ///< fan off, walls as usual [rad/s]; 0: any speed
  /// Fan off, speed from which it turns itself, but not all the way to idle [rad/s]; unset: no
  /// such.
  double sustains_short_of_idle = unset;
  double pinch_speed = unset;        ///< where the lit torque is least [rad/s]
  double least_torque = 0.0;         ///< that must be left there [N m]
  double least_fuel = unset;         ///< steady, at the lit airflow [kg/s]
  double equivalence_ratio = unset;  ///< of the primary zone, controlled fuel [-]
  int marches = 0;                   ///< engine evaluations spent
};

/// The cold delivered airflow at which, lit and with the gas `control_margin` below its limit, the
/// net torque at its worst speed between rest and (1 + speed margin) self-sustaining speed is just
/// what takes the rotor through that range within `spin_up_time`, or at which the least steady fuel
/// just does not overheat it. The supply is a total pressure that does not depend on what is
/// swallowed. No allocation.
[[nodiscard]] StartingAirflow starting_airflow(const rig::Rig& rig, const Prepared& start);

/// Lowest rotor speed [rad/s] from which the burning engine accelerates to idle with the fan off;
/// 0: from any, unset: from none.
[[nodiscard]] double self_sustaining_speed(const rig::Rig& rig, const Prepared& start);

/// Net torque on the rotor [N m] of the burning engine fed with a gauge total pressure at the
/// inducer, or sucking from the room (pressure unset).
[[nodiscard]] double lit_torque(const rig::Rig& rig,
                                const Prepared& start,
                                double speed,
                                double inducer_pressure = unset);

/// Gives a rig the derived starting airflow in place of a share of the design speed. A rig that
/// cannot start gets an unset one: unreachable.
void require_start(rig::Rig& rig, const Prepared& start);

}  // namespace windgap::start
