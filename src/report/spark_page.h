#pragma once

#include <string>

#include "report/outcome.h"

namespace windgap::report {

/// The page's section on the igniters: cautions first, then verdicts, sources, stored charge and
/// plots; empty without igniters.
[[nodiscard]] std::string spark_section(const Outcome& outcome);

}  // namespace windgap::report
