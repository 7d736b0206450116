#include "report/spark_verdict.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "report/shown.h"
#include "report/spark_words.h"
#include "rig/chamber.h"

namespace windgap::report {
namespace {

using units::Dimension;

/// What the case leaves open comes from the rig.
spark::Conditions filled(const spark::Conditions& given, const rig::Chamber& chamber) {
  auto conditions = given;
  const auto fill = [](double& field, double value) {
    if (std::isnan(field)) field = value;
  };
  fill(conditions.gas.pressure, chamber.pressure);
  fill(conditions.gas.temperature, chamber.temperature);
  fill(conditions.velocity, chamber.velocity);
  return conditions;
}

bool complete(const spark::Conditions& given) {
  return std::isfinite(given.gas.pressure) && std::isfinite(given.gas.temperature) &&
         std::isfinite(given.velocity);
}

std::vector<PlugState> states_of(const casefile::Igniter& igniter,
                                 const std::vector<PlugState>& chamber) {
  if (complete(igniter.given)) return {{.name = "in the gas stated", .conditions = igniter.given}};
  std::vector<PlugState> states;
  for (const auto& state : chamber) {
    const rig::Chamber gas{.pressure = state.conditions.gas.pressure,
                           .temperature = state.conditions.gas.temperature,
                           .velocity = state.conditions.velocity};
    states.push_back({.name = state.name, .conditions = filled(igniter.given, gas)});
  }
  return states;
}

/// Why no start brings the gas at light-off; asked only where there is none.
std::string why_no_light_off(const rig::Rig& rig) {
  if (rig.engine.resistance_only) return "a measured resistance has no combustor";
  if (!std::isfinite(rig.starting_airflow)) return "no starting airflow is known for this engine";
  return "the fan, as strong as it is, does not bring the starting airflow";
}

/// The moments of a start before anything burns.
std::vector<PlugState> chamber_states(const rig::Rig& rig, const rig::Delivery& delivery) {
  const auto state = [](std::string name, const rig::Chamber& chamber) {
    return PlugState{
        .name = std::move(name),
        .conditions = {.gas = {.pressure = chamber.pressure, .temperature = chamber.temperature},
                       .velocity = chamber.velocity}};
  };
  std::vector<PlugState> states{
      state("windmilling at the mount shown", rig::chamber(rig, delivery))};
  if (const auto weakest = rig::weakest_chamber(rig)) {
    states.push_back(state(std::string(light_off_state), *weakest));
  }
  return states;
}

std::string_view fuel_name(spark::Fuel fuel) {
  switch (fuel) {
    case spark::Fuel::propane:
      return "propane";
    case spark::Fuel::kerosene:
      return "kerosene";
    case spark::Fuel::diesel:
      break;
  }
  return "diesel";
}

std::string other_fuel(const casefile::Igniter& igniter, const casefile::Case& bench) {
  const bool chamber = igniter.place == casefile::PlugPlace::chamber;
  if (!chamber || !bench.lit_fuel || *bench.lit_fuel == igniter.given.fuel) return {};
  return fmt::format(
      "The spark of {} is judged for {}, but the engine is lit on {}: right only where that {} is "
      "a pilot flame of its own at the plug.",
      igniter.name,
      fuel_name(igniter.given.fuel),
      fuel_name(*bench.lit_fuel),
      fuel_name(igniter.given.fuel));
}

SourceVerdict judge(const casefile::SparkSource& source,
                    const casefile::Igniter& igniter,
                    const std::vector<PlugState>& states,
                    const spark::Coefficients& c) {
  const spark::Igniter fitted{.gap = igniter.gap,
                              .source = source.source,
                              .bleed = source.bleed,
                              .indicator_threshold = source.indicator_threshold};
  std::vector<spark::Assessment> each;
  each.reserve(states.size());
  for (const auto& state : states) each.push_back(spark::assess(fitted, state.conditions, c));
  const auto hardest = spark::ranked(each).back();
  return {.state = hardest, .spark = std::move(each[hardest])};
}

std::vector<IgniterVerdict> judge_all(const casefile::Case& bench,
                                      const std::vector<PlugState>& chamber,
                                      const std::string& absent) {
  std::vector<IgniterVerdict> verdicts;
  for (const auto& igniter : bench.igniters) {
    IgniterVerdict verdict{.states = states_of(igniter, chamber),
                           .no_light_off = complete(igniter.given) ? std::string() : absent,
                           .other_fuel = other_fuel(igniter, bench),
                           .sources = {},
                           .ranked = {}};
    std::vector<spark::Assessment> sparks;
    for (const auto& source : igniter.sources) {
      verdict.sources.push_back(judge(source, igniter, verdict.states, bench.models.spark));
      sparks.push_back(verdict.sources.back().spark);
    }
    verdict.ranked = spark::ranked(sparks);
    verdicts.push_back(std::move(verdict));
  }
  return verdicts;
}

}  // namespace

std::vector<IgniterVerdict> judge_igniters(const casefile::Case& bench,
                                           const rig::Rig& rig,
                                           const rig::Delivery& delivery) {
  if (bench.igniters.empty()) return {};
  const auto chamber = chamber_states(rig, delivery);
  return judge_all(bench, chamber, chamber.size() == 1 ? why_no_light_off(rig) : std::string());
}

std::vector<IgniterVerdict> judge_stated(const casefile::Case& bench) {
  return judge_all(bench, {}, {});
}

std::vector<IgniterVerdict> judge_igniters(const Outcome& outcome) {
  return judge_igniters(outcome.bench, outcome.answer.rig, shown_row(outcome).delivery);
}

bool lights(const IgniterVerdict& verdict) { return verdict.sources.front().spark.lights; }

std::string why_not(const spark::Assessment& spark,
                    const casefile::Igniter& igniter,
                    units::System system) {
  const Shown shown(system);
  const auto volts = [&](double value) { return readable(value, Dimension::voltage, system); };
  std::vector<std::string> reasons;
  if (!spark.jumps) {
    reasons.push_back(fmt::format("the gap of {} asks for {}, margin included, and {} are there",
                                  shown.length(igniter.gap.length),
                                  volts(spark.required_voltage * (1.0 + spark.wanted_margin)),
                                  volts(spark.output.peak_voltage)));
  }
  if (spark.need.route == spark::Route::none) {
    reasons.emplace_back(
        "the fuel is too cold to give vapour and is not sprayed: no spark lights it");
    return fmt::format("{}", fmt::join(reasons, "; "));
  }
  if (spark.quenches) {
    reasons.push_back(
        fmt::format("the gap of {} is shorter than the {} below which the electrodes put the "
                    "young flame out",
                    shown.length(igniter.gap.length),
                    shown.length(spark.need.quench_distance)));
  }
  if (!spark.enough) {
    reasons.push_back(fmt::format(
        "a spark leaves {} in the gas, {} are wanted, {} the least that lights this fuel",
        readable(spark.energy_in_gas, Dimension::energy, system),
        readable(spark.wanted_energy_ratio * spark.need.energy, Dimension::energy, system),
        times(spark.wanted_energy_ratio)));
  }
  if (spark.rare) {
    reasons.push_back(fmt::format(
        "it sparks once in {}, and may not while a mixture that burns is at the plug: {} a second "
        "or more is wanted; {}",
        lasting(1.0 / spark.output.sparks_per_second, system),
        spark.wanted_rate,
        spark.output.ladder
            ? "a supply of more current or higher frequency recharges it sooner, as "
              "do a shorter gap and less drawn by load and bleeder"
            : "set more sparks a second"));
  }
  if (spark.starving) reasons.push_back(starving_words(*spark.starving, system));
  return fmt::format("{}", fmt::join(reasons, "; "));
}

std::string other_fuel(const casefile::Case& bench) {
  for (const auto& igniter : bench.igniters) {
    auto said = other_fuel(igniter, bench);
    if (!said.empty()) return said;
  }
  return {};
}

bool has_chamber_igniter(const casefile::Case& bench) {
  return std::any_of(bench.igniters.begin(), bench.igniters.end(), [](const auto& igniter) {
    return igniter.place == casefile::PlugPlace::chamber;
  });
}

LightOff light_off(const casefile::Case& bench,
                   const rig::Rig& rig,
                   const rig::Delivery& delivery) {
  constexpr double infinite = std::numeric_limits<double>::infinity();
  LightOff answer{.stated = false, .lights = false, .wait = infinite, .why = {}};
  const auto verdicts = judge_igniters(bench, rig, delivery);
  for (std::size_t i = 0; i < verdicts.size(); ++i) {
    if (bench.igniters[i].place != casefile::PlugPlace::chamber) continue;
    const auto& spark = verdicts[i].sources.front().spark;
    const double wait = spark.ignites ? 1.0 / spark.output.sparks_per_second : infinite;
    const bool sooner = wait < answer.wait;
    if (!answer.stated || sooner) answer.why = why_not(spark, bench.igniters[i], bench.system);
    answer.wait = std::min(answer.wait, wait);
    answer.lights = answer.lights || spark.ignites;
    answer.stated = true;
  }
  return answer;
}

}  // namespace windgap::report
