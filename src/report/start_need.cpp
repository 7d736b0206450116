#include "report/start_need.h"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "report/shown.h"
#include "report/spark_verdict.h"
#include "report/verdict.h"

namespace windgap::report {
namespace {

using units::Dimension;

/// Why the run in time catches where placement says no.
std::string why_beyond(const Outcome& outcome, const Shown& shown) {
  if (outcome.chance) {
    return fmt::format(
        "The slot ends earlier, as it holds on {} of the plausible benches; the run in time is the "
        "nominal bench's.",
        shown.share(outcome.chance->asked.confidence));
  }
  const auto margin = shown.share(outcome.bench.requirement.margin);
  if (!outcome.bench.attempt->derives_need) {
    return fmt::format(
        "The slot ends earlier, as placement keeps the case's own starting airflow and {} over it, "
        "the run in time only has to catch.",
        margin);
  }
  return fmt::format(
      "The slot ends earlier, as placement asks more than to catch: from light-off to fan off "
      "within {} (start.duration), and {} over that airflow.",
      shown.of(outcome.bench.requirement.start_duration, Dimension::time),
      margin);
}

}  // namespace

std::string start_need_text(const Outcome& outcome) {
  const Shown shown(outcome.bench.system);
  const auto& advice = outcome.answer.advice;
  const auto from = starting_airflow_from(outcome.bench);
  if (from == "case") return "The starting airflow is the case's own number.";
  if (from == "rotor_speed") {
    return fmt::format("The starting airflow follows from the rotor speed the case gives, {}.",
                       shown.rotation(advice.lightoff_speed));
  }
  if (!std::isfinite(advice.starting_airflow)) {
    return "The starting airflow is derived, and there is none; `spin` shows the start.";
  }
  return fmt::format(
      "The starting airflow is derived from the engine's own torques when lit, for oil entering at "
      "{} into air of {}; `spin` shows the start. A measured one is worth most.",
      shown.of(outcome.bench.parts.engine.bearings.oil.inlet_temperature, Dimension::temperature),
      shown.of(outcome.bench.parts.site.temperature, Dimension::temperature));
}

std::vector<std::string> season_warnings(const Outcome& outcome) {
  std::vector<std::string> list;
  const Shown shown(outcome.bench.system);
  // What a warmer day would not mend is told once, above.
  if (outcome.need && !std::isfinite(outcome.need->airflow)) return list;
  for (const auto& season : outcome.seasons) {
    const auto where = fmt::format("A {} start, air and oil at {},",
                                   season.name,
                                   shown.of(season.temperature, Dimension::temperature));
    if (!std::isfinite(season.starting_airflow)) {
      list.push_back(fmt::format("{} does not turn itself whatever blows: warm the oil.", where));
    } else if (season.airflow < season.starting_airflow) {
      list.push_back(fmt::format(
          "{} needs {}, and {} pass at this mount: {} short. Warm the oil or stand nearer.",
          where,
          shown.airflow(season.starting_airflow),
          shown.airflow(season.airflow),
          shown.share(1.0 - season.airflow / season.starting_airflow)));
    }
  }
  return list;
}

std::string never_alone(const start::StartingAirflow& need, units::System system) {
  if (!std::isfinite(need.sustains_short_of_idle)) {
    return "on what its fuel valve gives and its gas temperature limit allows, this engine turns "
           "itself at no speed up to idle";
  }
  return fmt::format(
      "this engine turns itself from {}, but on what its fuel valve gives and its gas temperature "
      "limit allows not all the way to idle; walls that warm meanwhile may carry it there",
      Shown(system).rotation(need.sustains_short_of_idle));
}

std::vector<std::string> confirmed(const Outcome& outcome) {
  std::vector<std::string> list;
  if (!outcome.confirmation) return list;
  const Shown shown(outcome.bench.system);
  const auto& runs = outcome.confirmation->runs;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const auto& run = runs[i];
    const auto where =
        fmt::format("{}{}", shown.length(run.stand_off), i == 0 ? "" : ", beyond the slot,");
    if (run.caught && std::isfinite(run.spin_up)) {
      list.push_back(
          fmt::format("The start run in time catches at {} ({} from light-off to fan off).",
                      where,
                      shown.of(run.spin_up, Dimension::time)));
    } else {
      list.push_back(fmt::format("The start run in time {} at {}{}.",
                                 run.caught ? "catches" : "does not catch",
                                 where,
                                 run.caught ? "" : fmt::format(" ({})", run.brief)));
    }
  }
  if (std::isfinite(outcome.confirmation->stops_at)) {
    list.push_back(fmt::format("It stops catching at about {}.",
                               shown.length(outcome.confirmation->stops_at)));
  }
  if (!has_chamber_igniter(outcome.bench)) list.emplace_back(spark_taken_for_granted);
  if (auto said = other_fuel(outcome.bench); !said.empty()) list.push_back(std::move(said));
  if (runs.front().caught && outcome.need && !std::isfinite(outcome.need->airflow)) {
    list.emplace_back(
        "The run warms the walls as it goes; placement does not count on that, and vouches for "
        "no distance.");
  }
  if (runs.size() > 1 && runs.back().caught) list.push_back(why_beyond(outcome, shown));
  list.emplace_back("The run assumes more values than placement; `spin --json` lists them all.");
  return list;
}

}  // namespace windgap::report
