#pragma once

#include "trials/likelihood.h"

namespace windgap::trials {

/// Members gathered around the most plausible bench, with the weights that make them the same
/// distribution as before the attempts (models/trials.md, Eqs. 5 to 8).
struct Redrawn {
  placement::Outlook outlook;
  std::vector<double> base;  ///< prior density over that drawn from, times the soundness
};

/// Finds the most plausible bench by Gauss-Newton steps on the exact model, widens that to the
/// normal distribution that pilots about it show, and draws `members` of the survey from it, nine
/// of ten; one of ten stays with the prior, which bounds every weight. Evidence that the rest makes
/// unlikely may be a slip on a usual bench: the nine are then shared with what is plausible
/// without.
[[nodiscard]] Redrawn redraw(std::span<const Attempt> attempts,
                             std::span<const double> stand_offs,
                             const Setting& setting,
                             const placement::Outlook& outlook);

}  // namespace windgap::trials
