#include "report/scene.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <variant>

#include "jet/jet.h"
#include "report/html_text.h"
#include "report/shown.h"
#include "report/verdict.h"

namespace windgap::report {
namespace {

/// Lengths as the picture needs them [m]; the mouth's plane is x = 0, the engine at x > 0.
struct FanShape {
  double exit = unset;  ///< x of the exit plane
  double exit_radius = unset;
  double bore_radius = unset;
  double outer_radius = unset;
  double hub_radius = 0.0;
  double length = unset;
  bool cone = false;
  bool nozzle = false;
  bool length_known = true;
};

struct InletShape {
  double mouth_radius = unset;
  double throat_radius = unset;
  double face_radius = unset;
  double lip = unset;      ///< axial length of the lip
  double inducer = unset;  ///< x of the inducer's face; only indicated
  double hub_radius = 0.0;
  double wheel_radius = unset;  ///< unset: a resistance stands for the engine
};

/// Where to measure from when nobody knows: shares of a diameter, for the picture alone.
constexpr double nozzle_share = 0.5;
constexpr double inlet_share = 0.7;
constexpr double wheel_share = 0.45;

FanShape fan_shape(const Outcome& outcome) {
  const auto& bench = outcome.bench;
  const auto& usual = bench.models.rig.fan;
  FanShape shape;
  shape.exit = -shown_row(outcome).stand_off;
  if (const auto* stream = std::get_if<fan::Stream>(&bench.parts.source)) {
    shape.exit_radius = shape.bore_radius = stream->exit_diameter / 2.0;
    shape.hub_radius = stream->hub_diameter / 2.0;
    shape.cone = stream->hub_end == jet::HubEnd::tail_cone;
    shape.outer_radius = bench.parts.fan_outer_diameter / 2.0;
  } else {
    const auto& fan = std::get<fan::Fan>(bench.parts.source);
    shape.bore_radius = fan.bore_diameter / 2.0;
    shape.exit_radius =
        std::isfinite(fan.exit_diameter) ? fan.exit_diameter / 2.0 : shape.bore_radius;
    const auto& chosen = outcome.answer.advice.nozzle;
    const double tip = std::isfinite(chosen) ? chosen : fan.nozzle_diameter;
    shape.nozzle = std::isfinite(tip);
    if (shape.nozzle) shape.exit_radius = tip / 2.0;
    shape.hub_radius = fan.hub_diameter / 2.0;
    shape.cone = fan.hub_end == jet::HubEnd::tail_cone;
    shape.outer_radius = fan.outer_diameter / 2.0;
    shape.length = fan.length;
  }
  if (!std::isfinite(shape.hub_radius)) shape.hub_radius = 0.0;
  if (!std::isfinite(shape.outer_radius)) {
    shape.outer_radius = usual.usual_outer_ratio * shape.bore_radius;
  }
  if (!std::isfinite(shape.length)) {
    shape.length = 2.0 * usual.usual_length_ratio * shape.bore_radius;
    shape.length_known = false;
  }
  return shape;
}

InletShape inlet_shape(const Outcome& outcome) {
  const auto& rig = outcome.answer.rig;
  const auto& engine = outcome.bench.parts.engine;
  InletShape shape;
  shape.mouth_radius = rig.mouth.diameter / 2.0;
  shape.throat_radius = std::sqrt(rig.throat_area / std::acos(-1.0));
  shape.face_radius = std::isfinite(rig.mouth.face_diameter)
                          ? std::max(rig.mouth.face_diameter / 2.0, shape.mouth_radius)
                          : shape.mouth_radius;
  shape.lip = std::isfinite(engine.mouth.lip_radius) ? engine.mouth.lip_radius
                                                     : shape.mouth_radius - shape.throat_radius;
  shape.lip = std::max(shape.lip, 0.0);
  shape.inducer = shape.lip + 2.0 * inlet_share * shape.throat_radius;
  if (!engine.resistance) {
    shape.wheel_radius = engine.compressor.exducer_diameter / 2.0;
    shape.hub_radius = engine.compressor.inducer_hub_diameter / 2.0;
    if (!std::isfinite(shape.hub_radius)) shape.hub_radius = 0.0;
  }
  return shape;
}

/// The jet's axis, core and edge at a distance from the exit [m].
struct JetSlice {
  double x = unset;
  double axis = unset;
  double core = unset;
  double edge = unset;  ///< where a tenth of the greatest speed is left
};

std::vector<JetSlice> jet_slices(const Outcome& outcome) {
  constexpr int steps = 48;
  constexpr double tenth = 0.1;
  const auto& rig = outcome.answer.rig;
  const double stand_off = shown_row(outcome).stand_off;
  const double radius = jet::stream_radius(rig.jet.exit);
  const double edge = std::sqrt(-std::log(tenth));
  std::vector<JetSlice> slices;
  for (int i = 0; i <= steps; ++i) {
    const double distance = stand_off * i / steps;
    const auto section = jet::section(rig.jet, distance, rig.jet_coefficients);
    slices.push_back({.x = distance - stand_off,
                      .axis = rig.mounting.offset + distance * std::tan(rig.mounting.tilt) +
                              section.bend * radius,
                      .core = section.core_radius * radius,
                      .edge = (section.core_radius + edge * section.shear_width) * radius});
  }
  return slices;
}

/// A sheet of fixed width on which metres become units; the engine's axis is a level line.
class Sheet {
 public:
  static constexpr double width = 760.0;
  static constexpr double margin = 26.0;
  static constexpr double head = 62.0;  ///< room for the numbers above the picture
  static constexpr double tallest = 400.0;

  // NOLINTNEXTLINE(bugprone-easily-swappable-parameters): as an interval and a radius
  Sheet(double left, double right, double radius) : left_(left) {
    scale_ = std::min((width - 2.0 * margin) / (right - left), tallest / (2.0 * radius));
    shift_ = (width - scale_ * (right - left)) / 2.0;
    axis_ = head + radius * scale_;
    floor_ = axis_ + radius * scale_ + bracket_foot;
    bottom_ = floor_;
  }

  [[nodiscard]] double x(double metres) const { return shift_ + (metres - left_) * scale_; }
  [[nodiscard]] double y(double metres) const { return axis_ - metres * scale_; }
  [[nodiscard]] double floor() const { return floor_; }

  void line(std::string_view style, double x1, double y1, double x2, double y2) {
    body_ += fmt::format(
        "<line class=\"{}\" x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\"/>\n",
        style,
        x1,
        y1,
        x2,
        y2);
  }
  /// Corners in sheet units.
  void shape(std::string_view style, const std::vector<std::pair<double, double>>& corners) {
    body_ += fmt::format(R"(<polygon class="{}" points=")", style);
    for (const auto& [px, py] : corners) body_ += fmt::format("{:.1f},{:.1f} ", px, py);
    body_.back() = '"';
    body_ += "/>\n";
  }
  void path(std::string_view style, const std::string& commands) {
    body_ += fmt::format("<path class=\"{}\" d=\"{}\"/>\n", style, commands);
  }
  void text(std::string_view style, double px, double py, std::string_view words) {
    body_ += fmt::format(
        "<text class=\"{}\" x=\"{:.1f}\" y=\"{:.1f}\">{}</text>\n", style, px, py, escaped(words));
  }

  /// A dimension in the next row below, from one x to another [m], measured up to the sheet's y.
  // NOLINTNEXTLINE(bugprone-easily-swappable-parameters): two ends, then their tops
  void dimension(double from, double to, double from_top, double to_top, const std::string& words) {
    constexpr double row = 40.0;
    constexpr double past = 5.0;
    constexpr double arrow = 7.0;
    constexpr double slim = 2.5;
    constexpr double letter = 11.0;  // the widest the style makes a letter, on a narrow screen
    bottom_ += row;
    const double a = x(std::min(from, to));
    const double b = x(std::max(from, to));
    line("thin", x(from), from_top, x(from), bottom_ + past);
    line("thin", x(to), to_top, x(to), bottom_ + past);
    line("thin", a, bottom_, b, bottom_);
    if (b - a > 3.0 * arrow) {
      shape("arrow", {{a, bottom_}, {a + arrow, bottom_ - slim}, {a + arrow, bottom_ + slim}});
      shape("arrow", {{b, bottom_}, {b - arrow, bottom_ - slim}, {b - arrow, bottom_ + slim}});
    }
    const double half = letter * static_cast<double>(width_of(words)) / 2.0;
    const double middle =
        std::clamp((a + b) / 2.0, std::min(half, width / 2.0), std::max(width - half, width / 2.0));
    text("dimension", middle, bottom_ - past, words);
  }

  /// A number above the picture with a leader to a point [sheet units].
  void number(std::string words, double px, double py) {
    callouts_.push_back({.x = px, .y = py, .words = std::move(words)});
  }

  [[nodiscard]] SideView finish(const std::string& description) {
    constexpr double foot = 16.0;
    constexpr double apart = 34.0;
    constexpr double line_of_numbers = 20.0;
    constexpr double leader = 27.0;
    std::stable_sort(
        callouts_.begin(), callouts_.end(), [](const auto& a, const auto& b) { return a.x < b.x; });
    std::vector<double> places;
    for (const auto& callout : callouts_) {
      const double least = places.empty() ? margin : places.back() + apart;
      places.push_back(std::max(least, callout.x));
    }
    double most = width - margin;
    for (std::size_t i = places.size(); i-- > 0;) {
      places[i] = std::min(places[i], most);
      most = places[i] - apart;
    }
    SideView view;
    for (std::size_t i = 0; i < callouts_.size(); ++i) {
      line("leader", places[i], leader, callouts_[i].x, callouts_[i].y);
      body_ += fmt::format("<circle class=\"arrow\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"2\"/>\n",
                           callouts_[i].x,
                           callouts_[i].y);
      text("number", places[i], line_of_numbers, fmt::format("{}", i + 1));
      view.numbered.push_back(callouts_[i].words);
    }
    view.svg = fmt::format(
        "<svg class=\"scene\" viewBox=\"0 0 {:.0f} {:.0f}\" role=\"img\" aria-label=\"{}\">\n{}"
        "</svg>\n",
        width,
        bottom_ + foot,
        escaped(description),
        body_);
    return view;
  }

 private:
  struct Callout {
    double x;
    double y;
    std::string words;
  };
  static constexpr double bracket_foot = 26.0;

  double left_;
  double scale_ = unset;
  double shift_ = unset;
  double axis_ = unset;
  double floor_ = unset;
  double bottom_ = unset;
  std::string body_;
  std::vector<Callout> callouts_;
};

void draw_slots(Sheet& sheet, const Outcome& outcome) {
  for (const auto& slot : outcome.answer.advice.slots) {
    const double a = sheet.x(-slot.far);
    const double b = sheet.x(-slot.near);
    sheet.shape(
        "slot",
        {{a, Sheet::head - 10.0}, {b, Sheet::head - 10.0}, {b, sheet.floor()}, {a, sheet.floor()}});
  }
}

void draw_jet(Sheet& sheet, const std::vector<JetSlice>& slices) {
  std::vector<std::pair<double, double>> edge;
  std::vector<std::pair<double, double>> core;
  for (const auto& s : slices) {
    edge.emplace_back(sheet.x(s.x), sheet.y(s.axis + s.edge));
    core.emplace_back(sheet.x(s.x), sheet.y(s.axis + s.core));
  }
  for (auto s = slices.rbegin(); s != slices.rend(); ++s) {
    edge.emplace_back(sheet.x(s->x), sheet.y(s->axis - s->edge));
    core.emplace_back(sheet.x(s->x), sheet.y(s->axis - s->core));
  }
  sheet.shape("shear", edge);
  sheet.shape("core", core);
  const auto& early = slices[slices.size() / 5];
  const auto& late = slices[2 * slices.size() / 3];
  sheet.number(
      "core of the jet, at full speed", sheet.x(early.x), sheet.y(early.axis + 0.5 * early.core));
  sheet.number("edge of the shear layer: a tenth of the speed in the middle",
               sheet.x(late.x),
               sheet.y(late.axis + late.edge));
}

void draw_fan(Sheet& sheet, const FanShape& fan, double axis) {
  const double body_end = fan.nozzle ? fan.exit - 2.0 * nozzle_share * fan.bore_radius : fan.exit;
  const double intake = body_end - fan.length;
  const double wall = std::max(fan.outer_radius - fan.bore_radius, 0.0);
  for (const double side : {1.0, -1.0}) {
    const auto y = [&](double radius) { return sheet.y(axis + side * radius); };
    sheet.shape("solid",
                {{sheet.x(intake), y(fan.outer_radius)},
                 {sheet.x(body_end), y(fan.outer_radius)},
                 {sheet.x(fan.exit), y(fan.exit_radius + (fan.nozzle ? 0.0 : wall))},
                 {sheet.x(fan.exit), y(fan.exit_radius)},
                 {sheet.x(body_end), y(fan.nozzle ? fan.bore_radius : fan.exit_radius)},
                 {sheet.x(intake), y(fan.bore_radius)}});
  }
  sheet.number("fan duct, from the side",
               sheet.x(intake + 0.25 * fan.length),
               sheet.y(axis + 0.5 * (fan.outer_radius + fan.bore_radius)));
  if (!(fan.hub_radius > 0.0)) return;
  const double cylinder_end = fan.cone ? intake + 0.5 * fan.length : body_end;
  std::vector<std::pair<double, double>> hub{
      {sheet.x(intake + 0.15 * fan.length), sheet.y(axis - fan.hub_radius)},
      {sheet.x(intake + 0.15 * fan.length), sheet.y(axis + fan.hub_radius)},
      {sheet.x(cylinder_end), sheet.y(axis + fan.hub_radius)}};
  if (fan.cone) hub.emplace_back(sheet.x(body_end), sheet.y(axis));
  hub.emplace_back(sheet.x(cylinder_end), sheet.y(axis - fan.hub_radius));
  sheet.shape("part", hub);
  sheet.number(fan.cone ? "hub with tail cone" : "hub, ending blunt",
               sheet.x(intake + 0.55 * fan.length),
               sheet.y(axis));
}

void draw_inlet(Sheet& sheet, const InletShape& inlet) {
  constexpr double wall = 3.0;  // sheet units
  const double mouth = sheet.x(0.0);
  const double throat = sheet.x(inlet.lip);
  const double end = sheet.x(inlet.inducer);
  for (const double side : {1.0, -1.0}) {
    const auto y = [&](double radius) { return sheet.y(side * radius); };
    const double out = -side * wall;
    sheet.path("solid",
               fmt::format("M{0:.1f},{1:.1f} Q{0:.1f},{2:.1f} {3:.1f},{2:.1f} L{4:.1f},{2:.1f} "
                           "L{4:.1f},{5:.1f} L{6:.1f},{5:.1f} L{6:.1f},{7:.1f} L{0:.1f},{7:.1f} Z",
                           mouth,
                           y(inlet.mouth_radius),
                           y(inlet.throat_radius),
                           throat,
                           end,
                           y(inlet.throat_radius) + out,
                           mouth + wall,
                           y(inlet.face_radius) + out));
    if (inlet.face_radius > inlet.mouth_radius) {
      sheet.line("edge", mouth, y(inlet.mouth_radius), mouth, y(inlet.face_radius));
    }
  }
  sheet.number("inlet mouth, outermost edge", mouth, sheet.y(inlet.mouth_radius));
  const double tap = sheet.x(inlet.lip + 0.5 * (inlet.inducer - inlet.lip));
  constexpr double tube = 16.0;
  sheet.shape("tap",
              {{tap - 2.0, sheet.y(inlet.throat_radius)},
               {tap + 2.0, sheet.y(inlet.throat_radius)},
               {tap + 2.0, sheet.y(inlet.throat_radius) - tube},
               {tap - 2.0, sheet.y(inlet.throat_radius) - tube}});
  sheet.number(
      "throat, with the wall tap of the cold check", tap, sheet.y(inlet.throat_radius) - tube);
}

void draw_engine(Sheet& sheet, const InletShape& inlet) {
  const double face = sheet.x(inlet.inducer);
  if (!std::isfinite(inlet.wheel_radius)) {
    const double back = sheet.x(inlet.inducer + 2.0 * wheel_share * inlet.throat_radius);
    sheet.shape("part",
                {{face, sheet.y(inlet.throat_radius)},
                 {back, sheet.y(inlet.throat_radius)},
                 {back, sheet.y(-inlet.throat_radius)},
                 {face, sheet.y(-inlet.throat_radius)}});
    sheet.number("the engine as a resistance", 0.5 * (face + back), sheet.y(0.0));
    return;
  }
  const double back = sheet.x(inlet.inducer + 2.0 * wheel_share * inlet.wheel_radius);
  for (const double side : {1.0, -1.0}) {
    const auto y = [&](double radius) { return sheet.y(side * radius); };
    sheet.path("part",
               fmt::format("M{0:.1f},{1:.1f} Q{2:.1f},{1:.1f} {2:.1f},{3:.1f} L{4:.1f},{3:.1f} "
                           "L{4:.1f},{5:.1f} L{0:.1f},{6:.1f} Z",
                           face,
                           y(inlet.throat_radius),
                           back - 3.0,
                           y(inlet.wheel_radius),
                           back,
                           y(0.0),
                           y(inlet.hub_radius)));
  }
  sheet.shape("solid",
              {{face, sheet.y(inlet.hub_radius)},
               {back, sheet.y(inlet.hub_radius)},
               {back, sheet.y(-inlet.hub_radius)},
               {face, sheet.y(-inlet.hub_radius)}});
  sheet.number(
      "inducer's face, compressor wheel behind it", face, sheet.y(0.6 * inlet.throat_radius));
}

void draw_bracket(Sheet& sheet, const FanShape& fan, double hole, double axis) {
  constexpr double half = 5.0;
  constexpr double foot = 13.0;
  constexpr double plate = 4.0;
  const double px = sheet.x(hole);
  const double top = sheet.y(axis - fan.outer_radius);
  const double floor = sheet.floor();
  sheet.shape("part",
              {{px - half, top},
               {px + half, top},
               {px + half, floor - plate},
               {px + foot, floor - plate},
               {px + foot, floor},
               {px - foot, floor},
               {px - foot, floor - plate},
               {px - half, floor - plate}});
  sheet.number("bracket, its holes at the foot", px, 0.5 * (top + floor));
}

void draw_dimensions(
    Sheet& sheet, const Outcome& outcome, const FanShape& fan, double axis, double hole_x) {
  const Shown shown(outcome.bench.system);
  const double stand_off = -fan.exit;
  const double exit_top = sheet.y(axis - fan.exit_radius);
  const double mouth_top = sheet.y(0.0);
  sheet.dimension(fan.exit, 0.0, exit_top, mouth_top, "stand-off " + shown.length(stand_off));
  const auto& advice = outcome.answer.advice;
  if (advice.feasible) {
    sheet.dimension(
        -advice.slot.far,
        -advice.slot.near,
        sheet.floor(),
        sheet.floor(),
        fmt::format(
            "slot {} to {}", shown.length(advice.slot.near), shown.length(advice.slot.far)));
  }
  const auto place = hole(outcome.bench, stand_off);
  if (std::isfinite(place.to_datum)) {
    sheet.dimension(hole_x,
                    outcome.bench.drilling.mouth_to_bench_datum,
                    sheet.floor(),
                    sheet.floor(),
                    "holes to datum " + shown.length(place.to_datum));
  } else if (std::isfinite(place.to_mouth)) {
    sheet.dimension(
        hole_x, 0.0, sheet.floor(), mouth_top, "holes to mouth " + shown.length(place.to_mouth));
  }
}

}  // namespace

SideView side_view(const Outcome& outcome) {
  const auto fan = fan_shape(outcome);
  const auto inlet = inlet_shape(outcome);
  const auto slices = jet_slices(outcome);
  const auto& bench = outcome.bench;
  const double axis = bench.parts.mounting.offset;
  const double nozzle = fan.nozzle ? 2.0 * nozzle_share * fan.bore_radius : 0.0;
  const double intake = fan.exit - nozzle - fan.length;
  const bool holes_known = std::isfinite(bench.drilling.holes_to_exit);
  const double hole_x =
      holes_known ? fan.exit - bench.drilling.holes_to_exit : intake + 0.5 * fan.length;
  const double wheel = std::isfinite(inlet.wheel_radius) ? inlet.wheel_radius : inlet.throat_radius;
  double left = std::min(intake, hole_x);
  double right = inlet.inducer + 2.0 * wheel_share * wheel;
  for (const auto& slot : outcome.answer.advice.slots) left = std::min(left, -slot.far);
  if (holes_known && std::isfinite(bench.drilling.mouth_to_bench_datum)) {
    right = std::max(right, bench.drilling.mouth_to_bench_datum);
  }
  double radius = std::max({fan.outer_radius + std::abs(axis), inlet.face_radius, wheel});
  for (const auto& s : slices) radius = std::max(radius, std::abs(s.axis) + s.edge);

  Sheet sheet(left, right, radius);
  draw_slots(sheet, outcome);
  draw_jet(sheet, slices);
  sheet.line("axis", sheet.x(left), sheet.y(0.0), sheet.x(right), sheet.y(0.0));
  draw_bracket(sheet, fan, hole_x, axis);
  draw_fan(sheet, fan, axis);
  draw_inlet(sheet, inlet);
  draw_engine(sheet, inlet);
  sheet.line("edge", sheet.x(left), sheet.floor(), sheet.x(right), sheet.floor());
  draw_dimensions(sheet, outcome, fan, axis, hole_x);
  const Shown shown(bench.system);
  auto view = sheet.finish(fmt::format(
      "Side view to scale: the fan's exit {} before the inlet mouth", shown.length(-fan.exit)));
  std::string indicated = "the length of the inlet behind its lip and the depth of the wheel";
  if (!fan.length_known) indicated = "the fan's length, " + indicated;
  if (!holes_known) indicated = "the bracket's place, " + indicated;
  view.remarks.push_back("To scale, but for what the case does not ask or say: " + indicated + ".");
  constexpr double wider = 1.05;
  if (slices.front().edge > wider * fan.exit_radius) {
    view.remarks.emplace_back(
        "A ragged jet is already mixed where it leaves: the model starts it wider than the duct.");
  }
  if (!outcome.answer.advice.slots.empty()) {
    view.remarks.emplace_back("Shaded: where the fan's exit may stand.");
  }
  return view;
}

std::string tap_view() {
  return R"(<svg class="tap" viewBox="0 0 340 210" role="img" aria-label="U-tube on a wall tap in the inlet's throat, not to scale">
<path class="solid" d="M20,20 Q20,44 46,44 L170,44 L170,50 L24,50 L14,20 Z"/>
<path class="solid" d="M20,134 Q20,110 46,110 L170,110 L170,104 L24,104 L14,134 Z"/>
<path class="part" d="M170,50 Q196,50 196,18 L204,18 L204,136 L196,136 Q196,104 170,104 Z"/>
<line class="axis" x1="6" y1="77" x2="214" y2="77"/>
<line class="leader" x1="40" y1="77" x2="92" y2="77"/>
<polygon class="arrow" points="98,77 88,73 88,81"/>
<path class="tube" d="M108,104 L108,150 Q108,160 118,160 L232,160 Q242,160 242,150 L242,40 Q242,30 252,30 Q262,30 262,40 L262,170 Q262,186 276,186 Q290,186 290,170 L290,40"/>
<path class="water" d="M262,130 L262,170 Q262,186 276,186 Q290,186 290,170 L290,72"/>
<line class="thin" x1="258" y1="130" x2="322" y2="130"/>
<line class="thin" x1="286" y1="72" x2="322" y2="72"/>
<line class="thin" x1="314" y1="72" x2="314" y2="130"/>
<polygon class="arrow" points="314,72 311,80 317,80"/>
<polygon class="arrow" points="314,130 311,122 317,122"/>
<text class="dimension" x="328" y="106">h</text>
<text class="dimension" x="108" y="178">wall tap</text>
</svg>
)";
}

}  // namespace windgap::report
