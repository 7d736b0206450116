#include "app/report.h"

#include <fmt/format.h>

#include <optional>

#include "app/choose.h"
#include "app/cool.h"
#include "app/solve.h"
#include "app/tell_start.h"
#include "app/write_file.h"
#include "report/html.h"
#include "report/json.h"
#include "report/verdict.h"

namespace windgap::app {
namespace {

void declare(CLI::App& verb, Options& options) {
  add_case_options(verb, options);
  add_at(verb, options);
  add_out(verb, options, "the page to write; else the case's name with .html");
}

/// Steps along the travel that make smooth lines.
constexpr double plotted_distances = 120.0;

Exit run(const Options& options, Console& console) {
  auto outcome = solve(
      options, {.spark = true, .start = true, .cooling = true, .choice = true, .own_fan = true});
  outcome.seasons = season_needs(outcome);
  outcome.need = need_of(outcome);
  if (outcome.bench.attempt) {
    outcome.start = std::make_shared<const report::StartStory>(
        tell_start(outcome, outcome.bench.attempt->starter, report::shown_row(outcome).stand_off));
    outcome.confirmation = objection(outcome);
  }
  const auto file =
      options.out.empty() ? options.case_file.stem().replace_extension(".html") : options.out;
  const auto& travel = outcome.bench.requirement;
  const auto survey = report::survey(
      outcome.bench,
      outcome.answer,
      report::distances(travel, (travel.farthest - travel.nearest) / plotted_distances));
  std::optional<report::Cooldown> cooldown;
  if (outcome.bench.cool.possible) cooldown = cooldown_of(outcome);
  const auto fans = survey_of_fans(outcome.bench, options);
  write_file(file, report::html_page(outcome, survey, cooldown ? &*cooldown : nullptr, &fans));
  if (options.json) {
    console.out << report::place_json(outcome);
  } else if (!options.quiet) {
    console.out << fmt::format("{}; the page is {}\n", report::headline(outcome), file.string());
  }
  return report::fits(outcome) && !report::refuted(outcome) ? Exit::yes : Exit::no;
}

}  // namespace

const Verb report_verb{.name = "report",
                       .question = "All of it on one page that opens offline and prints",
                       .declare = declare,
                       .run = run};

}  // namespace windgap::app
