#include <nlohmann/json.hpp>

#include "report/json_number.h"
#include "report/spark_text.h"
#include "report/spark_words.h"

namespace windgap::report {
namespace {

using Json = nlohmann::ordered_json;

double kilovolts(double volts) {
  return volts / units::find_unit("kV", units::Dimension::voltage)->factor;
}

std::string_view supply_name(spark::Supply supply) {
  switch (supply) {
    case spark::Supply::isolated_low_voltage:
      return "isolated_low_voltage";
    case spark::Supply::isolated_mains:
      return "isolated_mains";
    case spark::Supply::tied_to_mains:
      break;
  }
  return "tied_to_mains";
}

std::string_view route_name(spark::Route route) {
  switch (route) {
    case spark::Route::gas:
      return "gas";
    case spark::Route::vapour:
      return "vapour";
    case spark::Route::mist:
      return "mist";
    case spark::Route::none:
      break;
  }
  return "none";
}

Json findings_json(const std::vector<spark::Finding>& findings) {
  Json list = Json::array();
  for (const auto& finding : findings) {
    list.push_back({{"key", finding.key},
                    {"unit", finding.unit},
                    {"asked", number(finding.read)},
                    {"allowed", number(finding.allowed)},
                    {"why", finding.why}});
  }
  return list;
}

std::string_view connection_name(spark::Connection connection) {
  switch (connection) {
    case spark::Connection::permanent:
      return "permanent";
    case spark::Connection::self_closing:
      return "self_closing";
    case spark::Connection::switched:
      break;
  }
  return "switched";
}

Json starving_json(const std::optional<spark::StarvingBleeder>& bleeder) {
  if (!bleeder) return nullptr;
  return {{"available_kv_without", number(kilovolts(bleeder->peak_without))},
          {"least_resistance_ohm", number(bleeder->resistance)},
          {"safe_after_s", number(bleeder->safe_after)}};
}

Json charge_json(const spark::Assessment& spark,
                 const spark::Bleed& bleed,
                 const spark::ChargeCoefficients& c) {
  if (!spark.charge) return nullptr;
  const auto& charge = *spark.charge;
  const auto& lamp = charge.indicator;
  Json fitted = nullptr;
  if (const auto* const chain = std::get_if<spark::ResistorChain>(&bleed)) {
    const auto share = spark::chain_share(*chain, charge.store, c);
    const bool contact = chain->connection == spark::Connection::self_closing;
    fitted = {{"kind", "resistors"},
              {"connection", connection_name(chain->connection)},
              {"contact_bears_v", contact ? number(charge.store.voltage) : Json(nullptr)},
              {"resistors", chain->count},
              {"voltage_each_v", number(share.voltage)},
              {"rated_voltage_v", number(chain->rated_voltage)},
              {"power_each_w", number(share.power)},
              {"energy_each_j", number(share.energy)},
              {"asked_power_w", number(share.asked_power)},
              {"rated_power_w", number(chain->rated_power)}};
  }
  if (const auto* const lamps = std::get_if<spark::Lamp>(&bleed)) {
    fitted = {{"kind", "lamp"},
              {"lamps", lamps->count},
              {"voltage_each_v", number(charge.store.voltage / lamps->count)},
              {"rated_voltage_v", number(lamps->rated_voltage)},
              {"rated_power_w", number(lamps->rated_power)},
              {"hottest_filament_k", number(charge.fitted.hottest_filament)}};
  }
  Json advice = nullptr;
  if (charge.advice) {
    const auto& chain = charge.advice->chain;
    advice = {{"connection", connection_name(charge.advice->connection)},
              {"resistors", chain.count},
              {"resistance_each_ohm", number(chain.resistance_each)},
              {"voltage_each_v", number(chain.voltage_each)},
              {"rated_voltage_v", number(chain.rating.voltage)},
              {"power_each_w", number(chain.power_each)},
              {"rated_power_w", number(chain.rating.power)},
              {"available_kv_if_permanent", number(kilovolts(charge.advice->peak_voltage))},
              {"margin_if_permanent", number(charge.advice->margin)}};
  }
  return {{"capacitance_f", number(charge.store.capacitance)},
          {"voltage_v", number(charge.store.voltage)},
          {"energy_j", number(charge.energy)},
          {"hazard", hazard_words(charge.hazard)},
          {"charge_limit_after_s", number(charge.fitted.charge_limit_after)},
          {"energy_limit_after_s", number(charge.fitted.energy_limit_after)},
          {"recovery_voltage_v", number(charge.fitted.recovery_voltage)},
          {"unaided_s", number(charge.unaided)},
          {"unaided_range_s", {number(charge.unaided_least), number(charge.unaided_most)}},
          {"needs_no_bleeder", charge.small},
          {"fitted_bleeder", fitted},
          {"bleeder", advice},
          {"indicator_dark_after_s", lamp ? number(lamp->dark_after) : Json(nullptr)},
          {"indicator_charge_left_c", lamp ? number(lamp->charge_left) : Json(nullptr)},
          {"indicator_truthful", lamp ? Json(lamp->truthful) : Json(nullptr)},
          {"cautions", findings_json(charge.fitted.findings)}};
}

std::string_view jump_name(spark::Jump jump) {
  switch (jump) {
    case spark::Jump::no:
      return "no";
    case spark::Jump::unsure:
      return "unsure";
    case spark::Jump::yes:
      break;
  }
  return "yes";
}

/// Ranges of the sources behind the breakdown and the ignition, in the gas judged.
Json checked_json(const spark::Assessment& spark, const spark::Coefficients& c) {
  return {{"relative_density", number(spark.checked.density)},
          {"lowest_density", number(c.gap.lowest_density)},
          {"highest_density", number(c.gap.highest_density)},
          {"shortest_gap_m", number(spark.checked.shortest)},
          {"longest_gap_m", number(spark.checked.longest)},
          {"least_pressure_gap_pa_m", number(c.gap.minimum_product)},
          {"greatest_pressure_gap_pa_m", number(c.gap.longest_gap * c.gap.reference_pressure)},
          {"highest_velocity_m_s", number(c.ignition.highest_velocity)}};
}

Json ladder_json(const std::optional<spark::LadderState>& state) {
  if (!state) return nullptr;
  return {{"open_kv", number(kilovolts(state->open_voltage))},
          {"drawn_a", number(state->current)},
          {"drop_kv", number(kilovolts(state->drop))},
          {"ripple_kv", number(kilovolts(state->ripple))},
          {"ripple_by_makers_rule_kv", number(kilovolts(state->other_ripple))}};
}

Json source_json(const casefile::SparkSource& source,
                 const SourceVerdict& verdict,
                 const casefile::Igniter& igniter,
                 const casefile::Case& bench) {
  const auto& spark = verdict.spark;
  const auto reason = why_not(spark, igniter, bench.system);
  return {{"name", source.name},
          {"kind", casefile::kind_name(source.source)},
          {"supply", supply_name(spark.supply)},
          {"state", verdict.state},
          {"verdict", verdict_word(spark)},
          {"lights", spark.lights},
          {"jump", jump_name(spark.jump)},
          {"jumps", spark.jumps},
          {"breakdown_kv", number(kilovolts(spark.breakdown.voltage))},
          {"required_kv", number(kilovolts(spark.required_voltage))},
          {"available_kv", number(kilovolts(spark.output.peak_voltage))},
          {"margin", number(spark.margin)},
          {"wanted_margin", number(spark.wanted_margin)},
          {"energy_j", number(spark.output.spark_energy)},
          {"energy_in_gas_j", number(spark.energy_in_gas)},
          {"needed_energy_j", number(spark.need.energy)},
          {"energy_ratio", number(spark.energy_ratio)},
          {"wanted_energy_ratio", number(spark.wanted_energy_ratio)},
          {"enough", spark.enough},
          {"quenches", spark.quenches},
          {"why", reason.empty() ? Json(nullptr) : Json(reason)},
          {"route", route_name(spark.need.route)},
          {"sparks_per_second", number(spark.output.sparks_per_second)},
          {"wanted_sparks_per_second", number(spark.wanted_rate)},
          {"rare", spark.rare},
          {"average_power_w", number(spark.output.average_power)},
          {"quench_distance_m", number(spark.gaps.shortest)},
          {"longest_gap_m", number(spark.gaps.longest)},
          {"longest_gap_ends_with_the_check", spark.gaps.ends_with_the_check},
          {"checked", checked_json(spark, bench.models.spark)},
          {"starving_bleeder", starving_json(spark.starving)},
          {"ladder", ladder_json(spark.output.ladder)},
          {"safe_after_s", number(spark.safe_after)},
          {"safe_after_needs_connecting", spark.charge && waits_for_a_hand(source.bleed)},
          {"safe_after_only_shorted", spark.keep_shorted},
          {"stored_charge", charge_json(spark, source.bleed, bench.models.spark.charge)},
          {"extrapolated",
           spark.breakdown.validity == spark::Validity::extrapolated ||
               spark.need.validity == spark::Validity::extrapolated},
          {"cautions", findings_json(spark.findings)}};
}

Json igniter_json(const casefile::Igniter& igniter,
                  const IgniterVerdict& verdict,
                  const casefile::Case& bench) {
  Json states = Json::array();
  for (const auto& state : verdict.states) {
    states.push_back({{"name", state.name},
                      {"pressure_pa", number(state.conditions.gas.pressure)},
                      {"temperature_k", number(state.conditions.gas.temperature)},
                      {"velocity_m_s", number(state.conditions.velocity)}});
  }
  if (!verdict.no_light_off.empty()) {
    states.push_back({{"name", light_off_state},
                      {"pressure_pa", nullptr},
                      {"temperature_k", nullptr},
                      {"velocity_m_s", nullptr},
                      {"why", verdict.no_light_off}});
  }
  Json sources = Json::array();
  for (std::size_t i = 0; i < verdict.sources.size(); ++i) {
    sources.push_back(source_json(igniter.sources[i], verdict.sources[i], igniter, bench));
  }
  Json best = Json::array();
  for (const auto i : verdict.ranked) best.push_back(i);
  const auto better = preferred(igniter, verdict, bench.system);
  const bool chamber = igniter.place == casefile::PlugPlace::chamber;
  return {{"name", igniter.name},
          {"place", chamber ? "chamber" : "afterburner"},
          {"headline", headline(igniter, verdict)},
          {"also", under_headline(igniter, verdict, bench.system)},
          {"gap_m", number(igniter.gap.length)},
          {"other_fuel", verdict.other_fuel.empty() ? Json(nullptr) : Json(verdict.other_fuel)},
          {"lights", lights(verdict)},
          {"states", states},
          {"sources", sources},
          {"best_first", best},
          {"prefer", better.empty() ? Json(nullptr) : Json(better)}};
}

}  // namespace

std::string spark_json(const Outcome& outcome, const std::vector<IgniterVerdict>& verdicts) {
  return spark_json(outcome.bench, verdicts, shown_row(outcome).stand_off);
}

std::string spark_json(const casefile::Case& bench,
                       const std::vector<IgniterVerdict>& verdicts,
                       double stand_off) {
  Json cautions = Json::array();
  for (const auto& caution : spark_cautions()) cautions.push_back(caution.brief);
  Json igniters = Json::array();
  bool all = true;
  for (std::size_t i = 0; i < verdicts.size(); ++i) {
    igniters.push_back(igniter_json(bench.igniters[i], verdicts[i], bench));
    all = all && lights(verdicts[i]);
  }
  Json assumed = Json::array();
  for (const auto& value : bench.assumed) {
    if (!value.key.starts_with("igniters.")) continue;
    assumed.push_back({{"key", value.key}, {"value", value.value}, {"source", value.source}});
  }
  const Json document{{"cautions", cautions},
                      {"title", bench.title},
                      {"stand_off_m", number(stand_off)},
                      {"lights", all},
                      {"igniters", igniters},
                      {"not_known", spark::ignition_unknowns},
                      {"assumed", assumed}};
  constexpr int indent = 2;
  return document.dump(indent, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace windgap::report
