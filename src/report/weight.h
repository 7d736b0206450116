#pragma once

#include <vector>

#include "report/outcome.h"

namespace windgap::report {

/// An assumed value and how much the answer hangs on it.
struct Weighed {
  casefile::AssumedValue value;
  /// Relative change of delivered over needed airflow at the shown distance when the value moves
  /// by its spread (a tenth where none is stated); unset: it cannot be moved by a little.
  double effect = unset;
};

/// Every assumed value, the weightiest first, those that cannot be moved last. One rig is assembled
/// for each.
[[nodiscard]] std::vector<Weighed> weigh_assumptions(const Outcome& outcome);

}  // namespace windgap::report
