#include <cstdio>
#include <nlohmann/json.hpp>
#include <vector>

#include "start/examples.h"

/// Writes the right-hand side of a burning start as JSON: acceleration of the rotor and heating of
/// the housing at many speeds and two housing temperatures, everything else as at light-off.
/// Usage: windgap_export_start_rhs > start_rhs.json, then integrate_start.py.
int main() {
  using namespace windgap;
  using namespace windgap::start;
  constexpr int points = 61;
  constexpr double fastest = 9000.0;  // [rad/s]
  constexpr double cold = 300.0;      // [K]
  constexpr double warm = 400.0;      // [K]
  const examples::Example example;
  auto bench = example.bench(0.15);
  const Controls burning{.throttle = 1.0, .lit = true, .main = {.kind = Valve::Kind::controlled}};
  nlohmann::json out;
  out["description"] =
      "speed' = a(w) + b(w) (T - T0) [rad/s^2]; T' = c(w) + d(w) (T - T0) [K/s]; a to d are cubic "
      "Hermite pieces over equally spaced w with central slopes, one-sided at the ends";
  out["reference_temperature_k"] = cold;
  out["speed_step_rad_s"] = fastest / (points - 1);
  std::vector<double> a;
  std::vector<double> b;
  std::vector<double> c;
  std::vector<double> d;
  for (int i = 0; i < points; ++i) {
    State state = bench.at_rest();
    state.speed = fastest * i / (points - 1);
    state.housing_temperature = cold;
    const auto at_cold = bench.at(state, burning).rates;
    state.housing_temperature = warm;
    const auto at_warm = bench.at(state, burning).rates;
    a.push_back(at_cold.speed);
    b.push_back((at_warm.speed - at_cold.speed) / (warm - cold));
    c.push_back(at_cold.housing_temperature);
    d.push_back((at_warm.housing_temperature - at_cold.housing_temperature) / (warm - cold));
  }
  out["a"] = a;
  out["b"] = b;
  out["c"] = c;
  out["d"] = d;
  std::puts(out.dump(1).c_str());
  return 0;
}
