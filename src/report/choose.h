#pragma once

#include <optional>
#include <string>
#include <vector>

#include "casefile/catalogue.h"
#include "choice/bracket.h"
#include "choice/choice.h"
#include "choice/sizing.h"

/// Which fan, pack, controller and nozzle: the answer for people and programs.
namespace windgap::report {

struct ChooseOutcome {
  casefile::Case bench;
  casefile::Catalogue catalogue;
  choice::Ranking ranking;
  choice::Sizing sizing;
  std::optional<choice::Bracket> bracket;  ///< of the first choice; none if nothing fits
};

/// Whether anything fits nominally.
[[nodiscard]] bool fits(const ChooseOutcome& outcome);

/// Whether the first of the short list has the mount asked for: reliable, where the case wants
/// that.
[[nodiscard]] bool has_mount(const ChooseOutcome& outcome);

/// The same, and a start run there catches, or was not run.
[[nodiscard]] bool starts(const ChooseOutcome& outcome);

/// First of the short list. Something must fit.
[[nodiscard]] const choice::Choice& best_choice(const ChooseOutcome& outcome);

/// `ducted-64 on 6s-3300, 156 mm`: one of the short list and where it goes.
[[nodiscard]] std::string pick_title(const ChooseOutcome& outcome, std::size_t index);

/// `ducted-64`: the file's stem, or the name of what has no file.
[[nodiscard]] std::string fan_label(const ChooseOutcome& outcome, const choice::Choice& choice);
[[nodiscard]] std::string pack_label(const ChooseOutcome& outcome, const choice::Choice& choice);
/// `ducted-64 on 6s-3300`
[[nodiscard]] std::string pair_label(const ChooseOutcome& outcome, const choice::Choice& choice);

/// The answer in one line.
[[nodiscard]] std::string headline(const ChooseOutcome& outcome);

/// The answer and what was skipped, as short as it goes.
[[nodiscard]] std::string choose_brief(const ChooseOutcome& outcome);

/// What a reader of the headline must know with it: starts that are not reliable, and whether the
/// fan that the builder has would do.
[[nodiscard]] std::vector<std::string> beside_the_headline(const ChooseOutcome& outcome);

/// The starting airflow, whether it was given, and the margin; empty if nothing was placed.
[[nodiscard]] std::string what_is_needed(const ChooseOutcome& outcome);

/// How many of what was looked at, and what was skipped.
[[nodiscard]] std::vector<std::string> what_was_tried(const ChooseOutcome& outcome);
[[nodiscard]] std::vector<std::string> what_was_skipped(const ChooseOutcome& outcome);

/// Why one of the short list is on it, in sentences.
[[nodiscard]] std::vector<std::string> why(const ChooseOutcome& outcome, std::size_t index);

/// Why a choice is unfit; empty if it fits.
[[nodiscard]] std::string unfit_reason(const ChooseOutcome& outcome, const choice::Choice& choice);

/// `dominated by ducted-55 on 4s-3300`, or what makes it unfit, or nothing.
[[nodiscard]] std::string note(const ChooseOutcome& outcome, const choice::Choice& choice);

/// Starts per charge, never rounded up.
[[nodiscard]] std::string starts_words(double starts, int decimals = 1);

/// What a printed nozzle does for a fan.
[[nodiscard]] std::string nozzle_sentence(const ChooseOutcome& outcome,
                                          const choice::FanNozzle& tried);

/// What a nozzle does for each fan that fits and gains by one, the short list's aside.
[[nodiscard]] std::vector<std::string> nozzles_worth_it(const ChooseOutcome& outcome);

/// One rung of the ladder: a distance and who reaches it, farthest first.
struct Rung {
  double distance = unset;  ///< [m]
  std::vector<std::string> fans;
  bool travel_ends = false;  ///< the bracket's travel ends it, not the fan
};
[[nodiscard]] std::vector<Rung> ladder(const ChooseOutcome& outcome);
/// Fans that are on no rung, each with its reason.
[[nodiscard]] std::vector<std::string> below_the_ladder(const ChooseOutcome& outcome);

/// The rules of thumb with their errors.
[[nodiscard]] std::vector<std::string> rules_of_thumb(const ChooseOutcome& outcome);

/// What the bracket must hold.
[[nodiscard]] std::vector<std::string> bracket_sentences(const ChooseOutcome& outcome);

/// What the numbers of the table rest on.
[[nodiscard]] std::vector<std::string> basis(const ChooseOutcome& outcome);

[[nodiscard]] std::string choose_text(const ChooseOutcome& outcome);
[[nodiscard]] std::string choose_json(const ChooseOutcome& outcome);
/// One line for each pair, best first, in SI units.
[[nodiscard]] std::string choose_csv(const ChooseOutcome& outcome);
[[nodiscard]] std::string choose_page(const ChooseOutcome& outcome);

/// The sizing plot with its rules of thumb; empty without a line to draw.
[[nodiscard]] std::string sizing_section(const ChooseOutcome& outcome);

/// Sizing plot as the page's plotting library reads it: farthest mount against the fan's bore, a
/// line for each engine, the library's fans as points.
[[nodiscard]] std::string sizing_plot(const ChooseOutcome& outcome);

}  // namespace windgap::report
