#pragma once

#include "choice/coefficients.h"
#include "drive/drive.h"
#include "start/purge.h"

/// What one start takes out of the pack (Eqs. 3 to 5 of models/choice.md).
namespace windgap::choice {

struct StartCycle {
  start::Purge purge;            ///< before ignition
  double volume_flow = unset;    ///< through it while purging [m^3/s]
  double start_seconds = unset;  ///< at full blast
  double cooldown_charge = 0.0;  ///< of the purge after shutdown [C]; 0: not counted
};

struct Spending {
  double purge_seconds = unset;
  double purge_charge = unset;   ///< [C]
  double start_charge = unset;   ///< [C]
  double cooldown_charge = 0.0;  ///< [C]; 0: not counted; unset: no purge of this fan cools
  bool cools = true;             ///< false: the starts are those without cooling
  double usable_charge = unset;  ///< of the pack as it stands [C]
  double starts = unset;         ///< per charge, not rounded [-]
};

/// @param running the drive while purging and starting, taken as steady
[[nodiscard]] Spending spend(const drive::Pack& pack,
                             const drive::Running& running,
                             const StartCycle& cycle,
                             const Coefficients& c);

/// Smallest size that is sold for a motor current [A], its reserve included; unset: none is large
/// enough.
[[nodiscard]] double controller_size(double motor_current, const Coefficients& c);

}  // namespace windgap::choice
