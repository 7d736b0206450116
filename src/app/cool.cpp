#include "app/cool.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/solve.h"
#include "app/write_file.h"
#include "casefile/variations.h"
#include "start/purge.h"
#include "start/setup.h"

namespace windgap::app {
namespace {

constexpr casefile::Scope scope{.start = true, .cooling = true};

void declare(CLI::App& verb, Options& options) {
  add_case_options(verb, options);
  add_at(verb, options);
  add_csv(verb, options);
  add_out(verb, options, "write the answer here instead of showing it");
}

report::VapourPurge vapour_of(const report::Outcome& outcome, const rig::Delivery& delivery) {
  const auto& bench = outcome.bench;
  const auto& purge = bench.attempt->setup.sequence.purge;
  const double flow = delivery.airflow / outcome.answer.rig.ambient.density;
  return {.changes = purge.changes,
          .volume = purge.volume,
          .airflow = delivery.airflow,
          .changing = start::change_seconds(purge, flow),
          .seconds = start::purge_seconds(purge, flow),
          .left = start::vapour_left(purge.changes)};
}

/// From where the engine was started: not from a distance asked for that starts nothing.
double started_from(const report::Outcome& outcome) {
  const auto& advice = outcome.answer.advice;
  const bool elsewhere = outcome.asked && !outcome.asked->feasible && advice.feasible;
  return elsewhere ? advice.stand_off : report::shown_row(outcome).stand_off;
}

/// What the pack may give, written into the need.
void set_charge(report::Cooldown& cooldown, const casefile::Case& bench, double from) {
  if (cooldown.rig.fan.holds_flow) return;
  cooldown.charge_of_starts = cooling::charge_of_starts(
      cooldown.rig,
      {.count = bench.cool.starts,
       .seconds = cooldown.purge_of_start + bench.requirement.start_duration,
       .stand_off = from});
  cooldown.charge_measured = std::isfinite(bench.cool.charge_left);
  cooldown.need.charge = cooldown.charge_measured ? bench.cool.charge_left
                                                  : cooling::charge_left(bench.parts.drive.pack,
                                                                         cooldown.charge_of_starts,
                                                                         bench.models.cooling);
}

/// The planned settings, the last one open-ended.
std::vector<cooling::PlannedStep> kept_on(const cooling::Plan& plan) {
  auto steps = plan.purge.steps;
  steps.back().end = unset;
  return steps;
}

Exit run(const Options& options, Console& console) {
  const auto outcome = solve(options, scope);
  if (outcome.bench.parts.engine.resistance) {
    throw UsageError(fmt::format(
        "{}: engine.resistance has no metal to cool; give the engine's dimensions instead",
        options.case_file.string()));
  }
  const auto cooldown = cooldown_of(outcome);
  if (!options.csv.empty()) write_file(options.csv, report::cool_csv(cooldown));
  std::string text;
  if (options.json) {
    text = report::cool_json(outcome, cooldown);
  } else if (options.quiet) {
    for (const auto& line : report::bench_card(outcome, cooldown)) text += line + "\n";
    for (const auto& line : report::what_is_short(outcome, cooldown)) text += line + "\n";
  } else {
    text = report::cool_text(outcome, cooldown);
  }
  show(text, options.out, console);
  return report::cools(cooldown) ? Exit::yes : Exit::no;
}

}  // namespace

report::Cooldown cooldown_of(const report::Outcome& outcome) {
  const auto& bench = outcome.bench;
  const auto& models = bench.models;
  report::Cooldown cooldown;
  cooldown.stand_off = report::shown_row(outcome).stand_off;
  cooldown.rig = outcome.answer.rig;
  cooldown.scene = cooling::make_scene(
      bench.cool.engine, bench.parts, cooldown.rig, models.rig, models.cooling, models.materials);
  cooldown.need = bench.cool.need;
  cooldown.need.stand_off = cooldown.stand_off;
  cooldown.vapour = vapour_of(outcome, rig::deliver(cooldown.rig, cooldown.stand_off));
  const double from = started_from(outcome);
  cooldown.purge_of_start = vapour_of(outcome, rig::deliver(cooldown.rig, from)).seconds;
  set_charge(cooldown, bench, from);
  cooldown.plan = cooling::plan(cooldown.scene, cooldown.rig, cooldown.need);
  const auto steps = kept_on(cooldown.plan);
  for (std::size_t i = 0; i < cooldown.on.size(); ++i) {
    auto need = cooldown.need;
    need.goal = static_cast<cooling::Goal>(i);
    cooldown.on[i] =
        cooling::try_purge(cooldown.scene, cooldown.rig, need, steps, cooling::Ends::settable);
  }
  const auto first = rig::with_throttle(cooldown.rig, steps.front().throttle);
  const auto flow =
      cooling::purge_of(cooldown.scene.network, cooldown.scene.start, first, cooldown.stand_off);
  cooldown.biot =
      cooling::largest_biot(cooldown.scene.network,
                            cooling::purging(cooldown.scene.network, flow, cooling::Pump::off),
                            cooldown.scene.start);
  cooldown.sensitivity =
      cooling::sensitivity(cooldown.plan,
                           cooldown.scene,
                           cooldown.rig,
                           cooldown.need,
                           {.stated = bench.cool.stated,
                            .parts = bench.parts,
                            .models = models.rig,
                            .own = models.cooling,
                            .materials = models.materials},
                           casefile::cooling_variations(bench),
                           outcome.spread ? outcome.spread->supply_deviation : unset);
  return cooldown;
}

const Verb cool_verb{.name = "cool",
                     .question = "How long must the fan blow after the run?",
                     .declare = declare,
                     .run = run};

}  // namespace windgap::app
