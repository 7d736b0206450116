#pragma once

#include <string>

#include "report/outcome.h"

namespace windgap::report {

/// The start on the page: verdict, timeline, plots against time and the torque map, losses,
/// seasons; empty where the outcome tells of no start.
[[nodiscard]] std::string start_section(const Outcome& outcome);

}  // namespace windgap::report
