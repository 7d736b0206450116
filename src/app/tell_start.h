#pragma once

#include <optional>
#include <vector>

#include "app/options.h"
#include "report/start_story.h"

namespace windgap::app {

/// Runs the start of a case. The case must have been read with its start models.
/// @param stand_off of the fan [m]; a blower stands where the case says
/// @throws UsageError if a measured resistance stands for the engine.
[[nodiscard]] report::StartStory tell_start(const report::Outcome& outcome,
                                            casefile::StarterKind starter,
                                            double stand_off);

/// What winter's and summer's start need and get at the mount of an answer, by the algebra alone;
/// empty unless the starting airflow is derived.
[[nodiscard]] std::vector<report::SeasonNeed> season_needs(const report::Outcome& outcome);

/// Runs the start with the fan at one distance [m]. @throws UsageError as `tell_start`.
[[nodiscard]] report::Confirmed start_at(const report::Outcome& outcome, double stand_off);

/// The case once more with all that a start run reads; none where it says too little to run one: no
/// fuel, or a measured resistance in place of the engine. What the run assumes is not told.
/// @throws casefile::InputError where it says what cannot be started.
[[nodiscard]] std::optional<casefile::Case> startable(const casefile::Case& bench,
                                                      const Options& options);

/// What a run at the mount of an answer has to say against it; none if it catches or there is no
/// mount. @throws UsageError as `tell_start`.
[[nodiscard]] std::optional<report::Confirmation> objection(const report::Outcome& outcome);

/// The derived starting airflow of an answer's bench; none where it is stated.
[[nodiscard]] std::optional<start::StartingAirflow> need_of(const report::Outcome& outcome);

/// Runs the start at the mount of an answer, just beyond its slot, and on to where it stops
/// catching. @throws UsageError as `tell_start`.
[[nodiscard]] report::Confirmation confirm(const report::Outcome& outcome);

}  // namespace windgap::app
