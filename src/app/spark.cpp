#include "app/spark.h"

#include <algorithm>

#include "app/solve.h"
#include "app/write_file.h"
#include "report/spark_text.h"

namespace windgap::app {
namespace {

void declare(CLI::App& verb, Options& options) {
  add_case_options(verb, options);
  add_at(verb, options);
  add_out(verb, options, "write the answer here instead of showing it");
}

Exit tell(const casefile::Case& bench,
          const std::vector<report::IgniterVerdict>& verdicts,
          double stand_off,
          const Options& options,
          Console& console) {
  const auto text = options.json    ? report::spark_json(bench, verdicts, stand_off)
                    : options.quiet ? report::spark_brief(bench, verdicts)
                                    : report::spark_text(bench, verdicts);
  show(text, options.out, console);
  return std::all_of(verdicts.begin(), verdicts.end(), report::lights) ? Exit::yes : Exit::no;
}

Exit run(const Options& options, Console& console) {
  auto bench =
      read(options, {.spark = true, .spark_alone = options.at.empty(), .spark_needed = true});
  if (bench.rig_is_open) {
    return tell(bench, report::judge_stated(bench), unset, options, console);
  }
  auto answer = answer_of(bench, options);
  report::Outcome outcome{.bench = std::move(bench), .answer = std::move(answer), .asked = {}};
  look_where_asked(outcome, options);
  return tell(outcome.bench,
              report::judge_igniters(outcome),
              report::shown_row(outcome).stand_off,
              options,
              console);
}

}  // namespace

const Verb spark_verb{.name = "spark",
                      .question = "Will it spark and light, and when is it safe to touch?",
                      .declare = declare,
                      .run = run};

}  // namespace windgap::app
