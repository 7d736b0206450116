#pragma once

#include <string>

#include "report/outcome.h"

/// The sections of the report page below the verdict and the pictures.
namespace windgap::report {

[[nodiscard]] std::string limits_section(const Outcome& outcome);
[[nodiscard]] std::string cold_check_section(const Outcome& outcome);
[[nodiscard]] std::string assumptions_section(const Outcome& outcome);
[[nodiscard]] std::string warnings_section(const Outcome& outcome);
[[nodiscard]] std::string cautions_section();
[[nodiscard]] std::string sources_section(const casefile::Case& bench);

}  // namespace windgap::report
