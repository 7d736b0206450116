#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "report/cautions.h"
#include "report/shown.h"
#include "report/spark_words.h"
#include "report/start_cause.h"
#include "report/start_story.h"

namespace windgap::report {
namespace {

constexpr std::size_t screen = 80;
constexpr std::size_t indent = 2;

std::string sentences_text(const std::vector<std::string>& sentences) {
  return wrapped(fmt::format("{}", fmt::join(sentences, " ")), indent, screen);
}

/// Events of one instant share a line, as long as their names leave room for the numbers.
std::vector<EventLine> merged(std::vector<EventLine> lines) {
  constexpr std::size_t longest = 25;
  std::vector<EventLine> list;
  for (auto& line : lines) {
    auto* const last = list.empty() ? nullptr : &list.back();
    const bool same = last != nullptr && last->time == line.time && last->speed == line.speed &&
                      last->fuel == line.fuel && last->gas == line.gas &&
                      last->what.size() + line.what.size() + 2 <= longest;
    if (same) {
      last->what += ", " + line.what;
    } else {
      list.push_back(std::move(line));
    }
  }
  return list;
}

std::string timeline_text(const StartStory& story, const casefile::Case& bench) {
  TextTable table({Align::right,
                   Align::left,
                   Align::right,
                   Align::right,
                   Align::right,
                   Align::right,
                   Align::right},
                  indent);
  constexpr std::string_view rpm_unit = " rpm";
  table.add({"time", "", "rpm", "airflow", "gas", "fuel", "pack"});
  for (const auto& line : merged(event_lines(story, bench))) {
    auto speed = line.speed;
    if (speed.ends_with(rpm_unit)) speed.resize(speed.size() - rpm_unit.size());
    table.add({line.time, line.what, speed, line.airflow, line.gas, line.fuel, line.current});
  }
  return table.text();
}

std::string losses_text(const StartStory& story, const casefile::Case& bench) {
  TextTable table({Align::left, Align::right, Align::right}, indent);
  table.add({"with", "sustains itself at", "starting airflow"});
  for (const auto& line : loss_lines(story, bench))
    table.add({line.name, line.speed, line.airflow});
  return table.text();
}

std::string seasons_text(const StartStory& story, const casefile::Case& bench) {
  TextTable table({Align::left, Align::right, Align::right, Align::right, Align::left}, indent);
  table.add({"air and oil at", "oil", "sustains at", "to start", ""});
  for (const auto& line : season_lines(story, bench)) {
    table.add({line.name, line.viscosity, line.speed, line.airflow, line.verdict});
  }
  return table.text();
}

std::string cautions_text(const casefile::Case& bench) {
  std::string list;
  for (const auto& caution : electric_cautions(bench)) list += caution + "; ";
  for (const auto& caution : cautions()) {
    list += caution.brief;
    list += "; ";
  }
  list.resize(list.size() - 2);
  return wrapped(fmt::format("Mind: {}.", list), 0, screen);
}

}  // namespace

std::string spin_brief(const StartStory& story, const casefile::Case& bench) {
  auto text = start_headline(story, bench) + "\n";
  if (!story.run.caught) text += wrapped(std::string(why_not(story.run.reason)), indent, screen);
  return text;
}

std::string spin_text(const StartStory& story, const casefile::Case& bench) {
  std::string text;
  if (!bench.title.empty()) text += bench.title + "\n\n";
  text += start_headline(story, bench) + "\n";
  text += sentences_text(start_verdict(story, bench));
  text += "\n";
  text += timeline_text(story, bench);
  text += "\n";
  text += sentences_text(need_sentences(story, bench));
  text += "\nBefore the igniter:\n" + sentences_text(purge_sentences(story, bench));
  text += "\nWhat each loss costs, one after the other:\n" + losses_text(story, bench);
  text += "\nThe same start in the cold and in the warm:\n" + seasons_text(story, bench);
  text += "\n";
  auto warnings = bench.warnings;
  for (auto& warning : start_warnings(story, bench)) warnings.push_back(std::move(warning));
  for (const auto& warning : warnings) {
    text += wrapped("Warning: " + warning, 0, screen);
  }
  return text + cautions_text(bench);
}

std::string spin_csv(const StartStory& story) {
  std::string text =
      "time_s,rpm,airflow_kg_s,gas_temperature_k,turbine_inlet_temperature_k,"
      "exhaust_temperature_k,fuel_kg_s,gas_fuel_kg_s,primary_equivalence_ratio,burner_efficiency,"
      "net_torque_n_m,gas_torque_n_m,bearing_torque_n_m,starter_torque_n_m,"
      "compressor_pressure_pa,inducer_pressure_pa,flame_holder_velocity_m_s,flame_tube_k,vaporizer_"
      "k,"
      "turbine_housing_k,oil_film_k,fan_flow_kg_s,pack_current_a,pack_voltage_v,winding_k,"
      "charge_used_ah,event\n";
  const double ampere_hour = units::find_unit("Ah", units::Dimension::charge)->factor;
  std::vector<std::pair<const start::Sample*, std::string_view>> rows;
  for (const auto& sample : story.run.samples) rows.emplace_back(&sample, "");
  for (const auto& event : story.run.events) {
    rows.emplace_back(&event.sample, start::name(event.kind));
  }
  std::stable_sort(rows.begin(), rows.end(), [](const auto& a, const auto& b) {
    return a.first->time < b.first->time;
  });
  for (const auto& [row, event] : rows) {
    const auto& sample = *row;
    const auto& s = sample.state;
    const auto& r = sample.reading;
    const std::array values{sample.time,
                            rpm(s.speed),
                            r.airflow,
                            r.burner_temperature,
                            r.turbine_temperature,
                            r.exhaust_temperature,
                            r.fuel_flow,
                            r.preheat_flow,
                            r.primary_equivalence,
                            r.burner_efficiency,
                            r.net_torque,
                            r.gas_torque,
                            r.drag_torque,
                            r.starter_torque,
                            r.compressor_pressure,
                            r.inducer_pressure,
                            r.flame_holder_velocity,
                            s.tube_temperature,
                            s.vaporizer_temperature,
                            s.housing_temperature,
                            s.film_temperature,
                            r.fan_flow,
                            r.pack_current,
                            r.pack_voltage,
                            s.winding_temperature,
                            s.charge_used / ampere_hour};
    std::vector<std::string> cells;
    cells.reserve(values.size());
    for (const double value : values) {
      cells.push_back(std::isfinite(value) ? fmt::format("{:.9g}", value) : std::string());
    }
    text += fmt::format("{},{}\n", fmt::join(cells, ","), event);
  }
  return text;
}

}  // namespace windgap::report
