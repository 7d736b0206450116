#include "engine/calibration.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/throat.h"
#include "engine/windmill.h"
#include "units/root.h"

namespace windgap::engine {
namespace {

constexpr unsigned digits = 24;  // binary: far finer than any reading

struct Band {
  double least = unset;
  double greatest = unset;

  [[nodiscard]] bool contains(double factor) const { return factor >= least && factor <= greatest; }
  [[nodiscard]] double nearest(double factor) const {
    return std::min(std::max(factor, least), greatest);
  }
};

/// Everything one measured run is compared with.
struct Bench {
  const Coefficients& c;
  const air::Coefficients& air;
  const air::Ambient& ambient;
  Supply supply;

  [[nodiscard]] Prepared with(Engine engine, const Calibration& calibration) const {
    engine.calibration = calibration;
    return prepare(engine, c, air);
  }
};

/// Eq. 33: the turbine area that lets the measured flow through, at the measured speed or, without
/// one, where the rotor settles. Unset if no area in the band does.
double turbine_area(
    const Engine& engine, const Bench& bench, const Band& band, double mass_flow, double speed) {
  const auto miss = [&](double ln_area) {
    const Prepared e = bench.with(engine, {.turbine_area = std::exp(ln_area)});
    const double flow = std::isnan(speed) ? windmill(e, bench.ambient, bench.supply).mass_flow
                                          : flow_at_speed(e, bench.ambient, bench.supply, speed);
    return flow - mass_flow;
  };
  const double low = std::log(band.least);
  const double high = std::log(band.greatest);
  const double at_low = miss(low);
  const double at_high = miss(high);
  if (at_low * at_high > 0.0) return unset;
  return std::exp(find_root(miss, {low, at_low}, {high, at_high}, digits).middle());
}

/// Eq. 34: the drag that balances the gas at the measured speed, over the model's.
double friction(const Engine& engine, const Bench& bench, double area, double speed) {
  const Prepared e = bench.with(engine, {.turbine_area = area});
  const GasPath path = march(e,
                             bench.ambient,
                             {.mass_flow = flow_at_speed(e, bench.ambient, bench.supply, speed),
                              .speed = speed,
                              .inlet_total_pressure = bench.supply.total_pressure,
                              .inlet_total_temperature = bench.supply.total_temperature});
  return (path.compressor_torque + path.turbine_torque) / bearing_torque(e, speed);
}

}  // namespace

double mass_flow_from_tap(const Tap& tap, const air::Ambient& ambient) {
  // Isentropic from the total state, so that it holds beyond what Bernoulli's form covers.
  constexpr double n = DiatomicPower::exponent;
  const double constant = ambient.pressure / (ambient.density * ambient.temperature);
  const double total = ambient.pressure + tap.total_pressure;
  const double ratio = (ambient.pressure + tap.static_pressure) / total;
  if (!(ratio > 0.0) || ratio > 1.0) return unset;
  const double warmth = std::pow(ratio, 1.0 / n);
  const double speed = std::sqrt(2.0 * n * constant * ambient.temperature * (1.0 - warmth));
  const double density = ratio * total / (constant * ambient.temperature * warmth);
  return density * speed * 0.25 * std::numbers::pi * tap.throat_diameter * tap.throat_diameter;
}

Calibrated calibrate(const Engine& engine,
                     const Coefficients& c,
                     const air::Coefficients& air,
                     const air::Ambient& ambient,
                     const Measurement& reading) {
  Calibrated out;
  double flow = reading.mass_flow;
  if (std::isnan(flow) && !std::isnan(reading.throat_static_pressure)) {
    flow = mass_flow_from_tap({.total_pressure = reading.total_pressure,
                               .static_pressure = reading.throat_static_pressure,
                               .throat_diameter = engine.mouth.throat_diameter},
                              ambient);
  }
  const bool has_speed = reading.speed > 0.0;
  if (engine.resistance || !(reading.total_pressure > 0.0) || !(flow > 0.0 || has_speed)) {
    return out;
  }
  const Bench bench{.c = c,
                    .air = air,
                    .ambient = ambient,
                    .supply = {.total_pressure = ambient.pressure + reading.total_pressure,
                               .total_temperature = ambient.temperature}};
  const Band areas{.least = c.engine.least_area_factor, .greatest = c.engine.greatest_area_factor};
  const Band drags{.least = c.engine.least_friction_factor,
                   .greatest = c.engine.greatest_friction_factor};
  out.status = CalibrationStatus::done;
  if (flow > 0.0) {
    out.calibration.turbine_area = turbine_area(engine, bench, areas, flow, reading.speed);
    if (std::isnan(out.calibration.turbine_area)) {
      out.calibration.turbine_area = 1.0;
      out.status = CalibrationStatus::no_root;
      return out;
    }
  }
  if (has_speed) {
    const double implied = friction(engine, bench, out.calibration.turbine_area, reading.speed);
    out.calibration.friction = drags.nearest(implied);
    if (!drags.contains(implied)) out.status = CalibrationStatus::implausible;
  }
  const Windmill check = windmill(bench.with(engine, out.calibration), ambient, bench.supply);
  out.mass_flow = check.mass_flow;
  out.speed = check.speed;
  return out;
}

bool recalibrate(Engine& engine,
                 const Coefficients& c,
                 const air::Coefficients& air,
                 const air::Ambient& ambient) {
  if (!(engine.measured.total_pressure > 0.0)) return true;
  const auto found = calibrate(engine, c, air, ambient, engine.measured);
  const bool explained =
      found.status == CalibrationStatus::done || found.status == CalibrationStatus::implausible;
  if (explained) engine.calibration = found.calibration;
  return explained;
}

}  // namespace windgap::engine
