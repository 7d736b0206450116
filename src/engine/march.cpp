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
constexpr int wheel_exit_steps = 2;

/// A perfect gas.
struct Gas {
  double constant = unset;       ///< R [J/(kg K)]
  double specific_heat = unset;  ///< [J/(kg K)]
};

/// Where the march is.
struct Walk {
  Total total;
  double choke_ratio = 0.0;  ///< worst so far

  /// Flow beyond what a station carries takes the excess out of the total pressure, so that the
  /// residual keeps falling.
  void note(double ratio) {
    choke_ratio = std::max(choke_ratio, ratio);
    total.pressure /= std::max(1.0, ratio);
  }
};

/// Speed [m/s] at which a mass flow over area [kg/(s m^2)] passes a throat (Eqs. 1, 4).
double through(const Throat& throat, const Gas& gas, double flux, Walk& walk) {
  const double scale = std::sqrt(2.0 * gas.specific_heat * walk.total.temperature);
  const double per_pressure =
      flux * scale * (0.5 * gas.constant / (gas.specific_heat * throat.choke_flow));
  const Passed passed = pass(throat, per_pressure / walk.total.pressure);
  walk.note(passed.choke_ratio);
  return passed.v * scale;
}

/// Axial speed at the inducer behind a free swirl (Eq. 6).
double inducer_speed(const Prepared& e, const Gas& gas, const Flow& flow, Walk& walk) {
  const double flux = flow.mass_flow / e.compressor.inlet_area;
  if (flow.inlet_swirl == 0.0) return through(e.inducer_throat, gas, flux, walk);
  const double swirl = flow.inlet_swirl / e.compressor.inlet_radius;
  const double share = std::max(
      floor_share, 1.0 - 0.5 * square(swirl) / (gas.specific_heat * walk.total.temperature));
  Walk axial{.total = {.pressure = walk.total.pressure * DiatomicPower{}(share),
                       .temperature = walk.total.temperature * share}};
  const double speed = through(e.inducer_throat, gas, flux, axial);
  walk.note(axial.choke_ratio);
  return speed;
}

struct WheelExit {
  double radial = 0.0;       ///< [m/s]
  double swirl = 0.0;        ///< absolute, with rotation [m/s]
  double loss = 0.0;         ///< of the wheel [J/kg]
  double temperature = 0.0;  ///< static [K]
  double pressure = 0.0;     ///< static [Pa]
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

/// Eqs. 7 to 12: wheel exit by Newton's method on the radial speed.
WheelExit wheel(
    const Prepared& e, const Gas& gas, const Flow& flow, double axial_speed, Walk& walk) {
  constexpr DiatomicPower power;
  constexpr double n = DiatomicPower::exponent;
  const PreparedCompressor& k = e.compressor;
  const double per_heat = 1.0 / gas.specific_heat;
  const double per_inlet = 1.0 / walk.total.temperature;
  const double tip_speed = flow.speed * k.tip_radius;
  const double friction = passage_friction(e, gas, flow);
  const double against = flow.inlet_swirl / k.inlet_radius - flow.speed * k.inlet_radius +
                         axial_speed * k.inlet_tangent;
  const double inlet_loss = 0.5 * k.incidence_loss * square(against) +
                            friction * square(axial_speed) * (1.0 + square(k.inlet_tangent));
  const double relative_total =
      walk.total.temperature + (0.5 * square(tip_speed) - flow.speed * flow.inlet_swirl) * per_heat;
  const double slipping = k.slip * tip_speed;
  const double fastest = std::sqrt(2.0 * sonic_share(n) * gas.specific_heat * relative_total /
                                   (1.0 + square(k.exit_tangent)));
  const double volume_flux = flow.mass_flow * gas.constant / k.exit_area;  // times T/p: a speed
  const double warmed = relative_total * per_inlet;
  WheelExit exit;
  exit.radial = std::min(fastest,
                         volume_flux * walk.total.temperature /
                             (walk.total.pressure * square(warmed) * std::sqrt(warmed)));
  double needed = exit.radial;
  for (int step = 0; step < wheel_exit_steps; ++step) {
    const double turned = exit.radial * k.exit_tangent + slipping;  // relative, against rotation
    const double relative = square(exit.radial) + square(turned);
    exit.loss = inlet_loss + friction * relative + k.clearance_loss * square(tip_speed - turned);
    exit.temperature = relative_total - 0.5 * relative * per_heat;
    const double share =
        std::max(floor_share, (exit.temperature - exit.loss * per_heat) * per_inlet);
    exit.pressure = walk.total.pressure * power(share);
    const double mach_squared = exit.radial * (exit.radial + turned * k.exit_tangent) * (n - 1.0) *
                                per_heat / exit.temperature;
    const double per_slope = 1.0 / std::max(least_newton_slope, 1.0 - mach_squared);
    needed = volume_flux * exit.temperature / exit.pressure;
    exit.radial = std::min(fastest, exit.radial + (needed - exit.radial) * per_slope);
  }
  if (exit.radial >= fastest) walk.note(std::max(1.0, needed / fastest));
  exit.swirl = tip_speed - exit.radial * k.exit_tangent - slipping;
  return exit;
}

/// Eqs. 13 to 16: diffuser and volute, total state behind the compressor, torque.
void compress(const Prepared& e, const Gas& gas, const Flow& flow, Walk& walk, GasPath& out) {
  const PreparedCompressor& k = e.compressor;
  const double per_heat = 1.0 / gas.specific_heat;
  const double per_inlet = 1.0 / walk.total.temperature;
  out.inducer_velocity = inducer_speed(e, gas, flow, walk);
  const WheelExit exit = wheel(e, gas, flow, out.inducer_velocity, walk);
  const double moment = k.tip_radius * exit.swirl - flow.inlet_swirl;
  out.surge = exit.swirl > k.surge_swirl * exit.radial;
  out.compressor_work = flow.speed * moment;
  const double total = walk.total.temperature + out.compressor_work * per_heat;
  // Density in the volute is nearly that at rest, two terms of the binomial above the wheel's.
  const double settling = (total - exit.temperature) / exit.temperature;
  constexpr double m = DiatomicPower::exponent - 1.0;
  const double denser = 1.0 + m * settling * (1.0 + 0.5 * (m - 1.0) * settling);
  const double volute_speed = exit.radial * k.volute_ratio / denser;
  const double mismatch = square(exit.swirl * k.per_diffuser_ratio - volute_speed) +
                          square(exit.radial * k.per_diffuser_ratio);
  const double loss =
      exit.loss + 0.5 * (k.diffuser_loss * (square(exit.swirl) + square(exit.radial)) +
                         k.mixing_loss * mismatch + k.cone_loss * square(volute_speed));
  const double share = std::max(floor_share, (total - loss * per_heat) * per_inlet);
  walk.total.pressure *= DiatomicPower{}(share);
  walk.total.temperature = total;
  out.compressor_exit = walk.total;
  out.compressor_torque = -flow.mass_flow * moment - k.disc_torque * square(flow.speed) *
                                                         exit.pressure /
                                                         (gas.constant * exit.temperature);
}

/// Eq. 17: burner, on the dynamic head its inlet air would have in the empty case.
void burn(const Prepared& e, const Gas& gas, const Flow& flow, Walk& walk, GasPath& out) {
  const double t3 = walk.total.temperature;
  const double per_pressure = 1.0 / walk.total.pressure;
  const double volume_flow = flow.mass_flow * gas.constant * t3 * per_pressure;
  out.flame_holder_velocity = volume_flow / e.flame_holder_area;
  out.lit = flow.turbine_inlet_temperature > t3;
  double factor = e.combustor_cold_loss;
  if (out.lit) {
    factor += e.combustor_hot_loss * (flow.turbine_inlet_temperature / t3 - 1.0);
    walk.total.temperature = flow.turbine_inlet_temperature;
  }
  const double x =
      0.5 * factor * flow.mass_flow * volume_flow * per_pressure / square(e.combustor_area);
  walk.total.pressure /= 1.0 + x * (1.0 + 0.5 * x);
  out.turbine_inlet = walk.total;
}

/// Eqs. 26 to 28: total pressure [Pa] that drives the gas out against the room. In a choked exit
/// the static pressure stands above the room's.
template <class Power>
double needed_at_exhaust(const Prepared& e,
                         Power power,
                         const Gas& gas,
                         double mass_flow,
                         double ambient_pressure,
                         GasPath& out) {
  const double total = out.turbine_exit.temperature;
  const double flux = mass_flow * gas.constant / e.exhaust_area;
  const double share = sonic_share(power.exponent);
  const double sonic = std::sqrt(2.0 * gas.specific_heat * total * share);
  const double sonic_pressure = flux * total * (1.0 - share) / sonic;
  const double pressure = std::max(ambient_pressure, sonic_pressure);
  const double g = flux / pressure;
  const double gt = g * total;
  out.exhaust_choked = sonic_pressure > ambient_pressure;
  out.exhaust_velocity = 2.0 * gt / (1.0 + std::sqrt(1.0 + 2.0 * g * gt / gas.specific_heat));
  const double kinetic = 0.5 * square(out.exhaust_velocity) / gas.specific_heat;
  const double isentropic = std::max(floor_share * total, total - (1.0 + e.exhaust_loss) * kinetic);
  return pressure * power(total / isentropic);
}

struct Throats {
  const Throat& volute;
  const Throat& outlet;
};

/// Eqs. 18 to 25: turbine. `flow` is the gas's.
template <class Power>
void expand(const Prepared& e,
            const Throats& throats,
            Power power,
            const Gas& gas,
            const Flow& flow,
            Walk& walk,
            GasPath& out) {
  const PreparedTurbine& k = e.turbine;
  const double m = flow.mass_flow;
  const double per_heat = 1.0 / gas.specific_heat;
  const double t4 = walk.total.temperature;
  const double inlet_density = walk.total.pressure / (gas.constant * t4);
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
  const double share = std::max(floor_share, (relative - inlet_loss * per_heat) / t4);
  walk.total = {.pressure = walk.total.pressure * power(share), .temperature = relative};
  const double outlet = through(throats.outlet, gas, m / k.outlet_area, walk);
  const double swirl5 = u5 - outlet * k.outlet_sine;
  const double moment = k.inlet_radius * swirl3 - k.outlet_radius * swirl5;
  const double kinetic = 0.5 * square(outlet) * per_heat;
  const double isentropic = relative - (1.0 + throats.outlet.loss) * kinetic;
  const double t5 = relative - kinetic;
  // Behind the wheel: swirl lost, and the step into the exhaust, where by continuity the axial
  // speed is the relative one times the areas' ratio.
  const double step = std::max(0.0, outlet * k.outlet_step);
  const double exit_loss = 0.5 * (k.swirl_loss * square(swirl5) + k.expansion_loss * square(step));
  out.turbine_work = moment * flow.speed;
  out.turbine_torque = m * moment - k.disc_torque * inlet_density * square(flow.speed);
  const double total5 = std::max(floor_share * t4, t4 - out.turbine_work * per_heat);
  const double kept = std::max(floor_share * t4, total5 - exit_loss * per_heat);
  out.turbine_exit = {.pressure = walk.total.pressure * power(isentropic * kept / (relative * t5)),
                      .temperature = total5};
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

/// Turbine and exhaust of one gas.
template <class Power>
void leave(const Prepared& e,
           const Throats& throats,
           Power power,
           const Gas& gas,
           const Flow& flow,
           double ambient_pressure,
           Walk& walk,
           GasPath& out) {
  expand(e, throats, power, gas, flow, walk, out);
  out.pressure_residual = out.turbine_exit.pressure -
                          needed_at_exhaust(e, power, gas, flow.mass_flow, ambient_pressure, out);
}

}  // namespace

GasPath march(const Prepared& e, const air::Ambient& ambient, const Flow& flow) noexcept {
  constexpr DiatomicPower cold_power;
  const double constant = ambient.pressure / (ambient.density * ambient.temperature);
  const Gas cold{.constant = constant, .specific_heat = cold_power.exponent * constant};
  if (e.resistance_only) return through_resistance(e, ambient, flow);
  GasPath out;
  Walk walk{.total = {.pressure = flow.inlet_total_pressure,
                      .temperature = flow.inlet_total_temperature}};
  compress(e, cold, flow, walk, out);
  burn(e, cold, flow, walk, out);
  if (!out.lit) {
    const Throats throats{e.volute_throat.member.front(), e.outlet_throat.member.front()};
    leave(e, throats, cold_power, cold, flow, ambient.pressure, walk, out);
  } else {
    const double burnt = flow.fuel_air_ratio;
    const Gas hot{.constant = constant + air::gas_constant(e.air, burnt) - air::gas_constant(e.air),
                  .specific_heat = air::specific_heat(e.air, walk.total.temperature, burnt)};
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
  const double at = std::abs(speed) / table.step;
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
