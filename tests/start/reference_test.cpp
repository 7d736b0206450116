#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <fstream>
#include <nlohmann/json.hpp>
#include <vector>

#include "start/walk.h"
#include "support/published.h"
#include "units/table.h"

namespace windgap::start {
namespace {

/// Cubic Hermite pieces over equal steps, central slopes, one-sided at the ends.
double piecewise(const std::vector<double>& v, double step, double x) {
  const std::size_t last = v.size() - 1;
  const auto slope = [&](std::size_t i) {
    if (i == 0) return v[1] - v[0];
    if (i == last) return v[last] - v[last - 1];
    return 0.5 * (v[i + 1] - v[i - 1]);
  };
  const auto i = std::min(static_cast<std::size_t>(std::max(0.0, x / step)), last - 1);
  const double t = x / step - static_cast<double>(i);
  const double rest = 1.0 - t;
  return rest * rest * ((1.0 + 2.0 * t) * v[i] + t * slope(i)) +
         t * t * ((1.0 + 2.0 * rest) * v[i + 1] - rest * slope(i + 1));
}

/// The exported right-hand side.
class Exported {
 public:
  Exported() {
    std::ifstream file(WINDGAP_SOURCE_DIR "/tests/reference/scipy/start_rhs.json");
    const auto json = nlohmann::json::parse(file);
    step_ = json.at("speed_step_rad_s");
    datum_ = json.at("reference_temperature_k");
    for (std::size_t i = 0; i < 4; ++i) {
      pieces_[i] = json.at(std::string(1, "abcd"[i])).get<std::vector<double>>();
    }
  }
  void operator()(const std::array<double, 2>& y,
                  std::array<double, 2>& dy,
                  double /*time*/) const {
    const auto at = [&](std::size_t i) { return piecewise(pieces_[i], step_, y[0]); };
    const double warmth = y[1] - datum_;
    dy = {at(0) + at(1) * warmth, at(2) + at(3) * warmth};
  }

 private:
  double step_ = unset;
  double datum_ = unset;
  std::array<std::vector<double>, 4> pieces_;
};

// SciPy's solve_ivp (DOP853, rtol 1e-11) on the same exported right-hand side; its error is far
// below ours. Pieces meet with a jump in curvature, which a step of this tolerance feels.
TEST(StartReference, IntegratesLikeScipyOnTheSameRates) {
  const Exported rates;
  const auto rows = test::published_rows("../reference/scipy/start_solution.csv");
  ASSERT_GT(rows.size(), 10U);
  Walk<2> walk({.tolerance = 1e-9, .longest_step = 0.02});
  walk.start({rows.front().at("speed"), rows.front().at("housing_temperature")}, 0.0);
  double reached = 0.0;
  for (const auto& row : rows) {
    const double time = row.at("time");
    while (reached < time) reached = walk.step(rates).second;
    if (time == 0.0) continue;
    const auto y = walk.at(time);
    EXPECT_NEAR(y[0], row.at("speed"), 1e-6 * row.at("speed")) << time;
    EXPECT_NEAR(y[1], row.at("housing_temperature"), 1e-6 * row.at("housing_temperature")) << time;
  }
}

TEST(StartReference, LocatesAnEventWhereScipyDoes) {
  const Exported rates;
  const auto first = test::published_rows("../reference/scipy/start_solution.csv").front();
  const auto event = test::published_rows("../reference/scipy/start_event.csv").front();
  Walk<2> walk({.tolerance = 1e-9, .longest_step = 0.02});
  walk.start({first.at("speed"), first.at("housing_temperature")}, 0.0);
  const auto missing = [&](double time) { return walk.at(time)[0] - event.at("speed"); };
  auto step = walk.step(rates);
  while (missing(step.second) < 0.0) step = walk.step(rates);
  std::uintmax_t evaluations = 100;
  const auto [low, high] = boost::math::tools::toms748_solve(
      missing,
      step.first,
      step.second,
      [](double a, double b) { return b - a < 1e-9; },
      evaluations);
  EXPECT_NEAR(0.5 * (low + high), event.at("time"), 1e-6);
}

}  // namespace
}  // namespace windgap::start
