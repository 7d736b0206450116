#include "engine/throat.h"

#include <array>
#include <numbers>

namespace windgap::engine {
namespace {

constexpr std::size_t terms = std::tuple_size_v<decltype(Throat::shape)>;
constexpr int newton_steps = 5;

struct Constants {
  double a = unset;         ///< 1 + K
  double exponent = unset;  ///< n
  double z = unset;         ///< v^2 at choke
};

/// psi and d ln psi/d ln v.
struct FlowFunction {
  double value = unset;
  double slope = unset;
};

FlowFunction flow_function(const Constants& k, double v) {
  const double z = v * v;
  const double y = 1.0 - z;
  const double ys = 1.0 - k.a * z;
  return {.value = v * std::pow(ys, k.exponent) / y,
          .slope = 1.0 + 2.0 * z * (1.0 / y - k.exponent * k.a / ys)};
}

/// v/v_choke at a choke ratio 1 - u^2, by Newton's method from the cubic in u that has the exact
/// value and slope at rest and at choke.
double speed_share(const Constants& k, const Throat& throat, double u) {
  const double y = 1.0 - k.z;
  const double ys = 1.0 - k.a * k.z;
  const double curvature = 2.0 * k.z * (k.exponent * k.a / (ys * ys) - 1.0 / (y * y));
  const double slope_at_choke = -1.0 / std::sqrt(curvature);
  const double slope_at_rest = -2.0 * throat.choke_flow / throat.choke_speed;
  const double w = 1.0 - u;
  double v =
      throat.choke_speed * w * (w * (1.0 + 2.0 * u) + u * (slope_at_choke * w - slope_at_rest * u));
  const double target = throat.choke_flow * (1.0 - u * u);
  for (int step = 0; step < newton_steps; ++step) {
    const FlowFunction f = flow_function(k, v);
    v += v * (target / f.value - 1.0) / f.slope;
  }
  return v / throat.choke_speed;
}

/// Coefficients of the polynomial through (x_i, y_i): divided differences, then expanded.
std::array<double, terms> polynomial(const std::array<double, terms>& x,
                                     std::array<double, terms> y) {
  for (std::size_t order = 1; order < terms; ++order) {
    for (std::size_t i = terms - 1; i >= order; --i) {
      y[i] = (y[i] - y[i - 1]) / (x[i] - x[i - order]);
    }
  }
  std::array<double, terms> out{};
  for (std::size_t i = terms; i-- > 0;) {
    for (std::size_t j = terms - 1; j > 0; --j) out[j] = out[j - 1] - x[i] * out[j];
    out[0] = y[i] - x[i] * out[0];
  }
  return out;
}

}  // namespace

Throat make_throat(double loss, double exponent) {
  const double a = 1.0 + loss;
  const double na = exponent * a;
  // Choke (Eq. 3): (2 n a - a) z^2 - (2 n a + a - 1) z + 1 = 0, smaller root.
  const double half = na + 0.5 * loss;
  const Constants k{
      .a = a, .exponent = exponent, .z = 1.0 / (half + std::sqrt(half * half - 2.0 * na + a))};
  Throat throat{.loss = loss, .choke_speed = std::sqrt(k.z)};
  throat.choke_flow = flow_function(k, throat.choke_speed).value;
  std::array<double, terms> u{};
  std::array<double, terms> shape{};
  for (std::size_t i = 0; i < terms; ++i) {
    const double angle = std::numbers::pi * (static_cast<double>(i) + 0.5) / terms;
    u[i] = 0.5 * (1.0 - std::cos(angle));  // Chebyshev's nodes on 0 to 1
    shape[i] = speed_share(k, throat, u[i]) / (1.0 - u[i]);
  }
  throat.shape = polynomial(u, shape);
  return throat;
}

ThroatFamily make_throat_family(double loss) {
  ThroatFamily family;
  for (std::size_t i = 0; i < family.member.size(); ++i) {
    const double exponent =
        ThroatFamily::first_exponent + ThroatFamily::exponent_step * static_cast<double>(i);
    const double sonic = std::sqrt(sonic_share(exponent));
    family.member[i] = make_throat(loss, exponent);
    family.choke_speed[i] = family.member[i].choke_speed / sonic;
    family.choke_flow[i] = family.member[i].choke_flow / sonic;
  }
  return family;
}

}  // namespace windgap::engine
