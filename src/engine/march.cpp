#include <algorithm>
#include <cmath>

#include "engine/engine.h"
#include "engine/throat.h"

namespace windgap::engine {
namespace {

double square(double x) { return x * x; }

/// Smallest share of a temperature that losses may leave, and smallest slope of a Newton step: keep
/// flows far beyond choke finite, where the result only says "too much".
constexpr double floor_share = 0x1p-20;
constexpr double least_newton_slope = 0x1p-2;

/// A perfect gas.
struct Gas {
  double constant = unset;       ///< R [J/(kg K)]
  double specific_heat = unset;  ///< [J/(kg K)]
};

/// Where the march is. The pressure is carried upside down: every station but one multiplies it,
/// and a division is the slowest step a chain can have.
struct Walk {
  double per_pressure = 0.0;  ///< one over the total pressure [1/Pa]
  double temperature = 0.0;   ///< total [K]
  double choke_ratio = 0.0;   ///< worst so far

  /// Flow beyond what a station carries takes the excess out of the total pressure, so that the
  /// residual keeps falling.
  void note(double ratio) {
    choke_ratio = std::max(choke_ratio, ratio);
    per_pressure *= std::clamp(ratio, 1.0, 1.0 / floor_share);
  }
  [[nodiscard]] Total total() const {
    return {.pressure = 1.0 / per_pressure, .temperature = temperature};
  }
};

/// Speed [m/s] at which a mass flow over area [kg/(s m^2)] passes a throat (Eqs. 1, 4).
double through(const Throat& throat, const Gas& gas, double flux, Walk& walk) {
  const double scale = std::sqrt(2.0 * gas.specific_heat * walk.temperature);
  const double pressure =
      flux * scale * (0.5 * gas.constant / (gas.specific_heat * throat.choke_flow));
  const Passed passed = pass(throat, pressure * walk.per_pressure);
  walk.note(passed.choke_ratio);
  return passed.v * scale;
}

/// Axial speed at the inducer behind a free swirl (Eq. 6).
double inducer_speed(const Prepared& e, const Gas& gas, const Flow& flow, Walk& walk) {
  const double flux = flow.mass_flow / e.compressor.inlet_area;
  if (flow.inlet_swirl == 0.0) return through(e.inducer_throat, gas, flux, walk);
  const double swirl = flow.inlet_swirl / e.compressor.inlet_radius;
  const double share =
      std::max(floor_share, 1.0 - 0.5 * square(swirl) / (gas.specific_heat * walk.temperature));
  Walk axial{.per_pressure = walk.per_pressure / DiatomicPower{}(share),
             .temperature = walk.temperature * share};
  const double speed = through(e.inducer_throat, gas, flux, axial);
  walk.note(axial.choke_ratio);
  return speed;
}

struct WheelExit {
  double radial = 0.0;         ///< [m/s]
  double swirl = 0.0;          ///< absolute, with rotation [m/s]
  double loss = 0.0;           ///< of the wheel [J/kg]
  double density_ratio = 1.0;  ///< over the inlet's total density [-]
  double settled_ratio = 1.0;  ///< density here over that at rest [-]
  double choke_ratio = 0.0;    ///< flow over that at sonic relative speed [-]
};

/// Friction of the passages at this flow, on the sum of the squared relative speeds (Eq. 10). The
/// Reynolds number takes the inlet speed at the total density: it acts through a weak power.
double passage_friction(const Prepared& e, const Gas& gas, const Flow& flow) {
  const PreparedCompressor& k = e.compressor;
  const double viscosity = air::viscosity(e.air, flow.inlet_total_temperature);
  const double momentum = square(flow.mass_flow / k.inlet_area) * (1.0 + square(k.inlet_tangent)) +
                          square(flow.speed * k.tip_radius * flow.inlet_total_pressure /
                                 (gas.constant * flow.inlet_total_temperature));
  const double reynolds = std::max(1.0, std::sqrt(momentum) * k.reynolds_length / viscosity);
  const double scaled = std::exp(k.reynolds_exponent * std::log(k.reynolds_reference / reynolds));
  return 0.25 * k.friction_loss *
         (k.reynolds_fixed_share + (1.0 - k.reynolds_fixed_share) * scaled);
}

/// What the wheel exit's radial speed follows from.
struct WheelFlow {
  double tip_speed = unset;       ///< [m/s]
  double slipping = unset;        ///< slip times tip speed [m/s]
  double relative_total = unset;  ///< temperature [K]
  double friction = unset;        ///< [-]
  double volume_flux = unset;     ///< m R/(A p1): speed over temperature [m/(s K)]
  double fastest = unset;         ///< radial speed at which the relative flow is sonic [m/s]
  double per_inlet = unset;       ///< one over the inlet's total temperature [1/K]
  double per_heat = unset;        ///< 1/cp [kg K/J]
};

/// One Newton step on the radial speed (Eqs. 9 to 12). `exit` holds the state before the step but
/// for the radial speed itself.
void improve(const PreparedCompressor& k, const WheelFlow& w, double inlet_loss, WheelExit& exit) {
  constexpr DiatomicPower power;
  constexpr double m = DiatomicPower::exponent - 1.0;
  const double turned = exit.radial * k.exit_tangent + w.slipping;  // relative, against rotation
  const double relative = square(exit.radial) + square(turned);
  const double swirl_squared = square(w.tip_speed - turned);
  exit.loss = inlet_loss + w.friction * relative + k.clearance_loss * swirl_squared;
  const double temperature = w.relative_total - 0.5 * relative * w.per_heat;
  const double share = std::max(floor_share, (temperature - exit.loss * w.per_heat) * w.per_inlet);
  const double per_temperature = 1.0 / temperature;
  const double mach_squared =
      exit.radial * (exit.radial + turned * k.exit_tangent) * m * w.per_heat * per_temperature;
  const double per_slope = 1.0 / std::max(least_newton_slope, 1.0 - mach_squared);
  // Density at rest over that here: (1 - x)^-m with two terms, x the kinetic share of the total.
  const double kinetic = 0.5 * (square(exit.radial) + swirl_squared) * w.per_heat;
  const double x = kinetic / (temperature + kinetic);
  exit.settled_ratio = 1.0 - m * x * (1.0 - 0.5 * (m - 1.0) * x);
  const double pressure_ratio = power(share);
  const double needed = w.volume_flux * temperature / pressure_ratio;
  exit.density_ratio = pressure_ratio * per_temperature / w.per_inlet;
  exit.radial = std::min(w.fastest, exit.radial + (needed - exit.radial) * per_slope);
  exit.choke_ratio = needed / w.fastest;
}

/// Eqs. 7 to 12: wheel exit. The first step takes the inlet loss from the speed at the inlet's
/// total density, to start before the inducer is solved; the second takes the true one.
WheelExit wheel(const Prepared& e, const Gas& gas, const Flow& flow, Walk& walk, GasPath& out) {
  constexpr double n = DiatomicPower::exponent;
  const PreparedCompressor& k = e.compressor;
  const double per_pressure = walk.per_pressure;
  WheelFlow w;
  w.per_heat = 1.0 / gas.specific_heat;
  w.per_inlet = 1.0 / walk.temperature;
  w.tip_speed = flow.speed * k.tip_radius;
  w.slipping = k.slip * w.tip_speed;
  w.relative_total =
      walk.temperature + (0.5 * square(w.tip_speed) - flow.speed * flow.inlet_swirl) * w.per_heat;
  w.friction = passage_friction(e, gas, flow);
  w.volume_flux = flow.mass_flow * gas.constant * per_pressure / k.exit_area;
  w.fastest = std::sqrt(2.0 * sonic_share(n) * gas.specific_heat * w.relative_total /
                        (1.0 + square(k.exit_tangent)));
  const double head_on = flow.inlet_swirl / k.inlet_radius - flow.speed * k.inlet_radius;
  const auto inlet_loss = [&](double axial) {
    return 0.5 * k.incidence_loss * square(head_on + axial * k.inlet_tangent) +
           w.friction * square(axial) * (1.0 + square(k.inlet_tangent));
  };
  const double light = w.volume_flux * walk.temperature;  // radial speed at the inlet's density
  const double warmed = w.relative_total * w.per_inlet;
  WheelExit exit{.radial = std::min(w.fastest, light / (square(warmed) * std::sqrt(warmed)))};
  improve(k, w, inlet_loss(light * k.exit_area / k.inlet_area), exit);
  out.inducer_velocity = inducer_speed(e, gas, flow, walk);
  improve(k, w, inlet_loss(out.inducer_velocity), exit);
  if (exit.radial >= w.fastest) walk.note(std::max(1.0, exit.choke_ratio));
  exit.swirl = w.tip_speed - exit.radial * k.exit_tangent - w.slipping;
  return exit;
}

/// Eqs. 13 to 16: diffuser and volute, total state behind the compressor, torque.
void compress(const Prepared& e, const Gas& gas, const Flow& flow, Walk& walk, GasPath& out) {
  const PreparedCompressor& k = e.compressor;
  const double per_heat = 1.0 / gas.specific_heat;
  const double per_inlet = 1.0 / walk.temperature;
  const WheelExit exit = wheel(e, gas, flow, walk, out);
  const double moment = k.tip_radius * exit.swirl - flow.inlet_swirl;
  const double total = walk.temperature + flow.speed * moment * per_heat;
  const double volute_speed = exit.radial * k.volute_ratio * exit.settled_ratio;
  const double mismatch = square(exit.swirl * k.per_diffuser_ratio - volute_speed) +
                          square(exit.radial * k.per_diffuser_ratio);
  const double loss =
      exit.loss + 0.5 * (k.diffuser_loss * (square(exit.swirl) + square(exit.radial)) +
                         k.mixing_loss * mismatch + k.cone_loss * square(volute_speed));
  const double share = std::max(floor_share, (total - loss * per_heat) * per_inlet);
  const double density = exit.density_ratio * flow.inlet_total_pressure * per_inlet / gas.constant;
  walk.per_pressure /= DiatomicPower{}(share);
  walk.temperature = total;
  out.surge = exit.swirl > k.surge_swirl * exit.radial;
  out.compressor_work = flow.speed * moment;
  out.compressor_exit = walk.total();
  out.compressor_torque = -flow.mass_flow * moment - k.disc_torque * density * square(flow.speed);
}

/// Eq. 17: burner, on the dynamic head its inlet air would have in the empty case.
void burn(const Prepared& e, const Gas& gas, const Flow& flow, Walk& walk, GasPath& out) {
  const double t3 = walk.temperature;
  const double volume_flow = flow.mass_flow * gas.constant * t3 * walk.per_pressure;
  out.flame_holder_velocity = volume_flow / e.flame_holder_area;
  out.lit = flow.turbine_inlet_temperature > t3;
  double factor = e.combustor_cold_loss;
  if (out.lit) {
    factor += e.combustor_hot_loss * (flow.turbine_inlet_temperature / t3 - 1.0);
    walk.temperature = flow.turbine_inlet_temperature;
  }
  const double x = 0.5 * factor * flow.mass_flow * e.combustor_per_area_squared * volume_flow *
                   walk.per_pressure;
  walk.per_pressure *= 1.0 + x * (1.0 + 0.5 * x);
  out.turbine_inlet = walk.total();
}

struct Throats {
  const Throat& volute;
  const Throat& outlet;
};

/// What stands behind the wheel.
struct WheelWake {
  double pressure_ratio = unset;  ///< to the power R/cp: total behind the losses over relative [-]
  double per_pressure = unset;    ///< one over the relative total pressure [1/Pa]
};

/// Eqs. 18 to 25: turbine. `flow` is the gas's.
template <class Power>
WheelWake expand(const Prepared& e,
                 const Throats& throats,
                 Power power,
                 const Gas& gas,
                 const Flow& flow,
                 Walk& walk,
                 GasPath& out) {
  const PreparedTurbine& k = e.turbine;
  const double m = flow.mass_flow;
  const double per_heat = 1.0 / gas.specific_heat;
  const double t4 = walk.temperature;
  const double per_t4 = 1.0 / t4;
  // Volute and wheel inlet.
  out.volute_velocity = through(throats.volute, gas, m / k.volute_area, walk);
  const double swirl3 = k.swirl_share * out.volute_velocity;
  const double u3 = flow.speed * k.inlet_radius;
  const double inlet_loss = k.inlet_loss * square(out.volute_velocity) +
                            0.5 * k.incidence_loss * square(swirl3 - k.best_swirl * u3);
  // Wheel outlet, in the frame of the wheel.
  const double u5 = flow.speed * k.outlet_radius;
  const double relative =
      std::max(floor_share * t4, t4 - (u3 * swirl3 - 0.5 * square(u5)) * per_heat);
  const double share = std::max(floor_share, (relative - inlet_loss * per_heat) * per_t4);
  walk.per_pressure /= power(share);
  walk.temperature = relative;
  const double outlet = through(throats.outlet, gas, m / k.outlet_area, walk);
  const double swirl5 = u5 - outlet * k.outlet_sine;
  const double moment = k.inlet_radius * swirl3 - k.outlet_radius * swirl5;
  const double kinetic = 0.5 * square(outlet) * per_heat;
  const double isentropic = relative - (1.0 + throats.outlet.loss) * kinetic;
  // Behind the wheel: swirl lost, and the step into the exhaust, where by continuity the axial
  // speed is the relative one times the areas' ratio.
  const double step = std::max(0.0, outlet * k.outlet_step);
  const double exit_loss = 0.5 * (k.swirl_loss * square(swirl5) + k.expansion_loss * square(step));
  out.turbine_work = moment * flow.speed;
  out.turbine_torque = m * moment - k.disc_torque * square(flow.speed) *
                                        out.turbine_inlet.pressure / (gas.constant * t4);
  walk.temperature = std::max(floor_share * t4, t4 - out.turbine_work * per_heat);
  const double kept = std::max(floor_share * t4, walk.temperature - exit_loss * per_heat);
  const double ratio = isentropic * kept / (relative * (relative - kinetic));
  out.turbine_exit = {.pressure = power(ratio) / walk.per_pressure,
                      .temperature = walk.temperature};
  return {.pressure_ratio = ratio, .per_pressure = walk.per_pressure};
}

/// Eqs. 26 to 28: kinetic share of the exhaust's total enthalpy at a static pressure there.
// NOLINTNEXTLINE(bugprone-easily-swappable-parameters): as the equations name them
double exhaust_share(const Gas& gas, double volume_flux, double total, double pressure) {
  const double g = volume_flux / pressure;
  const double x = 2.0 * square(g) * total / gas.specific_heat;
  return x / square(1.0 + std::sqrt(1.0 + x));
}

/// Turbine and exhaust of one gas. The residual is the exhaust's static pressure less the room's,
/// or where the exit is choked less the sonic one.
template <class Power>
void leave(const Prepared& e,
           const Throats& throats,
           Power power,
           const Gas& gas,
           const Flow& flow,
           double ambient_pressure,
           Walk& walk,
           GasPath& out) {
  const WheelWake wake = expand(e, throats, power, gas, flow, walk, out);
  const double total = walk.temperature;
  const double volume_flux = flow.mass_flow * gas.constant / e.exhaust_area;
  const double sonic = sonic_share(power.exponent);
  double pressure = ambient_pressure;
  double share = exhaust_share(gas, volume_flux, total, pressure);
  out.exhaust_choked = share > sonic;
  if (out.exhaust_choked) {
    share = sonic;
    pressure = volume_flux * (1.0 - sonic) * std::sqrt(total / (2.0 * gas.specific_heat * sonic));
  }
  out.exhaust_velocity = std::sqrt(2.0 * gas.specific_heat * total * share);
  const double isentropic = std::max(floor_share, 1.0 - (1.0 + e.exhaust_loss) * share);
  out.pressure_residual = power(wake.pressure_ratio * isentropic) / wake.per_pressure - pressure;
}

/// The stated loss factor in place of all parts, on the throat head in the room's air: as a
/// manometer and a tape give it, without compressibility.
GasPath through_resistance(const Prepared& e, const air::Ambient& ambient, const Flow& flow) {
  const Total inlet{.pressure = flow.inlet_total_pressure,
                    .temperature = flow.inlet_total_temperature};
  GasPath out;
  out.inducer_velocity = flow.mass_flow / (ambient.density * e.resistance_area);
  const double head = 0.5 * ambient.density * square(out.inducer_velocity);
  out.pressure_residual = inlet.pressure - ambient.pressure - e.resistance_loss * head;
  out.compressor_exit = out.turbine_inlet = out.turbine_exit = inlet;
  return out;
}

}  // namespace

GasPath march(const Prepared& e, const air::Ambient& ambient, const Flow& flow) noexcept {
  constexpr DiatomicPower cold_power;
  const double constant = ambient.pressure / (ambient.density * ambient.temperature);
  const Gas cold{.constant = constant, .specific_heat = DiatomicPower::exponent * constant};
  if (e.resistance_only) return through_resistance(e, ambient, flow);
  GasPath out;
  Walk walk{.per_pressure = 1.0 / flow.inlet_total_pressure,
            .temperature = flow.inlet_total_temperature};
  compress(e, cold, flow, walk, out);
  burn(e, cold, flow, walk, out);
  if (!out.lit) {
    const Throats throats{e.volute_throat.member.front(), e.outlet_throat.member.front()};
    leave(e, throats, cold_power, cold, flow, ambient.pressure, walk, out);
  } else {
    const double burnt = flow.fuel_air_ratio;
    const Gas hot{.constant = constant + air::gas_constant(e.air, burnt) - air::gas_constant(e.air),
                  .specific_heat = air::specific_heat(e.air, walk.temperature, burnt)};
    const GasPower power{.exponent = hot.specific_heat / hot.constant};
    const Throat volute = at_exponent(e.volute_throat, power.exponent);
    const Throat outlet = at_exponent(e.outlet_throat, power.exponent);
    Flow gas = flow;
    gas.mass_flow *= 1.0 + burnt;
    leave(e, {volute, outlet}, power, hot, gas, ambient.pressure, walk, out);
  }
  out.largest_choke_ratio = walk.choke_ratio;
  out.choked = walk.choke_ratio >= 1.0;
  return out;
}

double bearing_torque(const Prepared& e, double speed) noexcept {
  const DragTable& table = e.drag;
  constexpr std::size_t last = DragTable::points - 1;
  const double at = std::sqrt(std::abs(speed) * table.per_speed);
  if (at >= static_cast<double>(last)) {
    return table.torque[last] + table.slope[last] * (at - static_cast<double>(last));
  }
  const auto i = static_cast<std::size_t>(at);
  const double t = at - static_cast<double>(i);
  const double rest = 1.0 - t;
  return rest * rest * ((1.0 + 2.0 * t) * table.torque[i] + t * table.slope[i]) +
         t * t * ((1.0 + 2.0 * rest) * table.torque[i + 1] - rest * table.slope[i + 1]);
}

}  // namespace windgap::engine
