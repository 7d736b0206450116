#pragma once

#include <string>

#include "report/outcome.h"

namespace windgap::report {

/// The ensemble's curves, what it hangs on and what to measure; nothing without an asked
/// reliability.
[[nodiscard]] std::string chance_section(const Outcome& outcome);

}  // namespace windgap::report
