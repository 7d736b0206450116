#pragma once

#include <string>

#include "report/outcome.h"

/// What a person reads on a screen of 80 columns, in the units of the case.
namespace windgap::report {

/// The answer on one screen.
[[nodiscard]] std::string place_text(const Outcome& outcome);

/// One line for each distance.
[[nodiscard]] std::string sweep_text(const casefile::Case& bench,
                                     const placement::Answer& answer,
                                     const Survey& survey);

/// The sweep for other programs: a header row of names with SI units, then numbers.
/// Below a sweep: that a start run at the mount does not catch, so that air enough is not all.
[[nodiscard]] std::string air_alone(const Outcome& outcome, const Confirmation& run);
[[nodiscard]] std::string sweep_csv(const Survey& survey);

/// The case as understood: what was given, what was assumed and why.
[[nodiscard]] std::string check_text(const casefile::Case& bench);

}  // namespace windgap::report
