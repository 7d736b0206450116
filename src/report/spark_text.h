#pragma once

#include <string>
#include <vector>

#include "report/spark_verdict.h"

/// `windgap spark` for people and programs.
namespace windgap::report {

/// Cautions, verdicts, then what they rest on: 80 columns.
[[nodiscard]] std::string spark_text(const casefile::Case& bench,
                                     const std::vector<IgniterVerdict>& verdicts);

/// One line for each igniter.
[[nodiscard]] std::string spark_headlines(const casefile::Case& bench,
                                          const std::vector<IgniterVerdict>& verdicts);

/// One JSON document; SI with the unit in the key, kilovolts where the key says so.
[[nodiscard]] std::string spark_json(const Outcome& outcome,
                                     const std::vector<IgniterVerdict>& verdicts);

}  // namespace windgap::report
