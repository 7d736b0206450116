#include "report/spark_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/html_text.h"
#include "report/plot_frame.h"
#include "report/plots.h"
#include "report/shown.h"
#include "report/spark_words.h"

namespace windgap::report {
namespace {

using units::Dimension;

constexpr std::size_t plot_points = 80;
constexpr double headroom = 1.15;

/// Lines told apart without colour too.
struct Style {
  const char* colour;
  std::vector<int> dash;
};
Style style_of(std::size_t i) {
  static const std::array<Style, 5> styles{{{brown, {9, 3}},
                                            {ink, {2, 2}},
                                            {blue, {9, 3, 2, 3}},
                                            {brown, {2, 3}},
                                            {ink, {12, 3, 2, 3, 2, 3}}}};
  return styles[i % styles.size()];
}

/// One igniter with everything its plots need.
struct Subject {
  const casefile::Igniter& igniter;
  const IgniterVerdict& verdict;
  const casefile::Case& bench;
  [[nodiscard]] const spark::Assessment& fitted() const { return verdict.sources.front().spark; }
  [[nodiscard]] const spark::Conditions& conditions() const {
    return verdict.states[verdict.sources.front().state].conditions;
  }
};

/// The factors over slow breakdown that occur among the sources, ascending.
std::vector<double> rises(const casefile::Igniter& igniter, const spark::SourceCoefficients& c) {
  std::vector<double> list;
  for (const auto& source : igniter.sources) list.push_back(spark::rise_factor(source.source, c));
  std::sort(list.begin(), list.end());
  list.erase(std::unique(list.begin(), list.end()), list.end());
  return list;
}

Plot gap_plot(const Subject& subject) {
  const auto& fitted = subject.fitted();
  const auto& igniter = subject.igniter;
  const auto& c = subject.bench.models.spark;
  const double longest =
      headroom * std::max({igniter.gap.length, fitted.gaps.longest, fitted.gaps.shortest});
  Frame frame;
  frame.left = 0.0;
  frame.right = longest;
  const auto breakdown = spark::breakdown_curve(
      igniter.gap.electrodes, longest, plot_points, subject.conditions().gas, c.gap);
  for (const double rise : rises(igniter, c.source)) {
    const bool steep = rise > 1.0;
    Line asked{.name = steep ? "asked in a steep pulse" : "asked by the gap",
               .colour = blue,
               .dash = steep ? std::vector<int>{4, 3} : std::vector<int>{1, 0},
               .width = 2.2,
               .points = {}};
    for (const auto& point : breakdown) {
      asked.points.push_back({point.length, rise * point.voltage});
    }
    frame.lines.push_back(asked);
  }
  for (std::size_t i = 0; i < igniter.sources.size(); ++i) {
    const double peak = subject.verdict.sources[i].spark.output.peak_voltage;
    const auto style = style_of(i);
    frame.lines.push_back({.name = igniter.sources[i].name,
                           .colour = style.colour,
                           .dash = style.dash,
                           .width = i == 0 ? 1.8 : 1.2,
                           .points = {{0.0, peak}, {longest, peak}}});
  }
  frame.top = headroom * greatest(frame.lines);
  if (fitted.gaps.longest > fitted.gaps.shortest) {
    frame.slots = {{.near = fitted.gaps.shortest, .far = fitted.gaps.longest}};
  }
  frame.mark = Point{igniter.gap.length, fitted.required_voltage};
  frame.x = axis("gap", longest, Dimension::length, subject.bench.system);
  frame.y = axis("peak voltage", frame.top, Dimension::voltage, subject.bench.system);
  return {.title = igniter.name + ": breakdown against the gap",
          .caption =
              "The ring is the gap as set, with the fitted source; level lines are what the "
              "sources have, a steep pulse those of storage capacitors. Shaded: "
              "gaps that the fitted source jumps with margin and that do not quench.",
          .spec = spec(frame, "voltage asked by the gap against its length")};
}

struct Knob {
  std::string_view name;
  Dimension dimension;
};
Knob knob_of(spark::Setting setting) {
  switch (setting) {
    case spark::Setting::primary_voltage:
      return {"primary voltage, rms", Dimension::voltage};
    case spark::Setting::load_current:
      return {"current drawn", Dimension::current};
    case spark::Setting::dwell:
      return {"dwell", Dimension::time};
    case spark::Setting::firing_angle:
      return {"firing angle", Dimension::angle};
    case spark::Setting::sparks_per_second:
      break;
  }
  return {"sparks per second", Dimension::number};
}

Plot source_plot(const Subject& subject) {
  const auto& source = subject.igniter.sources.front();
  const auto& fitted = subject.fitted();
  const auto curve = spark::source_curve(source.source,
                                         plot_points,
                                         subject.bench.models.spark.source,
                                         spark::always_across(source.bleed));
  const auto knob = knob_of(curve.setting);
  Line line{.name = source.name, .colour = blue, .width = 2.2, .points = {}};
  for (std::size_t i = 0; i < curve.settings.size(); ++i) {
    line.points.push_back({curve.settings[i], curve.peak_voltages[i]});
  }
  Frame frame;
  frame.left = 0.0;
  frame.right = curve.settings.back();
  frame.lines = {line};
  add_level(frame, "asked by the gap", fitted.required_voltage);
  frame.lines.push_back(
      {.name = "asked with margin",
       .colour = brown,
       .dash = {7, 3},
       .points = {{0.0, fitted.required_voltage * (1.0 + fitted.wanted_margin)},
                  {frame.right, fitted.required_voltage * (1.0 + fitted.wanted_margin)}}});
  frame.top = headroom * greatest(frame.lines);
  frame.x = axis(knob.name, frame.right, knob.dimension, subject.bench.system);
  frame.y = axis("peak voltage", frame.top, Dimension::voltage, subject.bench.system);
  return {.title = source.name + ": what it has to give",
          .caption = fmt::format("Peak on the plug without a spark, against its {}.", knob.name),
          .spec = spec(frame, "peak voltage of the source against its own setting")};
}

Plot discharge_plot(const Subject& subject, std::size_t i) {
  const auto& source = subject.igniter.sources[i];
  const auto& charge = *subject.verdict.sources[i].spark.charge;
  const auto& c = subject.bench.models.spark.charge;
  const auto system = subject.bench.system;
  constexpr double far_below = 0.5;
  Line line{.name = "as fitted", .colour = blue, .width = 2.2, .points = {}};
  for (const auto& point : spark::discharge_curve(
           charge.store, source.bleed, far_below * c.safe_voltage, plot_points, c)) {
    line.points.push_back({point.time, point.voltage});
  }
  Frame frame;
  frame.left = 0.0;
  frame.right = line.points.back().x;
  frame.lines = {line};
  add_level(frame, "harmless below", c.safe_voltage);
  frame.top = headroom * charge.store.voltage;
  if (std::isfinite(charge.fitted.safe_after) && charge.fitted.safe_after > 0.0) {
    frame.mark = Point{charge.fitted.safe_after, c.safe_voltage};
  }
  frame.x = axis("after switch-off", frame.right, Dimension::time, system);
  const auto hour = *units::find_unit("h", Dimension::time);
  constexpr double few = 3.0;
  if (frame.right > few * hour.factor) frame.x = {.title = "after switch-off (h)", .unit = hour};
  frame.y = axis("voltage left", frame.top, Dimension::voltage, system);
  return {.title = source.name + ": how its charge leaves",
          .caption = fmt::format("The ring, {} after switch-off, is where it is below {}.",
                                 lasting(charge.fitted.safe_after, system),
                                 units::format(c.safe_voltage, Dimension::voltage, system)),
          .spec = spec(frame, "voltage left in the source against time after switch-off")};
}

std::vector<Plot> plots_of(const Subject& subject) {
  std::vector<Plot> plots{gap_plot(subject), source_plot(subject)};
  for (std::size_t i = 0; i < subject.igniter.sources.size(); ++i) {
    const auto& charge = subject.verdict.sources[i].spark.charge;
    if (charge && charge->store.voltage > subject.bench.models.spark.charge.safe_voltage) {
      plots.push_back(discharge_plot(subject, i));
    }
  }
  return plots;
}

std::string igniter_html(const Subject& subject) {
  const auto system = subject.bench.system;
  std::string text = element("h3", headline(subject.igniter, subject.verdict));
  text += list_of(under_headline(subject.igniter, subject.verdict, system));
  text += paragraph_of(margins(subject.igniter, subject.verdict, system));
  text += paragraph_of(surroundings(subject.verdict, system));
  text += element(
      "p", checked_for(subject.igniter, subject.verdict, subject.bench.models.spark, system));
  text += table_of(source_heads(), source_rows(subject.igniter, subject.verdict, system));
  text += paragraph_of(row_notes(subject.igniter, subject.verdict));
  text += element("p", asked_of_each(subject.igniter, subject.verdict, system));
  text += paragraph_of(ladder_sentences(subject.igniter, subject.verdict, system));
  text += list_of(spark_warnings(subject.igniter, subject.verdict, system));
  for (std::size_t i = 0; i < subject.igniter.sources.size(); ++i) {
    text += paragraph_of(stored_charge(subject.igniter.sources[i],
                                       subject.verdict.sources[i].spark,
                                       subject.bench.models.spark.charge,
                                       system));
  }
  text += "<div class=\"plots\">\n";
  for (const auto& plot : plots_of(subject)) {
    text += fmt::format("<figure>\n<script type=\"application/json\" data-plot>{}</script>\n",
                        plot.spec);
    text += fmt::format("<figcaption><b>{}</b> {}</figcaption>\n</figure>\n",
                        escaped(plot.title),
                        escaped(plot.caption));
  }
  return text + "</div>\n";
}

}  // namespace

std::string spark_section(const Outcome& outcome) {
  const auto verdicts = judge_igniters(outcome);
  if (verdicts.empty()) return {};
  std::string text = "<section>\n<h2>Spark</h2>\n<ul class=\"cautions\">\n";
  for (const auto& caution : spark_cautions()) text += element("li", caution.full);
  text += "</ul>\n";
  for (std::size_t i = 0; i < verdicts.size(); ++i) {
    text += igniter_html({outcome.bench.igniters[i], verdicts[i], outcome.bench});
  }
  std::vector<std::string> unknowns(spark::ignition_unknowns.begin(),
                                    spark::ignition_unknowns.end());
  text += element("h3", "Not known here") + list_of(unknowns);
  return text + "</section>\n";
}

}  // namespace windgap::report
