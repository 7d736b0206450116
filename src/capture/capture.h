#pragma once

#include <array>
#include <cstddef>

#include "jet/jet.h"
#include "units/table.h"

/// What a mouth swallows from the jet in front of it, and what the spilled rest does to the fan.
/// Equations, sources and validity: models/capture.md (the numbers below are the equations there).
namespace windgap::capture {

/// Model coefficients, filled from models/physics/capture.yaml.
struct Coefficients {
  double rim_contraction = unset;  ///< contraction of the spill leaving round the duct's rim [-]
  double wake_entering = unset;  ///< share of the hub wake on the axis that the mouth swallows [-]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  v("rim_contraction", c.rim_contraction);
  v("wake_entering", c.wake_entering);
}

/// The inlet as the jet meets it.
struct Mouth {
  double diameter = unset;       ///< outermost edge of the bellmouth [m]
  double face_diameter = unset;  ///< of what surrounds the mouth and turns the spill away [m]
};

/// Number of nodes in a tube's tables beyond the one in its middle.
inline constexpr std::size_t nodes = 27;

/// Running totals over the tube of jet that a mouth swallows, from its middle outwards. Flows are
/// over the exit's (density x velocity x area), pressures over its dynamic pressure, lengths over
/// the stream's radius, speeds over the exit velocity.
struct Tube {
  struct Totals {
    double flow = 0.0;      ///< [-]
    double power = 0.0;     ///< integral of total pressure over the flow [-]
    double momentum = 0.0;  ///< integral of speed over the flow [-]
    double spin = 0.0;      ///< integral of radius x tangential speed over the flow [-]
  };
  /// The same quantities for the air at the tube's edge: derivatives of the totals by flow.
  struct Edge {
    double pressure = 0.0;
    double speed = 0.0;
    double spin = 0.0;
  };
  std::array<Totals, nodes + 1> totals;
  std::array<Edge, nodes + 1> edges;
  std::size_t gathered = nodes;  ///< last node whose totals and edge are known
};

/// Tables for the section of a jet whose axis passes `offset` [-, stream radii] beside the mouth's
/// centre (Eqs. 1 to 4). About 2 microseconds, no allocation.
[[nodiscard]] Tube tube(const jet::Section& section, double offset, const Coefficients& c);

/// The same tables, gathered from the middle outwards only as far as a flow asks for: a small mouth
/// swallows the middle of a jet, and most of the work is outside. No allocation.
class Gathering {
 public:
  Gathering(const jet::Section& section, double offset, const Coefficients& c);

  /// Tables that `swallow` may ask for this flow [-, over the exit's].
  [[nodiscard]] const Tube& up_to(double flow) {
    while (tube_.gathered < nodes && !(flow < tube_.totals[tube_.gathered].flow)) add_panel();
    return tube_;
  }

 private:
  static constexpr std::size_t steps_in_panel = 3;
  static constexpr std::size_t panels = nodes / steps_in_panel;

  /// Most directions over the half circle in which a tube beside the axis is sampled.
  static constexpr std::size_t most_directions = 12;

  void add_panel();

  jet::Section section_;
  double offset_ = 0.0;
  double wake_entering_ = unset;
  std::size_t directions_ = 1;
  std::array<double, most_directions> cosines_{};
  std::array<double, panels + 1> ends_{};
  Tube::Totals last_ring_;  ///< per unit width, at the last node; nothing passes through the middle
  Tube tube_;
};

/// Means over what is swallowed; slope by the flow.
struct Swallowed {
  double pressure = unset;        ///< total pressure over the exit's dynamic pressure [-]
  double pressure_slope = unset;  ///< d(pressure)/d(flow) [-]
  double speed = unset;           ///< speed of the air before the mouth, over exit velocity [-]
  double spin = unset;            ///< radius x tangential speed, over stream radius x velocity [-]
};

/// Swallowing `flow` [-, over the exit's] from the tube; what exceeds the jet's is room air at
/// rest, without total pressure (Eq. 1). flow > 0. About 20 ns.
[[nodiscard]] Swallowed swallow(const Tube& tube, double flow);

/// The gap as the spill sees it.
struct Gap {
  double stand_off = unset;     ///< exit plane to mouth plane, > 0 [m]
  double rim_diameter = unset;  ///< of the duct or nozzle [m]
  double stream_area = unset;   ///< that the stream fills at the exit [m^2]
  Mouth mouth;
};

/// Parts of the excess pressure that do not depend on the flow: excess = n (near n + far), with n
/// the share of the exit's flow that is stopped and turned away (Eq. 5).
struct Spill {
  double near = unset;     ///< grows as the gap closes: continuity through the curtain [-]
  double far = unset;      ///< decays as the gap opens: the face felt upstream [-]
  double stopped = unset;  ///< share of the exit's flow that meets mouth or face [-]
};

[[nodiscard]] Spill spill(const Gap& gap, const Coefficients& c);

/// Excess static pressure at the fan's exit over its dynamic pressure, at a capture ratio [-]
/// (swallowed over exit flow). Zero where nothing is turned away.
[[nodiscard]] double exit_excess(const Spill& spill, double capture_ratio);

/// d(excess)/d(capture ratio) [-].
[[nodiscard]] double exit_excess_slope(const Spill& spill, double capture_ratio);

}  // namespace windgap::capture
