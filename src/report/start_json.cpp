#include <nlohmann/json.hpp>

#include "report/cautions.h"
#include "report/json_number.h"
#include "report/shown.h"
#include "report/spark_words.h"
#include "report/start_story.h"

namespace windgap::report {
namespace {

using Json = nlohmann::ordered_json;

/// 0 stands for "from any speed" and is a number like the others.
Json rpm_or_null(double speed) { return number(rpm(speed)); }

std::string_view starter_name(casefile::StarterKind starter) {
  switch (starter) {
    case casefile::StarterKind::fan:
      return "fan";
    case casefile::StarterKind::motor:
      return "motor";
    case casefile::StarterKind::blower:
      break;
  }
  return "blower";
}

Json event_json(const start::Event& event) {
  const auto& reading = event.sample.reading;
  return {{"name", start::name(event.kind)},
          {"time_s", number(event.sample.time)},
          {"rpm", rpm_or_null(event.sample.state.speed)},
          {"airflow_kg_s", number(reading.airflow)},
          {"gas_temperature_k", number(reading.burner_temperature)},
          {"fuel_kg_s", number(reading.fuel_flow)},
          {"pack_current_a", number(reading.pack_current)},
          {"net_torque_n_m", number(reading.net_torque)}};
}

std::string_view need_name(start::Need need) {
  switch (need) {
    case start::Need::torque:
      return "torque";
    case start::Need::cooler_gas:
      return "hot_start";
    case start::Need::nothing:
      return "nothing";
    case start::Need::cannot_sustain:
      return "cannot_sustain";
    case start::Need::cannot_cool:
      return "cannot_cool";
    case start::Need::out_of_range:
      break;
  }
  return "out_of_range";
}

void add_need(Json& document, const start::StartingAirflow& need) {
  document["starting_airflow_kg_s"] = number(need.airflow);
  document["starting_airflow_decided_by"] = need_name(need.need);
  document["torque_part_kg_s"] = number(need.torque_part);
  document["hot_start_part_kg_s"] = number(need.hot_start_part);
  document["lit_airflow_kg_s"] = number(need.lit_airflow);
  document["least_fuel_kg_s"] = number(need.least_fuel);
  document["least_torque_n_m"] = number(need.least_torque);
  document["pinch_rpm"] = rpm_or_null(need.pinch_speed);
  document["windmilling_rpm"] = rpm_or_null(need.rotor_speed);
  document["primary_equivalence_ratio"] = number(need.equivalence_ratio);
}

Json losses_json(const StartStory& story) {
  Json list = Json::array();
  for (const auto& step : story.losses) {
    list.push_back({{"added", start::name(step.added)},
                    {"self_sustaining_rpm", rpm_or_null(step.result.self_sustaining_speed)},
                    {"starting_airflow_kg_s", number(step.result.airflow)}});
  }
  return list;
}

Json seasons_json(const StartStory& story) {
  Json list = Json::array();
  for (const auto& season : story.seasons) {
    list.push_back({{"name", season.name},
                    {"temperature_k", number(season.temperature)},
                    {"oil_viscosity_pa_s", number(season.oil_viscosity)},
                    {"self_sustaining_rpm", rpm_or_null(season.need.self_sustaining_speed)},
                    {"starting_airflow_kg_s", number(season.need.airflow)},
                    {"caught", season.caught},
                    {"reason", start::name(season.reason)}});
  }
  return list;
}

Json map_json(const TorqueMap& map) {
  Json list = Json::array();
  for (std::size_t i = 0; i < map.speed.size(); ++i) {
    list.push_back({{"rpm", rpm_or_null(map.speed[i])},
                    {"net_torque_with_n_m", number(map.with[i])},
                    {"net_torque_without_n_m", number(map.without[i])}});
  }
  return list;
}

}  // namespace

std::string spin_json(const StartStory& story, const casefile::Case& bench) {
  constexpr int spaces = 2;
  const auto& run = story.run;
  Json document;
  document["title"] = bench.title;
  document["caught"] = run.caught;
  document["reason"] = start::name(run.reason);
  document["spark_judged"] = story.spark_not_judged.empty();
  document["spark_not_judged"] =
      story.spark_not_judged.empty() ? Json(nullptr) : Json(story.spark_not_judged);
  document["spark_wait_s"] =
      story.spark_not_judged.empty() ? number(story.setup.ignition.wait) : Json(nullptr);
  document["starter"] = starter_name(story.starter);
  const bool blown = story.cold.has_value();
  document["stand_off_m"] = blown ? number(story.stand_off) : Json(nullptr);
  document["airflow_kg_s"] = blown ? number(story.cold->airflow) : Json(nullptr);
  document["margin"] = number(margin(story));
  Json events = Json::array();
  for (const auto& event : run.events) events.push_back(event_json(event));
  document["events"] = events;
  document["self_sustaining_rpm"] = rpm_or_null(run.self_sustaining_speed);
  document["usual_self_sustaining_rpm"] = rpm_or_null(story.need.self_sustaining_speed);
  document["hottest_gas_temperature_k"] = number(run.hottest_gas);
  document["gas_temperature_limit_k"] = number(story.setup.gas_temperature_limit);
  document["breakaway_torque_n_m"] = number(story.breakaway_torque);
  add_need(document, story.need);
  document["purge_changes"] = number(story.setup.sequence.purge.changes);
  document["purge_volume_m3"] = number(story.setup.sequence.purge.volume);
  document["least_purge_s"] = number(story.setup.sequence.purge.least);
  document["purge_changes_s"] = number(run.change_time);
  document["purge_s"] = number(run.purge_time);
  document["new_purge_s"] = number(run.new_purge_time);
  const auto& last = run.samples.back().reading;
  document["flame_at_the_end"] = {{"primary_equivalence_ratio", number(last.primary_equivalence)},
                                  {"least", number(story.flame.window.lean)},
                                  {"greatest", number(story.flame.window.rich)},
                                  {"velocity_m_s", number(last.flame_holder_velocity)},
                                  {"greatest_velocity_m_s", number(story.flame.velocity)},
                                  {"loading_kg_s_m3", number(last.loading)},
                                  {"greatest_loading_kg_s_m3", number(story.flame.loading)}};
  document["unburnt_fuel_kg"] = number(run.unburnt_fuel);
  document["fuel_used_kg"] = number(run.fuel_used);
  document["energy_missing"] = number(run.energy.relative);
  document["surged"] = run.surged;
  document["choked"] = run.choked;
  document["losses"] = losses_json(story);
  document["seasons"] = seasons_json(story);
  document["torque_map"] = map_json(story.map);
  Json assumed = Json::array();
  for (const auto& value : bench.assumed) {
    assumed.push_back({{"key", value.key}, {"value", value.value}, {"source", value.source}});
  }
  document["assumed"] = assumed;
  auto warnings = bench.warnings;
  for (auto& warning : start_warnings(story, bench)) warnings.push_back(std::move(warning));
  document["warnings"] = warnings;
  Json minded = electric_cautions(bench);
  for (const auto& caution : cautions()) minded.push_back(caution.brief);
  document["cautions"] = minded;
  document["steps"] = run.steps;
  document["evaluations"] = run.evaluations;
  return document.dump(spaces, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace windgap::report
