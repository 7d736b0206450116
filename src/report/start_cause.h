#pragma once

#include <string>
#include <string_view>

#include "report/start_story.h"

/// Why a start does not catch, and what would help.
namespace windgap::report {

/// One sentence.
[[nodiscard]] std::string_view why_not(start::Reason reason);

/// How it ended in two or three words, for a table's cell.
[[nodiscard]] std::string_view briefly(start::Reason reason);

/// What a person could change, fitting the starter and how the attempt ended; empty: nothing known.
[[nodiscard]] std::string what_helps(const StartStory& story);

}  // namespace windgap::report
