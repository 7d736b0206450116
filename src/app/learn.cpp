#include "app/learn.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cmath>
#include <optional>

#include "app/solve.h"
#include "app/tell_start.h"
#include "app/write_file.h"
#include "casefile/log.h"
#include "casefile/uncertainty.h"
#include "report/lesson.h"
#include "report/lesson_page.h"

namespace windgap::app {
namespace {

void declare(CLI::App& verb, Options& options) {
  add_case_options(verb, options);
  verb.add_option("LOG", options.log_file, "the log of this bench's attempts")
      ->required()
      ->type_name("");
  add_out(verb, options, "write a page with the curves before and after here");
}

/// The case once more with the log's units, where they differ, so that its values compare.
casefile::Case as_logged(const casefile::Case& bench,
                         const casefile::Log& log,
                         const Options& options) {
  const bool metric = bench.system == units::System::metric;
  if (metric == (log.units == "metric")) return bench;
  auto other = options;
  other.settings.push_back("units=" + log.units);
  return read(other);
}

/// The start run where a flame would burn next, if it does not catch. What really caught stands
/// against a run that does not there: such a run says nothing.
std::optional<report::Confirmed> refusal(const report::Lesson& lesson, const Options& options) {
  const double stand_off = report::next_flame(lesson);
  if (!std::isfinite(stand_off)) return std::nullopt;
  auto whole = startable(lesson.bench, options);
  if (!whole) return std::nullopt;
  report::Outcome outcome{.bench = std::move(*whole), .answer = lesson.answer, .asked = {}};
  outcome.chance = lesson.learned.after;  // run with the likeliest jet
  auto run = start_at(outcome, stand_off);
  if (run.caught) return std::nullopt;
  double farthest_caught = unset;
  for (const auto& attempt : lesson.log.attempts()) {
    if (attempt.outcome == trials::Outcome::caught) {
      farthest_caught = std::fmax(farthest_caught, attempt.stand_off);
    }
  }
  if (std::isfinite(farthest_caught) && !start_at(outcome, farthest_caught).caught) {
    return std::nullopt;
  }
  return run;
}

Exit run(const Options& options, Console& console) {
  auto bench = read(options, {.trials = true});
  const auto log = casefile::read_log(options.log_file);
  const auto changed =
      report::refuse_other_bench(log, as_logged(bench, log, options), options.log_file.string());
  if (!std::isfinite(bench.requirement.reliability)) {
    bench.requirement.reliability = bench.models.trials.usual_reliability;
  }
  const auto answer = answer_of(bench, options);
  const auto known = casefile::uncertainty(bench, answer);
  const placement::Survey survey{.plan = known.plan,
                                 .subject = known.subject,
                                 .requirement = bench.requirement,
                                 .members = usual_members,
                                 .seed = options.seed,
                                 .threads = options.threads};
  const auto attempts = log.attempts();
  const trials::Setting setting{.survey = survey, .asked = known.asked, .c = bench.models.trials};
  report::Lesson lesson{.bench = bench,
                        .answer = answer,
                        .log = log,
                        .plan = known.plan,
                        .changed = changed,
                        .learned = trials::learn(attempts, setting)};
  lesson.refused = refusal(lesson, options);
  if (!options.out.empty()) write_file(options.out, report::lesson_page(lesson));
  if (options.json) {
    console.out << report::lesson_json(lesson);
  } else if (options.quiet) {
    console.out << report::lesson_headline(lesson) << "\n";
  } else {
    console.out << report::lesson_text(lesson);
  }
  return lesson.learned.after.feasible && report::goes_on(lesson) ? Exit::yes : Exit::no;
}

}  // namespace

const Verb learn_verb{
    .name = "learn", .question = "Given my attempts, what now?", .declare = declare, .run = run};

}  // namespace windgap::app
