#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/choose.h"

/// The bracket's slot, true to scale, to print or to cut from.
namespace windgap::report {

/// Distances from the mouth's plane, along the engine's axis, away from the engine [m].
struct DrillTemplate {
  std::string title;
  std::string pair;       ///< `ducted-64 on 6s-3300`
  double zero = unset;    ///< the line to lay at that distance
  double near = unset;    ///< bolt centre at the slot's near end
  double far = unset;     ///< the same at its far end
  double drill = unset;   ///< bolt centre at the mount
  double bolt = unset;    ///< diameter
  double width = unset;   ///< of the slot
  bool to_holes = false;  ///< false: distances are those of the fan's exit plane
  static constexpr double check_length = 0.1;
};

/// Of the first choice. @throws std::logic_error if nothing fits.
[[nodiscard]] DrillTemplate drill_template(const ChooseOutcome& outcome);

/// Sheets of A4 across, each with its check length; one if the slot is short enough.
[[nodiscard]] std::vector<std::string> template_svg(const DrillTemplate& drawing);

/// One drawing in millimetres on layers SLOT, MOUNT, AXIS, CHECK and TEXT. Zero is the mouth's
/// plane.
[[nodiscard]] std::string template_dxf(const DrillTemplate& drawing);

/// The bracket of the first choice at the height that the case gives, or the usual one.
[[nodiscard]] std::optional<choice::Bracket> bracket_of(const ChooseOutcome& outcome,
                                                        const choice::Question& question);

}  // namespace windgap::report
