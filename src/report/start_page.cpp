#include "report/start_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/html_text.h"
#include "report/plot_frame.h"
#include "report/plots.h"
#include "report/shown.h"
#include "report/start_story.h"

namespace windgap::report {
namespace {

using units::Dimension;

constexpr double headroom = 1.1;

/// What a plot against time shows of a sample.
using Quantity = double (*)(const start::Sample&);

struct Curve {
  std::string name;
  Quantity quantity;
};

struct TimePlot {
  std::string title;
  std::string axis;
  Dimension dimension;
  std::vector<Curve> curves;
  std::string level_name = {};
  double level = unset;
  double least = 0.0;  ///< the axis begins there
};

Line style(std::size_t i, const std::string& name) {
  if (i == 0) return {.name = name, .colour = blue, .width = 2.2, .points = {}};
  if (i == 1) return {.name = name, .colour = brown, .dash = {7, 3}, .points = {}};
  return {.name = name, .colour = ink, .dash = {2, 3}, .points = {}};
}

Plot against_time(const StartStory& story, const TimePlot& wanted, units::System system) {
  const auto& samples = story.run.samples;
  Frame frame;
  frame.left = 0.0;
  frame.right = samples.back().time;
  for (std::size_t i = 0; i < wanted.curves.size(); ++i) {
    auto line = style(i, wanted.curves[i].name);
    for (const auto& sample : samples) {
      line.points.push_back({sample.time, wanted.curves[i].quantity(sample)});
    }
    frame.lines.push_back(std::move(line));
  }
  frame.top = headroom * std::max(greatest(frame.lines), wanted.least);
  if (std::isfinite(wanted.level)) frame.top = std::max(frame.top, wanted.level);
  add_level(frame, wanted.level_name, wanted.level);
  if (!(frame.top > 0.0)) frame.top = units::display_unit(0.0, wanted.dimension, system).factor;
  if (wanted.least > 0.0) frame.bottom = wanted.least;
  frame.x = axis("time", std::max(1.0, frame.right), Dimension::time, system);
  frame.y = axis(wanted.axis, frame.top, wanted.dimension, system);
  for (const auto& event : story.run.events) frame.moments.push_back(event.sample.time);
  return {.title = wanted.title,
          .caption = {},
          .spec = spec(frame, fmt::format("{} against time", wanted.title))};
}

std::vector<TimePlot> time_plots(const StartStory& story) {
  std::vector<TimePlot> list;
  list.push_back({.title = "rotor speed",
                  .axis = "rotor speed",
                  .dimension = Dimension::angular_speed,
                  .curves = {{"rotor", [](const start::Sample& s) { return s.state.speed; }}},
                  .level_name = "idle",
                  .level = story.setup.sequence.idle_speed});
  list.push_back({.title = "airflow",
                  .axis = "airflow",
                  .dimension = Dimension::mass_flow,
                  .curves = {{"through the engine",
                              [](const start::Sample& s) { return s.reading.airflow; }}}});
  list.push_back(
      {.title = "gas temperature",
       .axis = "temperature",
       .dimension = Dimension::temperature,
       .curves = {{"behind the burner",
                   [](const start::Sample& s) { return s.reading.burner_temperature; }},
                  {"flame tube", [](const start::Sample& s) { return s.state.tube_temperature; }}},
       .level_name = "limit",
       .level = story.setup.gas_temperature_limit,
       .least = story.run.samples.front().state.tube_temperature});
  list.push_back(
      {.title = "fuel",
       .axis = "fuel",
       .dimension = Dimension::mass_flow,
       .curves = {{"all fuel", [](const start::Sample& s) { return s.reading.fuel_flow; }}}});
  if (!story.setup.preheat.empty()) {
    list[list.size() - 2].curves.push_back(
        {"vaporizer", [](const start::Sample& s) { return s.state.vaporizer_temperature; }});
    list.back().curves.push_back(
        {"of it gas", [](const start::Sample& s) { return s.reading.preheat_flow; }});
  }
  const bool packed = std::any_of(story.run.samples.begin(),
                                  story.run.samples.end(),
                                  [](const auto& s) { return s.reading.pack_current > 0.0; });
  if (packed) {
    list.push_back(
        {.title = "pack current",
         .axis = "current",
         .dimension = Dimension::current,
         .curves = {{"pack", [](const start::Sample& s) { return s.reading.pack_current; }}}});
  }
  return list;
}

Plot torque_plot(const StartStory& story, units::System system) {
  const auto& map = story.map;
  const bool motor = story.starter == casefile::StarterKind::motor;
  auto with = style(0, motor ? "motor pulling" : "blown");
  auto without = style(1, "alone");
  double least = 0.0;
  for (std::size_t i = 0; i < map.speed.size(); ++i) {
    with.points.push_back({map.speed[i], map.with[i]});
    without.points.push_back({map.speed[i], map.without[i]});
    least = std::min({least, map.with[i], map.without[i]});
  }
  Frame frame;
  frame.left = 0.0;
  frame.right = map.speed.back();
  frame.lines = {with, without};
  frame.top = headroom * greatest(frame.lines);
  frame.bottom = headroom * least;
  add_level(frame, "nought", 0.0);
  frame.x = axis("rotor speed", frame.right, Dimension::angular_speed, system);
  frame.y = axis("net torque", frame.top, Dimension::torque, system);
  return {.title = "net torque on the burning rotor",
          .caption =
              "Gas held at its start temperature, turbine housing nearly cold, oil films as "
              "warm as they get. Where the dashed line crosses nought the engine sustains itself.",
          .spec = spec(frame, "net torque against rotor speed, blown and alone")};
}

std::string figure(const Plot& plot) {
  return fmt::format(
      "<figure>\n<script type=\"application/json\" data-plot>{}</script>\n"
      "<figcaption><b>{}</b> {}</figcaption>\n</figure>\n",
      plot.spec,
      escaped(plot.title),
      escaped(plot.caption));
}

std::string timeline(const StartStory& story, const casefile::Case& bench) {
  std::vector<std::vector<std::string>> rows;
  std::size_t number = 0;
  for (const auto& line : event_lines(story, bench)) {
    rows.push_back({fmt::format("{} {}", ++number, line.what),
                    line.time,
                    line.speed,
                    line.airflow,
                    line.gas,
                    line.fuel,
                    line.current});
  }
  return table_of({"event", "time", "rotor", "airflow", "gas", "fuel", "pack"}, rows);
}

std::string losses(const StartStory& story, const casefile::Case& bench) {
  std::vector<std::vector<std::string>> rows;
  for (const auto& line : loss_lines(story, bench)) {
    rows.push_back({line.name, line.speed, line.airflow});
  }
  return "<h3>What each loss costs, one after the other</h3>\n" +
         table_of({"with", "sustains itself at", "starting airflow"}, rows);
}

std::string seasons(const StartStory& story, const casefile::Case& bench) {
  std::vector<std::vector<std::string>> rows;
  for (const auto& line : season_lines(story, bench)) {
    rows.push_back({line.name, line.viscosity, line.speed, line.airflow, line.verdict});
  }
  return "<h3>The same start in the cold and in the warm</h3>\n" +
         table_of({"air and oil at", "oil", "sustains itself at", "starting airflow", ""}, rows);
}

}  // namespace

std::string start_section(const Outcome& outcome) {
  if (!outcome.start) return {};
  const auto& story = *outcome.start;
  const auto& bench = outcome.bench;
  std::string text = "<section>\n<h2>The start, second by second</h2>\n";
  text += element("h3", start_headline(story, bench));
  text += paragraph_of(start_verdict(story, bench));
  text += timeline(story, bench);
  text += "<div class=\"plots\">\n";
  for (const auto& plot : time_plots(story))
    text += figure(against_time(story, plot, bench.system));
  if (!story.map.speed.empty()) text += figure(torque_plot(story, bench.system));
  text += "</div>\n";
  text += paragraph_of(need_sentences(story, bench));
  text += "<h3>Before the igniter</h3>\n";
  text += paragraph_of(purge_sentences(story, bench));
  text += losses(story, bench);
  text += seasons(story, bench);
  return text + list_of(start_warnings(story, bench)) + "</section>\n";
}

}  // namespace windgap::report
