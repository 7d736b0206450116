#pragma once

#include "choice/coefficients.h"
#include "placement/placement.h"

/// What the bracket has to hold, and how stiff it must be (Eqs. 6 to 9 of models/choice.md).
namespace windgap::choice {

struct BracketAsked {
  double height = unset;  ///< foot to fan axis [m]
  double bolt = unset;    ///< diameter [m]
};

struct Bracket {
  double thrust = unset;             ///< backwards, on the fan's axis [N]
  double height = unset;             ///< [m]
  double moment = unset;             ///< at the foot [N m]
  double tolerated_tilt = unset;     ///< beyond the bench's own, before airflow runs short [rad]
  double stiffness = unset;          ///< needed at the fan's axis, along it [N/m]
  double turning_stiffness = unset;  ///< the same as moment over turn at the foot [N m/rad]
  double bend = unset;               ///< at the axis, with just that stiffness [m]
  bool held_by_slip = false;         ///< the slip asks for more than the tilt does
};

/// A bracket that bends like a post of even section clamped at its foot. The tilt tolerated is the
/// one at which bending has eaten its share of the airflow margin at the mount.
/// @param rig the bench as placed; `placed` feasible
[[nodiscard]] Bracket bracket(const rig::Rig& rig,
                              const placement::Placement& placed,
                              const placement::Requirement& need,
                              double height,
                              const Coefficients& c);

}  // namespace windgap::choice
