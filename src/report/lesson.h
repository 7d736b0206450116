#pragma once

#include <optional>
#include <string>
#include <vector>

#include "casefile/case.h"
#include "casefile/log.h"
#include "report/outcome.h"
#include "spread/plan.h"
#include "trials/learn.h"

/// What a log of attempts teaches, in words and numbers.
namespace windgap::report {

struct Lesson {
  const casefile::Case& bench;
  const placement::Answer& answer;
  const casefile::Log& log;
  const spread::Plan& plan;
  std::vector<casefile::Difference> changed;  ///< since the log began; none makes another bench
  trials::Lesson learned;
  /// A start run in time where the lesson would light it, or where it would lock the mount, if that
  /// does not catch.
  std::optional<Confirmed> refused = std::nullopt;
};

/// @throws casefile::InputError if fan, engine or drive are not the log's, each difference shown.
/// Returns the lesser ones.
std::vector<casefile::Difference> refuse_other_bench(const casefile::Log& log,
                                                     const casefile::Case& bench,
                                                     const std::string& file);

/// "Next: a cold run at 210 mm", "Lock it at 262 mm".
[[nodiscard]] std::string lesson_headline(const Lesson& lesson);
/// Everything below the headline but tables: advice, what was drawn, contradictions.
[[nodiscard]] std::vector<std::string> lesson_sentences(const Lesson& lesson);
[[nodiscard]] std::vector<std::string> contradictions(const Lesson& lesson);
/// Whether the headline says to lock the mount.
[[nodiscard]] bool locked(const Lesson& lesson);
/// Where a start would burn next: the lit attempt proposed, else the mount; unset: nowhere.
[[nodiscard]] double next_flame(const Lesson& lesson);
/// Where the next attempt is proposed [m]; unset: nowhere.
[[nodiscard]] double next_distance(const Lesson& lesson);
/// What each entry told: attempt, expected, agreement.
[[nodiscard]] std::vector<std::vector<std::string>> attempt_rows(const Lesson& lesson);

/// Whether nothing contradicts, so that an attempt or a lock is named.
[[nodiscard]] bool goes_on(const Lesson& lesson);

[[nodiscard]] std::string lesson_text(const Lesson& lesson);
[[nodiscard]] std::string lesson_json(const Lesson& lesson);

/// What was just written down. @param set_aside number of the attempt that counts no more; empty:
/// an attempt was added
[[nodiscard]] std::string trial_text(const casefile::Log& log,
                                     const std::string& file,
                                     const std::string& set_aside);
[[nodiscard]] std::string trial_json(const casefile::Log& log,
                                     const std::string& file,
                                     const std::string& set_aside);

/// "lit at 180 mm, did not catch (hung)"
[[nodiscard]] std::string attempt_text(const trials::Attempt& attempt, units::System system);

}  // namespace windgap::report
