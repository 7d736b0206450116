#include "report/verdict.h"

#include <fmt/format.h>

#include <array>
#include <cctype>
#include <cmath>

#include "report/chance.h"
#include "report/start_need.h"

namespace windgap::report {
namespace {

using placement::Constraint;
using units::Dimension;

Shown shown_in(const Outcome& outcome) { return Shown(outcome.bench.system); }

/// How a constraint reads, what its value measures, and what mends it.
struct Wording {
  Constraint constraint;
  std::string_view label;
  std::string_view noun;
  std::string_view relation;
  Dimension dimension;
  std::string_view mend;
};

constexpr auto wordings = std::to_array<Wording>({
    {Constraint::starting_airflow,
     "starting airflow",
     "the delivered airflow",
     "at least",
     Dimension::mass_flow,
     "a stronger fan, a fresher pack, warm thin oil"},
    {Constraint::lightoff_speed,
     "rotor speed to light",
     "the rotor's speed",
     "at least",
     Dimension::angular_speed,
     "a stronger fan, a fresher pack, warm thin oil"},
    {Constraint::lightoff_velocity,
     "air at the flame holder",
     "the air's speed past the flame holder",
     "at most",
     Dimension::speed,
     "less throttle on the fan until it is lit, or a wider flame holder"},
    {Constraint::fan_stall,
     "fan flow above stall",
     "the fan's flow above stall",
     "at least",
     Dimension::ratio,
     "a larger stand-off, or a wider fan nozzle"},
    {Constraint::drive_current,
     "pack current",
     "the pack's current",
     "at most",
     Dimension::current,
     "less throttle, or a pack and controller of higher burst current"},
    {Constraint::burst_heating,
     "time to a hot winding",
     "the time until the winding is hot",
     "at least",
     Dimension::time,
     "less throttle, a heavier motor, or a shorter start"},
    {Constraint::running_loss,
     "running engine's loss",
     "the running engine's loss",
     "at most",
     Dimension::ratio,
     "a larger stand-off, a slimmer fan housing, or swinging the fan away"},
    {Constraint::bracket_travel,
     "bracket travel",
     "the stand-off",
     "to",
     Dimension::length,
     "a bracket that reaches farther"},
});

const Wording& wording(Constraint constraint) {
  return wordings[static_cast<std::size_t>(constraint)];
}

std::string_view jet_name(rig::JetChoice choice) {
  switch (choice) {
    case rig::JetChoice::nozzle_like:
      return "nozzle-like";
    case rig::JetChoice::propeller_like:
      return "propeller-like";
    case rig::JetChoice::estimated:
      break;
  }
  return "as estimated";
}

/// "187 mm" or "no distance".
std::string mount_text(const placement::Placement& placement, const Shown& shown) {
  return placement.feasible ? shown.length(placement.stand_off) : "no distance";
}

/// What decides a derived starting airflow that is short; none otherwise.
std::optional<start::Need> need_short(const Outcome& outcome) {
  const auto& shortfall = *outcome.answer.advice.shortfall;
  if (shortfall.constraint != Constraint::starting_airflow || !outcome.need) return std::nullopt;
  return outcome.need->need;
}

std::string shortfall_text(const Outcome& outcome, const Shown& shown) {
  const auto& shortfall = *outcome.answer.advice.shortfall;
  const auto& words = wording(shortfall.constraint);
  const double apart = std::abs(shortfall.value / shortfall.limit - 1.0);
  if (need_short(outcome) == start::Need::cannot_sustain) {
    return fmt::format("At no distance: {}.", never_alone(*outcome.need, outcome.bench.system));
  }
  if (need_short(outcome) == start::Need::cannot_cool) {
    return "At no distance: even the leanest flame that burns steadily is hotter than the gas "
           "temperature limit.";
  }
  if (!std::isfinite(shortfall.limit)) {
    return fmt::format(
        "At {}, where least is missing, no air supply the model knows starts this "
        "engine.",
        shown.length(shortfall.stand_off));
  }
  return fmt::format(
      "At {}, where least is missing, {} is {}; it must be {} {}{}.",
      shown.length(shortfall.stand_off),
      words.noun,
      shown.of(shortfall.value, words.dimension),
      words.relation,
      shown.of(shortfall.limit, words.dimension),
      shortfall.limit == 0.0 ? std::string() : fmt::format(" ({} off)", shown.share(apart)));
}

/// What mends a starting airflow that is short, by what decides it.
std::string_view mend_of(const std::optional<start::StartingAirflow>& derived,
                         Constraint constraint) {
  const auto need = derived ? std::optional(derived->need) : std::nullopt;
  if (need == start::Need::cannot_sustain && std::isfinite(derived->sustains_short_of_idle)) {
    return "a valve, pump or nozzle that gives more, a lower idle, a gas limit as high as the "
           "turbine "
           "bears, warm thin oil";
  }
  if (need == start::Need::cannot_sustain) {
    return "a valve, pump or nozzle that gives more, a gas limit as high as the turbine bears, "
           "warm "
           "thin oil, tighter clearances, or, where it sustains itself only beyond idle, a higher "
           "idle";
  }
  if (need == start::Need::cannot_cool) {
    return "a gas limit as high as the turbine bears, or smaller primary holes";
  }
  if (need == start::Need::cooler_gas) {
    return "a valve or nozzle that also gives less (the least fuel that flows steadily decides), "
           "more throttle at light-off, a stronger fan";
  }
  return wording(constraint).mend;
}

std::string mending_text(const Outcome& outcome, const Shown& shown) {
  const auto& shortfall = *outcome.answer.advice.shortfall;
  auto text =
      fmt::format("What would mend it: {}.",
                  mend_of(need_short(outcome) ? outcome.need : std::nullopt, shortfall.constraint));
  // A stronger fan on a drive that holds it back is none.
  const auto& drive = outcome.answer.advice.mount.fan.drive;
  if (std::isfinite(shortfall.thrust_factor) && !drive.limited && !drive.sagged) {
    text += fmt::format(" A fan of {:.3g} times the thrust would do.", shortfall.thrust_factor);
  }
  if (std::isfinite(shortfall.nearer)) {
    text +=
        fmt::format(" So would {}, nearer than the bracket goes.", shown.length(shortfall.nearer));
  }
  if (std::isfinite(shortfall.farther)) {
    text += fmt::format(" So would {}, farther than the bracket goes.",
                        shown.length(shortfall.farther));
  }
  return text;
}

std::string slot_text(const placement::Placement& advice, const Shown& shown, double slip) {
  std::string text = fmt::format("It may stand anywhere from {} to {}",
                                 shown.length(advice.slot.near),
                                 shown.length(advice.edge));
  if (slip > 0.0)
    text += fmt::format("; the bracket's slip of {} is kept back", shown.length(slip));
  text += ".";
  for (std::size_t i = 0; i + 1 < advice.slots.size(); ++i) {
    text += fmt::format(" Nearer, {} to {} would do as well.",
                        shown.length(advice.slots[i].near),
                        shown.length(advice.slots[i].far));
  }
  return text;
}

std::string limit_text(const placement::Placement& advice) {
  const auto far = advice.slot.far_limit;
  const auto near = advice.slot.near_limit;
  const bool free_far = far == Constraint::bracket_travel;
  const bool free_near = near == Constraint::bracket_travel;
  if (free_far && free_near) return "Limited by nothing but the bracket's travel.";
  if (free_far) {
    return fmt::format("Limited by the bracket's travel; nearer, by {}.", wording(near).label);
  }
  if (free_near) {
    return fmt::format("Limited by {}; nearer, by the bracket's travel.", wording(far).label);
  }
  if (near == far) return fmt::format("Limited at both ends by {}.", wording(far).label);
  return fmt::format("Limited by {}; nearer, by {}.", wording(far).label, wording(near).label);
}

/// What ends the reliable slot that is next to a stand-off outside of it.
Constraint barred_there(const placement::Chance& chance, double stand_off) {
  for (const auto& slot : chance.slots) {
    if (stand_off < slot.near) return slot.near_limit;
  }
  return chance.slots.empty() ? chance.short_of : chance.slots.back().far_limit;
}

bool is_of_air(Constraint constraint) {
  return constraint == Constraint::starting_airflow || constraint == Constraint::lightoff_speed;
}

/// Whether the nominal bench has air enough there.
bool has_air(const placement::Row& row) {
  return std::none_of(row.constraints.begin(), row.constraints.end(), [](const auto& state) {
    return is_of_air(state.constraint) && state.slack < 0.0;
  });
}

std::vector<std::string> failing(const Outcome& outcome) {
  const auto shown = shown_in(outcome);
  std::vector<std::string> sentences;
  for (const auto& state : outcome.asked->constraints) {
    if (state.constraint == Constraint::bracket_travel || !(state.slack < 0.0)) continue;
    if (is_of_air(state.constraint) && outcome.chance) continue;  // the ensemble's word, below
    const auto& words = wording(state.constraint);
    if (!std::isfinite(state.limit) && outcome.need) {
      sentences.push_back(fmt::format("No air starts this engine{}. What would mend it: {}.",
                                      outcome.need->need == start::Need::cannot_sustain
                                          ? ": " + never_alone(*outcome.need, outcome.bench.system)
                                          : std::string(),
                                      mend_of(outcome.need, state.constraint)));
      continue;
    }
    sentences.push_back(fmt::format("{} is {}; it must be {} {}. What would mend it: {}.",
                                    words.noun,
                                    shown.of(state.value, words.dimension),
                                    words.relation,
                                    shown.of(state.limit, words.dimension),
                                    words.mend));
    sentences.back().front() = static_cast<char>(std::toupper(sentences.back().front()));
  }
  const bool sure_of_air =
      outcome.prospect && outcome.prospect->reliable >= outcome.chance->asked.confidence;
  if (outcome.prospect && !sure_of_air && !reliable_where_asked(outcome)) {
    const auto& chance = *outcome.chance;
    sentences.push_back(
        fmt::format("There {} of starts have air enough, all benches taken together; asked are {} "
                    "of the starts "
                    "on {} of the plausible benches.",
                    shown.share(outcome.prospect->catches),
                    shown.share(chance.asked.reliability),
                    shown.share(chance.asked.confidence)));
  }
  if (!reliable_where_asked(outcome)) {
    const auto limit = barred_there(*outcome.chance, outcome.asked->stand_off);
    if (limit != Constraint::bracket_travel && !(sure_of_air && is_of_air(limit))) {
      sentences.push_back(fmt::format("What is not sure enough there: {}.", wording(limit).label));
    }
  }
  return sentences;
}

/// "A propeller-like jet", "A nozzle-like jet".
std::string capital_jet(rig::JetChoice choice) { return fmt::format("A {} jet", jet_name(choice)); }

std::string unknown_jet_text(const Outcome& outcome) {
  const auto shown = shown_in(outcome);
  const auto& answer = outcome.answer;
  // The bounds are of the nominal bench.
  const auto& advice = outcome.nominal ? *outcome.nominal : answer.advice;
  const bool propeller = answer.choice == rig::JetChoice::propeller_like;
  const auto& other = propeller ? *answer.nozzle_like : *answer.propeller_like;
  const auto other_choice =
      propeller ? rig::JetChoice::nozzle_like : rig::JetChoice::propeller_like;
  if (!advice.feasible && !other.feasible) {
    return "Nobody measured this fan's jet, but neither bound of it leaves a distance.";
  }
  std::string text = fmt::format(
      "Nobody measured this fan's jet, so both bounds are placed. {} leaves {}. {} would allow {}: "
      "only after measuring.",
      capital_jet(answer.choice),
      mount_text(advice, shown),
      capital_jet(other_choice),
      mount_text(other, shown));
  if (answer.estimated && answer.estimated->feasible) {
    text += fmt::format(" The fan's build suggests {}.", mount_text(*answer.estimated, shown));
  }
  if (advice.feasible && !within_slots(other, advice.stand_off)) {
    text += fmt::format(" Mind that {} would not do with {} jet.",
                        shown.length(advice.stand_off),
                        propeller ? "a nozzle-like" : "a propeller-like");
  }
  return text;
}

std::string known_jet_text(const Outcome& outcome) {
  const auto shown = shown_in(outcome);
  const auto& rig = outcome.answer.rig;
  switch (rig.jet_source) {
    case rig::JetSource::readings:
      return fmt::format(
          "The jet is fitted to {} pressure reading{} in it, missed by {} of the exit's "
          "dynamic pressure: one answer.",
          outcome.bench.parts.axis_readings.size(),
          outcome.bench.parts.axis_readings.size() == 1 ? "" : "s",
          shown.share(rig.readings_misfit));
    case rig::JetSource::stated:
      return fmt::format("The case says how propeller-like the jet is ({}): one answer.",
                         shown.share(rig.propeller_share));
    case rig::JetSource::bound:
    case rig::JetSource::estimated:
      break;
  }
  return fmt::format(
      "The stream was measured where it leaves; how it spreads ({} propeller-like) is "
      "estimated from hub and swirl.",
      shown.share(rig.propeller_share));
}

/// Hub over bore in the range of models/jet.md.
constexpr double least_hub = 0.3;
constexpr double most_hub = 0.5;

void warn_of_models(const Outcome& outcome, std::vector<std::string>& list) {
  const auto shown = shown_in(outcome);
  const auto& row = shown_row(outcome);
  const auto& rig = outcome.answer.rig;
  if (!row.delivery.converged) {
    list.emplace_back("The airflow at this distance did not settle; do not trust its numbers.");
  }
  if (row.delivery.settling == rig::Settling::runs_away) {
    list.emplace_back("The rotor keeps accelerating past the range of the model.");
  }
  if (row.delivery.settling == rig::Settling::at_rest) {
    list.emplace_back("The air does not turn the rotor: its bearings hold it at rest.");
  }
  if (row.delivery.choked) list.emplace_back("A passage of the engine chokes on this airflow.");
  if (row.delivery.settling == rig::Settling::turning &&
      rig::has_second_branch(rig, row.stand_off)) {
    list.emplace_back(
        "The rotor has a second, faster speed at which it would settle if something pushed it "
        "there; the slower one is shown.");
  }
  const double hub = rig.fan.hub_radius / rig.fan.bore_radius;
  if (hub > 0.0 && !(hub >= least_hub && hub <= most_hub)) {
    list.push_back(fmt::format(
        "A hub of {} of the bore is outside what its wake's numbers were taken from, {} to "
        "{}: near the fan treat the airflow as a guess.",
        shown.share(hub),
        shown.share(least_hub),
        shown.share(most_hub)));
  }
  constexpr double much = 0.25;  // of the exit's dynamic pressure: no jet explains it
  if (rig.readings_misfit > much) {
    list.emplace_back(
        "No jet of this fan on this drive reads so: fan, drive or readings are not what the case "
        "says.");
  }
  if (rig.readings_at_bound) {
    list.emplace_back(
        "The pressure readings lie at or beyond an end of what fan jets do; check the tube and "
        "where it stood.");
  }
  if (rig.blockage.choked) {
    list.emplace_back("The running airflow chokes the inlet's throat; check running.airflow.");
  }
  if (!rig.blockage.in_range) {
    list.emplace_back("A handbook value for the inlet was held at the end of its table.");
  }
  if (!rig.fan.holds_flow) {
    if (row.fan.drive.sagged) {
      list.push_back(fmt::format(
          "The loaded pack falls to {} behind its leads, below what is good for its cells.",
          shown.of(row.fan.drive.pack_voltage, Dimension::voltage)));
    }
    if (row.fan.drive.limited) {
      list.emplace_back(
          "The controller cuts the throttle to hold its current limit; a higher one brings more "
          "air.");
    }
  }
}

}  // namespace

std::string_view label(Constraint constraint) { return wording(constraint).label; }

std::string_view starting_airflow_from(const casefile::Case& bench) {
  if (std::isfinite(bench.parts.start.airflow)) return "case";
  return std::isfinite(bench.parts.start.rotor_speed) ? "rotor_speed" : "derived";
}

double required_airflow(const Outcome& outcome) {
  return (1.0 + outcome.bench.requirement.margin) * outcome.answer.advice.starting_airflow;
}

Hole hole(const casefile::Case& bench, double stand_off) {
  const auto& drilling = bench.drilling;
  Hole result;
  result.to_mouth = stand_off + drilling.holes_to_exit;
  result.to_datum = result.to_mouth + drilling.mouth_to_bench_datum;
  return result;
}

std::string stated_but_not_caught(const Outcome& outcome, const Confirmation& run) {
  const auto shown = shown_in(outcome);
  return fmt::format(
      "A start run in time at {} does not catch: {}. The starting airflow is the case's own word; "
      "with the fuel it states, look at `windgap spin` before you drill.",
      shown.length(run.runs.front().stand_off),
      run.runs.front().brief);
}

std::string headline(const Outcome& outcome) {
  const auto shown = shown_in(outcome);
  if (outcome.asked) {
    const bool unsure =
        outcome.asked->feasible && has_air(*outcome.asked) && !reliable_where_asked(outcome);
    return fmt::format("{} {}",
                       shown.length(outcome.asked->stand_off),
                       fits(outcome) && refuted(outcome)
                           ? "brings air enough, but the start run does not catch"
                       : fits(outcome) ? "works"
                       : unsure        ? "works on paper, but not as reliably as asked"
                                       : "does not work");
  }
  if (!fits(outcome)) return "No distance works";
  if (refuted(outcome)) {
    return fmt::format("Do not drill yet: air enough at {}, but the start run does not catch ({})",
                       shown.length(outcome.answer.advice.stand_off),
                       outcome.confirmation->runs.front().brief);
  }
  return fmt::format("Drill at {}", shown.length(outcome.answer.advice.stand_off));
}

std::vector<std::string> where_to_drill(const Outcome& outcome) {
  const auto shown = shown_in(outcome);
  const auto& advice = outcome.answer.advice;
  std::vector<std::string> sentences;
  if (!outcome.asked && !advice.feasible) return sentences;
  const double stand_off = shown_row(outcome).stand_off;
  const auto place = hole(outcome.bench, stand_off);
  std::string measured = "Measured from the fan's exit to the plane of the inlet mouth.";
  if (std::isfinite(place.to_datum)) {
    measured += fmt::format(" The bracket's holes: {} from the bench datum, {} from the mouth.",
                            shown.length(place.to_datum),
                            shown.length(place.to_mouth));
  } else if (std::isfinite(place.to_mouth)) {
    measured +=
        fmt::format(" The bracket's holes: {} from the mouth.", shown.length(place.to_mouth));
  }
  sentences.push_back(measured);
  if (!outcome.asked) {
    sentences.push_back(slot_text(advice, shown, outcome.bench.requirement.slip));
  } else if (advice.feasible) {
    sentences.push_back(fmt::format("The advice for this bench is {}, in a slot from {} to {}.",
                                    shown.length(advice.stand_off),
                                    shown.length(advice.slot.near),
                                    shown.length(advice.edge)));
  }
  return sentences;
}

std::vector<std::string> what_limits(const Outcome& outcome) {
  const auto shown = shown_in(outcome);
  if (outcome.asked) return failing(outcome);
  const auto& advice = outcome.answer.advice;
  if (outcome.chance && outcome.need && !std::isfinite(outcome.need->airflow)) {
    return {fmt::format("At no distance: {}. What would mend it: {}.",
                        outcome.need->need == start::Need::cannot_sustain
                            ? never_alone(*outcome.need, outcome.bench.system)
                            : std::string("no air starts this engine"),
                        mend_of(outcome.need, Constraint::starting_airflow))};
  }
  if (outcome.chance) return chance_limits(outcome);
  if (advice.feasible) return {limit_text(advice)};
  return {shortfall_text(outcome, shown), mending_text(outcome, shown)};
}

namespace {

/// What one standard deviation of everything with a stated spread does, and what does most of it.
std::string spread_text(const Outcome& outcome) {
  constexpr std::size_t most = 3;
  const auto shown = shown_in(outcome);
  const auto& spread = *outcome.spread;
  const bool moves = std::isfinite(spread.stand_off_deviation);
  std::vector<std::string> named;
  for (const auto& influence : spread.influences) {
    if (named.size() == most) break;
    named.push_back(fmt::format("{} ({})",
                                influence.name,
                                moves ? shown.length(std::abs(influence.stand_off))
                                      : shown.share(std::abs(influence.supply))));
  }
  return fmt::format(
      "By the spreads stated (one standard deviation), airflow over need is sure to "
      "± {}{}; most of it is {}.",
      shown.share(spread.supply_deviation),
      moves ? fmt::format(" and the mount to ± {}", shown.length(spread.stand_off_deviation))
            : std::string(),
      fmt::join(named, ", "));
}

}  // namespace

std::vector<std::string> how_sure(const Outcome& outcome) {
  std::vector<std::string> sentences{
      outcome.answer.jet_known ? known_jet_text(outcome) : unknown_jet_text(outcome),
      start_need_text(outcome)};
  if (outcome.spread) sentences.push_back(spread_text(outcome));
  if (outcome.chance && !outcome.asked) {
    for (auto& sentence : chance_sentences(outcome)) sentences.push_back(std::move(sentence));
    for (auto& advice : what_to_measure(outcome.chance->shares)) {
      sentences.push_back("To be surer, " + advice + ".");
    }
  }
  return sentences;
}

std::string running_cost(const Outcome& outcome) {
  constexpr double noticeable = 1e-5;
  const auto shown = shown_in(outcome);
  const auto& cost = shown_row(outcome).obstruction;
  if (cost.running_loss < noticeable) {
    return fmt::format(
        "Parked there, the fan costs the running engine nothing that shows: less than {} of "
        "ambient "
        "pressure.",
        shown.share(noticeable));
  }
  return fmt::format(
      "Parked there, the fan takes {} of ambient pressure from the running engine: {} "
      "of its airflow, {} of its thrust.",
      shown.share(cost.running_loss),
      shown.share(cost.airflow_loss),
      shown.share(cost.thrust_loss));
}

std::vector<Finding> findings(const Outcome& outcome) {
  const auto shown = shown_in(outcome);
  const auto& row = shown_row(outcome);
  const auto& delivery = row.delivery;
  const double start = outcome.answer.advice.starting_airflow;
  std::vector<Finding> list;
  list.push_back({"airflow", shown.airflow(delivery.airflow), ""});
  if (std::isfinite(start)) {
    const double over = delivery.airflow / start - 1.0;
    const double margin = outcome.bench.requirement.margin;
    list.back().remark = fmt::format("{} start it: {} {}{}",
                                     shown.airflow(start),
                                     shown.share(std::abs(over)),
                                     over < 0.0 ? "short" : "over",
                                     margin > 0.0 ? fmt::format(", {} asked", shown.share(margin))
                                     : outcome.answer.jet_known ? std::string()
                                                                : " by the likeliest jet");
  }
  if (delivery.settling != rig::Settling::no_rotor) {
    list.push_back({"rotor speed", shown.rotation(delivery.rotor_speed), "blown cold, no fuel"});
    if (std::isfinite(outcome.answer.advice.lightoff_speed)) {
      list.back().remark +=
          fmt::format("; lit at {}", shown.rotation(outcome.answer.advice.lightoff_speed));
    }
  }
  list.push_back({"total pressure",
                  shown.pressure(delivery.total_pressure),
                  "mean of what the mouth swallows"});
  list.push_back({"back-pressure", shown.pressure(delivery.back_pressure), "felt by the fan"});
  if (!outcome.answer.rig.fan.holds_flow) {
    list.push_back({"pack",
                    shown.of(row.fan.drive.pack_current, Dimension::current),
                    fmt::format("at {}, {}",
                                shown.of(row.fan.drive.pack_voltage, Dimension::voltage),
                                shown.of(row.fan.drive.pack_current * row.fan.drive.pack_voltage,
                                         Dimension::power))});
  }
  return list;
}

std::vector<ConstraintLine> constraint_lines(const Outcome& outcome) {
  const auto shown = shown_in(outcome);
  std::vector<ConstraintLine> lines;
  for (const auto& state : shown_constraints(outcome)) {
    const bool unreachable = state.slack < 0.0 && !std::isfinite(state.limit);
    if (!std::isfinite(state.slack)) continue;
    const auto& words = wording(state.constraint);
    ConstraintLine line{
        .label = std::string(words.label),
        .value = state.constraint == Constraint::burst_heating && std::isinf(state.value)
                     ? "never"
                     : shown.of(state.value, words.dimension),
        .limit = {},
        .slack = shown.share(state.slack),
        .active = state.active,
        .holds = state.slack >= 0.0 || (state.active && fits(outcome))};
    line.limit = unreachable
                     ? "out of reach"
                     : fmt::format("{} {}", words.relation, shown.of(state.limit, words.dimension));
    if (state.constraint == Constraint::bracket_travel) {
      const auto& need = outcome.bench.requirement;
      line.limit = fmt::format("{} to {}", shown.length(need.nearest), shown.length(need.farthest));
    }
    lines.push_back(line);
  }
  return lines;
}

namespace {

/// Empty where the pack lasts for one start at full blast, or there is none.
std::string too_little_charge(const Outcome& outcome) {
  const auto& rig = outcome.answer.rig;
  if (rig.fan.holds_flow) return {};
  const auto shown = shown_in(outcome);
  const double current = shown_row(outcome).fan.drive.pack_current;
  const double duration = outcome.bench.requirement.start_duration;
  if (current * duration <= rig.fan.drive.charge) return {};
  return fmt::format("The pack holds {}: at {} that is {}, less than one start ({}).",
                     shown.of(rig.fan.drive.charge, units::Dimension::charge),
                     shown.of(current, units::Dimension::current),
                     shown.of(rig.fan.drive.charge / current, units::Dimension::time),
                     shown.of(duration, units::Dimension::time));
}

}  // namespace

std::vector<std::string> warnings(const Outcome& outcome) {
  auto list = outcome.bench.warnings;
  if (outside_travel(outcome)) {
    const auto shown = shown_in(outcome);
    list.push_back(fmt::format("The bracket does not go there: it travels from {} to {}.",
                               shown.length(outcome.bench.requirement.nearest),
                               shown.length(outcome.bench.requirement.farthest)));
  }
  warn_of_models(outcome, list);
  if (auto flat = too_little_charge(outcome); !flat.empty()) list.push_back(std::move(flat));
  for (auto& warning : season_warnings(outcome)) list.push_back(std::move(warning));
  return list;
}

}  // namespace windgap::report
