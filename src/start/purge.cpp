#include "start/purge.h"

#include <cmath>
#include <limits>

namespace windgap::start {

double vapour_left(double volume_changes) { return std::exp(-volume_changes); }

double changes_to_safe(const Fuel& fuel, double safe_share) {
  return std::log(fuel.upper_limit / (safe_share * fuel.lower_limit));
}

double purge_seconds(const Purge& purge) {
  if (!(purge.volume_flow > 0.0)) return std::numeric_limits<double>::infinity();
  return purge.changes * purge.volume / purge.volume_flow;
}

}  // namespace windgap::start
