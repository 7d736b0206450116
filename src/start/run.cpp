#include "start/run.h"

#include "start/attempt.h"

namespace windgap::start {

std::string_view name(EventKind kind) {
  switch (kind) {
    case EventKind::fan_on:
      return "fan_on";
    case EventKind::rotor_turns:
      return "rotor_turns";
    case EventKind::purge_done:
      return "purge_done";
    case EventKind::fuel_on:
      return "fuel_on";
    case EventKind::light_off:
      return "light_off";
    case EventKind::changeover:
      return "changeover";
    case EventKind::hottest_gas:
      return "hottest_gas";
    case EventKind::self_sustaining:
      return "self_sustaining";
    case EventKind::fan_off_allowed:
      return "fan_off_allowed";
    case EventKind::starter_lets_go:
      return "starter_lets_go";
    case EventKind::fan_off:
      return "fan_off";
    case EventKind::idle_reached:
      return "idle_reached";
    case EventKind::ended:
      return "ended";
  }
  return "";
}

std::string_view name(Reason reason) {
  switch (reason) {
    case Reason::caught:
      return "caught";
    case Reason::does_not_turn:
      return "does_not_turn";
    case Reason::no_spark:
      return "no_spark";
    case Reason::no_light_too_lean:
      return "no_light_too_lean";
    case Reason::no_light_too_rich:
      return "no_light_too_rich";
    case Reason::no_light_too_fast:
      return "no_light_too_fast";
    case Reason::no_light_overloaded:
      return "no_light_overloaded";
    case Reason::blew_out_lean:
      return "blew_out_lean";
    case Reason::blew_out_fast:
      return "blew_out_fast";
    case Reason::blew_out_overloaded:
      return "blew_out_overloaded";
    case Reason::too_rich:
      return "too_rich";
    case Reason::hung:
      return "hung";
    case Reason::never_sustains:
      return "never_sustains";
    case Reason::idle_too_low:
      return "idle_too_low";
    case Reason::motor_let_go_early:
      return "motor_let_go_early";
    case Reason::gas_temperature_limit:
      return "gas_temperature_limit";
    case Reason::overspeed:
      return "overspeed";
    case Reason::pack_sagged:
      return "pack_sagged";
    case Reason::pack_empty:
      return "pack_empty";
    case Reason::winding_too_hot:
      return "winding_too_hot";
    case Reason::fan_off_too_early:
      return "fan_off_too_early";
    case Reason::time_limit:
      return "time_limit";
    case Reason::solver_failed:
      return "solver_failed";
  }
  return "";
}

Run run(Bench& bench, const RunOptions& options) { return Attempt(bench, options).execute(); }

}  // namespace windgap::start
