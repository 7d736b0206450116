#pragma once

#include <vector>

#include "report/outcome.h"

namespace windgap::report {

/// An assumed value and how much the answer hangs on it.
struct Weighed {
  casefile::AssumedValue value;
  /// Relative change of delivered over needed airflow at the shown distance when the value moves
  /// down by its spread (a tenth, or 10 K, where none is stated); unset: a choice, or a word.
  double effect = unset;
};

/// Every assumed value, the weightiest first, those that cannot be moved last. One rig is assembled
/// for each.
[[nodiscard]] std::vector<Weighed> weigh_assumptions(const Outcome& outcome);

}  // namespace windgap::report
