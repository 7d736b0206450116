#pragma once

#include "start/fuel.h"

/// Blowing unburnt fuel out before ignition (Eqs. 13, 14 of models/start.md). Pooled liquid fuel
/// stays: it must be drained.
namespace windgap::start {

/// Share of a vapour left after so many changes of a well-stirred volume [-]: exp(-n).
[[nodiscard]] double vapour_left(double volume_changes);

/// Volume changes that bring a mixture from its upper explosion limit to `safe_share` of the lower
/// one [-].
[[nodiscard]] double changes_to_safe(const Fuel& fuel, double safe_share);

/// How long a steady flow takes for them.
struct Purge {
  double volume = unset;       ///< burner case, housing and ducts [m^3]
  double changes = unset;      ///< [-]
  double volume_flow = unset;  ///< [m^3/s]
};

/// [s]; infinity without flow.
[[nodiscard]] double purge_seconds(const Purge& purge);

}  // namespace windgap::start
