#include "app/place.h"

#include <CLI/CLI.hpp>

#include "app/solve.h"
#include "app/tell_start.h"
#include "app/write_file.h"
#include "report/json.h"
#include "report/text.h"
#include "report/verdict.h"

namespace windgap::app {
namespace {

void declare(CLI::App& verb, Options& options) {
  add_case_options(verb, options);
  add_at(verb, options);
  verb.add_flag("--confirm", options.confirm, "run the start in time there, and just beyond");
  add_out(verb, options, "write the answer here instead of showing it");
}

Exit run(const Options& options, Console& console) {
  auto outcome = solve(options, {.spark = options.confirm, .start = options.confirm});
  outcome.seasons = season_needs(outcome);
  outcome.need = need_of(outcome);
  if (options.confirm) {
    outcome.confirmation = confirm(outcome);
    outcome.bench.assumed =
        read(options).assumed;  // what placement rests on, with a run or without
  } else if (auto whole = startable(outcome.bench, options)) {
    // The igniters have their say in the run, and nothing else of the answer rests on them.
    auto judged = outcome;
    judged.bench = std::move(*whole);
    auto found = objection(judged);
    if (casefile::deriving(outcome.bench) != nullptr) {
      outcome.bench = std::move(judged.bench);
      outcome.confirmation = std::move(found);
    } else if (found) {
      outcome.bench.warnings.push_back(report::stated_but_not_caught(outcome, *found));
    }
  }
  const auto text = options.json    ? report::place_json(outcome)
                    : options.quiet ? report::headline(outcome) + "\n"
                                    : report::place_text(outcome);
  show(text, options.out, console);
  return report::fits(outcome) && !report::refuted(outcome) ? Exit::yes : Exit::no;
}

}  // namespace

const Verb place_verb{.name = "place",
                      .question = "How far away may this fan stand?",
                      .declare = declare,
                      .run = run};

}  // namespace windgap::app
