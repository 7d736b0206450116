#include "report/chance.h"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <string_view>

#include "report/json_number.h"
#include "report/shown.h"
#include "report/verdict.h"

namespace windgap::report {
namespace {

using Json = nlohmann::ordered_json;
using units::Dimension;

/// What a person can do about an axis.
struct Remedy {
  std::string_view axis;  ///< its name or the beginning of it
  std::string_view advice;
};

constexpr std::string_view cold_run =
    "blow it without fuel, read rotor speed and pressure, and log them (`windgap trial`)";

constexpr std::array remedies{
    Remedy{"fan.measured", "weigh the fan's thrust again, on steadier scales"},
    Remedy{"fan.thrust", "measure the fan's thrust with a kitchen scale (fan.measured)"},
    Remedy{"fan_curve", "measure the fan's pressure against its flow (fan.curve)"},
    Remedy{"fan_swirl", "look whether the fan has straightening vanes (fan.vanes)"},
    Remedy{"fan.axis_readings", "take more pressure readings in the free jet (fan.axis_readings)"},
    Remedy{"fan", "measure the fan's thrust with a kitchen scale (fan.measured)"},
    Remedy{"jet", "read the pressure in the free jet at two distances (fan.axis_readings)"},
    Remedy{"hub_wake", "read the pressure in the free jet near the axis (fan.axis_readings)"},
    Remedy{"crosswind", "screen the bench from the wind"},
    Remedy{"pack", "read the pack's voltage while the fan runs"},
    Remedy{"leads", "measure the leads' resistance, or the voltage at the controller"},
    Remedy{"controller", "read the voltage at the controller while the fan runs"},
    Remedy{"motor", "read the fan's speed and current while it runs"},
    Remedy{"lightoff", "find what starts it: try a start, or give start.airflow"},
    Remedy{"design_speed", "look up the compressor wheel's speed limit (engine.design_tip_speed)"},
    Remedy{"start.", "try a start and write it down with `windgap trial`"},
    Remedy{"bearing", cold_run},
    Remedy{"oil", "write down the oil's grade and temperature (engine.bearings.oil)"},
    Remedy{"breakaway", "spin the rotor by hand first, and blow it without fuel"},
    Remedy{"burner", "try a start and write it down with `windgap trial`"},
    Remedy{"flame", "try a start and write it down with `windgap trial`"},
    Remedy{"turbine", cold_run},
    Remedy{"losses", cold_run},
    Remedy{"blockage_", cold_run},
    Remedy{"engine.measured", "repeat the measured run and take the mean (engine.measured)"},
    Remedy{"engine", "measure that dimension of the engine with calipers"},
    Remedy{"clearances", "measure the wheels' clearances with feeler gauges"},
    Remedy{"inlet", "measure the lip of the mouth (engine.mouth)"},
    Remedy{"guard", "count and measure the guard's wires (engine.guard)"},
    Remedy{"mount", "measure the bracket again"},
    Remedy{"site", "read thermometer and barometer on the day"},
    Remedy{"wheel", "measure the compressor wheel with calipers"},
    Remedy{"volute", "read the mark on the turbine housing"},
};

std::string_view remedy_of(std::string_view axis) {
  for (const auto& remedy : remedies) {
    if (axis.starts_with(remedy.axis)) return remedy.advice;
  }
  return cold_run;
}

/// What is left of a standard deviation when a share of its variance goes.
std::string gain_of(double share) {
  const double gone = 1.0 - std::sqrt(std::max(0.0, 1.0 - share));
  constexpr double half = 0.45;
  constexpr double third = 0.29;
  constexpr double quarter = 0.21;
  if (gone >= half) return "at best halves the slot's uncertainty";
  if (gone >= third) return "at best takes a third off the slot's uncertainty";
  if (gone >= quarter) return "at best takes a quarter off the slot's uncertainty";
  return fmt::format("takes at best {:.0f} % off the slot's uncertainty", 100.0 * gone);
}

std::string percent(double share) {
  constexpr double all = 0.9995;
  constexpr double none = 0.0005;
  if (share >= all) return "over 99.9 %";
  if (share <= none) return "below 0.1 %";
  return fmt::format("{:.3g} %", 100.0 * share);
}

}  // namespace

Json prospects_json(const std::vector<placement::Prospect>& list) {
  Json rows = Json::array();
  for (const auto& one : list) {
    rows.push_back({{"stand_off_m", number(one.stand_off)},
                    {"catches", number(one.catches)},
                    {"sampling_error", number(one.sampling_error)},
                    {"benches_reliable", number(one.reliable)},
                    {"airflow_5_kg_s", number(one.airflow_low)},
                    {"airflow_50_kg_s", number(one.airflow_median)},
                    {"airflow_95_kg_s", number(one.airflow_high)}});
  }
  return rows;
}

Json chance_json(const Outcome& outcome) {
  constexpr std::size_t most = 12;
  const auto& chance = *outcome.chance;
  Json shares = Json::array();
  for (const auto& share : chance.shares) {
    if (shares.size() == most) break;
    shares.push_back({{"name", share.axis}, {"share", number(share.share)}});
  }
  const bool nominal = outcome.nominal && outcome.nominal->feasible;
  const auto& there = outcome.prospect ? *outcome.prospect : chance.mount;
  return {{"reliability", number(chance.asked.reliability)},
          {"confidence", number(chance.asked.confidence)},
          {"nominal_stand_off_m", nominal ? number(outcome.nominal->stand_off) : Json(nullptr)},
          {"catches", number(there.catches)},
          {"catches_sampling_error", number(there.sampling_error)},
          {"benches_reliable", number(there.reliable)},
          {"attempt_scatter", number(chance.attempt_scatter)},
          {"reach_5_50_95_m", reach_json(chance, outcome.bench)},
          {"benches_reliable_nowhere", number(chance.nowhere)},
          {"variance_shares", shares},
          {"what_to_measure", what_to_measure(chance.shares)},
          {"members", chance.members},
          {"members_lost", chance.lost},
          {"prospects", prospects_json(chance.curve)}};
}

std::vector<std::string> chance_limits(const Outcome& outcome) {
  const auto& chance = *outcome.chance;
  if (!chance.feasible) {
    return {
        fmt::format("Too few of the plausible benches are sure enough of: {}. What to measure is "
                    "below; each thing measured makes the slot wider.",
                    label(chance.short_of))};
  }
  if (chance.slot.far_limit == placement::Constraint::bracket_travel) {
    return {"The bracket's travel holds it there."};
  }
  return {fmt::format("What holds it there: {}, on {} of the plausible benches.",
                      label(chance.slot.far_limit),
                      percent(chance.asked.confidence))};
}

std::vector<std::string> chance_sentences(const Outcome& outcome) {
  const Shown shown(outcome.bench.system);
  const auto& chance = *outcome.chance;
  std::vector<std::string> list;
  if (outcome.prospect) {
    list.push_back(
        fmt::format("At {} attempts find air enough with a probability of {}; {} of the "
                    "plausible benches start {} of them.",
                    shown.length(outcome.prospect->stand_off),
                    percent(outcome.prospect->catches),
                    percent(outcome.prospect->reliable),
                    percent(chance.asked.reliability)));
  }
  if (chance.feasible) {
    list.push_back(fmt::format(
        "At {} attempts find air enough with a probability of {} (sampling error {}); on {} of the "
        "plausible benches at least {} of them do.",
        shown.length(chance.stand_off),
        percent(chance.mount.catches),
        percent(chance.mount.sampling_error),
        percent(chance.mount.reliable),
        percent(chance.asked.reliability)));
  } else {
    list.push_back(fmt::format(
        "Nowhere do {} of the plausible benches start {} of their attempts; least short at {}.",
        percent(chance.asked.confidence),
        percent(chance.asked.reliability),
        shown.length(chance.short_at)));
  }
  list.push_back(fmt::format("Airflow there {}, from {} (5 %) to {} (95 %).",
                             shown.airflow(chance.mount.airflow_median),
                             shown.airflow(chance.mount.airflow_low),
                             shown.airflow(chance.mount.airflow_high)));
  if (outcome.nominal) {
    list.push_back(outcome.nominal->feasible
                       ? fmt::format("The nominal bench alone, with its margin: {}.",
                                     shown.length(outcome.nominal->stand_off))
                       : std::string("The nominal bench alone, with its margin, fits nowhere."));
  }
  list.push_back(reach_sentence(chance, "the benches", outcome.bench) +
                 " Bad sparks are not counted: no distance mends them.");
  return list;
}

std::string reach_sentence(const placement::Chance& chance,
                           std::string_view benches,
                           const casefile::Case& bench) {
  const Shown shown(bench.system);
  constexpr double few = 0.005;
  const double nearest = bench.requirement.nearest;
  const auto far = [&](double reach) {
    return reach < nearest ? std::string("nowhere") : shown.length(reach);
  };
  const auto text =
      chance.reach_median < nearest
          ? fmt::format("More than half of {} are reliable nowhere on this travel", benches)
          : fmt::format("Half of {} are reliable out to {} (5 %: {}, 95 %: {})",
                        benches,
                        far(chance.reach_median),
                        far(chance.reach_low),
                        far(chance.reach_high));
  if (chance.reach_high < nearest) {
    return fmt::format("Nearly all of {} are reliable nowhere on this travel.", benches);
  }
  if (chance.reach_median < nearest) {
    return fmt::format("{} (95 % reach no farther than {}).", text, far(chance.reach_high));
  }
  return chance.nowhere < few
             ? text + "."
             : fmt::format("{}; {} of them are so nowhere.", text, percent(chance.nowhere));
}

Json reach_json(const placement::Chance& chance, const casefile::Case& bench) {
  Json list = Json::array();
  for (const double reach : {chance.reach_low, chance.reach_median, chance.reach_high}) {
    list.push_back(reach < bench.requirement.nearest ? Json(nullptr) : number(reach));
  }
  return list;
}

std::vector<std::string> what_to_measure(const std::vector<placement::Share>& shares) {
  constexpr std::size_t most = 3;
  constexpr double least = 0.05;
  std::vector<std::string_view> order;
  std::vector<double> together;
  for (const auto& share : shares) {
    const auto advice = remedy_of(share.axis);
    std::size_t i = 0;
    while (i < order.size() && order[i] != advice) ++i;
    if (i == order.size()) {
      order.push_back(advice);
      together.push_back(0.0);
    }
    together[i] += share.share;
  }
  std::vector<std::string> list;
  for (std::size_t round = 0; round < most && !order.empty(); ++round) {
    std::size_t best = 0;
    for (std::size_t i = 1; i < order.size(); ++i) {
      if (together[i] > together[best]) best = i;
    }
    if (together[best] < least) break;
    list.push_back(fmt::format("{}: {}", order[best], gain_of(together[best])));
    order.erase(order.begin() + static_cast<std::ptrdiff_t>(best));
    together.erase(together.begin() + static_cast<std::ptrdiff_t>(best));
  }
  return list;
}

std::string chance_table(const std::vector<placement::Prospect>& list, units::System system) {
  constexpr std::size_t rows = 9;
  const Shown shown(system);
  TextTable table(
      {Align::right, Align::right, Align::right, Align::right, Align::right, Align::right}, 2);
  table.add({"distance", "starts", "+-", "airflow 5 %", "median", "95 %"});
  for (std::size_t k = 0; k < rows; ++k) {
    const auto& one = list[k * (list.size() - 1) / (rows - 1)];
    table.add({shown.length(one.stand_off),
               percent(one.catches),
               percent(one.sampling_error),
               shown.airflow(one.airflow_low),
               shown.airflow(one.airflow_median),
               shown.airflow(one.airflow_high)});
  }
  return table.text();
}

}  // namespace windgap::report
