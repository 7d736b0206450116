#include <cmath>
#include <nlohmann/json.hpp>

#include "report/cautions.h"
#include "report/chance.h"
#include "report/choose.h"
#include "report/json_number.h"

namespace windgap::report {
namespace {

using Json = nlohmann::ordered_json;
using choice::Choice;
using choice::Fitness;

std::string_view name(Fitness fitness) {
  switch (fitness) {
    case Fitness::fits:
      return "fits";
    case Fitness::no_mount:
      return "no_mount";
    case Fitness::flat_pack:
      return "flat_pack";
    case Fitness::wrong_pair:
      return "wrong_pair";
    case Fitness::not_believed:
      break;
  }
  return "not_believed";
}

/// What speaks for a choice or against it, in words.
Json reasons(const ChooseOutcome& outcome, std::size_t index) {
  Json list = Json::array();
  for (std::size_t i = 0; i < outcome.ranking.picks.size(); ++i) {
    if (outcome.ranking.picks[i].choice != index) continue;
    for (const auto& sentence : why(outcome, i)) list.push_back(sentence);
  }
  const auto remark = note(outcome, outcome.ranking.choices[index]);
  if (!remark.empty()) list.push_back(remark);
  return list;
}

Json choice_json(const ChooseOutcome& outcome, std::size_t index) {
  const auto& choice = outcome.ranking.choices[index];
  const auto& catalogue = outcome.catalogue;
  const bool feasible = choice.fitness == Fitness::fits;
  const auto there = [&](double value) { return feasible ? number(value) : Json(nullptr); };
  const auto& spending = choice.spending;
  Json item;
  item["fan"] = fan_label(outcome, choice);
  item["pack"] = choice.pack ? Json(pack_label(outcome, choice)) : Json(nullptr);
  item["fan_name"] = catalogue.fans[choice.fan].name;
  item["pack_name"] = choice.pack ? Json(catalogue.packs[*choice.pack].name) : Json(nullptr);
  item["feasible"] = feasible;
  item["verdict"] = name(choice.fitness);
  item["stand_off_m"] = there(choice.placement.stand_off);
  item["clear"] = choice.clear;
  item["clear_stand_off_m"] = number(choice.clear_stand_off);
  item["margin"] = there(choice.margin);
  item["airflow_kg_s"] = there(choice.placement.mount.delivery.airflow);
  item["fan_length_m"] = number(choice.length);
  item["airflow_at_fan_length_kg_s"] = number(choice.airflow_at_length);
  item["running_loss"] = there(choice.placement.mount.obstruction.running_loss);
  item["peak_current_a"] = number(choice.pack_current);
  item["motor_current_a"] = number(choice.motor_current);
  item["controller_a"] = number(choice.controller_size);
  item["power_w"] = number(choice.power);
  item["sag_v"] = number(choice.sag);
  item["cell_voltage_v"] = number(choice.cell_voltage);
  item["winding_k"] = number(choice.winding_temperature);
  item["burst_allowed_s"] = number(choice.allowed_burst);
  item["burst_unlimited"] = std::isinf(choice.allowed_burst);
  item["starts_per_charge"] = number(spending.starts);
  item["purge_s"] = number(spending.purge_seconds);
  item["purge_charge_ah"] = number(ampere_hours(spending.purge_charge));
  item["start_charge_ah"] = number(ampere_hours(spending.start_charge));
  item["cooldown_charge_ah"] =
      spending.cooldown_charge > 0.0 ? number(ampere_hours(spending.cooldown_charge)) : nullptr;
  item["cools_engine"] = spending.cooldown_charge > 0.0 ? Json(true)
                         : spending.cools               ? Json(nullptr)
                                                        : Json(false);
  item["mass_kg"] = number(choice.mass);
  item["thrust_n"] = number(choice.thrust);
  item["starts_inside_m"] = number(choice.inside);
  item["running_loss_there"] = number(choice.loss_there);
  item["clean_jet_stand_off_m"] = number(choice.clean_stand_off);
  item["dominated_by"] =
      choice.dominated_by ? Json(pair_label(outcome, outcome.ranking.choices[*choice.dominated_by]))
                          : Json(nullptr);
  item["reasons"] = reasons(outcome, index);
  return item;
}

Json certainty_json(const ChooseOutcome& outcome, const choice::Pick& pick) {
  if (!pick.certainty) return nullptr;
  const auto& [chance, mount] = *pick.certainty;
  return {{"reliability", number(chance.asked.reliability)},
          {"confidence", number(chance.asked.confidence)},
          {"feasible", chance.feasible},
          {"reliable_stand_off_m", chance.feasible ? number(chance.stand_off) : Json(nullptr)},
          {"catches_at_mount", number(mount.catches)},
          {"reach_5_50_95_m", reach_json(chance, outcome.bench)},
          {"benches_reliable_nowhere", number(chance.nowhere)},
          {"members", chance.members}};
}

Json short_list_json(const ChooseOutcome& outcome) {
  Json list = Json::array();
  for (std::size_t i = 0; i < outcome.ranking.picks.size(); ++i) {
    const auto& pick = outcome.ranking.picks[i];
    const auto bound = [](const std::optional<placement::Placement>& placed) {
      return placed && placed->feasible ? number(placed->stand_off) : Json(nullptr);
    };
    list.push_back(
        {{"choice", pick.choice},
         {"stand_off_m", number(pick.answer.advice.stand_off)},
         {"refused", pick.refused.empty() ? Json(nullptr) : Json(pick.refused)},
         {"instead_of",
          pick.instead_of ? Json(pair_label(outcome, outcome.ranking.choices[*pick.instead_of]))
                          : Json(nullptr)},
         {"certainty", certainty_json(outcome, pick)},
         {"nozzle_like_m", bound(pick.answer.nozzle_like)},
         {"propeller_like_m", bound(pick.answer.propeller_like)},
         {"why", why(outcome, i)}});
  }
  return list;
}

Json nozzles_json(const ChooseOutcome& outcome) {
  Json list = Json::array();
  for (const auto& tried : outcome.ranking.nozzles) {
    const auto& nozzle = tried.nozzle;
    list.push_back({{"fan", fan_label(outcome, outcome.ranking.choices[tried.choice])},
                    {"pack", pack_label(outcome, outcome.ranking.choices[tried.choice])},
                    {"helps", nozzle.helps},
                    {"exit_diameter_m", number(nozzle.exit_diameter)},
                    {"throttle", number(nozzle.throttle)},
                    {"stand_off_m", number(nozzle.stand_off)},
                    {"bare_stand_off_m", number(nozzle.bare_stand_off)},
                    {"gain_m", number(nozzle.gain)},
                    {"stall_margin", number(nozzle.stall_margin)},
                    {"evaluations", nozzle.evaluations}});
  }
  return list;
}

Json thumb_json(const choice::Thumb& thumb, std::string_view slope, std::string_view offset) {
  if (!std::isfinite(thumb.slope)) return nullptr;
  return {{slope, thumb.slope},
          {offset, thumb.offset},
          {"deviation_m", thumb.deviation},
          {"worst_m", thumb.worst},
          {"fans", thumb.fans}};
}

Json sizing_json(const ChooseOutcome& outcome) {
  Json fans = Json::array();
  for (const auto& fan : outcome.sizing.fans) {
    fans.push_back({{"fan", fan_label(outcome, outcome.ranking.choices[fan.choice])},
                    {"bore_m", number(fan.bore)},
                    {"thrust_n", number(fan.thrust)},
                    {"stand_off_m", fan.stand_off > 0.0 ? number(fan.stand_off) : Json(nullptr)}});
  }
  return {{"fans", fans},
          {"by_bore", thumb_json(outcome.sizing.by_bore, "slope", "offset_m")},
          {"by_root_thrust",
           thumb_json(outcome.sizing.by_root_thrust, "slope_m_per_root_n", "offset_root_n")}};
}

Json bracket_json(const ChooseOutcome& outcome) {
  if (!outcome.bracket) return nullptr;
  const auto& b = *outcome.bracket;
  return {{"thrust_n", number(b.thrust)},
          {"height_m", number(b.height)},
          {"moment_nm", number(b.moment)},
          {"tolerated_tilt_rad", number(b.tolerated_tilt)},
          {"stiffness_n_per_m", number(b.stiffness)},
          {"turning_stiffness_nm_per_rad", number(b.turning_stiffness)},
          {"bend_m", number(b.bend)}};
}

}  // namespace

std::string choose_json(const ChooseOutcome& outcome) {
  Json document;
  document["title"] = outcome.bench.title;
  document["feasible"] = starts(outcome);
  document["headline"] = headline(outcome);
  document["beside"] = beside_the_headline(outcome);
  document["need"] = what_is_needed(outcome);
  Json choices = Json::array();
  for (std::size_t i = 0; i < outcome.ranking.choices.size(); ++i) {
    choices.push_back(choice_json(outcome, i));
  }
  document["choices"] = choices;
  document["short_list"] = short_list_json(outcome);
  Json rungs = Json::array();
  for (const auto& rung : ladder(outcome)) {
    rungs.push_back({{"stand_off_m", number(rung.distance)},
                     {"fans", rung.fans},
                     {"travel_ends", rung.travel_ends}});
  }
  document["ladder"] = rungs;
  document["nozzles"] = nozzles_json(outcome);
  document["sizing"] = sizing_json(outcome);
  document["bracket"] = bracket_json(outcome);
  Json skipped = Json::array();
  for (const auto& file : outcome.catalogue.skipped) {
    skipped.push_back({{"file", file.file}, {"reason", file.reason}});
  }
  document["skipped"] = skipped;
  Json assumed = Json::array();
  for (const auto& value : outcome.bench.assumed) {
    assumed.push_back({{"key", value.key}, {"value", value.value}, {"source", value.source}});
  }
  document["assumed"] = assumed;
  document["warnings"] = outcome.bench.warnings;
  Json mind = Json::array();
  for (const auto& caution : cautions()) mind.push_back(caution.brief);
  document["cautions"] = mind;
  constexpr int indent = 2;
  return document.dump(indent, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace windgap::report
