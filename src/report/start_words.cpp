#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "report/shown.h"
#include "report/spark_verdict.h"
#include "report/start_cause.h"
#include "report/start_need.h"

namespace windgap::report {
namespace {

using start::EventKind;
using start::Reason;
using units::Dimension;

std::string_view words(EventKind kind, casefile::StarterKind starter) {
  const bool motor = starter == casefile::StarterKind::motor;
  switch (kind) {
    case EventKind::fan_on:
      return motor ? "motor on" : (starter == casefile::StarterKind::fan ? "fan on" : "blower on");
    case EventKind::rotor_turns:
      return "rotor turns";
    case EventKind::purge_done:
      return "purge done";
    case EventKind::fuel_on:
      return "fuel, igniter";
    case EventKind::light_off:
      return "light-off";
    case EventKind::changeover:
      return "changeover";
    case EventKind::hottest_gas:
      return "hottest gas";
    case EventKind::self_sustaining:
      return "sustains itself";
    case EventKind::fan_off_allowed:
      return motor ? "motor may stop"
                   : (starter == casefile::StarterKind::fan ? "fan may stop" : "blower may stop");
    case EventKind::starter_lets_go:
      return "clutch lets go";
    case EventKind::fan_off:
      return starter == casefile::StarterKind::fan ? "fan off" : "blower off";
    case EventKind::idle_reached:
      return "idle";
    case EventKind::ended:
      break;
  }
  return "given up";
}

const start::Event* find(const start::Run& run, EventKind kind) {
  const auto found = std::find_if(
      run.events.begin(), run.events.end(), [&](const auto& event) { return event.kind == kind; });
  return found == run.events.end() ? nullptr : &*found;
}

std::string or_dash(double value, Dimension dimension, const Shown& shown) {
  return std::isfinite(value) ? shown.of(value, dimension) : "-";
}

std::string sustains_at(double speed, const Shown& shown) {
  if (!std::isfinite(speed)) return "not up to idle";
  return speed > 0.0 ? shown.rotation(speed) : "any speed";
}

std::string seconds(double time, const Shown& shown) { return shown.of(time, Dimension::time); }

std::string loss_name(start::Loss loss) {
  switch (loss) {
    case start::Loss::none:
      return "gas path alone";
    case start::Loss::bearing_friction:
      return "+ bearing friction";
    case start::Loss::heat_soak:
      return "+ heat into the housing";
    case start::Loss::reynolds:
      return "+ small-scale friction";
    case start::Loss::clearance:
      break;
  }
  return "+ blade clearances";
}

std::string_view decided_by(start::Need need) {
  switch (need) {
    case start::Need::torque:
      return "the torque decides";
    case start::Need::cooler_gas:
      return "cooling the least steady fuel decides";
    case start::Need::nothing:
      return "nothing stands against it";
    case start::Need::cannot_sustain:
      return "it does not turn itself up to idle";
    case start::Need::cannot_cool:
      return "even the leanest steady flame is hotter than the limit";
    case start::Need::out_of_range:
      break;
  }
  return "no pressure that a fan could give starts it";
}

/// The need asks more than to catch: to gain speed fast enough at the worst speed.
std::string catches_though_short(const StartStory& story, const Shown& shown) {
  const auto allowed = seconds(story.setup.sequence.spin_up_time, shown);
  const auto* const lit = find(story.run, EventKind::light_off);
  const auto* const off = find(story.run, EventKind::fan_off);
  if (story.need.need == start::Need::torque && lit != nullptr && off != nullptr) {
    const double taken = off->sample.time - lit->sample.time;
    if (taken > story.setup.sequence.spin_up_time) {
      return fmt::format(
          "It catches all the same, slowly: the starting airflow is to bring it from light-off to "
          "fan off within {} (start.duration), here that takes {}.",
          allowed,
          seconds(taken, shown));
    }
  }
  return fmt::format(
      "It catches all the same: the starting airflow asks for the pull, even at the weakest speed, "
      "that is from light-off to fan off within {} (start.duration), more than catching takes.",
      allowed);
}

/// Idle came before the changeover was over.
std::string still_on_gas(const StartStory& story, const Shown& shown) {
  if (find(story.run, EventKind::changeover) != nullptr) {
    return "It came to idle before the gas was shut: part of the fuel is still gas.";
  }
  return fmt::format(
      "It came to idle on gas alone: the vaporizer was at {}, and the changeover waits for {} "
      "(fuel.preheat.tube_temperature).",
      shown.of(story.run.samples.back().state.vaporizer_temperature, Dimension::temperature),
      shown.of(story.setup.preheat.front().tube_temperature, Dimension::temperature));
}

/// The number that failed beside what it must be; empty where the flame was not the reason.
std::string what_the_flame_lacks(const StartStory& story, const Shown& shown) {
  const auto& last = story.run.samples.back().reading;
  const auto& flame = story.flame;
  switch (story.run.reason) {
    case Reason::no_light_too_lean:
    case Reason::no_light_too_rich:
    case Reason::blew_out_lean:
    case Reason::too_rich:
      return fmt::format(
          "The primary zone holds {:.2f} times the fuel that its air can burn; a flame there wants "
          "{:.2f} to {:.2f}.",
          last.primary_equivalence,
          flame.window.lean,
          flame.window.rich);
    case Reason::no_light_too_fast:
    case Reason::blew_out_fast:
      return fmt::format("It passes at {}; at most {} hold a flame.",
                         shown.of(last.flame_holder_velocity, Dimension::speed),
                         shown.of(flame.velocity, Dimension::speed));
    case Reason::no_light_overloaded:
    case Reason::blew_out_overloaded:
      return fmt::format(
          "Its loading is {:.0f} kg/(s m³), at most {:.0f} burn.", last.loading, flame.loading);
    default:
      return "";
  }
}

}  // namespace

double margin(const StartStory& story) {
  return story.cold ? story.cold->airflow / story.need.airflow - 1.0 : unset;
}

std::string start_headline(const StartStory& story, const casefile::Case& bench) {
  const Shown shown(bench.system);
  const auto* const verdict = story.run.caught ? "catches" : "does not catch";
  if (story.starter == casefile::StarterKind::motor) {
    return fmt::format("It {} with a motor on the shaft", verdict);
  }
  return fmt::format("It {} {} {}",
                     verdict,
                     story.starter == casefile::StarterKind::fan ? "at" : "with the blower at",
                     shown.length(story.stand_off));
}

std::vector<std::string> start_verdict(const StartStory& story, const casefile::Case& bench) {
  const Shown shown(bench.system);
  std::vector<std::string> list;
  const auto& run = story.run;
  const auto& last = run.samples.back().reading;
  if (run.caught) {
    const auto* const off = find(run, EventKind::fan_off);
    const auto* const idle = find(run, EventKind::idle_reached);
    list.push_back(fmt::format("Idle after {}{}.",
                               seconds(idle->sample.time, shown),
                               off == nullptr ? std::string()
                                              : fmt::format(", {} after {}",
                                                            words(off->kind, story.starter),
                                                            seconds(off->sample.time, shown))));
    if (!story.setup.preheat.empty() && last.preheat_flow > 0.0) {
      list.push_back(still_on_gas(story, shown));
    }
  } else {
    if (run.reason == Reason::time_limit && !std::isfinite(run.hottest_gas)) {
      list.push_back(fmt::format("The attempt's time, {}, was up before anything lit.",
                                 seconds(story.setup.sequence.time_limit, shown)));
    } else {
      list.emplace_back(why_not(run.reason));
    }
    if (auto numbers = what_the_flame_lacks(story, shown); !numbers.empty()) {
      list.push_back(std::move(numbers));
    }
    if (run.reason == Reason::does_not_turn && find(run, EventKind::rotor_turns) != nullptr) {
      list.push_back(
          fmt::format("It only creeps, at {}.", shown.rotation(run.samples.back().state.speed)));
    } else if (run.reason == Reason::does_not_turn) {
      list.push_back(fmt::format("At rest it is turned by {}; breaking loose takes {}.",
                                 shown.of(run.samples.back().reading.net_torque, Dimension::torque),
                                 shown.of(story.breakaway_torque, Dimension::torque)));
    }
    if (run.reason == Reason::no_spark && !story.setup.ignition.why_not.empty()) {
      list.push_back(story.setup.ignition.why_not);
    }
    if (const auto help = what_helps(story); !help.empty()) {
      list.push_back(fmt::format("What would help: {}.", help));
    }
  }
  const auto& ignition = story.setup.ignition;
  if (run.reason == Reason::no_spark && ignition.lights) {
    list.push_back(
        fmt::format("The start gives up {} after the fuel, and no spark is sure to come "
                    "before.",
                    seconds(story.setup.sequence.patience, shown)));
  }
  if (run.reason != Reason::no_spark && ignition.lights &&
      ignition.wait * bench.models.spark.ignition.least_rate > 1.0) {
    list.push_back(fmt::format(
        "It sparks only once in {}: so long unburnt fuel may gather, and light with a bang.",
        seconds(ignition.wait, shown)));
  }
  if (!story.spark_not_judged.empty()) {
    list.push_back(story.spark_not_judged);
  } else if (auto said = other_fuel(bench); !said.empty()) {
    list.push_back(std::move(said));
  }
  const double over = margin(story);
  if (std::isfinite(over)) {
    list.push_back(fmt::format("Blown cold, {} pass; {} start it: {} {}.",
                               shown.airflow(story.cold->airflow),
                               shown.airflow(story.need.airflow),
                               shown.share(std::abs(over)),
                               over < 0.0 ? "short" : "over"));
    if (run.caught && over < 0.0) list.push_back(catches_though_short(story, shown));
  }
  if (std::isfinite(run.hottest_gas)) {
    list.push_back(
        fmt::format("Hottest gas behind the burner {}, limit {}.",
                    shown.of(run.hottest_gas, Dimension::temperature),
                    shown.of(story.setup.gas_temperature_limit, Dimension::temperature)));
  }
  return list;
}

std::vector<EventLine> event_lines(const StartStory& story, const casefile::Case& bench) {
  const Shown shown(bench.system);
  std::vector<EventLine> lines;
  for (const auto& event : story.run.events) {
    const auto& reading = event.sample.reading;
    const bool drawn = reading.pack_current > 0.0;
    lines.push_back({.what = std::string(words(event.kind, story.starter)),
                     .time = seconds(event.sample.time, shown),
                     .speed = shown.rotation(event.sample.state.speed),
                     .airflow = shown.airflow(reading.airflow),
                     .gas = shown.of(reading.burner_temperature, Dimension::temperature),
                     .fuel = reading.fuel_flow > 0.0 ? shown.airflow(reading.fuel_flow) : "-",
                     .current = drawn ? shown.of(reading.pack_current, Dimension::current) : "-"});
  }
  return lines;
}

std::vector<std::string> need_sentences(const StartStory& story, const casefile::Case& bench) {
  const Shown shown(bench.system);
  const auto& need = story.need;
  std::vector<std::string> list;
  if (!std::isfinite(need.airflow)) {
    list.push_back(fmt::format("No starting airflow: {}.",
                               need.need == start::Need::cannot_sustain
                                   ? never_alone(need, bench.system)
                                   : std::string(decided_by(need.need))));
  } else {
    list.push_back(
        fmt::format("Starting airflow, derived, good to some thirty per cent: {} cold, which is {} "
                    "once lit; {}.",
                    shown.airflow(need.airflow),
                    shown.airflow(need.lit_airflow),
                    decided_by(need.need)));
    list.push_back(fmt::format(
        "Torque asks for {} (weakest at {}, where it must still gain speed fast enough to be "
        "through in {}){}.",
        shown.airflow(need.torque_part),
        shown.rotation(need.pinch_speed),
        seconds(story.setup.sequence.spin_up_time, shown),
        need.hot_start_part > 0.0
            ? fmt::format(
                  "; to keep the least fuel that flows steadily below the gas limit takes {}",
                  shown.airflow(need.hot_start_part))
            : std::string()));
  }
  if (std::isfinite(bench.parts.start.airflow)) {
    list.push_back(fmt::format("Placement uses the case's own number, {}.",
                               shown.airflow(bench.parts.start.airflow)));
  } else if (std::isfinite(bench.parts.start.rotor_speed)) {
    const bool turned = std::isfinite(story.stated_airflow);
    list.push_back(fmt::format(
        "Placement asks for the case's own rotor speed, {}, which {}.",
        shown.rotation(bench.parts.start.rotor_speed),
        turned ? "takes " + shown.airflow(story.stated_airflow) : "no air of a fan gives"));
  }
  if (std::isfinite(need.self_sustaining_speed)) {
    list.push_back(fmt::format(
        "It sustains itself from {}, oil entering at {}.",
        sustains_at(need.self_sustaining_speed, shown),
        shown.of(bench.parts.engine.bearings.oil.inlet_temperature, Dimension::temperature)));
  } else if (std::isfinite(story.sustains_beyond_idle)) {
    list.push_back(fmt::format(
        "It sustains itself only from {}, and idle is {}: a higher idle speed would do.",
        sustains_at(story.sustains_beyond_idle, shown),
        shown.rotation(story.setup.sequence.idle_speed)));
  }
  return list;
}

namespace {

/// Upwards: the volume to be changed is an estimate, and longer does no harm.
std::string whole_seconds(double time, const Shown& shown) {
  return seconds(std::ceil(time), shown);
}

/// The run lights a cold liquid like a gas; empty where the fuel gives vapour enough.
std::string cold_liquid(const StartStory& story, const casefile::Case& bench) {
  const auto& setup = story.setup;
  const auto kind = setup.preheat.empty() ? setup.fuel.kind : setup.preheat.front().gas.kind;
  if (kind == start::FuelKind::propane) return {};
  const bool diesel = kind == start::FuelKind::diesel;
  const auto& liquid =
      diesel ? bench.models.spark.ignition.diesel : bench.models.spark.ignition.kerosene;
  if (!(bench.parts.site.temperature < liquid.flash_point)) return {};
  const Shown shown(bench.system);
  return fmt::format(
      "The air, {}, is colder than the flash point of {}, {}: the spray gives little vapour, but "
      "this run lights it as easily as a gas. Whether yours lights is not known; preheat with gas.",
      shown.of(bench.parts.site.temperature, Dimension::temperature),
      diesel ? "diesel" : "kerosene",
      shown.of(liquid.flash_point, Dimension::temperature));
}

}  // namespace

std::vector<std::string> purge_sentences(const StartStory& story, const casefile::Case& bench) {
  const Shown shown(bench.system);
  const auto& run = story.run;
  const auto& purge = story.setup.sequence.purge;
  std::vector<std::string> list;
  const auto changes =
      fmt::format("{:g} changes of {}", purge.changes, shown.of(purge.volume, Dimension::volume));
  if (std::isfinite(run.purge_time)) {
    list.push_back(fmt::format(
        "Blow without fuel for at least {}: {}{}.",
        whole_seconds(run.purge_time, shown),
        changes,
        run.change_time < run.purge_time
            ? fmt::format(" take {}, a hand to the igniter longer", seconds(run.change_time, shown))
            : std::string()));
  } else {
    list.push_back(fmt::format("The purge of {} was not finished: do not light.", changes));
  }
  if (std::isfinite(run.new_purge_time)) {
    list.push_back(fmt::format(
        "After a failed light shut the fuel and blow at least {} more before the next attempt.",
        whole_seconds(run.new_purge_time, shown)));
  }
  if (!std::isfinite(run.hottest_gas) && run.unburnt_fuel > 0.0) {
    list.push_back(fmt::format("This attempt blew {} of unburnt fuel through.",
                               shown.of(run.unburnt_fuel, Dimension::mass)));
  }
  list.emplace_back(
      "A purge takes vapour away, not liquid: drain what has pooled, or the next light-off burns "
      "it at once, a fire and a hot start.");
  return list;
}

std::vector<std::string> start_warnings(const StartStory& story, const casefile::Case& bench) {
  const Shown shown(bench.system);
  std::vector<std::string> list;
  const auto& run = story.run;
  if (run.surged)
    list.emplace_back("The compressor surges on the way: expect bangs and a hot gas.");
  if (run.choked) list.emplace_back("A passage of the engine chokes on the way.");
  if (const auto* const on = find(run, EventKind::fuel_on); on != nullptr) {
    const auto& reading = on->sample.reading;
    const double most = story.stoichiometric_ratio * reading.airflow;
    if (reading.fuel_flow > most) {
      list.push_back(
          fmt::format("When the fuel comes on, {} flow; the air there burns no more than {}.",
                      shown.airflow(reading.fuel_flow),
                      shown.airflow(most)));
    }
  }
  const double alone = std::isfinite(story.sustains_beyond_idle) ? story.sustains_beyond_idle
                                                                 : story.need.self_sustaining_speed;
  if (alone > story.setup.sequence.idle_speed) {
    list.push_back(
        fmt::format("An idle of {} lies below the speed from which it sustains itself, {}: it "
                    "cannot stay there.",
                    shown.rotation(story.setup.sequence.idle_speed),
                    shown.rotation(alone)));
  }
  constexpr double closed = 1e-3;
  if (std::abs(run.energy.relative) > closed) {
    list.push_back(fmt::format(
        "The energies of this run close to {} only: it went faster than the wheels' constant heat "
        "capacities bear.",
        shown.share(std::abs(run.energy.relative))));
  }
  if (auto cold = cold_liquid(story, bench); !cold.empty()) list.push_back(std::move(cold));
  const double own = story.stated_airflow;
  constexpr double apart = 0.25;
  if (std::isfinite(own) && std::abs(own / story.need.airflow - 1.0) > apart) {
    list.push_back(
        fmt::format("{} {} start this engine, its own torques say {}: trust neither "
                    "before a cold trial.",
                    std::isfinite(bench.parts.start.airflow)
                        ? "The case says that"
                        : "The rotor speed that the case asks for says that",
                    shown.airflow(own),
                    shown.airflow(story.need.airflow)));
  }
  return list;
}

std::vector<LossLine> loss_lines(const StartStory& story, const casefile::Case& bench) {
  const Shown shown(bench.system);
  std::vector<LossLine> lines;
  for (const auto& step : story.losses) {
    lines.push_back({.name = loss_name(step.added),
                     .speed = sustains_at(step.result.self_sustaining_speed, shown),
                     .airflow = or_dash(step.result.airflow, Dimension::mass_flow, shown)});
  }
  return lines;
}

std::vector<SeasonLine> season_lines(const StartStory& story, const casefile::Case& bench) {
  const Shown shown(bench.system);
  std::vector<SeasonLine> lines;
  for (const auto& season : story.seasons) {
    lines.push_back(
        {.name = fmt::format(
             "{}, {}", season.name, shown.of(season.temperature, Dimension::temperature)),
         .viscosity = shown.of(season.oil_viscosity, Dimension::dynamic_viscosity),
         .speed = sustains_at(season.need.self_sustaining_speed, shown),
         .airflow = or_dash(season.need.airflow, Dimension::mass_flow, shown),
         .verdict = std::string(briefly(season.reason))});
  }
  return lines;
}

}  // namespace windgap::report
