#pragma once

#include "casefile/case.h"
#include "placement/chance.h"
#include "spread/plan.h"

namespace windgap::casefile {

/// What an ensemble needs to know of a case.
struct Uncertainty {
  spread::Plan plan;
  spread::Subject subject;
  placement::Assurance asked;
};

/// Everything of a case that has a spread (models/spread.md): coefficients, numbers with a
/// tolerance, the jet where nobody measured it, and what differs from start to start. `answer` is
/// the nominal one, whose throttle and nozzle the members share.
[[nodiscard]] Uncertainty uncertainty(const Case& bench, const placement::Answer& answer);

}  // namespace windgap::casefile
