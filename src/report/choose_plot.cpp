#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <nlohmann/json.hpp>

#include "report/choose.h"
#include "report/plot_axis.h"
#include "report/plot_frame.h"
#include "report/shown.h"

namespace windgap::report {
namespace {

using json = nlohmann::ordered_json;
using units::Dimension;

constexpr auto soft = "#8b8780";

struct Units {
  units::Unit bore;
  units::Unit distance;
};

json placed(std::string_view scale, std::string_view field) {
  return {{"scale", scale}, {"field", field}};
}

/// Grey lines for other engines, the case's own in colour; each named at its end.
json line_marks(std::string_view data, std::string_view colour, double width) {
  return {{"type", "group"},
          {"from", {{"facet", {{"name", "line"}, {"data", data}, {"groupby", "s"}}}}},
          {"marks",
           json::array({{{"type", "line"},
                         {"from", {{"data", "line"}}},
                         {"encode",
                          {{"enter",
                            {{"x", placed("x", "x")},
                             {"y", placed("y", "y")},
                             {"stroke", {{"value", colour}}},
                             {"strokeWidth", {{"value", width}}}}}}}}})}};
}

json label_marks() {
  return {{"type", "text"},
          {"from", {{"data", "labels"}}},
          {"encode",
           {{"enter",
             {{"x", placed("x", "x")},
              {"y", placed("y", "y")},
              {"dx", {{"value", 5}}},
              {"baseline", {{"value", "middle"}}},
              {"text", {{"field", "s"}}},
              {"font", {{"value", "serif"}}},
              {"fontSize", {{"value", 11}}},
              {"fill", {{"value", ink}}}}}}}};
}

json fan_marks() {
  return {{"type", "symbol"},
          {"from", {{"data", "fans"}}},
          {"encode",
           {{"enter",
             {{"x", placed("x", "x")},
              {"y", placed("y", "y")},
              {"size", {{"value", 42}}},
              {"fill", {{"value", "#ffffff"}}},
              {"stroke", {{"value", blue}}},
              {"strokeWidth", {{"value", 1.8}}}}}}}};
}

json fan_names() {
  return {{"type", "text"},
          {"from", {{"data", "fans"}}},
          {"encode",
           {{"enter",
             {{"x", placed("x", "x")},
              {"y", placed("y", "y")},
              {"dx", {{"field", "dx"}}},
              {"dy", {{"field", "dy"}}},
              {"align", {{"field", "align"}}},
              {"text", {{"field", "s"}}},
              {"font", {{"value", "serif"}}},
              {"fontSize", {{"value", 10}}},
              {"fill", {{"value", blue}}}}}}}};
}

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

/// The fans that have a mount, narrowest first.
std::vector<const choice::SizingFan*> by_bore(const choice::Sizing& sizing) {
  std::vector<const choice::SizingFan*> fans;
  for (const auto& fan : sizing.fans) {
    if (fan.stand_off > 0.0) fans.push_back(&fan);
  }
  std::stable_sort(
      fans.begin(), fans.end(), [](const auto* a, const auto* b) { return a->bore < b->bore; });
  return fans;
}

constexpr double plot_width = 640.0;   // [px]
constexpr double plot_height = 400.0;  // [px]

/// A rectangle on the screen [px].
struct Box {
  double left;
  double right;
  double top;
  double bottom;

  [[nodiscard]] bool meets(const Box& other) const {
    return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
  }
};

/// Where a fan's name stands against its ring.
struct Place {
  double dx;
  double dy;
  bool left;
};

/// Gives every name the first place beside its ring that is clear of the rings and of the names
/// before; where none is, the one that meets fewest.
class Names {
 public:
  void ring(double x, double y) {
    constexpr double radius = 4.0;
    taken_.push_back({x - radius, x + radius, y - radius, y + radius});
  }

  // NOLINTNEXTLINE(bugprone-easily-swappable-parameters): a place and a count
  Place put(double x, double y, std::size_t letters) {
    constexpr double letter = 5.4;
    constexpr double above = 9.0;
    constexpr double below = 3.0;
    constexpr auto places = std::to_array<Place>({{-7, -6, true},
                                                  {8, 12, false},
                                                  {8, -6, false},
                                                  {-7, 12, true},
                                                  {8, 3, false},
                                                  {-7, -18, true},
                                                  {8, 24, false},
                                                  {8, -18, false},
                                                  {-7, 24, true}});
    Place best = places.front();
    Box chosen{};
    auto fewest = std::numeric_limits<std::ptrdiff_t>::max();
    for (const auto& place : places) {
      const double width = letter * static_cast<double>(letters);
      const double end = x + place.dx;
      const double base = y + place.dy;
      const Box box{.left = place.left ? end - width : end,
                    .right = place.left ? end : end + width,
                    .top = base - above,
                    .bottom = base + below};
      auto met = std::count_if(
          taken_.begin(), taken_.end(), [&](const Box& other) { return box.meets(other); });
      if (box.left < 0.0 || box.bottom > plot_height) ++met;
      if (met >= fewest) continue;
      fewest = met;
      best = place;
      chosen = box;
    }
    taken_.push_back(chosen);
    return best;
  }

 private:
  std::vector<Box> taken_;
};

/// An axis' end: the next half of a power of ten.
double rounded_up(double value) {
  const double step = std::pow(10.0, std::floor(std::log10(value))) / 2.0;
  return step * std::ceil(value / step);
}

/// Labels at the lines' ends moved apart, lowest first, by at least `least` of the axis.
void spread_labels(json& labels, double least) {
  std::sort(labels.begin(), labels.end(), [](const json& a, const json& b) {
    return a.at("y").get<double>() < b.at("y").get<double>();
  });
  double before = -least;
  for (auto& label : labels) {
    before = std::max(label.at("y").get<double>(), before + least);
    label["y"] = before;
  }
}

std::string line_name(const choice::SizingLine& line, const Shown& shown) {
  return shown.length(line.inducer) + (line.own ? ", this engine" : "");
}

}  // namespace

std::string sizing_plot(const ChooseOutcome& outcome) {
  constexpr double room = 1.08;
  const auto system = outcome.bench.system;
  const Shown shown(system);
  double widest = 0.0;
  double farthest = 0.0;
  double narrowest = unset;
  const auto take = [&](double bore, double distance) {
    widest = std::max(widest, bore);
    narrowest = std::fmin(narrowest, bore);
    farthest = std::max(farthest, distance);
  };
  for (const auto& line : outcome.sizing.lines) {
    for (const auto& point : line.points) take(point.bore, point.stand_off);
  }
  for (const auto& fan : outcome.sizing.fans) take(fan.bore, fan.stand_off);
  const Units in{.bore = units::display_unit(widest, Dimension::length, system),
                 .distance = units::display_unit(farthest, Dimension::length, system)};
  json own = json::array();
  json others = json::array();
  json labels = json::array();
  for (const auto& line : outcome.sizing.lines) {
    const auto name = line_name(line, shown);
    auto& values = line.own ? own : others;
    json last;
    for (const auto& point : line.points) {
      if (!(point.stand_off > 0.0)) continue;
      last = {{"s", name},
              {"x", point.bore / in.bore.factor},
              {"y", point.stand_off / in.distance.factor}};
      values.push_back(last);
    }
    if (!last.is_null()) labels.push_back(last);
  }
  constexpr double label_share = 0.035;
  spread_labels(labels, label_share * room * farthest / in.distance.factor);
  const double first = std::floor(0.9 * narrowest / in.bore.factor);
  const double end = widest / in.bore.factor;
  const double top = rounded_up(room * farthest / in.distance.factor);
  const auto across = [&](double bore) {
    return plot_width * (bore / in.bore.factor - first) / (end - first);
  };
  const auto down = [&](double distance) {
    return plot_height * (1.0 - distance / in.distance.factor / top);
  };
  Names names;
  const auto rings = by_bore(outcome.sizing);
  for (const auto* fan : rings) names.ring(across(fan->bore), down(fan->stand_off));
  json fans = json::array();
  for (const auto* fan : rings) {
    const auto name = fan_label(outcome, outcome.ranking.choices[fan->choice]);
    const auto place = names.put(across(fan->bore), down(fan->stand_off), name.size());
    fans.push_back({{"s", name},
                    {"dx", place.dx},
                    {"dy", place.dy},
                    {"align", place.left ? "right" : "left"},
                    {"x", fan->bore / in.bore.factor},
                    {"y", fan->stand_off / in.distance.factor}});
  }
  const auto data = [](std::string_view name, const json& values) {
    return json{{"name", name}, {"values", values}};
  };
  const json whole{
      {"description", "Farthest mount against the fan's bore, a line for each inducer"},
      {"width", plot_width},
      {"height", plot_height},
      {"padding", json{{"left", 15}, {"top", 8}, {"right", 110}, {"bottom", 5}}},
      {"config", {{"axis", {{"labelFont", "serif"}, {"titleFont", "serif"}}}}},
      {"data",
       json::array(
           {data("own", own), data("others", others), data("labels", labels), data("fans", fans)})},
      {"scales",
       json::array({{{"name", "x"},
                     {"domain", json::array({first, end})},
                     {"zero", false},
                     {"range", "width"}},
                    {{"name", "y"}, {"domain", json::array({0.0, top})}, {"range", "height"}}})},
      {"axes",
       json::array(
           {axis_json("bottom", "x", fmt::format("bore of the fan ({})", in.bore.symbol)),
            axis_json("left", "y", fmt::format("farthest mount ({})", in.distance.symbol))})},
      {"marks",
       json::array({line_marks("others", soft, 1.2),
                    line_marks("own", blue, 2.4),
                    label_marks(),
                    fan_marks(),
                    fan_names()})}};
  return within_script(whole);
}

}  // namespace windgap::report
