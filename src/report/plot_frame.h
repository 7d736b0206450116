#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "placement/placement.h"
#include "units/format.h"

/// What every plot of the page is made of; values are SI until the plot is written.
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

inline constexpr auto ink = "#1c1c1c";
inline constexpr auto blue = "#1d4f7c";
inline constexpr auto brown = "#8a4b14";

/// SI numbers as an axis shows them.
struct Axis {
  std::string title;
  units::Unit unit;
  [[nodiscard]] double shown(double si) const { return (si - unit.offset) / unit.factor; }
};

/// In the unit that suits `largest`.
[[nodiscard]] Axis axis(std::string_view name,
                        double largest,
                        units::Dimension dimension,
                        units::System system);

struct Frame {
  Axis x;
  Axis y;
  double left = unset;
  double right = unset;
  double top = 0.0;
  double bottom = unset;               ///< unset: at nought of what the axis shows
  std::vector<placement::Slot> slots;  ///< shaded from near to far
  std::vector<Line> lines;
  std::optional<Point> mark;
  std::vector<double> moments = {};  ///< along x; upright lines numbered from 1
};

/// A level line across the frame; none where the level is no number.
void add_level(Frame& frame, const std::string& name, double level);

/// Highest point of the lines, at least 0.
[[nodiscard]] double greatest(const std::vector<Line>& lines);

/// JSON of the plotting library, safe inside a script element.
[[nodiscard]] std::string spec(const Frame& frame, const std::string& description);

}  // namespace windgap::report
