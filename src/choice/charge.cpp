#include "choice/charge.h"

#include <algorithm>

namespace windgap::choice {

Spending spend(const drive::Pack& pack,
               const drive::Running& running,
               const StartCycle& cycle,
               const Coefficients& c) {
  Spending result;
  result.purge_seconds = start::purge_seconds(cycle.purge, cycle.volume_flow);
  result.purge_charge = running.pack_current * result.purge_seconds;
  result.start_charge = running.pack_current * cycle.start_seconds;
  result.cooldown_charge = cycle.cooldown_charge;
  result.usable_charge = std::max(0.0, pack.state_of_charge - c.charge_left) * pack.capacity;
  result.starts =
      result.usable_charge / (result.purge_charge + result.start_charge + result.cooldown_charge);
  return result;
}

double controller_size(double motor_current, const Coefficients& c) {
  const double wanted = c.controller_reserve * motor_current;
  for (const double size : c.controller_sizes.y) {
    if (size >= wanted) return size;
  }
  return unset;
}

}  // namespace windgap::choice
