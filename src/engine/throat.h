#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "engine/engine.h"

/// Compressible flow through a throat, explicit and smooth up to choke (Eqs. 1 to 4 of
/// models/engine.md). Internal to engine/.
namespace windgap::engine {

/// x^(cp/R) of an ideal diatomic gas, cp = 7/2 R: what cold air is.
struct DiatomicPower {
  static constexpr double exponent = 3.5;
  [[nodiscard]] double operator()(double x) const noexcept { return x * x * x * std::sqrt(x); }
};

/// x^(cp/R) of a gas with another specific heat.
struct GasPower {
  double exponent = unset;
  [[nodiscard]] double operator()(double x) const noexcept {
    return std::exp(exponent * std::log(x));
  }
};

/// Speed over sqrt(2 cp T0) at which 1/(2 n - 1) of the total enthalpy is kinetic: sonic.
[[nodiscard]] inline double sonic_share(double exponent) { return 1.0 / (2.0 * exponent - 1.0); }

/// Constants of the flow function psi(v) = v ys^n/y, y = 1 - v^2, ys = 1 - (1 + K) v^2 (Eq. 2), and
/// the polynomial that inverts it (Eq. 4).
[[nodiscard]] Throat make_throat(double loss, double exponent);

/// The same for every exponent between those of cold air and of rich hot gas.
[[nodiscard]] ThroatFamily make_throat_family(double loss);

/// Quadratic interpolation of all constants by the exponent.
[[nodiscard]] inline Throat at_exponent(const ThroatFamily& family, double exponent) noexcept {
  constexpr double start = ThroatFamily::first_exponent;
  constexpr double step = ThroatFamily::exponent_step;
  const double t = (exponent - start) / step;
  const double w0 = 0.5 * (t - 1.0) * (t - 2.0);
  const double w1 = t * (2.0 - t);
  const double w2 = 0.5 * t * (t - 1.0);
  const auto& [a, b, c] = family.member;
  // Choke speed and flow go nearly with the sonic speed, whose exact law is taken out.
  const double sonic = std::sqrt(sonic_share(exponent));
  Throat out;
  out.choke_speed = sonic * (w0 * family.choke_speed[0] + w1 * family.choke_speed[1] +
                             w2 * family.choke_speed[2]);
  out.choke_flow =
      sonic * (w0 * family.choke_flow[0] + w1 * family.choke_flow[1] + w2 * family.choke_flow[2]);
  out.loss = a.loss;
  for (std::size_t i = 0; i < out.shape.size(); ++i) {
    out.shape[i] = w0 * a.shape[i] + w1 * b.shape[i] + w2 * c.shape[i];
  }
  return out;
}

/// State in the throat.
struct Passed {
  double v = 0.0;            ///< speed over sqrt(2 cp T0) [-]
  double choke_ratio = 0.0;  ///< flow over choked flow [-]
};

/// Solves psi(v) = choke_ratio psi_choke: v = v_choke (1 - u) P(u), u = sqrt(1 - choke_ratio). The
/// root in u takes the choke's vertical tangent away, so that a short polynomial P is good to
/// 2e-5 of the flow. Beyond choke v stays at choke.
[[nodiscard]] inline Passed pass(const Throat& throat, double choke_ratio) noexcept {
  const double u = std::sqrt(std::max(0.0, 1.0 - choke_ratio));
  const double u2 = u * u;
  const auto& p = throat.shape;
  const double low = (p[0] + p[1] * u) + u2 * (p[2] + p[3] * u);
  const double high = (p[4] + p[5] * u) + u2 * p[6];
  return {.v = throat.choke_speed * (1.0 - u) * (low + u2 * u2 * high), .choke_ratio = choke_ratio};
}

}  // namespace windgap::engine
