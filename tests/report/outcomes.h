#pragma once

#include <optional>
#include <string>

#include "report/outcome.h"

namespace windgap::test {

/// The answer to cases/<name>.yaml, at a distance [m] if one is asked.
inline report::Outcome outcome_of(const std::string& name, std::optional<double> asked = {}) {
  auto bench = casefile::read_case(WINDGAP_SOURCE_DIR "/cases/" + name + ".yaml",
                                   {.models = {WINDGAP_MODELS_DIR}});
  auto answer = placement::answer(
      bench.parts, bench.models.rig, bench.requirement, bench.models.placement, {});
  report::Outcome outcome{.bench = std::move(bench), .answer = std::move(answer), .asked = {}};
  if (asked) {
    outcome.asked = placement::look(outcome.answer.rig, *asked, outcome.bench.requirement);
  }
  return outcome;
}

}  // namespace windgap::test
