#include "report/plots.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>

#include "report/shown.h"
#include "report/verdict.h"

namespace windgap::report {
namespace {

using json = nlohmann::ordered_json;
using units::Dimension;

struct Point {
  double x = unset;
  double y = unset;
};

/// A line of a plot: its name in the legend, colour and dashes, as paper without colour needs both.
struct Line {
  std::string name;
  std::string colour;
  json dash = json::array({1, 0});
  double width = 1.6;
  std::vector<Point> points;
};

constexpr auto ink = "#1c1c1c";
constexpr auto blue = "#1d4f7c";
constexpr auto brown = "#8a4b14";
constexpr auto shade = "#e3eaf1";

/// SI numbers as an axis shows them.
struct Axis {
  std::string title;
  units::Unit unit;
  [[nodiscard]] double shown(double si) const { return (si - unit.offset) / unit.factor; }
};

Axis axis(std::string_view name, double largest, Dimension dimension, units::System system) {
  const auto unit = units::display_unit(largest, dimension, system);
  return {.title = fmt::format("{} ({})", name, unit.symbol), .unit = unit};
}

struct Frame {
  Axis x;
  Axis y;
  double left = unset;
  double right = unset;
  double top = 0.0;
  std::vector<placement::Slot> slots;
  std::vector<Line> lines;
  std::optional<Point> mark;
};

json axis_json(std::string_view orient, std::string_view scale, const std::string& title) {
  return {{"orient", orient},
          {"scale", scale},
          {"title", title},
          {"tickCount", 5},
          {"grid", true},
          {"gridColor", "#dddddd"},
          {"domainColor", ink},
          {"tickColor", ink},
          {"labelColor", ink},
          {"titleColor", ink},
          {"labelFontSize", 11},
          {"titleFontSize", 12},
          {"titleFontWeight", "normal"},
          {"labelFlush", true}};
}

json line_marks() {
  const auto field = [](std::string_view scale, std::string_view name) {
    return json{{"scale", scale}, {"field", name}};
  };
  return {{"type", "group"},
          {"from", {{"facet", {{"name", "line"}, {"data", "points"}, {"groupby", "s"}}}}},
          {"marks",
           json::array({{{"type", "line"},
                         {"from", {{"data", "line"}}},
                         {"encode",
                          {{"enter",
                            {{"x", field("x", "x")},
                             {"y", field("y", "y")},
                             {"clip", {{"value", true}}},
                             {"stroke", field("colour", "s")},
                             {"strokeDash", field("dash", "s")},
                             {"strokeWidth", field("weight", "s")}}}}}}})}};
}

json slot_marks(const Frame& frame) {
  json marks = json::array();
  for (const auto& slot : frame.slots) {
    marks.push_back({{"type", "rect"},
                     {"encode",
                      {{"enter",
                        {{"x", {{"scale", "x"}, {"value", frame.x.shown(slot.near)}}},
                         {"x2", {{"scale", "x"}, {"value", frame.x.shown(slot.far)}}},
                         {"y", {{"value", 0}}},
                         {"y2", {{"signal", "height"}}},
                         {"fill", {{"value", shade}}}}}}}});
  }
  return marks;
}

json mark_marks(const Frame& frame) {
  return {{"type", "symbol"},
          {"encode",
           {{"enter",
             {{"x", {{"scale", "x"}, {"value", frame.x.shown(frame.mark->x)}}},
              {"y", {{"scale", "y"}, {"value", frame.y.shown(frame.mark->y)}}},
              {"size", {{"value", 60}}},
              {"fill", {{"value", "#ffffff"}}},
              {"stroke", {{"value", ink}}},
              {"strokeWidth", {{"value", 2}}}}}}}};
}

json points_json(const Frame& frame) {
  json values = json::array();
  for (const auto& line : frame.lines) {
    for (const auto& point : line.points) {
      if (!std::isfinite(point.x) || !std::isfinite(point.y)) continue;
      values.push_back(
          {{"s", line.name}, {"x", frame.x.shown(point.x)}, {"y", frame.y.shown(point.y)}});
    }
  }
  return values;
}

json scales_json(const Frame& frame) {
  json names = json::array();
  json colours = json::array();
  json dashes = json::array();
  json weights = json::array();
  for (const auto& line : frame.lines) {
    names.push_back(line.name);
    colours.push_back(line.colour);
    dashes.push_back(line.dash);
    weights.push_back(line.width);
  }
  const auto ordinal = [&](std::string_view name, const json& range) {
    return json{{"name", name}, {"type", "ordinal"}, {"domain", names}, {"range", range}};
  };
  return json::array(
      {{{"name", "x"},
        {"domain", json::array({frame.x.shown(frame.left), frame.x.shown(frame.right)})},
        {"range", "width"}},
       {{"name", "y"},
        {"domain", json::array({0.0, frame.y.shown(frame.top)})},
        {"nice", true},
        {"range", "height"}},
       ordinal("colour", colours),
       ordinal("dash", dashes),
       ordinal("weight", weights)});
}

/// Script elements end at `</`, whatever they hold.
std::string within_script(const json& value) {
  std::string safe;
  for (const char c : value.dump()) {
    if (c == '<') {
      safe += "\\u003c";
    } else {
      safe += c;
    }
  }
  return safe;
}

std::string spec(const Frame& frame, const std::string& description) {
  json marks = slot_marks(frame);
  marks.push_back(line_marks());
  if (frame.mark) marks.push_back(mark_marks(frame));
  const json legend{{"stroke", "colour"},
                    {"strokeDash", "dash"},
                    {"symbolType", "stroke"},
                    {"symbolSize", 500},
                    {"orient", "bottom"},
                    {"direction", "horizontal"},
                    {"columns", 2},
                    {"labelFontSize", 11},
                    {"labelColor", ink},
                    {"symbolStrokeWidth", 1.8},
                    {"columnPadding", 12},
                    {"labelLimit", 150}};
  const json whole{{"description", description},
                   {"width", 340},
                   {"height", 270},
                   {"padding", 2},
                   {"autosize", {{"type", "fit"}, {"contains", "padding"}}},
                   {"config",
                    {{"axis", {{"labelFont", "serif"}, {"titleFont", "serif"}}},
                     {"legend", {{"labelFont", "serif"}}}}},
                   {"data", json::array({{{"name", "points"}, {"values", points_json(frame)}}})},
                   {"scales", scales_json(frame)},
                   {"axes",
                    json::array({axis_json("bottom", "x", frame.x.title),
                                 axis_json("left", "y", frame.y.title)})},
                   {"legends", json::array({legend})},
                   {"marks", marks}};
  return within_script(whole);
}

/// What a plot against the distance shows of a delivery.
using Quantity = double (*)(const rig::Delivery&);

std::vector<Point> against_distance(const Survey& survey,
                                    const std::vector<rig::Delivery>& deliveries,
                                    Quantity quantity) {
  std::vector<Point> points;
  for (std::size_t i = 0; i < deliveries.size(); ++i) {
    points.push_back({survey.rows[i].stand_off, quantity(deliveries[i])});
  }
  return points;
}

/// The jet of the answer, or both bounds and what the fan's build suggests.
std::vector<Line> jet_lines(const Survey& survey, const Outcome& outcome, Quantity quantity) {
  std::vector<Line> lines;
  if (outcome.answer.jet_known) {
    Line line{.name = "this jet", .colour = blue, .width = 2.2, .points = {}};
    for (const auto& row : survey.rows) {
      line.points.push_back({row.stand_off, quantity(row.delivery)});
    }
    lines.push_back(line);
    return lines;
  }
  const auto add = [&](std::string name, std::string colour, json dash, const auto& deliveries) {
    lines.push_back({.name = std::move(name),
                     .colour = std::move(colour),
                     .dash = std::move(dash),
                     .points = against_distance(survey, deliveries, quantity)});
  };
  add("nozzle-like", blue, json::array({1, 0}), survey.nozzle_like);
  add("propeller-like", brown, json::array({7, 3}), survey.propeller_like);
  add("as built", ink, json::array({2, 2}), survey.estimated);
  return lines;
}

void add_level(Frame& frame, const std::string& name, double level) {
  if (!std::isfinite(level)) return;
  frame.lines.push_back({.name = name,
                         .colour = ink,
                         .dash = json::array({9, 3, 2, 3}),
                         .width = 1.2,
                         .points = {{frame.left, level}, {frame.right, level}}});
}

double greatest(const std::vector<Line>& lines) {
  double most = 0.0;
  for (const auto& line : lines) {
    for (const auto& point : line.points) most = std::fmax(most, point.y);
  }
  return most;
}

/// Plots against the distance share everything but the quantity.
class DistancePlots {
 public:
  DistancePlots(const Outcome& outcome, const Survey& survey)
      : outcome_(outcome), survey_(survey), system_(outcome.bench.system) {}

  [[nodiscard]] Plot of(const std::string& title,
                        std::string_view axis_name,
                        Dimension dimension,
                        std::vector<Line> lines,
                        const std::string& level_name,
                        double level) const {
    Frame frame;
    frame.left = survey_.rows.front().stand_off;
    frame.right = survey_.rows.back().stand_off;
    frame.lines = std::move(lines);
    const double most = greatest(frame.lines);
    add_level(frame, level_name, level);
    // A limit far above everything would squeeze the lines flat.
    constexpr double roomy = 4.0;
    frame.top = std::isfinite(level) && level < roomy * most ? std::max(most, level) : most;
    if (frame.top < level) frame.lines.pop_back();
    if (!(frame.top > 0.0)) frame.top = units::display_unit(0.0, dimension, system_).factor;
    frame.x = axis("distance from fan to mouth", frame.right, Dimension::length, system_);
    frame.y = axis(axis_name, frame.top, dimension, system_);
    frame.slots = outcome_.answer.advice.slots;
    const auto& row = shown_row(outcome_);
    frame.mark = Point{row.stand_off, at_mount(dimension, row)};
    Plot plot{.title = title, .caption = {}, .spec = {}};
    if (std::isfinite(level) && frame.top < level) {
      plot.caption = fmt::format("The limit, {}, lies above the plot.",
                                 units::format(level, dimension, system_));
    }
    plot.spec = spec(frame, fmt::format("{} against the distance from fan to mouth", title));
    return plot;
  }

 private:
  static double at_mount(Dimension dimension, const placement::Row& row) {
    switch (dimension) {
      case Dimension::mass_flow:
        return row.delivery.airflow;
      case Dimension::angular_speed:
        return row.delivery.rotor_speed;
      case Dimension::pressure:
        return row.delivery.back_pressure;
      default:
        return row.obstruction.running_loss;
    }
  }

  const Outcome& outcome_;
  const Survey& survey_;
  units::System system_;
};

Plot fan_plot(const Outcome& outcome) {
  constexpr int steps = 60;
  constexpr double farthest = 1.25;  // of the static flow
  const auto& fan = outcome.answer.rig.fan;
  const auto& operating = shown_row(outcome).fan;
  const double velocity = fan.exit_velocity_per_speed * operating.speed;
  const double static_flow = fan.density * velocity * fan.stream_area;
  const double static_pressure = 0.5 * fan.density * velocity * velocity;
  const auto at = [&](double flow) {
    return Point{flow * static_flow, fan::pressure_at(fan.curve, flow).value * static_pressure};
  };
  Line stalled{
      .name = "stalled, rough", .colour = brown, .dash = json::array({2, 3}), .points = {}};
  Line sound{.name = "fan at this speed", .colour = blue, .width = 2.2, .points = {}};
  const double stall = fan.curve.stall_flow;
  for (int i = 0; i <= steps; ++i) {
    const double share = static_cast<double>(i) / steps;
    stalled.points.push_back(at(share * stall));
    const auto point = at(stall + share * (farthest - stall));
    if (point.y >= 0.0) sound.points.push_back(point);
  }
  Frame frame;
  frame.left = 0.0;
  frame.right = sound.points.back().x;
  frame.mark = at(operating.mass_flow / static_flow);
  frame.lines = {sound, stalled};
  frame.top = greatest(frame.lines);
  frame.x =
      axis("airflow through the fan", frame.right, Dimension::mass_flow, outcome.bench.system);
  frame.y = axis("pressure rise", frame.top, Dimension::pressure, outcome.bench.system);
  const Shown shown(outcome.bench.system);
  return {.title = "the fan on its curve",
          .caption = fmt::format("Total pressure rise at {}; the ring is where it works at the "
                                 "distance shown.",
                                 shown.rotation(operating.speed)),
          .spec = spec(frame, "pressure rise of the fan against its airflow")};
}

}  // namespace

std::vector<Plot> plots(const Outcome& outcome, const Survey& survey) {
  std::vector<Plot> list;
  const DistancePlots against(outcome, survey);
  const auto& advice = outcome.answer.advice;
  const auto lines = [&](Quantity quantity) { return jet_lines(survey, outcome, quantity); };
  list.push_back(against.of("airflow",
                            "airflow",
                            Dimension::mass_flow,
                            lines([](const rig::Delivery& d) { return d.airflow; }),
                            "needed with margin",
                            required_airflow(outcome)));
  if (shown_row(outcome).delivery.settling != rig::Settling::no_rotor) {
    list.push_back(against.of("rotor speed",
                              "rotor speed",
                              Dimension::angular_speed,
                              lines([](const rig::Delivery& d) { return d.rotor_speed; }),
                              "needed to light",
                              advice.lightoff_speed));
  }
  list.push_back(against.of("back-pressure on the fan",
                            "back-pressure",
                            Dimension::pressure,
                            lines([](const rig::Delivery& d) { return d.back_pressure; }),
                            "",
                            unset));
  Line loss{.name = "parked fan", .colour = blue, .width = 2.2, .points = {}};
  for (const auto& row : survey.rows) {
    loss.points.push_back({row.stand_off, row.obstruction.running_loss});
  }
  list.push_back(against.of("loss of the running engine",
                            "loss",
                            Dimension::ratio,
                            {loss},
                            "allowed",
                            outcome.bench.requirement.allowed_running_loss));
  if (!outcome.answer.rig.fan.holds_flow) list.push_back(fan_plot(outcome));
  return list;
}

}  // namespace windgap::report
