#include <algorithm>
#include <cmath>

#include "choice/choice.h"
#include "units/root.h"

namespace windgap::choice {
namespace {

/// A tenth of an exit diameter and more: nearer than this nothing is computed with confidence.
constexpr double nearest_share = 0.15;

/// Unset counts as nothing, unless all of it is unset.
double known_sum(std::initializer_list<double> values) {
  double sum = unset;
  for (const double value : values) {
    if (std::isfinite(value)) sum = std::isfinite(sum) ? sum + value : value;
  }
  return sum;
}

double exit_diameter(const rig::Rig& rig) { return 2.0 * rig.jet.exit.rim_radius; }

/// Nearest distance beyond which the parked fan's running loss stays at or below `unseen`.
double clear_stand_off(const rig::Rig& rig, double unseen) {
  constexpr double farthest_share = 40.0;
  constexpr unsigned bits = 20;
  const double nearest = nearest_share * exit_diameter(rig);
  const double farthest = farthest_share * exit_diameter(rig);
  const auto excess = [&](double stand_off) {
    return blockage::obstruct(rig.blockage, stand_off).running_loss - unseen;
  };
  const double at_nearest = excess(nearest);
  if (at_nearest <= 0.0) return nearest;
  const double at_farthest = excess(farthest);
  if (at_farthest > 0.0) return farthest;
  return find_root(excess, {nearest, at_nearest}, {farthest, at_farthest}, bits).high;
}

/// Inside which distance the fan would start the engine if neither the running loss nor the
/// bracket's travel counted.
void look_inside(Choice& choice, const rig::Rig& rig, const Question& question) {
  auto need = question.need;
  need.throttle.reset();
  need.nozzle.reset();
  // Where neither loss nor travel stands against it, it was placed already and found wanting.
  constexpr int points = 25;
  const double allowed = clear_stand_off(rig, need.allowed_running_loss);
  need.farthest = std::min(need.farthest, std::max(need.nearest, allowed));
  need.nearest = std::min(need.nearest, nearest_share * exit_diameter(rig));
  if (!(need.farthest > need.nearest)) return;
  need.allowed_running_loss = 1.0;
  need.slip = 0.0;
  const auto placed = placement::place(
      rig, need, question.limits, {.scan_points = points, .extent = placement::Extent::advice});
  if (!placed.feasible) return;
  choice.inside = placed.edge;
  choice.loss_there = blockage::obstruct(rig.blockage, placed.edge).running_loss;
}

/// Everything electric at the mount; currents are the larger of there and blowing freely.
void describe_drive(Choice& choice,
                    const rig::Rig& rig,
                    const rig::Parts& parts,
                    const Question& question) {
  const auto& at_mount = choice.placement.mount.fan.drive;
  const auto& free = rig.open.drive;
  const auto& c = question.rules;
  const double air = rig.ambient.temperature;
  choice.motor_current = std::max(at_mount.motor_current, free.motor_current);
  choice.pack_current = std::max(at_mount.pack_current, free.pack_current);
  choice.power = at_mount.pack_current * at_mount.pack_voltage;
  choice.controller_size = controller_size(choice.motor_current, c);
  choice.sag = rig.fan.drive.open_circuit_voltage - at_mount.pack_voltage;
  choice.cell_voltage = at_mount.pack_voltage / static_cast<double>(parts.drive.pack.cells);
  choice.allowed_burst = drive::allowed_burst(rig.fan.drive, at_mount, air);
  choice.spending =
      spend(parts.drive.pack,
            at_mount,
            {.purge = question.purge,
             .volume_flow = choice.placement.mount.delivery.airflow / rig.ambient.density,
             .start_seconds = question.need.start_duration},
            c);
  const double seconds = choice.spending.purge_seconds + question.need.start_duration;
  choice.winding_temperature =
      air + drive::burst_temperature_rise(rig.fan.drive, at_mount, seconds);
}

rig::Rig with_design(rig::Rig rig, const placement::Placement& placed) {
  if (std::isfinite(placed.throttle) && placed.throttle != rig.throttle) {
    rig = rig::with_throttle(rig, placed.throttle);
  }
  if (std::isfinite(placed.nozzle)) rig = rig::with_nozzle(rig, placed.nozzle);
  return rig;
}

/// Pair that must not be connected, judged with the fan blowing freely at the least throttle asked.
std::vector<drive::WrongPair> refusals(const rig::Parts& parts, const Question& question) {
  const auto ambient = air::make_ambient(question.models.air, parts.site);
  const auto fan = fan::prepare(std::get<fan::Fan>(parts.source),
                                parts.drive,
                                ambient,
                                question.models.fan,
                                question.models.drive);
  const double throttle = question.need.throttle ? question.need.throttle->lower : parts.throttle;
  return drive::wrong_pairs(parts.drive, fan.drive, fan::operate(fan, throttle).drive);
}

void place_pair(Choice& choice, const rig::Parts& parts, const Question& question) {
  const auto answer = placement::answer(parts,
                                        question.models,
                                        question.need,
                                        question.limits,
                                        {.extent = placement::Extent::advice},
                                        question.deriving);
  choice.jet = answer.choice;
  choice.jet_known = answer.jet_known;
  choice.placement = answer.advice;
  const auto rig = with_design(answer.rig, answer.advice);
  const auto& mount = choice.placement.mount;
  choice.fitness = choice.placement.feasible ? Fitness::fits : Fitness::no_mount;
  choice.margin = mount.delivery.airflow / choice.placement.starting_airflow - 1.0;
  choice.thrust = mount.fan.thrust;
  choice.clear_stand_off = clear_stand_off(rig, question.rules.loss_unseen);
  choice.clear =
      choice.placement.feasible &&
      choice.placement.stand_off >= (1.0 + question.rules.reach_reserve) * choice.clear_stand_off;
  if (std::isfinite(choice.length)) {
    choice.airflow_at_length = rig::deliver(rig, choice.length).airflow;
  }
  if (choice.pack) describe_drive(choice, rig, parts, question);
  if (choice.fitness == Fitness::no_mount) look_inside(choice, rig, question);
  if (choice.fitness == Fitness::fits && choice.pack && choice.spending.starts < 1.0) {
    choice.fitness = Fitness::flat_pack;
  }
}

}  // namespace

rig::Parts bench_of(const Question& question, const ListedFan& listed, const ListedPack* pack) {
  auto parts = question.parts;
  parts.source = listed.source;
  parts.sense = listed.sense;
  parts.axis_readings = listed.axis_readings;
  parts.propeller_share = listed.propeller_share;
  parts.fan_outer_diameter = listed.stream_outer_diameter;
  if (pack != nullptr) {
    const auto state = parts.drive.pack;
    parts.drive.pack = pack->pack;
    if (std::isfinite(state.temperature)) parts.drive.pack.temperature = state.temperature;
    if (state.state_of_charge < 1.0) parts.drive.pack.state_of_charge = state.state_of_charge;
  }
  parts.drive.motor = listed.motor;
  if (auto* ducted = std::get_if<fan::Fan>(&parts.source)) {
    (void)fan::fill_fallbacks(*ducted, parts.drive, question.models.fan, question.models.drive);
    if (pack != nullptr && !pack->own) {
      // Readings belong to the pack they were taken with: another one blows as much harder.
      for (std::size_t i = 0; i < listed.readings_heads.size(); ++i) {
        auto& reading = parts.axis_readings[i];
        reading.pressure *=
            rig::readings_head(parts, question.models, reading.throttle) / listed.readings_heads[i];
      }
    }
  }
  return parts;
}

void pay_for_cooling(Choice& choice,
                     const Question& question,
                     std::span<const ListedFan> fans,
                     std::span<const ListedPack> packs,
                     const Options& options) {
  if (!options.cooldown || !choice.pack || choice.fitness != Fitness::fits) return;
  const auto parts = bench_of(question, fans[choice.fan], &packs[*choice.pack]);
  const auto rig = with_design(
      start::assemble(parts, question.models, choice.jet, question.deriving), choice.placement);
  auto& spending = choice.spending;
  spending.cooldown_charge = options.cooldown(parts, rig, choice.placement.stand_off);
  spending.cools = std::isfinite(spending.cooldown_charge);
  if (!spending.cools) return;
  spending.starts = spending.usable_charge /
                    (spending.purge_charge + spending.start_charge + spending.cooldown_charge);
  if (spending.starts < 1.0) choice.fitness = Fitness::flat_pack;
}

Choice judge(const Question& question,
             std::span<const ListedFan> fans,
             std::span<const ListedPack> packs,
             std::size_t fan,
             std::optional<std::size_t> pack) {
  Choice choice;
  choice.fan = fan;
  choice.pack = pack;
  const auto parts = bench_of(question, fans[fan], pack ? &packs[*pack] : nullptr);
  if (const auto* ducted = std::get_if<fan::Fan>(&parts.source)) {
    choice.length = ducted->length;
    choice.mass = known_sum({ducted->mass, parts.drive.pack.mass, parts.drive.controller.mass});
    choice.contradictions = fan::contradictions(*ducted, parts.drive, question.models.fan);
    if (!choice.contradictions.empty()) {
      choice.fitness = Fitness::not_believed;
      return choice;
    }
    choice.wrong = refusals(parts, question);
    if (!choice.wrong.empty()) {
      choice.fitness = Fitness::wrong_pair;
      return choice;
    }
  }
  place_pair(choice, parts, question);
  return choice;
}

}  // namespace windgap::choice
