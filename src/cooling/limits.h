#pragma once

#include "cooling/coefficients.h"
#include "cooling/course.h"

/// When what may be done with a hot engine. The three limits are kept apart: they are reached at
/// very different times.
namespace windgap::cooling {

enum class OilKind { mineral, synthetic };

/// What the limits depend on.
struct Wishes {
  OilKind oil = OilKind::mineral;
  double glove_level = 1.0;    ///< contact heat level printed on the glove, 1 to 4
  double contact_time = 10.0;  ///< of bare skin on metal, 1 s to 8 h [s]
};

struct Limits {
  double coking = unset;   ///< of the bearing [K]
  double gloves = unset;   ///< of all a hand can reach, gloved [K]
  double contact = unset;  ///< of the same, bare [K]
};

/// @throws std::logic_error if a wish is outside the tables.
[[nodiscard]] Limits limits_for(const Wishes& wishes, const Coefficients& c);

enum class Goal {
  bearing,   ///< the bearing stays below coking
  handling,  ///< and what a hand can reach stays below the gloves' limit
  contact    ///< or below that of bare contact
};

[[nodiscard]] Watch watch_bearing(const Limits& limits);
[[nodiscard]] Watch watch_touchable(double limit);
[[nodiscard]] Watch watch_for(Goal goal, const Limits& limits);

}  // namespace windgap::cooling
