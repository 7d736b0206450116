#include <cmath>
#include <nlohmann/json.hpp>

#include "report/cool.h"
#include "report/json_number.h"
#include "report/shown.h"

namespace windgap::report {
namespace {

using Json = nlohmann::ordered_json;
using cooling::Bound;
using cooling::Goal;

std::string_view unit_of(Bound bound) {
  switch (bound) {
    case Bound::goal:
      return "s";
    case Bound::charge:
      return "Ah";
    case Bound::current:
      return "1";
    case Bound::winding:
    case Bound::pack:
      return "K";
    case Bound::rotor_speed:
      return "rpm";
    case Bound::cooling_rate:
      break;
  }
  return "K/s";
}

double in_its_unit(Bound bound, double value) {
  if (bound == Bound::charge) return ampere_hours(value);
  return bound == Bound::rotor_speed ? rpm(value) : value;
}

std::string_view name_of(Goal goal) {
  switch (goal) {
    case Goal::bearing:
      return "bearing";
    case Goal::handling:
      return "handling";
    case Goal::contact:
      break;
  }
  return "contact";
}

std::string_view name_of(cooling::PumpUse pump) {
  switch (pump) {
    case cooling::PumpUse::off:
      return "off";
    case cooling::PumpUse::while_purging:
      return "while_purging";
    case cooling::PumpUse::always:
      break;
  }
  return "always";
}

Json steps_json(const Cooldown& cooldown) {
  Json list = Json::array();
  for (const auto& step : cooldown.plan.purge.steps) {
    list.push_back(
        {{"throttle", cooldown.rig.fan.holds_flow ? Json(nullptr) : number(step.throttle)},
         {"start_s", number(step.start)},
         {"end_s", number(step.end)}});
  }
  return list;
}

Json constraints_json(const cooling::Trial& trial) {
  Json list = Json::array();
  for (const auto& state : trial.bounds) {
    list.push_back({{"name", cooling::name(state.bound)},
                    {"value", number(in_its_unit(state.bound, state.value))},
                    {"limit", number(in_its_unit(state.bound, state.limit))},
                    {"unit", unit_of(state.bound)},
                    {"slack", std::isfinite(state.limit) ? number(state.slack) : Json(nullptr)},
                    {"active", state.active}});
  }
  return list;
}

Json on_json(const Cooldown& cooldown) {
  Json list = Json::array();
  for (std::size_t i = 0; i < cooldown.on.size(); ++i) {
    const auto& trial = cooldown.on[i];
    const bool reached = std::isfinite(trial.seconds);
    const double left = cooldown.need.charge;
    list.push_back({{"goal", name_of(static_cast<Goal>(i))},
                    {"fan_s", number(trial.seconds)},
                    {"charge_ah", reached ? number(ampere_hours(trial.charge)) : Json(nullptr)},
                    {"affordable", reached && !(trial.charge > left)},
                    {"within_limits", trial.feasible},
                    {"room_too_warm", room_too_warm(cooldown, static_cast<Goal>(i))}});
  }
  return list;
}

Json trade_off_json(const Cooldown& cooldown) {
  Json list = Json::array();
  for (const auto& trial : cooldown.plan.trade_off) {
    const bool reached = std::isfinite(trial.seconds);
    list.push_back({{"throttle", number(trial.steps.front().throttle)},
                    {"fan_s", number(trial.seconds)},
                    {"charge_ah", reached ? number(ampere_hours(trial.charge)) : Json(nullptr)},
                    {"feasible", trial.feasible},
                    {"why_not", trial.feasible ? Json(nullptr) : Json(refusal(cooldown, trial))}});
  }
  return list;
}

/// null: nothing is to be had that way.
Json mend_json(const Cooldown& cooldown, const cooling::Mend& mend) {
  if (!mend.found) return nullptr;
  const bool driven = !cooldown.rig.fan.holds_flow;
  return {
      {"stand_off_m", number(mend.stand_off)},
      {"throttle", driven ? number(mend.throttle) : Json(nullptr)},
      {"time_s", number(mend.seconds)},
      {"charge_ah", driven ? number(ampere_hours(mend.charge)) : Json(nullptr)},
      {"cooling_rate_k_s", number(mend.cooling_rate)},
      {"wait_s", number(mend.wait)},
      {"oil_pump", mend.pump == cooling::PumpUse::off ? Json(nullptr) : Json(name_of(mend.pump))}};
}

Json thriftiest_json(const Cooldown& cooldown) {
  const auto& trial = cooldown.plan.thriftiest;
  if (!trial.feasible) return nullptr;
  return {{"throttle", number(trial.steps.front().throttle)},
          {"fan_s", number(trial.seconds)},
          {"charge_ah", number(ampere_hours(trial.charge))}};
}

/// The flat keys are those of the mend by a bigger pack; the others have theirs in full.
Json remedy_json(const Cooldown& cooldown) {
  if (cooldown.plan.feasible) return nullptr;
  const auto& remedy = cooldown.plan.remedy;
  const auto& pack = remedy.pack;
  return {{"oil_pump", remedy.pump.found},
          {"charge_ah", number(ampere_hours(pack.charge))},
          {"throttle", number(pack.throttle)},
          {"time_s", number(pack.seconds)},
          {"cooling_rate_k_s", number(remedy.gentle.cooling_rate)},
          {"bigger_pack", mend_json(cooldown, pack)},
          {"with_oil_pump", mend_json(cooldown, remedy.pump)},
          {"faster_cooling", mend_json(cooldown, remedy.gentle)},
          {"nearer", mend_json(cooldown, remedy.nearer)},
          {"any_throttle", mend_json(cooldown, remedy.range)},
          {"wait_first", mend_json(cooldown, remedy.wait)},
          {"waiting_cokes", remedy.waiting_cokes}};
}

Json temperatures_json(const cooling::Temperatures& temperatures) {
  Json map = Json::object();
  for (std::size_t i = 0; i < cooling::part_count; ++i) {
    map[std::string(cooling::name(static_cast<cooling::Part>(i)))] = number(temperatures[i]);
  }
  return map;
}

Json influences_json(const Cooldown& cooldown) {
  constexpr std::size_t most = 12;
  Json list = Json::array();
  for (const auto& influence : cooldown.sensitivity.influences) {
    if (list.size() == most) break;
    list.push_back({{"name", influence.name}, {"purge_s", number(influence.seconds)}});
  }
  return list;
}

Json assumed_json(const casefile::Case& bench) {
  Json list = Json::array();
  for (const auto& assumed : bench.cool.assumed) {
    list.push_back({{"key", assumed.key}, {"value", assumed.value}, {"source", assumed.source}});
  }
  return list;
}

}  // namespace

std::string cool_json(const Outcome& outcome, const Cooldown& cooldown) {
  const auto& plan = cooldown.plan;
  const bool driven = !cooldown.rig.fan.holds_flow;
  const auto planned = [&](double value) { return plan.feasible ? number(value) : Json(nullptr); };
  const auto drawn = [&](double value) { return driven ? planned(value) : Json(nullptr); };
  Json document;
  document["title"] = outcome.bench.title;
  document["feasible"] = cools(cooldown);
  document["goal"] = name_of(cooldown.need.goal);
  document["stand_off_m"] = number(cooldown.stand_off);
  document["oil_pump"] = name_of(cooldown.scene.pump);
  document["throttle"] = drawn(plan.purge.steps.front().throttle);
  document["steps"] = plan.feasible ? steps_json(cooldown) : Json(nullptr);
  document["purge_s"] = planned(plan.purge.seconds);
  document["bearing_safe_s"] = planned(plan.verdict.bearing_safe);
  document["handling_s"] = planned(plan.verdict.warm);
  document["touch_safe_s"] = planned(plan.verdict.contact);
  document["purge_needed"] = on_json(cooldown);
  document["bearing_standing_s"] = number(plan.standing_verdict.bearing_safe);
  document["handling_standing_s"] = number(plan.standing_verdict.warm);
  document["standing_s"] = number(plan.standing_verdict.contact);
  document["bearing_peak_k"] = planned(plan.verdict.bearing.temperature);
  document["bearing_peak_after_s"] = planned(plan.verdict.bearing.time);
  document["bearing_peak_standing_k"] = number(plan.standing_verdict.bearing.temperature);
  document["bearing_peak_standing_after_s"] = number(plan.standing_verdict.bearing.time);
  document["coking_limit_k"] = number(cooldown.scene.limits.coking);
  document["glove_limit_k"] = number(cooldown.scene.limits.gloves);
  document["contact_limit_k"] = number(cooldown.scene.limits.contact);
  document["charge_used_ah"] = drawn(ampere_hours(plan.purge.charge));
  document["charge_left_ah"] = driven ? number(ampere_hours(cooldown.need.charge)) : Json(nullptr);
  document["charge_of_starts_ah"] =
      driven ? number(ampere_hours(cooldown.charge_of_starts)) : Json(nullptr);
  document["purge_of_start_s"] = number(cooldown.purge_of_start);
  document["energy_used_j"] =
      drawn(plan.purge.charge * cooldown.rig.fan.drive.open_circuit_voltage);
  document["rotor_rpm"] = planned(rpm(plan.verdict.fastest_rotor));
  document["cooling_rate_k_s"] = planned(plan.verdict.fastest_cooling);
  document["start_temperatures_k"] = temperatures_json(cooldown.scene.start);
  document["constraints"] = constraints_json(plan.purge);
  document["trade_off"] = trade_off_json(cooldown);
  document["thriftiest"] = thriftiest_json(cooldown);
  document["remedy"] = remedy_json(cooldown);
  document["short"] = what_is_short(outcome, cooldown);
  document["purge_before_ignition"] = {{"changes", number(cooldown.vapour.changes)},
                                       {"volume_m3", number(cooldown.vapour.volume)},
                                       {"airflow_kg_s", number(cooldown.vapour.airflow)},
                                       {"time_at_full_flow_s", number(cooldown.vapour.changing)},
                                       {"purge_s", number(cooldown.vapour.seconds)},
                                       {"vapour_left", number(cooldown.vapour.left)}};
  document["time_deviation"] = number(cooldown.sensitivity.deviation);
  document["influences"] = influences_json(cooldown);
  document["assumed"] = assumed_json(outcome.bench);
  document["warnings"] = cool_warnings(outcome, cooldown);
  document["cautions"] = cool_cautions();
  constexpr int indent = 2;
  return document.dump(indent, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace windgap::report
