#pragma once

#include "units/table.h"

/// Blowing unburnt fuel out before ignition (Eqs. 13, 14 of models/start.md). Pooled liquid fuel
/// stays: it must be drained. What is here holds wherever a purge before ignition is counted: in
/// the start, in the choice of a fan, and for the charge that cooling has left.
namespace windgap::start {

struct Fuel;

/// The practice, filled from models/physics/purge.yaml.
struct PurgePractice {
  double purge_changes = unset;  ///< volume changes before ignition [-]
  double least_purge = unset;    ///< [s]
  double passage_share = unset;  ///< other passages over the burner case's volume [-]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(PurgePractice& c, Visitor&& v) {
  v("purge_changes", c.purge_changes);
  v("least_purge", c.least_purge);
  v("passage_share", c.passage_share);
}

/// Share of a vapour left after so many changes of a well-stirred volume [-]: exp(-n).
[[nodiscard]] double vapour_left(double volume_changes);

/// Volume changes that bring a mixture from its upper explosion limit to `safe_share` of the lower
/// one [-].
[[nodiscard]] double changes_to_safe(const Fuel& fuel, double safe_share);

struct Purge {
  double changes = unset;  ///< [-]
  double volume = unset;   ///< burner case, housing and ducts [m^3]; unset: unknown
  double least = unset;    ///< however quickly the volume changes [s]
};

/// What is unset after the practice. @param case_volume of the burner [m^3]
[[nodiscard]] Purge with_practice(Purge purge, double case_volume, const PurgePractice& practice);

/// How long a steady flow [m^3/s] takes for the changes [s]; infinity without flow, unset for an
/// unknown volume.
[[nodiscard]] double change_seconds(const Purge& purge, double volume_flow);

/// The same, but never less than the least time; that one for an unknown volume [s].
[[nodiscard]] double purge_seconds(const Purge& purge, double volume_flow);

}  // namespace windgap::start
