#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cooling/settable.h"
#include "drive/pairing.h"
#include "report/cautions.h"
#include "report/cool.h"
#include "report/shown.h"
#include "report/verdict.h"

namespace windgap::report {
namespace {

using cooling::Bound;
using cooling::Goal;
using cooling::PumpUse;
using units::Dimension;

constexpr std::size_t screen = 80;
constexpr std::size_t indent = 2;

constexpr std::size_t at(Goal goal) { return static_cast<std::size_t>(goal); }

const cooling::BoundState& state(const Cooldown& cooldown, Bound bound) {
  return cooldown.plan.purge.bounds[static_cast<std::size_t>(bound)];
}

std::string throttle_text(double throttle) { return fmt::format("{:.0f} %", 100.0 * throttle); }

/// "throttle 38 % for 6 min 30 s", or both steps.
std::string settings(const Cooldown& cooldown) {
  const auto& steps = cooldown.plan.purge.steps;
  if (cooldown.rig.fan.holds_flow) return fmt::format("for {}", watch_time(steps.back().end));
  if (steps.size() == 1) {
    return fmt::format(
        "throttle {} for {}", throttle_text(steps[0].throttle), watch_time(steps[0].end));
  }
  return fmt::format("throttle {} until {}, then {} until {}",
                     throttle_text(steps[0].throttle),
                     watch_time(steps[0].end),
                     throttle_text(steps[1].throttle),
                     watch_time(steps[1].end));
}

bool blows(const Cooldown& cooldown) {
  return cooldown.plan.feasible && cooldown.plan.purge.seconds > 0.0;
}

/// A time's late end over its middle, by one standard deviation [-].
double late_end(const Cooldown& cooldown) {
  const double deviation = cooldown.sensitivity.deviation;
  return std::isfinite(deviation) ? 1.0 + deviation : 1.0;
}

/// "Level 2 gloves (15 s) after 4 min", "... at once"; the late end of what the spreads leave open,
/// since a hand comes too soon only once.
std::string card_times(const Outcome& outcome,
                       const Cooldown& cooldown,
                       double gloves,
                       double bare) {
  constexpr double glove_hold = 15.0;  // [s]: the contact that a level of EN 407 stands
  const auto& wishes = outcome.bench.cool.engine.wishes;
  const auto when = [&](Goal goal, double seconds) {
    if (!std::isfinite(seconds)) {
      return room_too_warm(cooldown, goal)
                 ? std::string("never in air this warm")
                 : fmt::format("not within {}", watch_time(cooldown.scene.longest));
    }
    return (seconds > 0.0 ? "after " : "") + watch_time(seconds * late_end(cooldown));
  };
  const double late = 100.0 * (late_end(cooldown) - 1.0);
  return fmt::format("Thermometer first: level {:.0f} gloves ({}) {}, bare hands ({}) {}{}.",
                     wishes.glove_level,
                     watch_time(glove_hold),
                     when(Goal::handling, gloves),
                     watch_time(wishes.contact_time),
                     when(Goal::contact, bare),
                     late > 0.0
                         ? fmt::format("; later than {} by the {:.0f} % that times are sure to",
                                       blows(cooldown) ? "planned" : "computed",
                                       late)
                         : std::string());
}

/// What the pack really holds after the starts, its reserve with it [C].
double held_for_purge(const Cooldown& cooldown) {
  if (cooldown.charge_measured) return cooldown.need.charge;
  return std::max(cooldown.need.charge, cooldown.rig.fan.drive.charge - cooldown.charge_of_starts);
}

/// What to do if the fan stops before the metal is as cool as planned: times err, and without the
/// fan the rest takes far longer.
std::string blow_on(const Outcome& outcome, const Cooldown& cooldown) {
  if (!(late_end(cooldown) > 1.0)) return {};
  // Where the goal and the fan's end are one time on a watch, so are their late ends.
  const auto& verdict = cooldown.plan.verdict;
  double end = cooldown.plan.purge.seconds;
  for (const double reached : {verdict.warm, verdict.contact}) {
    if (watch_time(reached) == watch_time(end)) end = reached;
  }
  double late = end * late_end(cooldown);
  std::string from;
  const double rate = cooldown.plan.purge.charge / cooldown.plan.purge.seconds;
  if (!cooldown.rig.fan.holds_flow && rate * late > cooldown.need.charge) {
    from = ", from the pack's reserve";
    const double held = held_for_purge(cooldown);
    if (rate * late > held) {
      late = held / rate;
      if (watch_time(late) == watch_time(end) || late < end)
        return ", no longer: the pack is spent";
      from = ", no longer: the pack is empty then";
    }
  }
  const Shown shown(outcome.bench.system);
  const auto& limits = cooldown.scene.limits;
  // No thermometer of the builder's reads the bearing: where it may be the last, blow on in any
  // case.
  const bool bearing_last = verdict.bearing_safe * late_end(cooldown) > cooldown.plan.purge.seconds;
  if (cooldown.need.goal == Goal::bearing || bearing_last) {
    return fmt::format("; on to {} to be sure{}", watch_time(late), from);
  }
  return fmt::format("; above {} on to {}{}",
                     shown.of(cooldown.need.goal == Goal::handling ? limits.gloves : limits.contact,
                              Dimension::temperature),
                     watch_time(late),
                     from);
}

std::string pump_text(PumpUse pump) {
  switch (pump) {
    case PumpUse::off:
      return "oil pump off";
    case PumpUse::while_purging:
      return "oil pump on while the fan blows";
    case PumpUse::always:
      break;
  }
  return "oil pump on until all is cool";
}

std::string_view bound_label(Bound bound) {
  switch (bound) {
    case Bound::goal:
      return "time";
    case Bound::charge:
      return "charge left in the pack";
    case Bound::current:
      return "continuous current";
    case Bound::winding:
      return "motor winding";
    case Bound::pack:
      return "pack's temperature";
    case Bound::rotor_speed:
      return "dry rotor";
    case Bound::cooling_rate:
      break;
  }
  return "cooling rate of the turbine housing";
}

/// Nothing is said in the unit that a pack is sold by.
std::string charge_text(const Shown& shown, double charge) {
  return charge > 0.0 ? shown.of(charge, Dimension::charge) : "0 mAh";
}

/// Per minute, as the case asks for it.
std::string rate_text(const Shown& shown, double kelvin_per_second) {
  const double minute = units::find_unit("min", Dimension::time)->factor;
  return shown.of(kelvin_per_second * minute, Dimension::temperature_difference) + " a minute";
}

std::string bound_value(const Shown& shown, Bound bound, double value) {
  switch (bound) {
    case Bound::goal:
      return watch_time(value);
    case Bound::charge:
      return charge_text(shown, value);
    case Bound::current:
      return shown.share(value);
    case Bound::winding:
    case Bound::pack:
      return shown.of(value, Dimension::temperature);
    case Bound::rotor_speed:
      return shown.rotation(value);
    case Bound::cooling_rate:
      break;
  }
  return rate_text(shown, value);
}

std::string goal_text(Goal goal) {
  switch (goal) {
    case Goal::bearing:
      return "the bearing is safe";
    case Goal::handling:
      return "the bearing is safe and gloves do";
    case Goal::contact:
      break;
  }
  return "the bearing is safe and bare hands do";
}

std::string cautions_text() {
  std::string list;
  for (const auto& caution : cool_cautions()) {
    if (!list.empty()) list += "; ";
    list += caution;
  }
  return wrapped(fmt::format("Mind: {}.", list), 0, screen);
}

std::string limits_text(const Outcome& outcome, const Cooldown& cooldown) {
  TextTable table({Align::left, Align::right, Align::right, Align::right, Align::right}, indent);
  table.add({"time until", "below", "this plan", "purge needed", "no fan"});
  for (const auto& line : limit_lines(outcome, cooldown)) {
    table.add({line.what,
               line.limit,
               cooldown.plan.feasible ? watch_time(line.planned) : "-",
               watch_time(line.on) + (line.barred ? " *" : ""),
               watch_time(line.standing)});
  }
  const auto notes = limit_notes(outcome, cooldown);
  if (notes.empty()) return table.text();
  return table.text() + wrapped(fmt::format("{}", fmt::join(notes, " ")), indent, screen);
}

bool brings_air(const cooling::Plan& plan) {
  return std::any_of(
      plan.trade_off.begin(), plan.trade_off.end(), [](const auto& trial) { return trial.blows; });
}

std::string trade_off_text(const Outcome& outcome, const Cooldown& cooldown) {
  const auto& purge = cooldown.plan.purge;
  if (cooldown.rig.fan.holds_flow || !(purge.seconds > 0.0)) return {};
  const Shown shown(outcome.bench.system);
  TextTable table({Align::left, Align::right, Align::right, Align::left}, indent);
  table.add({"throttle", "fan on", "charge", ""});
  const auto& curve = cooldown.plan.trade_off;
  for (std::size_t i = 0; i < curve.size(); i += 2) {
    const auto& trial = curve[i];
    const auto why_not = refusal(cooldown, trial);
    table.add({throttle_text(trial.steps.front().throttle),
               watch_time(trial.seconds),
               std::isfinite(trial.seconds) ? shown.of(trial.charge, Dimension::charge) : "-",
               why_not.empty() ? "" : "no: " + why_not});
  }
  return fmt::format(
      "Time against charge until {}:\n{}", goal_text(cooldown.need.goal), table.text());
}

std::string pack_remark(const Outcome& outcome, const Cooldown& cooldown) {
  const Shown shown(outcome.bench.system);
  const auto left = charge_text(shown, cooldown.need.charge);
  return cooldown.charge_measured
             ? fmt::format("of {} measured to be left", left)
             : fmt::format("of {} left by {:.0f} start{} ({}) and reserve",
                           left,
                           outcome.bench.cool.starts,
                           outcome.bench.cool.starts == 1.0 ? "" : "s",
                           shown.of(cooldown.charge_of_starts, Dimension::charge));
}

/// Energy that the pack gives for a charge, at its open voltage [J].
double energy_of(const Cooldown& cooldown) {
  return cooldown.plan.purge.charge * cooldown.rig.fan.drive.open_circuit_voltage;
}

void add_drive_facts(std::vector<CoolFact>& facts,
                     const Outcome& outcome,
                     const Cooldown& cooldown) {
  const Shown shown(outcome.bench.system);
  const double energy = energy_of(cooldown) / units::find_unit("Wh", Dimension::energy)->factor;
  facts.push_back({"pack",
                   shown.of(cooldown.plan.purge.charge, Dimension::charge),
                   fmt::format("({:.1f} Wh) {}", energy, pack_remark(outcome, cooldown))});
  const auto& current = state(cooldown, Bound::current);
  const auto& winding = state(cooldown, Bound::winding);
  const auto& pack = state(cooldown, Bound::pack);
  facts.push_back({"current",
                   shown.share(current.value),
                   fmt::format("of the continuous rating; winding {} of {}, pack {} of {}",
                               shown.of(winding.value, Dimension::temperature),
                               shown.of(winding.limit, Dimension::temperature),
                               shown.of(pack.value, Dimension::temperature),
                               shown.of(pack.limit, Dimension::temperature))});
}

}  // namespace

bool cools(const Cooldown& cooldown) { return cooldown.plan.feasible; }

bool room_too_warm(const Cooldown& cooldown, Goal goal) {
  const auto& limits = cooldown.scene.limits;
  const double limit = goal == Goal::bearing    ? limits.coking
                       : goal == Goal::handling ? std::min(limits.coking, limits.gloves)
                                                : std::min(limits.coking, limits.contact);
  return cooldown.rig.ambient.temperature >= limit;
}

std::string refusal(const Cooldown& cooldown, const cooling::Trial& trial) {
  if (trial.feasible) return {};
  if (!trial.blows) return "no air comes through";
  if (!std::isfinite(trial.seconds)) {
    return fmt::format("not within {}", watch_time(cooldown.scene.longest));
  }
  for (const auto& bound : trial.bounds) {
    if (bound.slack < 0.0) return std::string(bound_label(bound.bound));
  }
  return {};
}

std::string watch_time(double seconds) {
  constexpr double minute = 60.0;
  if (!std::isfinite(seconds)) return "never";
  if (!(seconds > 0.0)) return "at once";
  const auto whole = std::lround(cooling::settable_time(seconds));
  const auto minutes = static_cast<long>(std::ceil(seconds / minute));
  constexpr long hour = 60;
  if (minutes >= 2 * hour) {
    return minutes % hour == 0 ? fmt::format("{} h", minutes / hour)
                               : fmt::format("{} h {} min", minutes / hour, minutes % hour);
  }
  if (minutes > hour / 2) return fmt::format("{} min", minutes);
  if (whole < static_cast<long>(minute)) return fmt::format("{} s", whole);
  const long rest = whole % static_cast<long>(minute);
  return rest == 0 ? fmt::format("{} min", whole / static_cast<long>(minute))
                   : fmt::format("{} min {} s", whole / static_cast<long>(minute), rest);
}

std::array<std::string, 3> bench_card(const Outcome& outcome, const Cooldown& cooldown) {
  const Shown shown(outcome.bench.system);
  const auto lines = limit_lines(outcome, cooldown);
  const auto pump = pump_text(cooldown.scene.pump);
  if (!cooldown.plan.feasible) {
    return {fmt::format("Fuel off, lines closed, {}.",
                        cooldown.scene.pump == PumpUse::always ? pump : "fan off"),
            "No purge found that does it: let it stand, hands off.",
            card_times(outcome,
                       cooldown,
                       lines[at(Goal::handling)].standing,
                       lines[at(Goal::contact)].standing)};
  }
  const bool blown = blows(cooldown);
  const bool idle = !blown && cooldown.scene.pump != PumpUse::always;
  return {
      fmt::format("Fuel off, lines closed, {}.", idle ? "fan off" : pump),
      blown ? fmt::format("Fan at {}{} {}{}.",
                          shown.length(cooldown.stand_off),
                          cooldown.rig.fan.holds_flow ? "" : ",",
                          settings(cooldown),
                          blow_on(outcome, cooldown))
            : std::string("No purge is needed."),
      card_times(
          outcome, cooldown, lines[at(Goal::handling)].planned, lines[at(Goal::contact)].planned)};
}

std::array<LimitLine, 3> limit_lines(const Outcome& outcome, const Cooldown& cooldown) {
  const Shown shown(outcome.bench.system);
  const auto& limits = cooldown.scene.limits;
  const auto& wishes = outcome.bench.cool.engine.wishes;
  const auto& plan = cooldown.plan;
  const auto line =
      // NOLINTNEXTLINE(bugprone-easily-swappable-parameters): one per field below
      [&](Goal goal, std::string what, double limit, double planned, double standing) {
        const auto& trial = cooldown.on[at(goal)];
        return LimitLine{.what = std::move(what),
                         .limit = shown.of(limit, Dimension::temperature),
                         .planned = planned,
                         .on = trial.seconds,
                         .on_charge = trial.charge,
                         .barred = std::isfinite(trial.seconds) && !trial.feasible,
                         .standing = standing};
      };
  return {line(Goal::bearing,
               "bearing safe from coking",
               limits.coking,
               plan.verdict.bearing_safe,
               plan.standing_verdict.bearing_safe),
          line(Goal::handling,
               fmt::format("gloves do (heat level {:.0f})", wishes.glove_level),
               limits.gloves,
               plan.verdict.warm,
               plan.standing_verdict.warm),
          line(Goal::contact,
               fmt::format("bare skin for {}", watch_time(wishes.contact_time)),
               limits.contact,
               plan.verdict.contact,
               plan.standing_verdict.contact)};
}

std::string what_holds(const Outcome& outcome, const Cooldown& cooldown) {
  const auto goal =
      fmt::format("The shortest purge after which {}.", goal_text(cooldown.need.goal));
  if (!(cooldown.plan.purge.seconds > 0.0)) return goal + " It is so already.";
  const Shown shown(outcome.bench.system);
  std::vector<std::string> holding;
  for (const auto& bound : cooldown.plan.purge.bounds) {
    if (bound.bound == Bound::goal || !bound.active) continue;
    holding.push_back(fmt::format("{}: {} of {}",
                                  bound_label(bound.bound),
                                  bound_value(shown, bound.bound, bound.value),
                                  bound_value(shown, bound.bound, bound.limit)));
  }
  if (holding.empty()) {
    const auto& steps = cooldown.plan.purge.steps;
    const bool full = std::all_of(steps.begin(), steps.end(), [&](const auto& step) {
      return cooling::percent_of(step.throttle) >= cooling::percent_of(cooldown.need.most_throttle);
    });
    if (cooldown.rig.fan.holds_flow) return goal + " Held by nothing but the stream itself.";
    return goal + (full ? " Held by nothing but the throttle's range."
                        : " More throttle gains nothing that a watch shows.");
  }
  return fmt::format("{} Held by the {}.", goal, fmt::join(holding, "; and by the "));
}

std::vector<std::string> limit_notes(const Outcome& outcome, const Cooldown& cooldown) {
  const auto& plan = cooldown.plan;
  const auto lines = limit_lines(outcome, cooldown);
  const auto runs = [](const auto& line) { return std::isfinite(line.on) && line.on > 0.0; };
  if (std::none_of(lines.begin(), lines.end(), runs)) return {};
  std::vector<std::string> notes;
  const std::string throttle = cooldown.rig.fan.holds_flow ? std::string()
                               : plan.purge.steps.size() > 1
                                   ? " at these throttles"
                                   : " at " + throttle_text(plan.purge.steps.front().throttle);
  notes.push_back(fmt::format(
      "{}Purge needed: least fan time{} for that line and the bearing's; stopped sooner, hotter "
      "metal beside warms them again.",
      plan.feasible ? "This plan: from then on it holds. " : "",
      throttle));
  std::vector<std::string> broken;
  for (const Bound bound : {Bound::charge,
                            Bound::current,
                            Bound::winding,
                            Bound::pack,
                            Bound::rotor_speed,
                            Bound::cooling_rate}) {
    const auto breaks = [&](const cooling::Trial& trial) {
      return std::isfinite(trial.seconds) &&
             trial.bounds[static_cast<std::size_t>(bound)].slack < 0.0;
    };
    if (std::any_of(cooldown.on.begin(), cooldown.on.end(), breaks)) {
      broken.emplace_back(bound_label(bound));
    }
  }
  if (broken.empty()) return notes;
  const bool pack_alone = broken.size() == 1 && broken[0] == bound_label(Bound::charge);
  notes.push_back(pack_alone ? "* asks for more than the pack has left."
                             : fmt::format("* beyond a limit: {}.", fmt::join(broken, ", ")));
  return notes;
}

namespace {

/// Starts after which the pack still pays for the purge that would do; none if that is no help.
std::optional<long> fewer_starts(const Outcome& outcome, const Cooldown& cooldown) {
  const auto& mend = cooldown.plan.remedy.pack;
  const double starts = outcome.bench.cool.starts;
  if (!mend.found || cooldown.charge_measured || !(cooldown.charge_of_starts > 0.0)) return {};
  const double whole =
      cooling::charge_left(outcome.bench.parts.drive.pack, 0.0, outcome.bench.models.cooling);
  const double each = cooldown.charge_of_starts / starts;
  const double most = std::floor((whole - mend.charge) / each);
  if (!(most >= 0.0) || !(most < starts)) return {};
  return std::lround(most);
}

}  // namespace

std::vector<std::string> what_is_short(const Outcome& outcome, const Cooldown& cooldown) {
  if (cooldown.plan.feasible) return {};
  const Shown shown(outcome.bench.system);
  const auto& plan = cooldown.plan;
  const bool driven = !cooldown.rig.fan.holds_flow;
  std::vector<std::string> found;
  const bool warm = room_too_warm(cooldown, cooldown.need.goal);
  if (warm) {
    const auto& limits = cooldown.scene.limits;
    const double limit = cooldown.need.goal == Goal::handling ? limits.gloves : limits.contact;
    found.push_back(
        fmt::format("The air itself is at {}: nothing cools in it to {}, below which {}.",
                    shown.of(cooldown.rig.ambient.temperature, Dimension::temperature),
                    shown.of(limit, Dimension::temperature),
                    cooldown.need.goal == Goal::handling ? "gloves do" : "bare hands do"));
  } else if (!std::isfinite(plan.purge.seconds)) {
    found.push_back(brings_air(plan) ? fmt::format("No purge from {} gets that far within {}.",
                                                   shown.length(cooldown.stand_off),
                                                   watch_time(cooldown.scene.longest))
                                     : fmt::format("The fan brings no air into the engine from {}.",
                                                   shown.length(cooldown.stand_off)));
  }
  for (const auto& bound : plan.purge.bounds) {
    if (warm || bound.bound == Bound::goal || !(bound.slack < 0.0)) continue;
    found.push_back(fmt::format(
        "Short{}: the {}, {} where {} is allowed.",
        driven ? " at the best throttle, " + throttle_text(plan.purge.steps.back().throttle) : "",
        bound_label(bound.bound),
        bound_value(shown, bound.bound, bound.value),
        bound_value(shown, bound.bound, bound.limit)));
  }
  const auto setting = [&](double throttle, double seconds) {
    return driven ? fmt::format("throttle {} for {}", throttle_text(throttle), watch_time(seconds))
                  : watch_time(seconds);
  };
  const auto purge = [&](const cooling::Mend& mend) {
    return setting(mend.throttle, mend.seconds);
  };
  std::vector<std::string> mends;
  const auto& remedy = plan.remedy;
  if (remedy.nearer.found) {
    const auto takes =
        driven ? " takes " + shown.of(remedy.nearer.charge, Dimension::charge) : std::string();
    mends.push_back(fmt::format("the fan at {} or nearer for the purge ({}{})",
                                shown.length(remedy.nearer.stand_off),
                                purge(remedy.nearer),
                                takes));
  }
  if (remedy.pack.found) {
    mends.push_back(fmt::format("a pack with {} left for it ({})",
                                shown.of(remedy.pack.charge, Dimension::charge),
                                purge(remedy.pack)));
  }
  if (remedy.pump.found) {
    mends.push_back(fmt::format(
        "an oil pump that runs {} ({})",
        remedy.pump.pump == PumpUse::always ? "until all is cool" : "while the fan blows",
        purge(remedy.pump)));
  }
  if (remedy.range.found) {
    mends.push_back(
        fmt::format("a throttle outside the range it was given ({})", purge(remedy.range)));
  }
  if (remedy.wait.found) {
    mends.push_back(fmt::format(
        "standing {} first, then {}", watch_time(remedy.wait.wait), purge(remedy.wait)));
  }
  const auto fewer = fewer_starts(outcome, cooldown);
  if (fewer) {
    mends.push_back(*fewer > 0 ? fmt::format("no more than {} start{} from this charge",
                                             *fewer,
                                             *fewer == 1 ? "" : "s")
                               : std::string("starting from another charge"));
  }
  if (remedy.gentle.found) {
    mends.push_back(fmt::format("letting the housing cool by {} ({})",
                                rate_text(shown, remedy.gentle.cooling_rate),
                                purge(remedy.gentle)));
  }
  for (const Goal easier : {Goal::handling, Goal::bearing}) {
    const auto& trial = cooldown.on[at(easier)];
    if (easier >= cooldown.need.goal || !trial.feasible) continue;
    mends.push_back(fmt::format("to stop once {} ({})",
                                goal_text(easier),
                                setting(trial.steps.front().throttle, trial.seconds)));
    break;
  }
  found.push_back(mends.empty()
                      ? warm ? "Wait for cooler air, or wear gloves."
                             : "No distance, pack, oil pump, throttle or faster permitted cooling "
                               "mends it alone: let it stand."
                      : fmt::format("What would mend it: {}.", fmt::join(mends, "; or ")));
  if (driven && !warm && !mends.empty() && !remedy.pack.found) {
    found.emplace_back(brings_air(plan) ? "A bigger pack alone would not."
                                        : "A bigger pack would not: no throttle blows that far.");
  }
  if (remedy.waiting_cokes) {
    found.push_back(fmt::format(
        "Waiting before it blows would not: standing, the bearing soaks up to {}, and its oil "
        "cokes from {}.",
        shown.of(plan.standing_verdict.bearing.temperature, Dimension::temperature),
        shown.of(cooldown.scene.limits.coking, Dimension::temperature)));
  }
  const double still = plan.standing_verdict.fastest_cooling;
  if (still > cooldown.need.cooling_rate) {
    found.push_back(fmt::format("Even standing, without fan, the housing cools by {}.",
                                rate_text(shown, still)));
  }
  return found;
}

std::string thriftiest_purge(const Outcome& outcome, const Cooldown& cooldown) {
  const auto& plan = cooldown.plan;
  if (cooldown.rig.fan.holds_flow || !(plan.purge.seconds > 0.0)) return {};
  const auto& thrifty = plan.thriftiest;
  if (thrifty.steps.empty()) {
    return brings_air(plan)
               ? "Thriftiest: none; no single throttle keeps every limit but the pack's."
               : "Thriftiest: none; no throttle brings air into the engine from here.";
  }
  const auto purge = fmt::format("throttle {} for {} takes {}",
                                 throttle_text(thrifty.steps.front().throttle),
                                 watch_time(thrifty.seconds),
                                 Shown(outcome.bench.system).of(thrifty.charge, Dimension::charge));
  if (thrifty.feasible) return fmt::format("Thriftiest: {}.", purge);
  return fmt::format("Thriftiest: none that the pack can pay; {}.", purge);
}

std::vector<CoolFact> cool_facts(const Outcome& outcome, const Cooldown& cooldown) {
  const Shown shown(outcome.bench.system);
  const auto& plan = cooldown.plan;
  std::vector<CoolFact> facts;
  const auto when = [](double seconds) {
    return seconds > 0.0 ? fmt::format("after {}", watch_time(seconds)) : "at the stop";
  };
  const bool purged = plan.feasible && plan.purge.seconds > 0.0;
  const auto& told = purged ? plan.verdict : plan.standing_verdict;
  const auto& hottest = told.bearing;
  const auto& left_alone = plan.standing_verdict.bearing;
  facts.push_back(
      {"bearing's peak",
       shown.of(hottest.temperature, Dimension::temperature),
       fmt::format("{}{}",
                   when(hottest.time),
                   purged ? fmt::format(" with this purge; {} {} without fan",
                                        shown.of(left_alone.temperature, Dimension::temperature),
                                        when(left_alone.time))
                          : std::string(" without fan"))});
  const auto& start = cooldown.scene.start;
  facts.push_back(
      {"turbine housing",
       shown.of(start[cooling::index(cooling::Part::turbine_housing)], Dimension::temperature),
       fmt::format("at the stop; cools by up to {}", rate_text(shown, told.fastest_cooling))});
  if (purged) {
    const auto& first = plan.course.knots.front();
    facts.push_back({"air through it",
                     shown.airflow(first.airflow),
                     fmt::format("at first, out at {}; rotor {}",
                                 shown.of(first.exit_temperature, Dimension::temperature),
                                 plan.verdict.fastest_rotor > 0.0
                                     ? "up to " + shown.rotation(plan.verdict.fastest_rotor)
                                     : std::string("at rest"))});
  }
  if (purged && !cooldown.rig.fan.holds_flow) add_drive_facts(facts, outcome, cooldown);
  const auto& vapour = cooldown.vapour;
  facts.push_back({"before ignition",
                   fmt::format("{:.0f} changes", vapour.changes),
                   fmt::format("of {}, {} of it counted with each start, and again after a failed "
                               "light; drain pooled fuel, no air takes it away",
                               shown.of(vapour.volume, Dimension::volume),
                               watch_time(cooldown.purge_of_start))});
  return facts;
}

std::string how_sure_cool(const Cooldown& cooldown) {
  if (!std::isfinite(cooldown.sensitivity.deviation)) return {};
  std::string text = fmt::format(
      "By the spreads of its coefficients (one standard deviation) {} sure "
      "to ± {:.0f} %",
      blows(cooldown) ? "the time of this purge is" : "times of standing are",
      100.0 * cooldown.sensitivity.deviation);
  constexpr std::size_t most = 3;
  std::vector<std::string> named;
  for (const auto& influence : cooldown.sensitivity.influences) {
    if (named.size() == most) break;
    named.push_back(fmt::format("{} ({:+.0f} s)", influence.name, influence.seconds));
  }
  if (!named.empty()) text += fmt::format("; most of it is {}", fmt::join(named, ", "));
  return text + ".";
}

std::vector<std::string> cool_warnings(const Outcome& outcome, const Cooldown& cooldown) {
  const Shown shown(outcome.bench.system);
  std::vector<std::string> list;
  if (!outcome.asked && !outcome.answer.advice.feasible) {
    list.push_back(fmt::format("no mount starts this engine; purge from {}, where least is short",
                               shown.length(cooldown.stand_off)));
  }
  if (outside_travel(outcome)) {
    list.push_back(
        fmt::format("{} lies outside the bracket's travel", shown.length(cooldown.stand_off)));
  }
  const auto& fan = cooldown.rig.fan;
  if (!fan.holds_flow &&
      !drive::wrong_pairs(outcome.bench.parts.drive, fan.drive, cooldown.rig.open.drive).empty()) {
    list.emplace_back(
        "pack, controller and motor are no pair for full throttle (windgap choose says why): do "
        "not connect them for more than this purge, better not at all");
  }
  if (std::isfinite(cooldown.plan.self_driving)) {
    list.push_back(fmt::format(
        "from {} ahead of the turbine the hot air may carry the rotor away; below that speed the "
        "model holds",
        shown.of(cooldown.plan.self_driving, Dimension::temperature)));
  }
  if (cooldown.biot > cooldown.scene.network.coefficients.greatest_biot) {
    list.emplace_back("a part is too thick to be taken at one temperature");
  }
  return list;
}

std::vector<std::string> cool_cautions() {
  return {"fuel off and its lines closed before anything else",
          // NOLINTNEXTLINE(bugprone-suspicious-missing-comma): one sentence on two lines
          "air fed to a combustor that still glows feeds the fire: no purge with fuel pooled or a "
          "flame in sight",
          "the exhaust blows hot: people, fuel and dry grass out of its way",
          "hot metal burns, long after it stopped glowing",
          "this is a model and no licence to touch: check with a thermometer",
          "local codes come first"};
}

std::string cool_text(const Outcome& outcome, const Cooldown& cooldown) {
  std::string text;
  if (!outcome.bench.title.empty()) text += outcome.bench.title + ", after the run\n\n";
  const auto card = bench_card(outcome, cooldown);
  for (std::size_t i = 0; i < card.size(); ++i) {
    const auto label = fmt::format("{}. ", i + 1);
    text += label + wrapped(card[i], label.size(), screen).substr(label.size());
  }
  text += "\n";
  for (const auto& sentence : what_is_short(outcome, cooldown)) {
    text += wrapped(sentence, indent, screen);
  }
  if (cooldown.plan.feasible) {
    text += wrapped(
        fmt::format("{} {}", what_holds(outcome, cooldown), thriftiest_purge(outcome, cooldown)),
        indent,
        screen);
  } else {
    text += wrapped(thriftiest_purge(outcome, cooldown), indent, screen);
  }
  text += "\n";
  text += limits_text(outcome, cooldown);
  text += "\n";
  for (const auto& fact : cool_facts(outcome, cooldown)) {
    text += wrapped(fmt::format("{}: {} {}", fact.label, fact.value, fact.remark), indent, screen);
  }
  const auto trade_off = trade_off_text(outcome, cooldown);
  if (!trade_off.empty()) text += "\n" + trade_off;
  const auto sure = how_sure_cool(cooldown);
  if (!sure.empty()) {
    text += "\n";
    text += wrapped(sure, 0, screen);
  }
  for (const auto& warning : cool_warnings(outcome, cooldown)) {
    text += wrapped("Warning: " + warning, 0, screen);
  }
  const auto assumed = outcome.bench.cool.assumed.size();
  text += wrapped(fmt::format("Assumed of the hot engine: {} value{}, listed by `check`.",
                              assumed,
                              assumed == 1 ? "" : "s"),
                  0,
                  screen);
  return text + cautions_text();
}

}  // namespace windgap::report
