#pragma once

#include <string>

#include "units/table.h"

namespace windgap {

/// A value the case did not give and a module filled in. The report lists every one.
struct Assumed {
  std::string field;     ///< key inside its component, as the case file spells it
  double value = unset;  ///< in SI
  std::string why;       ///< rule or source, one line
};

}  // namespace windgap
