#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "report/outcome.h"

/// An ensemble's answer in words and numbers. `outcome.chance` must be set.
namespace windgap::report {

[[nodiscard]] nlohmann::ordered_json chance_json(const Outcome& outcome);

/// Probability curve as a document holds it: one object for each stand-off.
[[nodiscard]] nlohmann::ordered_json prospects_json(const std::vector<placement::Prospect>& list);

/// What ends the reliable slot, or what is short.
[[nodiscard]] std::vector<std::string> chance_limits(const Outcome& outcome);

/// What the ensemble says of the advised mount, and the nominal answer beside it.
[[nodiscard]] std::vector<std::string> chance_sentences(const Outcome& outcome);

/// How far benches are reliable, and how many are so nowhere. @param benches "the benches"
[[nodiscard]] std::string reach_sentence(const placement::Chance& chance,
                                         std::string_view benches,
                                         const casefile::Case& bench);

/// 5, 50 and 95 %: where less reach; null: nowhere.
[[nodiscard]] nlohmann::ordered_json reach_json(const placement::Chance& chance,
                                                const casefile::Case& bench);

/// What to measure next, the weightiest first, with what it would do to the uncertainty.
[[nodiscard]] std::vector<std::string> what_to_measure(const std::vector<placement::Share>& shares);

/// A table of the chances along the travel.
[[nodiscard]] std::string chance_table(const std::vector<placement::Prospect>& list,
                                       units::System system);

}  // namespace windgap::report
