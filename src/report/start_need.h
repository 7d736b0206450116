#pragma once

#include <string>
#include <vector>

#include "report/outcome.h"

/// What a screen about placement says on the starting airflow and on the start.
namespace windgap::report {

/// Where the starting airflow comes from, and for what oil a derived one holds.
[[nodiscard]] std::string start_need_text(const Outcome& outcome);

/// A season whose start does not get its own starting airflow at the mount.
[[nodiscard]] std::vector<std::string> season_warnings(const Outcome& outcome);

/// What the start run in time says at the mount and beyond it, and why it catches farther out than
/// placement goes.
[[nodiscard]] std::vector<std::string> confirmed(const Outcome& outcome);

/// Why an engine has no starting airflow that does not sustain itself up to idle.
[[nodiscard]] std::string never_alone(const start::StartingAirflow& need, units::System system);

}  // namespace windgap::report
