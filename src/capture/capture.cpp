#include "capture/capture.h"

#include <algorithm>
#include <boost/math/special_functions/bessel.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <tuple>

namespace windgap::capture {
namespace {

using std::numbers::pi;

/// Running integrals of a panel's four Gauss-Lobatto points: the Lobatto IIIA matrix of four
/// stages, whose last row is the quadrature itself. Shares of the panel's width.
constexpr std::size_t steps_in_panel = 3;
constexpr double root_of_5 = 2.2360679774997896964;
constexpr std::array<double, steps_in_panel> places{
    0.5 - root_of_5 / 10.0, 0.5 + root_of_5 / 10.0, 1.0};
constexpr std::array<std::array<double, steps_in_panel + 1>, steps_in_panel> running{
    {{(11.0 + root_of_5) / 120.0,
      (25.0 - root_of_5) / 120.0,
      (25.0 - 13.0 * root_of_5) / 120.0,
      (-1.0 + root_of_5) / 120.0},
     {(11.0 - root_of_5) / 120.0,
      (25.0 + 13.0 * root_of_5) / 120.0,
      (25.0 + root_of_5) / 120.0,
      (-1.0 - root_of_5) / 120.0},
     {1.0 / 12.0, 5.0 / 12.0, 5.0 / 12.0, 1.0 / 12.0}}};

/// Panels that cover the core, or where there is none the middle that a hub's wake takes up.
constexpr std::size_t core_panels = 5;
constexpr double least_middle = 0.4;  // stream radii

/// Of those, the ones that cover a hub's wake: so many of its widths, or where it fills the core so
/// much of that.
constexpr std::size_t wake_panels = 3;
constexpr double wake_reach = 2.0;
constexpr double most_wake = 0.7;

/// Growth of the panels outwards from there.
constexpr double panel_grading = 1.5;

/// Directions over the half circle in which a tube shifted by so many stream radii is sampled
/// (midpoints: the error falls faster than any power of their number, to 1e-5 here).
constexpr std::size_t directions_for(double shift, std::size_t most) {
  constexpr double slight = 0.15;
  constexpr double small = 0.3;
  return shift < slight ? 3 : shift < small ? 4 : most;
}

/// First zero of the Bessel function J0: decay of a disturbance inside a free round jet.
const double first_zero_of_j0 = boost::math::cyl_bessel_j_zero(0.0, 1);

/// What passes through a ring of unit width.
using Ring = Tube::Totals;

Ring operator+(const Ring& a, const Ring& b) {
  return {.flow = a.flow + b.flow,
          .power = a.power + b.power,
          .momentum = a.momentum + b.momentum,
          .spin = a.spin + b.spin};
}

Ring operator*(double f, const Ring& a) {
  return {.flow = f * a.flow, .power = f * a.power, .momentum = f * a.momentum, .spin = f * a.spin};
}

/// Static pressure that a rotating jet lacks at `radius` (radial equilibrium, Eq. 2): rotation^2 x
/// the axial momentum farther out, the part beyond the shear layer's Gaussian held on the safe
/// side.
double suction(const jet::Section& section, double radius, double clean) {
  const double rc = section.core_radius;
  const double b = section.shear_width;
  const double layer = rc * b * std::sqrt(pi / 2.0) + b * b / 2.0;
  const double inside = std::max(0.0, rc * rc - radius * radius) * section.peak * section.peak;
  return section.rotation * section.rotation * (inside + layer * clean * clean);
}

/// Contribution of one point of the section at `radius` from the jet's axis. The wake costs only
/// the share of it that enters (Eq. 3): the rest of the stream takes its place.
Ring point(const jet::Section& section, double radius, double wake_entering) {
  const auto [axial, clean] = jet::local(section, radius);
  const double u = clean + wake_entering * (axial - clean);
  const double missing = section.rotation > 0.0 ? suction(section, radius, clean) : 0.0;
  return {.flow = u,
          .power = u * (u * u - missing),
          .momentum = u * u,
          .spin = section.rotation * radius * radius * u * u};
}

using PanelRings = std::array<Ring, steps_in_panel + 1>;
using PanelGains = std::array<Ring, steps_in_panel>;

/// Whether what a panel gathers could be: flow and momentum that grow outwards, and no air faster
/// than at its points. Far off the jet's axis the air rises too steeply for the exact rule.
bool possible(const PanelGains& gained, const PanelRings& rings) {
  constexpr double slack = 1e-2;  // of the speed: an extreme between the points
  double fastest = 0.0;
  for (const auto& ring : rings) {
    if (ring.flow > 0.0) fastest = std::max(fastest, ring.momentum / ring.flow);
  }
  Ring last;
  for (const auto& gain : gained) {
    if (!(gain.flow >= last.flow && gain.momentum >= last.momentum)) return false;
    if (gain.momentum > fastest * (1.0 + slack) * gain.flow) return false;
    last = gain;
  }
  return true;
}

/// What a panel gathers from its inner end to each of its points: the exact rule for a cubic, or
/// where that is impossible straight lines between the points, which always are.
PanelGains gain(const PanelRings& rings, double width) {
  PanelGains gained;
  for (std::size_t i = 0; i < steps_in_panel; ++i) {
    for (std::size_t j = 0; j <= steps_in_panel; ++j) {
      gained[i] = gained[i] + width * running[i][j] * rings[j];
    }
  }
  if (possible(gained, rings)) return gained;
  Ring sum;
  double from = 0.0;
  for (std::size_t i = 0; i < steps_in_panel; ++i) {
    sum = sum + 0.5 * width * (places[i] - from) * (rings[i] + rings[i + 1]);
    from = places[i];
    gained[i] = sum;
  }
  return gained;
}

/// Radii of the panels' ends: a few across the core, the rest across the shear layer.
template <std::size_t panels>
std::array<double, panels + 1> panel_ends(const jet::Section& section, double offset) {
  const double core = std::max(least_middle, section.core_radius - offset);
  const double outer = jet::outer_radius(section) + offset;
  static const auto grading = [] {
    std::array<double, panels - core_panels + 1> shares{};
    for (std::size_t i = 0; i < shares.size(); ++i) {
      shares[i] = std::pow(static_cast<double>(i) / static_cast<double>(panels - core_panels),
                           panel_grading);
    }
    return shares;
  }();
  const double wake = std::min(wake_reach * section.wake_width, most_wake * core);
  std::array<double, panels + 1> ends{};
  for (std::size_t i = 0; i <= panels; ++i) {
    if (i <= wake_panels) {
      ends[i] = wake * static_cast<double>(i) / static_cast<double>(wake_panels);
    } else if (i <= core_panels) {
      ends[i] = wake + (core - wake) * static_cast<double>(i - wake_panels) /
                           static_cast<double>(core_panels - wake_panels);
    } else {
      ends[i] = core + (outer - core) * grading[i - core_panels];
    }
  }
  return ends;
}

/// The air at a tube's edge.
void set_edge(Tube& tube, std::size_t node, const Ring& end) {
  if (!(end.flow > 0.0)) return;  // so far off the jet that nothing moves
  tube.edges[node] = {.pressure = end.power / end.flow,
                      .speed = end.momentum / end.flow,
                      .spin = end.spin / end.flow};
}

struct Value {
  double value;
  double slope;
};

/// A total at `share` of the panel between flows that lie `width` apart, from its values and its
/// derivatives (cubic Hermite).
Value hermite(double share,
              double width,
              std::array<double, 2> values,
              std::array<double, 2> slopes) {
  const double rise = values[1] - values[0];
  const double a = slopes[0] * width - rise;
  const double b = rise - slopes[1] * width;
  const double rest = 1.0 - share;
  return {.value = values[0] + share * (rise + rest * (a * rest + b * share)),
          .slope = (rise + (1.0 - 2.0 * share) * (a * rest + b * share) + share * rest * (b - a)) /
                   width};
}

/// The curtain between the duct's rim and the edge that turns the spill away, over the stream's
/// area: side of a truncated cone.
double curtain_ratio(const Gap& gap) {
  const double edge = gap.rim_diameter < gap.mouth.diameter        ? gap.mouth.diameter
                      : gap.rim_diameter > gap.mouth.face_diameter ? gap.mouth.face_diameter
                                                                   : gap.rim_diameter;
  const double slant = std::hypot(gap.stand_off, (gap.rim_diameter - edge) / 2.0);
  return pi * slant * (gap.rim_diameter + edge) / 2.0 / gap.stream_area;
}

}  // namespace

Gathering::Gathering(const jet::Section& section, double offset, const Coefficients& c)
    : section_(section),
      offset_(offset),
      wake_entering_(c.wake_entering),
      ends_(panel_ends<panels>(section, offset)) {
  tube_.gathered = 0;
  set_edge(tube_, 0, point(section, offset, wake_entering_));
  if (offset <= 0.0) return;
  directions_ = directions_for(offset, most_directions);
  for (std::size_t i = 0; i < directions_; ++i) {
    cosines_[i] = std::cos(pi * (static_cast<double>(i) + 0.5) / static_cast<double>(directions_));
  }
}

void Gathering::add_panel() {
  // The ring at a radius from the mouth's centre, per unit width: 2 r times the mean over all
  // directions (flows are over pi times the stream's radius squared).
  const auto ring = [this](double radius) {
    if (offset_ <= 0.0) return 2.0 * radius * point(section_, radius, wake_entering_);
    Ring sum;
    for (std::size_t i = 0; i < directions_; ++i) {
      const double square =
          radius * radius + offset_ * offset_ - 2.0 * radius * offset_ * cosines_[i];
      sum = sum + point(section_, std::sqrt(std::max(0.0, square)), wake_entering_);
    }
    return 2.0 * radius / static_cast<double>(directions_) * sum;
  };
  const std::size_t first = tube_.gathered;
  const double start = ends_[first / steps_in_panel];
  const double width = ends_[first / steps_in_panel + 1] - start;
  PanelRings rings;
  rings[0] = last_ring_;
  for (std::size_t i = 0; i < steps_in_panel; ++i) {
    rings[i + 1] = ring(start + places[i] * width);
    set_edge(tube_, first + i + 1, rings[i + 1]);
  }
  const auto before = tube_.totals[first];
  const auto gained = gain(rings, width);
  for (std::size_t i = 0; i < steps_in_panel; ++i) {
    tube_.totals[first + i + 1] = {.flow = before.flow + gained[i].flow,
                                   .power = before.power + gained[i].power,
                                   .momentum = before.momentum + gained[i].momentum,
                                   .spin = before.spin + gained[i].spin};
  }
  last_ring_ = rings[steps_in_panel];
  tube_.gathered += steps_in_panel;
}

Tube tube(const jet::Section& section, double offset, const Coefficients& c) {
  return Gathering(section, offset, c).up_to(std::numeric_limits<double>::infinity());
}

Swallowed swallow(const Tube& t, double flow) {
  const double jet_flow = t.totals[t.gathered].flow;
  if (flow >= jet_flow) {
    const double pressure = t.totals[nodes].power / flow;
    return {.pressure = pressure,
            .pressure_slope = -pressure / flow,
            .speed = t.totals[nodes].momentum / flow,
            .spin = t.totals[nodes].spin / flow};
  }
  const auto* const last = t.totals.begin() + t.gathered;
  const auto* const above =
      std::upper_bound(t.totals.begin() + 1, last, flow, [](double f, const Tube::Totals& total) {
        return f < total.flow;
      });
  const auto i = static_cast<std::size_t>(above - t.totals.begin()) - 1;
  const auto& [from, to] = std::tie(t.totals[i], t.totals[i + 1]);
  const double width = to.flow - from.flow;
  const double share = (flow - from.flow) / width;
  const auto power =
      hermite(share, width, {from.power, to.power}, {t.edges[i].pressure, t.edges[i + 1].pressure});
  const auto momentum =
      hermite(share, width, {from.momentum, to.momentum}, {t.edges[i].speed, t.edges[i + 1].speed});
  const auto spin =
      hermite(share, width, {from.spin, to.spin}, {t.edges[i].spin, t.edges[i + 1].spin});
  const double pressure = power.value / flow;
  return {.pressure = pressure,
          .pressure_slope = (power.slope - pressure) / flow,
          .speed = momentum.value / flow,
          .spin = spin.value / flow};
}

Spill spill(const Gap& gap, const Coefficients& c) {
  const double opening = c.rim_contraction * curtain_ratio(gap);
  const double decay = 2.0 * first_zero_of_j0 * gap.stand_off / gap.rim_diameter;
  const double scale = std::exp(-decay) / (opening * opening);
  const double covered = gap.mouth.face_diameter / gap.rim_diameter;
  return {.near = (1.0 + decay) * scale,
          .far = 0.5 * decay * decay * scale,
          .stopped = std::min(1.0, covered * covered)};
}

double exit_excess(const Spill& spill, double capture_ratio) {
  const double turned = std::max(0.0, spill.stopped - capture_ratio);
  return turned * (spill.near * turned + spill.far);
}

double exit_excess_slope(const Spill& spill, double capture_ratio) {
  const double turned = std::max(0.0, spill.stopped - capture_ratio);
  return turned > 0.0 ? -(2.0 * spill.near * turned + spill.far) : 0.0;
}

}  // namespace windgap::capture
