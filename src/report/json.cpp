#include "report/json.h"

#include <nlohmann/json.hpp>

#include "report/cautions.h"
#include "report/chance.h"
#include "report/json_number.h"
#include "report/verdict.h"

namespace windgap::report {
namespace {

using Json = nlohmann::ordered_json;
using placement::Constraint;

std::string finished(const Json& document) {
  constexpr int indent = 2;
  return document.dump(indent, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string_view unit_of(Constraint constraint) {
  switch (constraint) {
    case Constraint::starting_airflow:
      return "kg/s";
    case Constraint::lightoff_speed:
      return "rpm";
    case Constraint::lightoff_velocity:
      return "m/s";
    case Constraint::drive_current:
      return "A";
    case Constraint::burst_heating:
      return "s";
    case Constraint::bracket_travel:
      return "m";
    case Constraint::fan_stall:
    case Constraint::running_loss:
      break;
  }
  return "1";
}

double in_its_unit(Constraint constraint, double value) {
  return constraint == Constraint::lightoff_speed ? rpm(value) : value;
}

Json constraints_json(const placement::ConstraintStates& states) {
  Json list = Json::array();
  for (const auto& state : states) {
    list.push_back({{"name", placement::name(state.constraint)},
                    {"value", number(in_its_unit(state.constraint, state.value))},
                    {"limit", number(in_its_unit(state.constraint, state.limit))},
                    {"unit", unit_of(state.constraint)},
                    {"slack", number(state.slack)},
                    {"active", state.active}});
  }
  return list;
}

Json slot_json(const placement::Slot& slot) {
  return Json::array({number(slot.near), number(slot.far)});
}

Json slots_json(const placement::Placement& placement) {
  Json list = Json::array();
  for (const auto& slot : placement.slots) list.push_back(slot_json(slot));
  return list;
}

Json slot_limits_json(const placement::Placement& placement) {
  Json list = Json::array();
  for (const auto& slot : placement.slots) {
    list.push_back(
        {{"near", placement::name(slot.near_limit)}, {"far", placement::name(slot.far_limit)}});
  }
  return list;
}

double windmill_rpm(const rig::Delivery& delivery) {
  return delivery.settling == rig::Settling::no_rotor ? unset : rpm(delivery.rotor_speed);
}

Json shortfall_json(const placement::Placement& placement) {
  if (!placement.shortfall) return nullptr;
  const auto& shortfall = *placement.shortfall;
  return {{"constraint", placement::name(shortfall.constraint)},
          {"stand_off_m", number(shortfall.stand_off)},
          {"value", number(in_its_unit(shortfall.constraint, shortfall.value))},
          {"limit", number(in_its_unit(shortfall.constraint, shortfall.limit))},
          {"unit", unit_of(shortfall.constraint)},
          {"thrust_factor", number(shortfall.thrust_factor)},
          {"nearer_m", number(shortfall.nearer)},
          {"farther_m", number(shortfall.farther)},
          {"airflow_kg_s", number(placement.mount.delivery.airflow)},
          {"windmill_rpm", number(windmill_rpm(placement.mount.delivery))}};
}

Json regime_json(const std::optional<placement::Placement>& placement) {
  if (!placement) return nullptr;
  const bool feasible = placement->feasible;
  return {{"feasible", feasible},
          {"stand_off_m", feasible ? number(placement->stand_off) : Json(nullptr)},
          {"edge_m", feasible ? number(placement->edge) : Json(nullptr)},
          {"slots_m", slots_json(*placement)},
          {"airflow_kg_s", feasible ? number(placement->mount.delivery.airflow) : Json(nullptr)},
          {"shortfall", shortfall_json(*placement)}};
}

std::string_view advice_name(const placement::Answer& answer) {
  if (!answer.jet_known) {
    switch (answer.choice) {
      case rig::JetChoice::nozzle_like:
        return "nozzle_like";
      case rig::JetChoice::propeller_like:
        return "propeller_like";
      case rig::JetChoice::estimated:
        return "estimated";
    }
  }
  switch (answer.rig.jet_source) {
    case rig::JetSource::readings:
      return "readings";
    case rig::JetSource::stated:
      return "stated";
    case rig::JetSource::bound:
    case rig::JetSource::estimated:
      break;
  }
  return "stream";
}

Json regimes_json(const placement::Answer& answer) {
  return {{"advice", advice_name(answer)},
          {"propeller_share", number(answer.rig.propeller_share)},
          {"nozzle_like", regime_json(answer.nozzle_like)},
          {"propeller_like", regime_json(answer.propeller_like)},
          {"estimated", regime_json(answer.estimated)}};
}

std::string_view settling_name(rig::Settling settling) {
  switch (settling) {
    case rig::Settling::turning:
      return "turning";
    case rig::Settling::at_rest:
      return "at_rest";
    case rig::Settling::runs_away:
      return "runs_away";
    case rig::Settling::no_rotor:
      return "no_rotor";
    case rig::Settling::no_flow:
      break;
  }
  return "no_flow";
}

Json fan_json(const Outcome& outcome) {
  const auto& row = shown_row(outcome);
  const bool driven = !outcome.answer.rig.fan.holds_flow;
  return {{"shaft_rpm", driven ? number(rpm(row.fan.speed)) : Json(nullptr)},
          {"exit_velocity_m_s", number(row.fan.exit_velocity)},
          {"exit_dynamic_pressure_pa", number(row.fan.dynamic_head)},
          {"mass_flow_kg_s", number(row.fan.mass_flow)},
          {"thrust_n", number(row.fan.thrust)},
          {"pack_current_a", driven ? number(row.fan.drive.pack_current) : Json(nullptr)},
          {"pack_voltage_v", driven ? number(row.fan.drive.pack_voltage) : Json(nullptr)}};
}

Json assumed_json(const std::vector<casefile::AssumedValue>& values) {
  Json list = Json::array();
  for (const auto& assumed : values) {
    list.push_back({{"key", assumed.key}, {"value", assumed.value}, {"source", assumed.source}});
  }
  return list;
}

Json cautions_json() {
  Json list = Json::array();
  for (const auto& caution : cautions()) list.push_back(caution.brief);
  return list;
}

/// One standard deviation, and what makes most of it.
void add_spread(Json& document, const Outcome& outcome) {
  constexpr std::size_t most = 12;
  const bool known = outcome.spread.has_value();
  document["supply_deviation"] = known ? number(outcome.spread->supply_deviation) : Json(nullptr);
  document["stand_off_deviation_m"] =
      known ? number(outcome.spread->stand_off_deviation) : Json(nullptr);
  Json list = Json::array();
  if (known) {
    for (const auto& influence : outcome.spread->influences) {
      if (list.size() == most) break;
      list.push_back({{"name", influence.name},
                      {"supply", number(influence.supply)},
                      {"stand_off_m", number(influence.stand_off)}});
    }
  }
  document["influences"] = list;
}

Json confirmation_json(const Outcome& outcome) {
  if (!outcome.confirmation) return nullptr;
  Json runs = Json::array();
  for (const auto& run : outcome.confirmation->runs) {
    runs.push_back({{"stand_off_m", number(run.stand_off)},
                    {"caught", run.caught},
                    {"reason", run.reason},
                    {"light_off_to_fan_off_s", number(run.spin_up)}});
  }
  return {{"runs", runs}, {"stops_at_m", number(outcome.confirmation->stops_at)}};
}

/// What the cold and the warm start need and get at the mount; empty unless the need is derived.
Json seasons_json(const Outcome& outcome) {
  Json list = Json::array();
  for (const auto& season : outcome.seasons) {
    list.push_back({{"name", season.name},
                    {"temperature_k", number(season.temperature)},
                    {"airflow_kg_s", number(season.airflow)},
                    {"starting_airflow_kg_s", number(season.starting_airflow)},
                    {"margin", number(season.airflow / season.starting_airflow - 1.0)},
                    {"enough", season.airflow >= season.starting_airflow}});
  }
  return list;
}

/// The slot that holds a stand-off, or null.
Json holding_slot(const placement::Placement& advice, double stand_off) {
  for (const auto& slot : advice.slots) {
    if (slot.near <= stand_off && stand_off <= slot.far) return slot_json(slot);
  }
  return nullptr;
}

}  // namespace

std::string place_json(const Outcome& outcome) {
  const auto& bench = outcome.bench;
  const auto& advice = outcome.answer.advice;
  const auto& row = shown_row(outcome);
  // Without a mount nothing holds there; `shortfall` and the constraints tell of the best place.
  const bool placed = outcome.asked || advice.feasible;
  const auto there = [&](double value) { return placed ? number(value) : Json(nullptr); };
  const bool advised = !outcome.asked && advice.feasible;
  const auto place = hole(bench, row.stand_off);

  Json document;
  document["title"] = bench.title;
  document["feasible"] = fits(outcome) && !refuted(outcome);
  document["stand_off_m"] = there(row.stand_off);
  document["hole_to_mouth_m"] = there(place.to_mouth);
  document["hole_to_datum_m"] = there(place.to_datum);
  document["slots_m"] = slots_json(advice);
  document["slot_m"] = advised ? slot_json(advice.slot)
                               : (placed ? holding_slot(advice, row.stand_off) : Json(nullptr));
  document["slot_limits"] = slot_limits_json(advice);
  document["edge_m"] = advised ? number(advice.edge) : Json(nullptr);
  document["slip_m"] = number(bench.requirement.slip);
  document["outside_travel"] = outside_travel(outcome);
  document["airflow_kg_s"] = there(row.delivery.airflow);
  document["starting_airflow_kg_s"] = number(advice.starting_airflow);
  document["starting_airflow_from"] = starting_airflow_from(bench);
  document["required_airflow_kg_s"] = number(required_airflow(outcome));
  document["margin"] = there(row.delivery.airflow / advice.starting_airflow - 1.0);
  document["windmill_rpm"] = there(windmill_rpm(row.delivery));
  document["rotor"] = settling_name(row.delivery.settling);
  document["lightoff_rpm"] = number(rpm(advice.lightoff_speed));
  document["total_pressure_pa"] = there(row.delivery.total_pressure);
  document["fan_back_pressure_pa"] = there(row.delivery.back_pressure);
  document["capture_ratio"] = there(row.delivery.capture_ratio);
  document["running_loss"] = there(row.obstruction.running_loss);
  document["running_airflow_loss"] = there(row.obstruction.airflow_loss);
  document["running_thrust_loss"] = there(row.obstruction.thrust_loss);
  document["throttle"] =
      outcome.answer.rig.fan.holds_flow ? Json(nullptr) : number(outcome.answer.rig.throttle);
  document["nozzle_m"] = number(advice.nozzle);
  document["fan"] = placed ? fan_json(outcome) : Json(nullptr);
  document["constraints"] = constraints_json(shown_constraints(outcome));
  document["shortfall"] = outcome.asked ? Json(nullptr) : shortfall_json(advice);
  document["regimes"] = regimes_json(outcome.answer);
  add_spread(document, outcome);
  document["seasons"] = seasons_json(outcome);
  document["confirmation"] = confirmation_json(outcome);
  if (outcome.chance) document.update(chance_json(outcome));
  document["wake_zone_end_m"] = number(advice.wake_zone_end);
  document["back_pressure_zone_end_m"] = number(advice.back_pressure_zone_end);
  document["assumed"] = assumed_json(bench.assumed);
  document["warnings"] = warnings(outcome);
  document["cautions"] = cautions_json();
  document["evaluations"] = advice.evaluations;
  return finished(document);
}

std::string sweep_json(const casefile::Case& bench,
                       const placement::Answer& answer,
                       const Survey& survey) {
  Json rows = Json::array();
  for (std::size_t i = 0; i < survey.rows.size(); ++i) {
    const auto& row = survey.rows[i];
    const auto other = [&](const std::vector<rig::Delivery>& deliveries) {
      return deliveries.empty() ? Json(nullptr) : number(deliveries[i].airflow);
    };
    rows.push_back({{"stand_off_m", number(row.stand_off)},
                    {"airflow_kg_s", number(row.delivery.airflow)},
                    {"total_pressure_pa", number(row.delivery.total_pressure)},
                    {"windmill_rpm", number(windmill_rpm(row.delivery))},
                    {"fan_back_pressure_pa", number(row.delivery.back_pressure)},
                    {"running_loss", number(row.obstruction.running_loss)},
                    {"feasible", row.feasible},
                    {"airflow_nozzle_like_kg_s", other(survey.nozzle_like)},
                    {"airflow_propeller_like_kg_s", other(survey.propeller_like)},
                    {"airflow_estimated_kg_s", other(survey.estimated)}});
  }
  Json document;
  document["title"] = bench.title;
  document["jet"] = advice_name(answer);
  document["starting_airflow_kg_s"] = number(answer.advice.starting_airflow);
  document["rows"] = rows;
  document["assumed"] = assumed_json(bench.assumed);
  document["warnings"] = bench.warnings;
  return finished(document);
}

std::string check_json(const casefile::Case& bench) {
  Json given = Json::array();
  for (const auto& value : bench.given) {
    given.push_back({{"key", value.key},
                     {"written", value.written},
                     {"value", value.shown},
                     {"place", casefile::to_text(brief(value.place))}});
  }
  Json document;
  document["title"] = bench.title;
  document["given"] = given;
  document["assumed"] = assumed_json(bench.assumed);
  document["assumed_to_cool"] = assumed_json(bench.cool.assumed);
  document["warnings"] = bench.warnings;
  return finished(document);
}

}  // namespace windgap::report
