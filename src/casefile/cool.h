#pragma once

#include <vector>

#include "casefile/findings.h"
#include "cooling/setup.h"

namespace windgap::casefile {

/// What a case says of the purge after the run; filled in only where the cooling models were read
/// and the engine has dimensions.
struct Cool {
  cooling::HotEngine stated;   ///< what the case says itself
  cooling::HotEngine engine;   ///< with every fallback filled in
  cooling::PlanNeed need;      ///< its stand-off is not the case's to say
  double starts = 1.0;         ///< made before the run ended
  double charge_left = unset;  ///< measured after them [C]
  bool possible = false;       ///< filled in: there is an engine to cool
  std::vector<AssumedValue> assumed;
};

}  // namespace windgap::casefile
