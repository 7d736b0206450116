#include "start/purge.h"

#include <cmath>
#include <limits>

#include "start/fuel.h"

namespace windgap::start {

double vapour_left(double volume_changes) { return std::exp(-volume_changes); }

double changes_to_safe(const Fuel& fuel, double safe_share) {
  return std::log(fuel.upper_limit / (safe_share * fuel.lower_limit));
}

Purge with_practice(Purge purge, double case_volume, const PurgePractice& practice) {
  if (!std::isfinite(purge.changes)) purge.changes = practice.purge_changes;
  if (!std::isfinite(purge.volume)) purge.volume = (1.0 + practice.passage_share) * case_volume;
  if (!std::isfinite(purge.least)) purge.least = practice.least_purge;
  return purge;
}

double change_seconds(const Purge& purge, double volume_flow) {
  if (!(volume_flow > 0.0)) return std::numeric_limits<double>::infinity();
  return purge.changes * purge.volume / volume_flow;
}

double purge_seconds(const Purge& purge, double volume_flow) {
  const double changing = change_seconds(purge, volume_flow);
  return changing > purge.least ? changing : purge.least;
}

}  // namespace windgap::start
