#include "report/html_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <variant>

#include "report/cautions.h"
#include "report/cold_check.h"
#include "report/html_text.h"
#include "report/scene.h"
#include "report/shown.h"
#include "report/verdict.h"
#include "report/weight.h"

namespace windgap::report {
namespace {

std::string limits_title(const Outcome& outcome) {
  const Shown shown(outcome.bench.system);
  const auto& advice = outcome.answer.advice;
  const auto* const whose = !outcome.chance            ? ""
                            : outcome.answer.jet_known ? ", of the nominal bench"
                                                       : ", of the likeliest jet";
  if (outcome.asked || !advice.feasible) {
    return fmt::format("Limits at {}{}", shown.length(shown_row(outcome).stand_off), whose);
  }
  return fmt::format("Limits at the far end, {}{}", shown.length(advice.edge), whose);
}

/// The height between the legs of a U-tube.
std::string water_column(double pascal) {
  const double height = pascal / units::find_unit("mmH2O", units::Dimension::pressure)->factor;
  return fmt::format("{:.0f} mm", height);
}

template <class Show>
std::vector<std::string> cold_row(const std::string& name,
                                  double ColdReading::*field,
                                  const ColdCheck& check,
                                  Show show) {
  const double least = check.least.*field;
  return {name,
          show(check.expected.*field),
          check.contains.empty()
              ? "not known"
              : fmt::format("{} to {}", show(check.low.*field), show(check.high.*field)),
          std::isfinite(least) ? show(least) : "not known"};
}

std::string do_not_light(const ColdCheck& check, const Outcome& outcome) {
  const Shown shown(outcome.bench.system);
  if (!std::isfinite(check.least.tap_pressure)) {
    return "No starting airflow is known for this engine, so no reading can say that it will "
           "light.";
  }
  const auto pressure = shown.pressure(check.least.tap_pressure);
  const auto below =
      std::isfinite(check.least.rotor_speed)
          ? fmt::format("{} or {}", shown.rotation(check.least.rotor_speed), pressure)
          : pressure;
  return fmt::format("Below {} do not light: the starting airflow is not there.", below);
}

/// Modules whose coefficients this case's answer went through.
bool takes_part(const std::string& module, const casefile::Case& bench) {
  static constexpr std::array<std::string_view, 5> engine{
      "compressor", "combustor", "turbine", "bearings", "engine"};
  static constexpr std::array<std::string_view, 2> blower{"drive", "fan"};
  static constexpr std::array<std::string_view, 5> always{
      "bench", "air", "jet", "capture", "blockage"};
  const auto in = [&](const auto& list) {
    return std::find(list.begin(), list.end(), module) != list.end();
  };
  if (in(engine)) return !bench.parts.engine.resistance;
  if (module == "start" || module == "fuels") return bench.attempt.has_value();
  if (module == "purge") return bench.attempt.has_value() || bench.cool.possible;
  if (module == "spark") return !bench.igniters.empty();
  if (in(blower)) return std::holds_alternative<fan::Fan>(bench.parts.source);
  if (module == "cooling" || module == "materials") return bench.cool.possible;
  return in(always) || module == "placement";
}

std::string citation(const std::string& key, const casefile::Case& bench) {
  const auto found = bench.models.sources.find(key);
  if (found == bench.models.sources.end()) return key;
  const auto& source = found->second;
  std::string text;
  const auto add = [&](const std::string& part, std::string_view before) {
    if (part.empty() || part == "-" || part == "none") return;
    if (!text.empty()) text += before;
    text += part;
  };
  add(source.authors, "");
  add(source.year, ", ");
  add(source.title, ": ");
  add(source.publication, ", ");
  add(source.page, ", ");
  if (source.status != "read" && !source.status.empty())
    text += fmt::format(" ({})", source.status);
  return text + ".";
}

}  // namespace

std::string limits_section(const Outcome& outcome) {
  std::vector<std::vector<std::string>> rows;
  for (const auto& line : constraint_lines(outcome)) {
    const auto* const mark = !line.holds ? "short" : (line.active ? "holds the mount" : "");
    rows.push_back({line.label, line.value, line.limit, line.slack, mark});
  }
  return fmt::format("<section>\n{}{}</section>\n",
                     element("h2", limits_title(outcome)),
                     table_of({"limit on", "here", "allowed", "to spare", ""}, rows));
}

std::string cold_check_section(const Outcome& outcome) {
  const auto check = cold_check(outcome);
  const Shown shown(outcome.bench.system);
  std::vector<std::vector<std::string>> rows;
  if (std::isfinite(check.expected.rotor_speed)) {
    rows.push_back(cold_row("rotor speed", &ColdReading::rotor_speed, check, [&](double speed) {
      return shown.rotation(speed);
    }));
  }
  rows.push_back(
      cold_row("manometer on the wall tap", &ColdReading::tap_pressure, check, [&](double pascal) {
        return shown.pressure(pascal);
      }));
  if (outcome.bench.system == units::System::metric) {
    rows.push_back(
        cold_row("the same as height h of water", &ColdReading::tap_pressure, check, water_column));
  }
  std::string band = "No band: nothing says how far what was measured may be off.";
  if (!check.contains.empty()) {
    band = fmt::format("The band holds {}. It does not hold what else is assumed below.",
                       fmt::join(check.contains, "; and "));
  }
  std::string text = "<section class=\"card\">\n<h2>Cold check</h2>\n";
  text += "<div class=\"sides\"><div>\n<ol>\n";
  text += "<li>No fuel in the lines, igniter off, oil pump running.</li>\n";
  text += fmt::format("<li>Fan on at full throttle, its exit {} before the mouth.</li>\n",
                      escaped(shown.length(check.stand_off)));
  text += "<li>Wait until the readings stand still, then compare.</li>\n</ol>\n";
  text += fmt::format("<p class=\"least\">{}</p>\n", escaped(do_not_light(check, outcome)));
  text += "</div>\n" + tap_view() + "</div>\n";
  text += table_of({"", "expect", "band", "do not light below"}, rows);
  text += element("p", band);
  return text +
         "<p>The tap is a small clean hole square through the wall of the throat, without a burr. "
         "It reads the pressure above the room's; with the tapped leg the lower one the reading is "
         "positive.</p>\n</section>\n";
}

std::string assumptions_section(const Outcome& outcome) {
  if (outcome.bench.assumed.empty()) {
    return "<section>\n<h2>Assumed</h2>\n<p>Nothing.</p>\n</section>\n";
  }
  std::vector<std::vector<std::string>> rows;
  for (const auto& weighed : weigh_assumptions(outcome)) {
    rows.push_back(
        {weighed.value.key,
         weighed.value.value,
         std::isfinite(weighed.effect) ? Shown(outcome.bench.system).share(weighed.effect) : "",
         weighed.value.source});
  }
  return fmt::format(
      "<section>\n<h2>Assumed</h2>\n<p>Nobody gave these values. Weight is how much airflow over "
      "need changes when the value moves by its spread, by a tenth where none is known; the "
      "weightiest are worth measuring.</p>\n{}</section>\n",
      table_of({"value", "assumed", "weight", "why"}, rows));
}

std::string warnings_section(const Outcome& outcome) {
  const auto list = warnings(outcome);
  if (list.empty()) return {};
  return "<section class=\"warnings\">\n<h2>Warnings</h2>\n" + list_of(list) + "</section>\n";
}

std::string cautions_section() {
  std::string text = "<section id=\"cautions\">\n<h2>Cautions</h2>\n<ul class=\"cautions\">\n";
  for (const auto& caution : cautions()) text += element("li", caution.full);
  return text + "</ul>\n</section>\n";
}

std::string sources_section(const casefile::Case& bench) {
  std::map<std::string, std::string> used;
  for (const auto& info : bench.models.infos) {
    if (!takes_part(info.module, bench)) continue;
    auto& list = used[info.source];
    if (!list.empty()) list += ", ";
    list += info.module + "." + info.key;
  }
  std::string text =
      "<section class=\"sources\">\n<h2>Sources of the coefficients</h2>\n"
      "<dl>\n";
  for (const auto& [key, list] : used) {
    text += element("dt", citation(key, bench)) + element("dd", list);
  }
  return text + "</dl>\n</section>\n";
}

}  // namespace windgap::report
