#include "app/solve.h"

#include <filesystem>

#include "app/verb.h"
#include "casefile/variations.h"

namespace windgap::app {

casefile::Case read(const Options& options, const casefile::Scope& scope) {
  for (const auto& folder : options.models) {
    if (!std::filesystem::is_directory(folder)) {
      throw UsageError("--models " + folder.string() + ": there is no such folder");
    }
  }
  return casefile::read_case(
      options.case_file, {.settings = options.settings, .models = options.models, .scope = scope});
}

placement::Answer answer_of(const casefile::Case& bench, const Options& options) {
  return placement::answer(bench.parts,
                           bench.models.rig,
                           bench.requirement,
                           bench.models.placement,
                           {.threads = options.threads},
                           casefile::deriving(bench));
}

void look_where_asked(report::Outcome& outcome, const Options& options) {
  if (options.at.empty()) return;
  outcome.asked = placement::look(
      outcome.answer.rig, read_stand_off("--at", options.at), outcome.bench.requirement);
  if (!outcome.asked->delivery.converged) {
    throw std::runtime_error("the airflow at " + options.at + " did not settle");
  }
}

report::Outcome solve(const Options& options, const casefile::Scope& scope) {
  auto bench = read(options, scope);
  auto answer = answer_of(bench, options);
  report::Outcome outcome{
      .bench = std::move(bench), .answer = std::move(answer), .asked = {}, .spread = {}};
  look_where_asked(outcome, options);
  if (!outcome.asked && outcome.answer.advice.feasible) {
    outcome.spread = placement::first_order(outcome.bench.parts,
                                            outcome.bench.models.rig,
                                            outcome.answer,
                                            outcome.bench.requirement,
                                            casefile::variations(outcome.bench),
                                            casefile::deriving(outcome.bench));
  }
  return outcome;
}

}  // namespace windgap::app
