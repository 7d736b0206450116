#include "app/sweep.h"

#include <fmt/format.h>

#include "app/solve.h"
#include "app/tell_start.h"
#include "app/write_file.h"
#include "report/json.h"
#include "report/text.h"

namespace windgap::app {
namespace {

void declare(CLI::App& verb, Options& options) {
  add_case_options(verb, options);
  add_step(verb, options);
  add_csv(verb, options);
  add_out(verb, options, "write the table here instead of showing it");
}

/// Step of the sweep [m]. @throws UsageError if it makes too many rows.
double step_of(const casefile::Case& bench, const Options& options) {
  if (options.step.empty()) return report::usual_step(bench.requirement, bench.system);
  const double step = read_step("--step", options.step);
  const double travel = bench.requirement.farthest - bench.requirement.nearest;
  if (travel / step >= static_cast<double>(report::most_distances)) {
    throw UsageError(fmt::format(
        "--step: read \"{}\": more than {} distances", options.step, report::most_distances));
  }
  return step;
}

/// What a start run at the mount has to say against "starts it", which is of air alone.
std::string against_the_mount(const casefile::Case& bench,
                              const placement::Answer& answer,
                              const Options& options) {
  auto whole = startable(bench, options);
  if (!whole) return {};
  const report::Outcome outcome{.bench = std::move(*whole), .answer = answer, .asked = {}};
  const auto found = objection(outcome);
  return found ? fmt::format("\n{}", report::air_alone(outcome, *found)) : std::string();
}

Exit run(const Options& options, Console& console) {
  const auto bench = read(options);
  const double step = step_of(bench, options);
  const auto answer = answer_of(bench, options);
  const auto survey = report::survey(bench, answer, report::distances(bench.requirement, step));
  if (!options.csv.empty()) write_file(options.csv, report::sweep_csv(survey));
  if (options.json) {
    show(report::sweep_json(bench, answer, survey), options.out, console);
  } else if (!options.csv.empty() && options.out.empty()) {
    if (!options.quiet) {
      console.out << fmt::format(
          "{} distances written to {}\n", survey.rows.size(), options.csv.string());
    }
  } else {
    show(report::sweep_text(bench, answer, survey) + against_the_mount(bench, answer, options),
         options.out,
         console);
  }
  return Exit::yes;
}

}  // namespace

const Verb sweep_verb{
    .name = "sweep", .question = "What happens at every distance?", .declare = declare, .run = run};

}  // namespace windgap::app
