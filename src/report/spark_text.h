#pragma once

#include <string>
#include <vector>

#include "report/spark_verdict.h"

/// `windgap spark` for people and programs.
namespace windgap::report {

/// Cautions, verdicts, then what they rest on: 80 columns.
[[nodiscard]] std::string spark_text(const casefile::Case& bench,
                                     const std::vector<IgniterVerdict>& verdicts);

/// The gravest cautions on a line or two, then each igniter's verdict and what belongs to it.
[[nodiscard]] std::string spark_brief(const casefile::Case& bench,
                                      const std::vector<IgniterVerdict>& verdicts);

/// One JSON document; SI with the unit in the key, kilovolts where the key says so. No stand-off
/// where the case states the gas at every plug.
[[nodiscard]] std::string spark_json(const casefile::Case& bench,
                                     const std::vector<IgniterVerdict>& verdicts,
                                     double stand_off);
[[nodiscard]] std::string spark_json(const Outcome& outcome,
                                     const std::vector<IgniterVerdict>& verdicts);

}  // namespace windgap::report
