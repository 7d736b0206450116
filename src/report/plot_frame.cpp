#include "report/plot_frame.h"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "report/plot_axis.h"

namespace windgap::report {
namespace {

using json = nlohmann::ordered_json;

constexpr auto shade = "#e3eaf1";

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

/// Numbers on two heights in turn, so that neighbours do not cover each other.
void add_moments(json& marks, const Frame& frame) {
  constexpr int row = 11;  // [px]
  for (std::size_t i = 0; i < frame.moments.size(); ++i) {
    const json x{{"scale", "x"}, {"value", frame.x.shown(frame.moments[i])}};
    marks.push_back({{"type", "rule"},
                     {"encode",
                      {{"enter",
                        {{"x", x},
                         {"y", {{"value", 0}}},
                         {"y2", {{"signal", "height"}}},
                         {"stroke", {{"value", "#9a9a9a"}}},
                         {"strokeWidth", {{"value", 1}}}}}}}});
    marks.push_back({{"type", "text"},
                     {"encode",
                      {{"enter",
                        {{"x", x},
                         {"dx", {{"value", 2}}},
                         {"y", {{"value", row * static_cast<int>(1 + i % 3)}}},
                         {"text", {{"value", std::to_string(i + 1)}}},
                         {"font", {{"value", "serif"}}},
                         {"fontSize", {{"value", 11}}},
                         {"fill", {{"value", ink}}}}}}}});
  }
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
        {"domain",
         json::array({std::isnan(frame.bottom) ? 0.0 : frame.y.shown(frame.bottom),
                      frame.y.shown(frame.top)})},
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

}  // namespace

Axis axis(std::string_view name, double largest, units::Dimension dimension, units::System system) {
  const auto unit = units::display_unit(largest, dimension, system);
  const auto symbol = unit.symbol.starts_with("deg")
                          ? fmt::format("\u00b0{}", unit.symbol.substr(3))
                          : std::string(unit.symbol);
  return {.title = fmt::format("{} ({})", name, symbol), .unit = unit};
}

std::string spec(const Frame& frame, const std::string& description) {
  json marks = slot_marks(frame);
  add_moments(marks, frame);
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

void add_level(Frame& frame, const std::string& name, double level) {
  if (!std::isfinite(level)) return;
  frame.lines.push_back({.name = name,
                         .colour = ink,
                         .dash = {9, 3, 2, 3},
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

}  // namespace windgap::report
