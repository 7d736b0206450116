#pragma once

#include "app/verb.h"
#include "report/cool.h"

namespace windgap::app {

extern const Verb cool_verb;

/// The purge after the run, at the outcome's distance; for a case read with the models of cooling
/// and start and an engine of known dimensions.
[[nodiscard]] report::Cooldown cooldown_of(const report::Outcome& outcome);

}  // namespace windgap::app
