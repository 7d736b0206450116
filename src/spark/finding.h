#pragma once

#include <string_view>

#include "units/table.h"

namespace windgap::spark {

/// What a finding does to the verdict: a refused combination is not assessed further.
enum class Severity { caution, refused };

/// One thing about the parts as combined that a person must know. SI numbers; the texts are
/// literals.
struct Finding {
  Severity severity = Severity::caution;
  std::string_view key;    ///< the quantity, in the words of the case file
  std::string_view unit;   ///< of both numbers, SI
  double read = unset;     ///< what the combination asks of the part
  double allowed = unset;  ///< what the part, or the rule, allows
  std::string_view why;    ///< one sentence
};

}  // namespace windgap::spark
