#include "app/tell_start.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "app/solve.h"
#include "app/verb.h"
#include "engine/bearings.h"
#include "report/spark_verdict.h"
#include "report/start_cause.h"

namespace windgap::app {
namespace {

using casefile::StarterKind;

/// A bench and how it is started.
struct Stage {
  rig::Parts parts;
  rig::Rig rig;
  start::Setup setup;
  start::Prepared prepared;
  double stand_off = unset;
  std::string spark_not_judged = {};
};

start::Prepared prepared(const start::Setup& setup,
                         const rig::Parts& parts,
                         const casefile::Case& bench) {
  const auto& given = bench.attempt->given;
  return start::prepare(setup, parts, bench.models.rig, given.fuels, given.models);
}

/// Lets the igniters of the chamber decide on light-off, or notes why they cannot.
void judge_spark(Stage& stage, StarterKind starter, const casefile::Case& bench) {
  if (starter == StarterKind::motor) {
    stage.spark_not_judged =
        "Whether it sparks is not judged: the gas at the plug is known only of a blown start.";
    return;
  }
  if (!report::has_chamber_igniter(bench)) {
    stage.spark_not_judged = report::spark_taken_for_granted;
    return;
  }
  const auto spark = report::light_off(bench, stage.rig, rig::deliver(stage.rig, stage.stand_off));
  stage.setup.ignition = {
      .lights = spark.lights,
      .wait = spark.lights ? spark.wait : 0.0,
      .why_not = spark.why.empty() ? std::string()
                                   : "Without a spark there is no light-off: " + spark.why + "."};
}

/// The rig of the answer where nothing differs from it.
Stage stage_of(const report::Outcome& outcome,
               StarterKind starter,
               double stand_off,
               const rig::Parts& changed) {
  const auto& bench = outcome.bench;
  Stage stage{.parts = changed, .rig = {}, .setup = {}, .prepared = {}, .stand_off = stand_off};
  if (starter == StarterKind::blower) {
    const auto& blower = bench.attempt->blower;
    stage.parts.source =
        fan::Stream{.exit_diameter = blower.exit_diameter, .velocity = blower.velocity};
    stage.parts.fan_outer_diameter = blower.exit_diameter;
    stage.parts.axis_readings.clear();
    stage.parts.propeller_share = unset;
    stage.stand_off = blower.stand_off;
  }
  stage.rig = rig::assemble(stage.parts, bench.models.rig, report::shown_jet(outcome));
  if (starter != StarterKind::blower) {
    stage.rig = placement::as_placed(stage.rig, outcome.answer.advice);
  }
  stage.setup = casefile::with_starter(*bench.attempt, starter, stage.parts, bench.models.rig);
  judge_spark(stage, starter, bench);
  stage.prepared = prepared(stage.setup, stage.parts, bench);
  return stage;
}

start::Run run(const Stage& stage, const casefile::Case& bench) {
  start::Bench there(stage.parts, bench.models.rig, stage.rig, stage.prepared, stage.stand_off);
  constexpr double shown_every = 0.1;  // [s]
  return start::run(there, {.sample_interval = shown_every});
}

/// The bench with its air and its oil at another temperature.
rig::Parts in_season(const casefile::Case& bench, double temperature) {
  auto parts = bench.parts;
  parts.site.temperature = temperature;
  parts.engine.bearings.oil.inlet_temperature = temperature;
  return parts;
}

/// Names and temperatures of the seasons.
std::array<std::pair<const char*, double>, 2> seasons_of(const casefile::Case& bench) {
  const auto& models = bench.attempt->given.models;
  return {{{"winter", models.winter_temperature}, {"summer", models.summer_temperature}}};
}

report::Season season(const report::Outcome& outcome,
                      StarterKind starter,
                      double stand_off,
                      const std::string& name,
                      double temperature) {
  const auto& bench = outcome.bench;
  const auto parts = in_season(bench, temperature);
  const auto& oil = parts.engine.bearings.oil;
  const auto stage = stage_of(outcome, starter, stand_off, parts);
  const auto attempt = run(stage, bench);
  return {
      .name = name,
      .temperature = temperature,
      .oil_viscosity = engine::oil_viscosity(oil, bench.models.rig.engine.bearings, temperature),
      .need = start::starting_airflow(stage.rig, stage.prepared),
      .caught = attempt.caught,
      .reason = attempt.reason};
}

report::TorqueMap torque_map(const Stage& stage, const casefile::Case& bench, bool blown) {
  constexpr int steps = 60;
  constexpr double beyond_idle = 1.1;
  start::Bench there(stage.parts, bench.models.rig, stage.rig, stage.prepared, stage.stand_off);
  auto state = there.at_rest();
  state.housing_temperature = stage.prepared.usual_wall;
  const double end = beyond_idle * stage.prepared.sequence.idle_speed;
  report::TorqueMap map;
  for (int i = 1; i <= steps; ++i) {
    state.speed = end * static_cast<double>(i) / steps;
    state.film_temperature = there.steady_film(state.speed);
    start::Controls controls{.lit = true,
                             .main = {.kind = start::Valve::Kind::controlled, .flow = 0.0}};
    const auto off = there.at(state, controls).reading;
    controls.throttle = there.full_throttle();
    controls.clutch = stage.prepared.starter == start::Starter::shaft_motor &&
                      state.speed < stage.prepared.shaft_motor.cut_out_speed;
    const auto on = there.at(state, controls).reading;
    if (!off.converged || !on.converged) continue;
    map.speed.push_back(state.speed);
    map.without.push_back(off.net_torque);
    map.with.push_back(blown || controls.clutch ? on.net_torque : off.net_torque);
  }
  return map;
}

/// @throws UsageError
void require_rotor(const casefile::Case& bench) {
  if (!bench.attempt) {
    throw UsageError("a measured resistance stands for the engine: it has no rotor to start");
  }
}

double time_of(const start::Run& run, start::EventKind kind) {
  for (const auto& event : run.events) {
    if (event.kind == kind) return event.sample.time;
  }
  return unset;
}

report::FlameNeed flame_need(const start::Prepared& prepared, const start::Run& run) {
  using start::FlameState;
  const auto& last = run.samples.back().reading;
  const bool lit = std::isfinite(run.hottest_gas);
  const auto& burner = prepared.burner;
  const auto& line = last.preheat_flow > 0.0 ? prepared.preheat : prepared.main;
  return {.window = start::flammable(
              burner, line.mixture, last.loading, lit ? FlameState::burning : FlameState::unlit),
          .velocity = lit ? burner.burning_velocity : burner.lightoff_velocity,
          .loading = burner.greatest_loading};
}

}  // namespace

report::StartStory tell_start(const report::Outcome& outcome,
                              StarterKind starter,
                              double stand_off) {
  const auto& bench = outcome.bench;
  require_rotor(bench);
  const auto stage = stage_of(outcome, starter, stand_off, bench.parts);
  const bool blown = starter != StarterKind::motor;
  report::StartStory story{
      .starter = starter,
      .stand_off = stage.stand_off,
      .cold = {},
      .setup = stage.setup,
      .spark_not_judged = stage.spark_not_judged,
      .control_temperature = stage.prepared.control_temperature,
      .breakaway_torque = stage.rig.engine.breakaway_torque,
      .need = start::starting_airflow(stage.rig, stage.prepared),
      .stated_airflow =
          casefile::deriving(bench) != nullptr ? unset : outcome.answer.advice.starting_airflow,
      .run = run(stage, bench),
      .flame = {},
      .losses = start::loss_table(stage.parts, bench.models.rig, stage.rig, stage.prepared),
      .seasons = {},
      .map = torque_map(stage, bench, blown)};
  if (story.need.need == start::Need::cannot_sustain) {
    auto faster = stage.prepared;
    faster.sequence.idle_speed = stage.rig.engine.design_speed;
    story.sustains_beyond_idle = start::self_sustaining_speed(stage.rig, faster);
  }
  if (blown) story.cold = rig::deliver(stage.rig, stage.stand_off);
  for (const auto& [name, temperature] : seasons_of(bench)) {
    story.seasons.push_back(season(outcome, starter, stand_off, name, temperature));
  }
  story.flame = flame_need(stage.prepared, story.run);
  const auto& lit = stage.prepared.preheats ? stage.prepared.preheat : stage.prepared.main;
  story.stoichiometric_ratio = lit.mixture.stoichiometric_ratio;
  return story;
}

std::vector<report::SeasonNeed> season_needs(const report::Outcome& outcome) {
  const auto& bench = outcome.bench;
  const auto* const deriving = casefile::deriving(bench);
  std::vector<report::SeasonNeed> list;
  if (deriving == nullptr) return list;
  const double stand_off = report::shown_row(outcome).stand_off;
  for (const auto& [name, temperature] : seasons_of(bench)) {
    const auto rig = placement::as_placed(
        start::assemble(
            in_season(bench, temperature), bench.models.rig, report::shown_jet(outcome), deriving),
        outcome.answer.advice);
    list.push_back({.name = name,
                    .temperature = temperature,
                    .airflow = rig::deliver(rig, stand_off).airflow,
                    .starting_airflow = rig.starting_airflow});
  }
  return list;
}

report::Confirmed start_at(const report::Outcome& outcome, double stand_off) {
  const auto& bench = outcome.bench;
  require_rotor(bench);
  const auto attempt = run(stage_of(outcome, StarterKind::fan, stand_off, bench.parts), bench);
  return {.stand_off = stand_off,
          .caught = attempt.caught,
          .reason = std::string(start::name(attempt.reason)),
          .brief = std::string(report::briefly(attempt.reason)),
          .spin_up = time_of(attempt, start::EventKind::fan_off) -
                     time_of(attempt, start::EventKind::light_off)};
}

std::optional<start::StartingAirflow> need_of(const report::Outcome& outcome) {
  const auto& bench = outcome.bench;
  if (casefile::deriving(bench) == nullptr) return std::nullopt;
  const auto setup =
      casefile::with_starter(*bench.attempt, StarterKind::fan, bench.parts, bench.models.rig);
  return start::starting_airflow(outcome.answer.rig, prepared(setup, bench.parts, bench));
}

std::optional<casefile::Case> startable(const casefile::Case& bench, const Options& options) {
  if (bench.parts.engine.resistance) return std::nullopt;
  if (casefile::deriving(bench) == nullptr && !bench.lit_fuel) return std::nullopt;
  auto whole = read(options, {.spark = true, .start = true});
  whole.assumed = bench.assumed;
  whole.requirement = bench.requirement;
  return whole;
}

std::optional<report::Confirmation> objection(const report::Outcome& outcome) {
  if (!outcome.asked && !outcome.answer.advice.feasible) return std::nullopt;
  auto run = start_at(outcome, report::shown_row(outcome).stand_off);
  if (run.caught) return std::nullopt;
  return report::Confirmation{.runs = {std::move(run)}, .stops_at = unset};
}

report::Confirmation confirm(const report::Outcome& outcome) {
  require_rotor(outcome.bench);
  constexpr double beyond_share = 1.05;
  constexpr double growth = 1.3;
  constexpr double farthest = 10.0;  // [m]
  constexpr int halvings = 6;
  const auto caught_at = [&](double stand_off) { return start_at(outcome, stand_off).caught; };
  report::Confirmation result;
  result.runs.push_back(start_at(outcome, report::shown_row(outcome).stand_off));
  const auto& advice = outcome.answer.advice;
  if (outcome.asked || !advice.feasible) return result;
  const double beyond =
      std::max(beyond_share * advice.edge, advice.edge + outcome.bench.requirement.slip);
  result.runs.push_back(start_at(outcome, beyond));
  double near = beyond;
  if (!result.runs.back().caught) return result;
  double far = growth * near;
  while (far < farthest && caught_at(far)) {
    near = far;
    far *= growth;
  }
  if (far >= farthest) return result;
  for (int i = 0; i < halvings; ++i) {
    const double middle = 0.5 * (near + far);
    (caught_at(middle) ? near : far) = middle;
  }
  result.stops_at = 0.5 * (near + far);
  return result;
}

}  // namespace windgap::app
