#include "app/spark.h"

#include <algorithm>

#include "app/solve.h"
#include "app/write_file.h"
#include "casefile/problems.h"
#include "report/spark_text.h"

namespace windgap::app {
namespace {

void declare(CLI::App& verb, Options& options) {
  add_case_options(verb, options);
  add_at(verb, options);
  add_out(verb, options, "write the answer here instead of showing it");
}

void require_igniters(const casefile::Case& bench) {
  if (!bench.igniters.empty()) return;
  casefile::Problems problems;
  problems.add_file(bench.path.string(),
                    "igniters: missing or empty, nothing in the case makes a spark",
                    "a list of one igniter or more, as cases/blank.yaml asks for them");
  problems.throw_if_any();
}

Exit run(const Options& options, Console& console) {
  auto bench = read(options, {.spark = true});
  require_igniters(bench);
  auto answer = answer_of(bench, options);
  report::Outcome outcome{.bench = std::move(bench), .answer = std::move(answer), .asked = {}};
  look_where_asked(outcome, options);
  const auto verdicts = report::judge_igniters(outcome);
  const auto text = options.json    ? report::spark_json(outcome, verdicts)
                    : options.quiet ? report::spark_headlines(outcome.bench, verdicts)
                                    : report::spark_text(outcome.bench, verdicts);
  show(text, options.out, console);
  return std::all_of(verdicts.begin(), verdicts.end(), report::lights) ? Exit::yes : Exit::no;
}

}  // namespace

const Verb spark_verb{.name = "spark",
                      .question = "Will it spark and light, and when is it safe to touch?",
                      .declare = declare,
                      .run = run};

}  // namespace windgap::app
