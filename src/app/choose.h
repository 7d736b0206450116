#pragma once

#include "app/verb.h"
#include "report/choose.h"

namespace windgap::app {

extern const Verb choose_verb;

/// Library and lists for the case's engine: ranking and sizing, without ensembles and cooling.
[[nodiscard]] report::ChooseOutcome survey_of_fans(const casefile::Case& bench,
                                                   const Options& options);

}  // namespace windgap::app
