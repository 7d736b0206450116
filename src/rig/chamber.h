#pragma once

#include <optional>

#include "rig/rig.h"

/// What surrounds a plug in the combustor while the fan blows and nothing burns yet.
namespace windgap::rig {

/// Total state of the air behind the compressor; at the flame holder's speed it is the static one
/// within a thousandth.
struct Chamber {
  double pressure = unset;     ///< absolute [Pa]
  double temperature = unset;  ///< [K]
  double velocity = unset;     ///< at the flame holder [m/s]; unset: no combustor is known
};

/// The rotor as it settles in this delivery. A measured resistance has no combustor: the whole
/// delivered pressure is taken, which a spark finds hardest, and no velocity is known.
[[nodiscard]] Chamber chamber(const Rig& rig, const Delivery& delivery);

/// The same in the weakest start: just the starting airflow, the rotor settled in it. Nothing where
/// no starting airflow or no combustor is known, or no supply up to the fan's own brings it.
[[nodiscard]] std::optional<Chamber> weakest_chamber(const Rig& rig);

}  // namespace windgap::rig
