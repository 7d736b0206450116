#include "app/spin.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <array>
#include <optional>
#include <string_view>

#include "app/solve.h"
#include "app/tell_start.h"
#include "app/write_file.h"
#include "casefile/problems.h"

namespace windgap::app {
namespace {

using casefile::StarterKind;

std::optional<StarterKind> kind_of(std::string_view word) {
  constexpr std::array kinds{std::pair{std::string_view("fan"), StarterKind::fan},
                             std::pair{std::string_view("motor"), StarterKind::motor},
                             std::pair{std::string_view("blower"), StarterKind::blower}};
  for (const auto& [name, kind] : kinds) {
    if (word == name) return kind;
  }
  return std::nullopt;
}

std::string names_a_starter(const std::string& word) {
  if (kind_of(word)) return {};
  return fmt::format("read \"{}\"; allowed: fan, motor, blower", casefile::printable(word));
}

void declare(CLI::App& verb, Options& options) {
  add_case_options(verb, options);
  add_at(verb, options);
  verb.add_option("--starter", options.starter, "what turns it: fan, motor or blower")
      ->type_name("WHAT")
      ->check(names_a_starter);
  add_csv(verb, options);
  add_out(verb, options, "write the answer here instead of showing it");
}

StarterKind starter_of(const Options& options, const casefile::Case& bench) {
  if (const auto asked = kind_of(options.starter)) return *asked;
  return bench.attempt ? bench.attempt->starter : StarterKind::fan;
}

Exit run(const Options& options, Console& console) {
  auto outcome = solve(options, {.spark = true, .start = true});
  const auto starter = starter_of(options, outcome.bench);
  if (!options.at.empty() && starter == StarterKind::motor) {
    throw UsageError("--at: a motor on the shaft stands at no distance");
  }
  if (!options.at.empty() && starter == StarterKind::blower) {
    outcome.bench.attempt->blower.stand_off = read_stand_off("--at", options.at);
  }
  const auto story = tell_start(outcome, starter, report::shown_row(outcome).stand_off);
  if (story.run.reason == start::Reason::solver_failed) {
    throw std::runtime_error("the start's integration did not settle");
  }
  if (!options.csv.empty()) write_file(options.csv, report::spin_csv(story));
  const auto text = options.json    ? report::spin_json(story, outcome.bench)
                    : options.quiet ? report::spin_brief(story, outcome.bench)
                                    : report::spin_text(story, outcome.bench);
  show(text, options.out, console);
  return story.run.caught ? Exit::yes : Exit::no;
}

}  // namespace

const Verb spin_verb{.name = "spin",
                     .question = "Will it catch? The start, event by event",
                     .declare = declare,
                     .run = run};

}  // namespace windgap::app
