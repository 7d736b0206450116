#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "placement/placement.h"
#include "units/format.h"

/// A plot of lines, as the page's plotting library reads it.
namespace windgap::report {

struct Point {
  double x = unset;
  double y = unset;
};

/// A line of a plot: its name in the legend, colour and dashes, as paper without colour needs both.
struct Line {
  std::string name;
  std::string colour;
  std::vector<int> dash = {1, 0};
  double width = 1.6;
  std::vector<Point> points;
};

inline constexpr auto plot_ink = "#1c1c1c";
inline constexpr auto plot_blue = "#1d4f7c";
inline constexpr auto plot_brown = "#8a4b14";

/// SI numbers as an axis shows them.
struct Axis {
  std::string title;
  units::Unit unit;
  [[nodiscard]] double shown(double si) const { return (si - unit.offset) / unit.factor; }
};

/// An axis in the unit that suits its largest value.
[[nodiscard]] Axis axis(std::string_view name,
                        double largest,
                        units::Dimension dimension,
                        units::System system);

/// Everything in SI.
struct Frame {
  Axis x;
  Axis y;
  double left = unset;
  double right = unset;
  double top = 0.0;
  double bottom = unset;  ///< unset: at nought of what the axis shows
  std::vector<placement::Slot> slots;
  std::vector<Line> lines;
  std::optional<Point> mark;
};

/// A level line across the frame; nothing without a level.
void add_level(Frame& frame, const std::string& name, double level);

/// Highest point of all lines, 0 without any above it.
[[nodiscard]] double greatest(const std::vector<Line>& lines);

/// JSON, safe inside a script element.
[[nodiscard]] std::string plot_spec(const Frame& frame, const std::string& description);

}  // namespace windgap::report
