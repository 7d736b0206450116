#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/cool.h"
#include "report/html_text.h"
#include "report/plot_frame.h"
#include "report/plots.h"
#include "report/shown.h"

namespace windgap::report {
namespace {

using cooling::Course;
using cooling::Part;
using units::Dimension;

using Reading = double (*)(const cooling::Knot&);

double bearing(const cooling::Knot& knot) { return knot.bearing; }

/// The hottest that a hand can reach.
double hottest_outside(const cooling::Knot& knot) {
  double most = 0.0;
  for (const Part part : cooling::touchable) most = std::max(most, knot.at[cooling::index(part)]);
  return most;
}

template <Part part>
double of_part(const cooling::Knot& knot) {
  return knot.at[cooling::index(part)];
}

std::vector<Point> over_time(const Course& course, Reading reading, double end) {
  std::vector<Point> points;
  for (const auto& knot : course.knots) {
    const Point next{knot.time, reading(knot)};
    if (next.x > end) {
      const Point& last = points.back();
      const double share = (end - last.x) / (next.x - last.x);
      points.push_back({end, last.y + share * (next.y - last.y)});
      break;
    }
    points.push_back(next);
  }
  return points;
}

Plot temperature_plot(const std::string& title,
                      std::vector<Line> lines,
                      const std::vector<std::pair<std::string, double>>& levels,
                      double end,
                      const Outcome& outcome,
                      double room) {
  Frame frame;
  frame.left = 0.0;
  frame.right = end;
  frame.bottom = room;
  frame.lines = std::move(lines);
  frame.top = greatest(frame.lines);
  for (const auto& [name, level] : levels) {
    if (!(level < frame.top)) continue;
    add_level(frame, name, level);
    // Two limits in one plot are told apart by their dashes.
    if (name != levels.front().first) frame.lines.back().dash = {3, 3};
  }
  frame.x = axis("time after the stop", end, Dimension::time, outcome.bench.system);
  frame.y = axis("temperature", frame.top, Dimension::temperature, outcome.bench.system);
  return {.title = title,
          .caption = {},
          .spec = spec(frame, title + " against the time after the stop")};
}

/// A stretch long enough to see the purge and what follows it.
double near_end(const Cooldown& cooldown) {
  constexpr double least = 1800.0;
  constexpr double after = 2.5;  // of the purge
  const double purge = cooldown.plan.purge.seconds;
  return std::isfinite(purge) ? std::max(least, after * purge) : least;
}

double far_end(const Cooldown& cooldown) {
  constexpr double beyond = 1.05;
  double end = near_end(cooldown);
  for (const double time :
       {cooldown.plan.verdict.contact, cooldown.plan.standing_verdict.contact}) {
    if (std::isfinite(time)) end = std::max(end, beyond * time);
  }
  return end;
}

std::vector<Line> planned_and_standing(const Cooldown& cooldown, Reading reading, double end) {
  std::vector<Line> lines;
  if (std::isfinite(cooldown.plan.purge.seconds)) {
    lines.push_back({.name = cooldown.plan.feasible ? "with this purge" : "a purge out of reach",
                     .colour = blue,
                     .width = 2.2,
                     .points = over_time(cooldown.plan.course, reading, end)});
  }
  lines.push_back({.name = "no fan",
                   .colour = brown,
                   .dash = {7, 3},
                   .points = over_time(cooldown.plan.standing, reading, end)});
  return lines;
}

/// Of what curves are drawn where there is no plan.
std::string not_a_plan(const Cooldown& cooldown) {
  const auto& plan = cooldown.plan;
  if (plan.feasible) return {};
  if (!std::isfinite(plan.purge.seconds)) return "Standing: no purge gets there.";
  return fmt::format("Out of reach: {} for {}, which breaks a limit; what is short is said above.",
                     cooldown.rig.fan.holds_flow
                         ? std::string("the stream")
                         : fmt::format("{:.0f} % throttle", 100.0 * plan.purge.steps[0].throttle),
                     watch_time(plan.purge.seconds));
}

Plot parts_plot(const Outcome& outcome, const Cooldown& cooldown) {
  const double end = near_end(cooldown);
  const auto& course = cooldown.plan.course;
  const auto line = [&](std::string name, const char* colour, std::vector<int> dash, Reading read) {
    return Line{.name = std::move(name),
                .colour = colour,
                .dash = std::move(dash),
                .points = over_time(course, read, end)};
  };
  auto plot =
      temperature_plot("every part",
                       {line("rotor", brown, {1, 0}, of_part<Part::rotor>),
                        line("turbine housing", blue, {1, 0}, of_part<Part::turbine_housing>),
                        line("heat shield", brown, {7, 3}, of_part<Part::heat_shield>),
                        line("centre housing", blue, {7, 3}, of_part<Part::centre_housing>),
                        line("flame tube", brown, {2, 2}, of_part<Part::liner>),
                        line("combustor case", ink, {1, 0}, of_part<Part::casing>),
                        line("compressor", ink, {2, 2}, of_part<Part::compressor>)},
                       {},
                       end,
                       outcome,
                       cooldown.scene.network.ambient.temperature);
  plot.caption = cooldown.plan.feasible
                     ? fmt::format(
                           "The fan stops after {}; what was blown cold is warmed again by "
                           "what was not.",
                           watch_time(cooldown.plan.purge.seconds))
                     : not_a_plan(cooldown);
  return plot;
}

Plot trade_off_plot(const Outcome& outcome, const Cooldown& cooldown) {
  const Shown shown(outcome.bench.system);
  Line curve{.name = "one throttle", .colour = blue, .width = 2.2, .points = {}};
  Frame frame;
  frame.left = 0.0;
  frame.right = 0.0;
  for (const auto& trial : cooldown.plan.trade_off) {
    if (!std::isfinite(trial.seconds)) continue;
    curve.points.push_back({trial.seconds, trial.charge});
    frame.right = std::max(frame.right, trial.seconds);
  }
  frame.lines = {curve};
  frame.top = greatest(frame.lines);
  const auto& purge = cooldown.plan.purge;
  const double left = cooldown.need.charge;
  std::string caption;
  if (left < frame.top) {
    add_level(frame, "left in the pack", left);
  } else {
    caption = fmt::format("The pack's {} lie above the plot. ", shown.of(left, Dimension::charge));
  }
  if (std::isfinite(purge.seconds)) {
    frame.mark = Point{purge.seconds, purge.charge};
    frame.top = std::max(frame.top, purge.charge);
    caption += cooldown.plan.feasible ? "The ring is the plan. "
                                      : "The ring is no plan: it breaks a limit. ";
  }
  const auto& curve_ends = cooldown.plan.trade_off;
  caption += fmt::format("From {:.0f} % throttle at the right to {:.0f} % at the left.",
                         100.0 * curve_ends.front().steps.front().throttle,
                         100.0 * curve_ends.back().steps.front().throttle);
  frame.x = axis("fan on", frame.right, Dimension::time, outcome.bench.system);
  frame.y = axis("charge", frame.top, Dimension::charge, outcome.bench.system);
  return {.title = "time against charge",
          .caption = caption,
          .spec = spec(frame, "charge of a purge against its time")};
}

std::vector<Plot> cool_plots(const Outcome& outcome, const Cooldown& cooldown) {
  const auto& limits = cooldown.scene.limits;
  const double room = cooldown.scene.network.ambient.temperature;
  std::vector<Plot> list;
  const double soon = near_end(cooldown);
  list.push_back(temperature_plot("turbine-side bearing",
                                  planned_and_standing(cooldown, bearing, soon),
                                  {{"oil begins to coke", limits.coking}},
                                  soon,
                                  outcome,
                                  room));
  list.back().caption = not_a_plan(cooldown);
  const double late = far_end(cooldown);
  list.push_back(temperature_plot("hottest metal in reach",
                                  planned_and_standing(cooldown, hottest_outside, late),
                                  {{"gloves do", limits.gloves}, {"bare hands do", limits.contact}},
                                  late,
                                  outcome,
                                  room));
  list.back().caption = not_a_plan(cooldown);
  list.push_back(parts_plot(outcome, cooldown));
  const bool reached = std::any_of(cooldown.plan.trade_off.begin(),
                                   cooldown.plan.trade_off.end(),
                                   [](const auto& trial) { return std::isfinite(trial.seconds); });
  if (!cooldown.rig.fan.holds_flow && reached) {
    list.push_back(trade_off_plot(outcome, cooldown));
  }
  return list;
}

std::string limits_table(const Outcome& outcome, const Cooldown& cooldown) {
  const Shown shown(outcome.bench.system);
  std::vector<std::vector<std::string>> rows;
  for (const auto& line : limit_lines(outcome, cooldown)) {
    rows.push_back({line.what,
                    line.limit,
                    cooldown.plan.feasible ? watch_time(line.planned) : "no plan",
                    watch_time(line.on) + (line.barred ? " *" : ""),
                    cooldown.rig.fan.holds_flow || !std::isfinite(line.on)
                        ? ""
                        : shown.of(line.on_charge, Dimension::charge),
                    watch_time(line.standing)});
  }
  std::string text = table_of(
      {"time until", "below", "with this plan", "purge needed", "that takes", "no fan"}, rows);
  for (const auto& note : limit_notes(outcome, cooldown)) text += element("p", note);
  return text;
}

std::string assumed_table(const Outcome& outcome) {
  std::vector<std::vector<std::string>> rows;
  for (const auto& assumed : outcome.bench.cool.assumed) {
    rows.push_back({assumed.key, assumed.value, assumed.source});
  }
  if (rows.empty()) return {};
  return element("h3", "Assumed of the hot engine") + table_of({"value", "assumed", "why"}, rows);
}

}  // namespace

std::string cool_section(const Outcome& outcome, const Cooldown& cooldown) {
  std::string text = "<section>\n<h2>After the run</h2>\n<ol>\n";
  for (const auto& line : bench_card(outcome, cooldown)) text += element("li", line);
  text += "</ol>\n";
  text += paragraph_of(what_is_short(outcome, cooldown));
  if (cooldown.plan.feasible) text += paragraph_of({what_holds(outcome, cooldown)});
  const auto thrifty = thriftiest_purge(outcome, cooldown);
  if (!thrifty.empty()) text += element("p", thrifty);
  text += limits_table(outcome, cooldown);
  text += "<dl class=\"findings\">\n";
  for (const auto& fact : cool_facts(outcome, cooldown)) {
    text += fmt::format("<div><dt>{}</dt><dd><b>{}</b> {}</dd></div>\n",
                        escaped(fact.label),
                        escaped(fact.value),
                        escaped(fact.remark));
  }
  text += "</dl>\n<div class=\"plots\">\n";
  for (const auto& plot : cool_plots(outcome, cooldown)) {
    text += fmt::format("<figure>\n<script type=\"application/json\" data-plot>{}</script>\n",
                        plot.spec);
    text += fmt::format("<figcaption><b>{}</b> {}</figcaption>\n</figure>\n",
                        escaped(plot.title),
                        escaped(plot.caption));
  }
  text += "</div>\n";
  const auto sure = how_sure_cool(cooldown);
  if (!sure.empty()) text += element("p", sure);
  text += list_of(cool_warnings(outcome, cooldown));
  text += element("h3", "Mind");
  text += list_of(cool_cautions());
  return text + assumed_table(outcome) + "</section>\n";
}

}  // namespace windgap::report
