#pragma once

#include <string>
#include <vector>

#include "choice/choice.h"

/// How far a fan of a given bore reaches, for engines of several sizes, and a rule of thumb.
/// Rules: models/choice.md.
namespace windgap::choice {

/// An engine of the library, every fallback filled in.
struct ListedEngine {
  std::string name;
  engine::Engine engine;
  bool own = false;      ///< the case's
  rig::StartNeed start;  ///< the case's own need; else light-off speed
};

struct SizingPoint {
  double bore = unset;       ///< [m]
  double stand_off = unset;  ///< [m]; 0: does not start it anywhere
};

/// One engine, a family of fans scaled from one.
struct SizingLine {
  std::string engine;
  double inducer = unset;  ///< [m]
  bool own = false;
  std::vector<SizingPoint> points;
};

/// A fan of the library on its farthest pack, for the case's engine, without an end to the travel.
struct SizingFan {
  std::size_t choice = 0;  ///< position in the ranking
  double bore = unset;
  double thrust = unset;     ///< into the open [N]
  double stand_off = unset;  ///< [m]; 0: none
};

/// stand-off = slope (x - offset), by least squares over the library's fans that reach a mount.
struct Thumb {
  double slope = unset;
  double offset = unset;
  double deviation = unset;  ///< root mean square of what it misses by [m]
  double worst = unset;      ///< [m]
  std::size_t fans = 0;      ///< it rests on; fewer than three: no rule
};

struct Sizing {
  std::string family;  ///< the fan that was scaled
  std::vector<SizingLine> lines;
  std::vector<SizingFan> fans;
  Thumb by_bore;         ///< x: bore [m]
  Thumb by_root_thrust;  ///< x: square root of thrust [N^(1/2)]
};

/// @param ranking complete, with at least one fan that was placed
[[nodiscard]] Sizing sizing(const Question& question,
                            std::span<const ListedFan> fans,
                            std::span<const ListedPack> packs,
                            std::span<const ListedEngine> engines,
                            const Ranking& ranking,
                            const Options& options);

/// The same fan, motor and pack in another size: lengths by `ratio`, thrust, currents and capacity
/// by its square, resistances by the inverse square, speed constant by the inverse, masses by the
/// cube. Velocities, voltages and losses per power stay (Eq. 10).
struct ScaledFan {
  fan::Fan fan;
  drive::Drive drive;
};
[[nodiscard]] ScaledFan scaled(const fan::Fan& fan, const drive::Drive& drive, double ratio);

/// Least squares of a line; deviations of y.
[[nodiscard]] Thumb fit_line(const std::vector<SizingPoint>& points);

}  // namespace windgap::choice
