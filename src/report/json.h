#pragma once

#include <string>

#include "report/outcome.h"

/// Answers as one JSON document: SI numbers with the unit in the key (rotational speeds in rpm),
/// null where something does not apply, the same bytes for the same answer.
namespace windgap::report {

[[nodiscard]] std::string place_json(const Outcome& outcome);
[[nodiscard]] std::string sweep_json(const casefile::Case& bench,
                                     const placement::Answer& answer,
                                     const Survey& survey);
[[nodiscard]] std::string check_json(const casefile::Case& bench);

}  // namespace windgap::report
