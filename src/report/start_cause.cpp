#include "report/start_cause.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace windgap::report {
namespace {

using casefile::StarterKind;
using start::Reason;

/// What brings more and less air, each starter in its own way.
struct Air {
  std::string_view more;
  std::string_view less;
};

Air air_by(StarterKind starter) {
  switch (starter) {
    case StarterKind::fan:
      return {"a nearer or stronger fan", "less throttle on the fan until it is lit"};
    case StarterKind::blower:
      return {"a nearer or stronger blower", "the blower farther away until it is lit"};
    case StarterKind::motor:
      break;
  }
  return {"a shaft motor that turns it faster before the fuel",
          "a slower shaft motor until it is lit"};
}

/// A motor gives half its torque at half its free speed: beyond that it is short of speed.
constexpr double half = 0.5;
constexpr double nearly = 0.999;

std::string motor_help(const StartStory& story) {
  const auto& motor = story.setup.shaft_motor;
  const double reached = story.run.samples.back().state.speed;
  if (story.run.reason == Reason::fan_off_too_early || motor.cut_out_speed <= reached) {
    return motor.cut_out_speed < motor.free_speed
               ? "a clutch that lets go later, and a motor that still pulls there"
               : "a shaft motor with a higher free speed";
  }
  return reached > half * motor.free_speed ? "a shaft motor with a higher free speed"
                                           : "a shaft motor with more torque, warm thin oil";
}

/// Whether the gas stayed well below what it is allowed: by more than the margin that a controlled
/// valve keeps, once more.
bool gas_is_cool(const StartStory& story) {
  const double margin = story.setup.gas_temperature_limit - story.control_temperature;
  const auto& last = story.run.samples.back().reading;
  return last.fuel_flow > 0.0 && last.burner_temperature < story.control_temperature - margin;
}

/// Whether it was hot earlier: then no valve that stands still would do.
bool gas_was_hot(const StartStory& story) {
  const double margin = story.setup.gas_temperature_limit - story.control_temperature;
  return story.run.hottest_gas > story.control_temperature - 2.0 * margin;
}

bool starter_was_off(const StartStory& story) {
  const auto& events = story.run.events;
  return std::any_of(events.begin(), events.end(), [](const start::Event& event) {
    return event.kind == start::EventKind::fan_off;
  });
}

/// Whether the attempt leaves less time after light-off than a start may take.
bool too_short(const StartStory& story) {
  const auto& sequence = story.setup.sequence;
  return sequence.time_limit <
         story.run.purge_time + sequence.ignition_delay + sequence.spin_up_time;
}

/// Whether a controlled valve gives all it can while the gas stays cool.
bool valve_stands_open(const StartStory& story) {
  return gas_is_cool(story) && story.setup.fuel.metering == start::Metering::controlled &&
         story.run.samples.back().reading.fuel_flow >= nearly * story.setup.fuel.greatest_flow;
}

std::string more_turning(const StartStory& story, std::string_view others) {
  if (valve_stands_open(story)) {
    return "a valve, pump or nozzle that gives more (fuel.greatest_flow): it stands open, and the "
           "gas is still well below its limit";
  }
  if (story.need.need == start::Need::cannot_sustain &&
      !std::isfinite(story.sustains_beyond_idle)) {
    return "nothing that blows: with the gas kept below start.gas_temperature_limit this engine "
           "does "
           "not turn itself. Check that limit, clearances and oil";
  }
  if (story.need.need == start::Need::cannot_sustain) {
    return "a higher idle (start.idle_speed): below it, this engine does not turn itself yet";
  }
  if (gas_is_cool(story) && gas_was_hot(story) &&
      story.setup.fuel.metering != start::Metering::controlled) {
    return "fuel that grows with the air (a ramp, or a valve that follows the gas temperature): "
           "more "
           "of it at once would be a hot start";
  }
  if (gas_is_cool(story)) {
    return "more fuel: the gas stayed well below its limit, and hotter gas turns harder";
  }
  if (story.starter == StarterKind::motor) return motor_help(story);
  return fmt::format("{}, {}", air_by(story.starter).more, others);
}

std::string breaking_loose(const StartStory& story) {
  const auto* oil = "warm thin oil; turn it by hand first: it may rub or stick";
  if (story.starter == StarterKind::motor) {
    return fmt::format("a shaft motor with more torque, {}", oil);
  }
  const bool throttled = story.starter == StarterKind::fan && story.setup.fan.light_throttle < 1.0;
  return fmt::format("{}{}, {}{}",
                     throttled ? "more throttle before light-off, " : "",
                     air_by(story.starter).more,
                     story.starter == StarterKind::fan ? "a fresher pack, " : "",
                     oil);
}

}  // namespace

std::string_view why_not(Reason reason) {
  switch (reason) {
    case Reason::caught:
      return "";
    case Reason::does_not_turn:
      return "The rotor does not turn: too little torque to break it loose. No fuel was let in.";
    case Reason::no_spark:
      return "The mixture would burn, but the igniter does not light it.";
    case Reason::no_light_too_lean:
      return "It never lit: too little fuel in the primary zone for this much air.";
    case Reason::no_light_too_rich:
      return "It never lit: too much fuel in the primary zone for this little air.";
    case Reason::no_light_too_fast:
      return "It never lit: the air passes the flame holder too fast.";
    case Reason::no_light_overloaded:
      return "It never lit: the flame tube is too small for this airflow at this pressure.";
    case Reason::blew_out_lean:
      return "It lit and blew out: the mixture became too lean.";
    case Reason::blew_out_fast:
      return "It lit and blew out: the air came to pass the flame holder too fast.";
    case Reason::blew_out_overloaded:
      return "It lit and blew out: the flame tube is too small for the air.";
    case Reason::too_rich:
      return "The flame drowned: lighting cut the air and left the mixture too rich.";
    case Reason::hung:
      return "It hung: the burning rotor stopped gaining speed short of idle.";
    case Reason::never_sustains:
      return "What blows carries it past idle, but alone it would not turn on.";
    case Reason::idle_too_low:
      return "It runs, but cannot stay at that idle: there it turns itself no longer.";
    case Reason::motor_let_go_early:
      return "The motor let go before there was fuel: alone the rotor runs down, so none was let "
             "in.";
    case Reason::gas_temperature_limit:
      return "A hot start: the gas passed its temperature limit, more fuel than this air can cool.";
    case Reason::overspeed:
      return "Overspeed: the rotor passed its design speed, where wheels burst. Shut the fuel "
             "before "
             "it comes near.";
    case Reason::pack_sagged:
      return "The pack sagged below what its cells bear.";
    case Reason::pack_empty:
      return "The pack was empty before the starter was off.";
    case Reason::winding_too_hot:
      return "The fan motor's winding came to its limit.";
    case Reason::fan_off_too_early:
      return "The starter was off too early: the rotor could not yet turn itself, and ran down.";
    case Reason::time_limit:
      return "It gained speed too slowly: the attempt's time was up.";
    case Reason::solver_failed:
      break;
  }
  return "The computation did not settle; this is no answer.";
}

std::string_view briefly(Reason reason) {
  switch (reason) {
    case Reason::caught:
      return "catches";
    case Reason::does_not_turn:
      return "does not turn";
    case Reason::no_spark:
      return "no spark";
    case Reason::no_light_too_lean:
    case Reason::no_light_too_rich:
    case Reason::no_light_too_fast:
    case Reason::no_light_overloaded:
      return "never lights";
    case Reason::blew_out_lean:
    case Reason::blew_out_fast:
    case Reason::blew_out_overloaded:
      return "blows out";
    case Reason::too_rich:
      return "drowns";
    case Reason::hung:
      return "hangs";
    case Reason::never_sustains:
      return "not alone";
    case Reason::idle_too_low:
      return "idle too low";
    case Reason::motor_let_go_early:
      return "motor lets go too early";
    case Reason::gas_temperature_limit:
      return "hot start";
    case Reason::overspeed:
      return "overspeed";
    case Reason::pack_sagged:
      return "pack sags";
    case Reason::pack_empty:
      return "pack empty";
    case Reason::winding_too_hot:
      return "hot winding";
    case Reason::fan_off_too_early:
      return "runs down";
    case Reason::time_limit:
      return "too slow";
    case Reason::solver_failed:
      break;
  }
  return "no answer";
}

std::string what_helps(const StartStory& story) {
  const auto air = air_by(story.starter);
  switch (story.run.reason) {
    case Reason::does_not_turn:
      return breaking_loose(story);
    case Reason::no_light_too_lean:
      return fmt::format("more fuel at light-off, {}, or smaller primary holes", air.less);
    case Reason::no_light_too_rich:
      if (story.setup.fuel.metering == start::Metering::controlled) {
        return "larger primary holes (engine.combustor.primary_hole_area): the valve only follows "
               "the "
               "gas behind the burner";
      }
      return fmt::format("less fuel at light-off, {}", air.more);
    case Reason::no_light_too_fast:
      return fmt::format("{}, or a wider flame holder", air.less);
    case Reason::no_light_overloaded:
      return fmt::format("{}, or a larger flame tube", air.less);
    case Reason::blew_out_lean:
      return "more fuel as the air grows; a valve that follows the gas temperature";
    case Reason::blew_out_fast:
      return story.starter == StarterKind::fan && !starter_was_off(story)
                 ? "less throttle on the fan, or a wider flame holder"
                 : "a wider flame holder";
    case Reason::blew_out_overloaded:
      return "a larger flame tube";
    case Reason::too_rich:
      return "less fuel just after light-off";
    case Reason::hung:
      return more_turning(
          story,
          story.starter == StarterKind::fan ? "a fresher pack, warm thin oil" : "warm thin oil");
    case Reason::time_limit:
      if (!std::isfinite(story.run.hottest_gas)) return "a longer attempt (start.time_limit)";
      if (!starter_was_off(story) && too_short(story)) return "a longer attempt (start.time_limit)";
      if (starter_was_off(story)) {
        return "a longer attempt (start.time_limit): it was still gaining speed by itself";
      }
      return more_turning(story, "warm thin oil");
    case Reason::never_sustains:
      return more_turning(story, "warm thin oil");
    case Reason::idle_too_low:
      return valve_stands_open(story)
                 ? "a valve, pump or nozzle that gives more (fuel.greatest_flow), or a lower idle "
                   "(start.idle_speed)"
                 : "a higher idle (start.idle_speed), warm thin oil";
    case Reason::motor_let_go_early:
      return "a clutch that lets go later (start.motor.cut_out_speed)";
    case Reason::gas_temperature_limit:
      return "less fuel, more air before the fuel, a valve that closes finer";
    case Reason::overspeed:
      return "less fuel: a valve that is closed before idle, the fan off earlier";
    case Reason::pack_sagged:
    case Reason::pack_empty:
      return "a fresher or larger pack";
    case Reason::winding_too_hot:
      return "less throttle, a heavier motor, a shorter attempt";
    case Reason::fan_off_too_early:
      return story.starter == StarterKind::motor
                 ? motor_help(story)
                 : fmt::format("leave the {} on until beyond self-sustaining speed",
                               story.starter == StarterKind::fan ? "fan" : "blower");
    case Reason::caught:
    case Reason::no_spark:
    case Reason::solver_failed:
      break;
  }
  return "";
}

}  // namespace windgap::report
