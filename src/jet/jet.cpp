#include "jet/jet.h"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace windgap::jet {
namespace {

using std::numbers::pi;
using std::numbers::sqrt2;

/// Thinnest shear layer worth telling from none, in exit radii; keeps x = 0 regular.
constexpr double thinnest_layer = 1e-3;

/// Wake widths beyond which nothing of the wake is felt: exp(-16) is left.
constexpr double wake_edge = 4.0;

/// Gaussian widths after which a profile is over: exp(-9) of the peak is left.
constexpr double widths_to_the_edge = 3.0;

/// Shear width b(x) of Eq. 1: from b0 at the exit to sqrt(2) R where the core ends, first slower,
/// then at the rate of the far field.
double shear_width(const Regime& regime, double distance, const Coefficients& c, double stripping) {
  const double core_end = 2.0 * regime.core_length / stripping;
  const double rate = regime.spread_rate * stripping;
  if (distance >= core_end) return sqrt2 + rate * (distance - core_end);
  const double start = std::max(0.0, sqrt2 - rate * core_end);
  const double xi = distance / core_end;
  const double grown = xi * (1.0 - c.early_growth_deficit * (1.0 - xi) * (1.0 - xi));
  return std::max(start + (sqrt2 - start) * grown, thinnest_layer);
}

/// Momentum of the profile without wake over the exit's: with the wake taken out, the exit's is
/// left (Eq. 2). `missing` is the wake's deficit over the squared peak speed.
double clean_momentum(double b, double missing) {
  const double in_core = 1.0 + missing;
  return b * b <= 2.0 * in_core ? in_core : 1.0 / (1.0 - 2.0 * missing / (b * b));
}

/// Core radius from the momentum balance rc^2/2 + rc b sqrt(pi/8) + b^2/4 = M/2 (Eq. 2).
double core_radius(double b, double momentum) {
  const double half_linear = b * std::sqrt(pi / 8.0);
  return std::max(
      0.0,
      std::sqrt(half_linear * half_linear + std::max(0.0, momentum - b * b / 2.0)) - half_linear);
}

/// Integral of u^2 r^3 over the section without swirl and wake, for unit peak speed.
double third_moment(double rc, double b) {
  const double zeroth = b * std::sqrt(pi / 8.0);
  const double first = b * b / 4.0;
  const double second = std::sqrt(pi / 2.0) * b * b * b / 8.0;
  const double third = b * b * b * b / 8.0;
  return rc * rc * rc * rc / 4.0 + rc * rc * rc * zeroth + 3.0 * rc * rc * first +
         3.0 * rc * second + third;
}

void add_swirl(Section& s, double swirl_number, double rim_radius) {
  if (swirl_number <= 0.0) return;
  const double flux = swirl_number * rim_radius / 2.0;
  const double moment = s.peak * s.peak * third_moment(s.core_radius, s.shear_width);
  s.rotation = 2.0 * flux / (moment + std::sqrt(moment * moment + 4.0 * flux * flux * moment));
  s.peak /= std::sqrt(1.0 - s.rotation * s.rotation * moment);
}

/// The hub's wake: width over the hub's radius, depth on the axis.
struct Wake {
  double width = 1.0;
  double depth = 0.0;

  /// Flow that it lacks, over the stream's speed and the hub's area.
  [[nodiscard]] double missing_flow() const { return depth * width * width; }
  /// Momentum that it lacks, over the stream's speed squared and the hub's area.
  [[nodiscard]] double missing_momentum() const {
    return (2.0 - depth / 2.0) * depth * width * width;
  }
};

/// Eqs. 7 and 8: width over depth-dependent spreading integrates to a cubic in e = exp(t), with the
/// width cosh(t) times that of air at rest and the depth 1 - tanh(t).
Wake wake(HubEnd end, double hub_diameters, const Coefficients& c) {
  const bool blunt = end == HubEnd::blunt;
  const double beyond = hub_diameters - (blunt ? c.dead_air_length : 0.0);
  const double distance = 0.5 * (beyond + std::hypot(beyond, 2.0 * c.dead_air_smear));
  const double at_rest = std::sqrt(blunt ? c.wake_drag_blunt : c.wake_drag_cone);
  const double cosine = 6.0 * c.wake_spread_rate * distance / at_rest - 1.0;
  const double e = cosine < 1.0 ? 2.0 * std::cos(std::acos(cosine) / 3.0)
                                : 2.0 * std::cosh(std::acosh(cosine) / 3.0);
  return {.width = at_rest * 0.5 * (e + 1.0 / e), .depth = 2.0 / (1.0 + e * e)};
}

/// Downwind shift of the axis by Eq. 9, solved for the shift at a given penetration.
double bend(double wind_ratio, double distance, const Coefficients& c) {
  if (wind_ratio <= 0.0) return 0.0;
  const double scale = 2.0 / wind_ratio;
  return scale * std::pow(distance / (scale * c.crosswind_penetration), 1.0 / c.crosswind_exponent);
}

}  // namespace

double stream_radius(const Exit& exit) { return std::sqrt(exit.area / pi); }

Ring ring(const Exit& exit, const Coefficients& c) {
  if (exit.hub_radius <= 0.0 || exit.hub_end == HubEnd::blunt) return {};
  const double hub = exit.hub_radius * exit.hub_radius / (exit.area / pi);
  const auto behind = wake(exit.hub_end, 0.0, c);
  return {.speed = 1.0 / (1.0 - hub * behind.missing_flow()),
          .area = 1.0 - hub * behind.missing_momentum()};
}

Regime regime(double propeller_share, const Coefficients& c) {
  const double share = std::clamp(propeller_share, 0.0, 1.0);
  return {.core_length = c.core_length_nozzle *
                         std::pow(c.core_length_propeller / c.core_length_nozzle, share),
          .spread_rate =
              c.spread_rate_nozzle + share * (c.spread_rate_propeller - c.spread_rate_nozzle)};
}

double propeller_share(const Exit& exit, bool straightened, const Coefficients& c) {
  const bool blunt = exit.hub_radius > 0.0 && exit.hub_end == HubEnd::blunt;
  return std::clamp(exit.swirl_number / c.swirl_propeller +
                        (straightened ? 0.0 : c.mixing_without_vanes) +
                        (blunt ? c.mixing_blunt_hub : 0.0),
                    0.0,
                    1.0);
}

double largest_propeller_share(const Exit& exit, bool straightened, const Coefficients& c) {
  if (!straightened) return 1.0;
  return std::min(1.0, propeller_share(exit, straightened, c) + c.share_reach);
}

Section section(const Shape& shape, double distance, const Coefficients& c) {
  const double unit = stream_radius(shape.exit);
  const double x = distance / unit;
  const double stripping = 1.0 + c.crosswind_stripping * shape.wind_ratio;
  Section s;
  s.wake_width = 1.0;
  double missing = 0.0;
  if (shape.exit.hub_radius > 0.0) {
    const double hub = shape.exit.hub_radius / unit;
    const auto behind = wake(shape.exit.hub_end, x / (2.0 * hub), c);
    s.wake_width = hub * behind.width;
    s.wake_depth = behind.depth;
    missing = hub * hub * behind.missing_momentum();
  }
  s.shear_width = shear_width(shape.regime, x, c, stripping);
  const double momentum = clean_momentum(s.shear_width, missing);
  s.core_radius = core_radius(s.shear_width, momentum);
  s.peak = std::min(1.0, std::sqrt(2.0 * momentum) / s.shear_width);
  add_swirl(s, shape.exit.swirl_number, shape.exit.rim_radius / unit);
  s.bend = bend(shape.wind_ratio, x, c);
  return s;
}

Local local(const Section& s, double radius) {
  const double t = (radius - s.core_radius) / s.shear_width;
  const double clean = t <= 0.0 ? s.peak : s.peak * std::exp(-t * t);
  const double w = radius / s.wake_width;
  if (s.wake_depth <= 0.0 || w > wake_edge) return {.axial = clean, .axial_clean = clean};
  return {.axial = clean * (1.0 - s.wake_depth * std::exp(-w * w)), .axial_clean = clean};
}

double outer_radius(const Section& s) { return s.core_radius + widths_to_the_edge * s.shear_width; }

CoreFit fit_readings(const Shape& shape,
                     std::span<const AxisReading> readings,
                     const Coefficients& c) {
  if (readings.empty()) throw std::logic_error("a jet cannot be fitted to no reading");
  const double unit = stream_radius(shape.exit);
  const auto misfit = [&](double share) {
    Shape trial = shape;
    trial.regime = regime(share, c);
    double sum = 0.0;
    for (const auto& reading : readings) {
      const double u = local(section(trial, reading.distance, c), reading.radius / unit).axial;
      sum += (u * u - reading.ratio) * (u * u - reading.ratio);
    }
    return std::sqrt(sum / static_cast<double>(readings.size()));
  };
  constexpr int bits = 30;
  const auto [inner, inner_misfit] = boost::math::tools::brent_find_minima(misfit, 0.0, 1.0, bits);
  double share = inner;
  double least = inner_misfit;
  for (const double end : {0.0, 1.0}) {
    if (const double there = misfit(end); there <= least) {
      share = end;
      least = there;
    }
  }
  return {.regime = regime(share, c),
          .propeller_share = share,
          .misfit = least,
          .at_bound = share == 0.0 || share == 1.0};
}

}  // namespace windgap::jet
