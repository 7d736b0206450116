#pragma once

#include "app/options.h"
#include "report/outcome.h"

namespace windgap::app {

/// The case that the options name, with the models that `scope` adds. @throws casefile::InputError
[[nodiscard]] casefile::Case read(const Options& options, const casefile::Scope& scope = {});

/// Its answer, with the distance of `--at` if one was asked for. @throws casefile::InputError,
/// UsageError
[[nodiscard]] report::Outcome solve(const Options& options, const casefile::Scope& scope = {});

/// Fills `asked` if the options hold a distance. @throws UsageError
void look_where_asked(report::Outcome& outcome, const Options& options);

/// Members of an ensemble, unless a verb says otherwise.
inline constexpr std::size_t usual_members = 4096;

/// The ensemble of a bench about its nominal answer.
struct Surveyed {
  placement::Chance chance;   ///< the mount with the reliability that the bench asks for
  placement::Prospect mount;  ///< at the nominal mount
  std::optional<placement::Prospect> asked;  ///< at the distance of `--at`
};
/// @param bench with a reliability; its parts and requirement are those of `answer`
[[nodiscard]] Surveyed survey_about(const casefile::Case& bench,
                                    const placement::Answer& answer,
                                    std::size_t members,
                                    const Options& options);

[[nodiscard]] placement::Answer answer_of(const casefile::Case& bench, const Options& options);

}  // namespace windgap::app
