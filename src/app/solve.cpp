#include "app/solve.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "app/verb.h"
#include "casefile/uncertainty.h"
#include "casefile/variations.h"

namespace windgap::app {
namespace {

/// A component file may have any name, and may not be lost for that.
void spare_what_was_read(const casefile::Case& bench, const Options& options) {
  for (const auto& [option, output] : outputs(options)) {
    for (const auto& file : bench.files) {
      if (settled(file.name) != settled(output)) continue;
      throw UsageError(
          fmt::format("{} would replace {}, which the case rests on: give it another "
                      "name",
                      option,
                      output.string()));
    }
  }
}

}  // namespace

casefile::Case read(const Options& options, const casefile::Scope& scope) {
  for (const auto& folder : options.models) {
    if (!std::filesystem::is_directory(folder)) {
      throw UsageError("--models " + folder.string() + ": there is no such folder");
    }
  }
  auto bench = casefile::read_case(
      options.case_file, {.settings = options.settings, .models = options.models, .scope = scope});
  spare_what_was_read(bench, options);
  return bench;
}

placement::Answer answer_of(const casefile::Case& bench, const Options& options) {
  return placement::answer(bench.parts,
                           bench.models.rig,
                           bench.requirement,
                           bench.models.placement,
                           {.threads = options.threads},
                           casefile::deriving(bench));
}

Surveyed survey_about(const casefile::Case& bench,
                      const placement::Answer& answer,
                      std::size_t members,
                      const Options& options) {
  const auto known = casefile::uncertainty(bench, answer);
  const auto& need = bench.requirement;
  const placement::Survey survey{.plan = known.plan,
                                 .subject = known.subject,
                                 .requirement = need,
                                 .members = members,
                                 .seed = options.seed,
                                 .threads = options.threads};
  auto outlook = placement::look_out(survey, placement::usual_nodes(need));
  const std::vector<double> weights(outlook.members(), 1.0);
  auto chance = placement::place_reliably(outlook, weights, survey, known.asked);
  const auto at = [&](double stand_off) {
    return placement::prospect(outlook, weights, stand_off, known.asked);
  };
  const double nominal = answer.advice.stand_off;
  Surveyed surveyed{.chance = std::move(chance),
                    .mount = std::isfinite(nominal) ? at(nominal) : placement::Prospect{},
                    .asked = {}};
  if (!options.at.empty()) surveyed.asked = at(read_stand_off("--at", options.at));
  return surveyed;
}

namespace {

/// Puts the mount of the asked reliability in the place of the nominal one.
void ask_for_reliability(report::Outcome& outcome, const Options& options) {
  auto& need = outcome.bench.requirement;
  auto surveyed = survey_about(outcome.bench, outcome.answer, usual_members, options);
  outcome.chance = std::move(surveyed.chance);
  outcome.prospect = surveyed.asked;
  outcome.nominal = outcome.answer.advice;
  // The ensemble stands in place of the nominal margin (Eq. 7 of models/spread.md).
  need.margin = 0.0;
  auto& answer = outcome.answer;
  if (!answer.jet_known) {
    // Where an ensemble chose, what is shown beside it is its middle and not a bound.
    answer.rig = placement::as_placed(start::assemble(outcome.bench.parts,
                                                      outcome.bench.models.rig,
                                                      report::shown_jet(outcome),
                                                      casefile::deriving(outcome.bench)),
                                      answer.advice);
  }
  outcome.answer.advice = placement::advised(outcome.answer, *outcome.chance, need);
}

}  // namespace

void look_where_asked(report::Outcome& outcome, const Options& options) {
  if (options.at.empty()) return;
  outcome.asked = placement::look(
      outcome.answer.rig, read_stand_off("--at", options.at), outcome.bench.requirement);
  if (outcome.chance) {
    // Whether the air is enough is the ensemble's word; the other limits are the bench's own.
    outcome.asked->feasible = std::all_of(
        outcome.asked->constraints.begin(), outcome.asked->constraints.end(), [](const auto& one) {
          using placement::Constraint;
          return one.constraint == Constraint::starting_airflow ||
                 one.constraint == Constraint::lightoff_speed ||
                 one.constraint == Constraint::bracket_travel || !(one.slack < 0.0);
        });
  }
  if (!outcome.asked->delivery.converged) {
    throw std::runtime_error("the airflow at " + options.at + " did not settle");
  }
}

report::Outcome solve(const Options& options, const casefile::Scope& scope) {
  auto bench = read(options, scope);
  auto answer = answer_of(bench, options);
  report::Outcome outcome{.bench = std::move(bench), .answer = std::move(answer), .asked = {}};
  if (std::isfinite(outcome.bench.requirement.reliability)) ask_for_reliability(outcome, options);
  look_where_asked(outcome, options);
  if (!outcome.asked && !outcome.chance && outcome.answer.advice.feasible) {
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
