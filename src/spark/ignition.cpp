#include "spark/ignition.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace windgap::spark {
namespace {

constexpr double impossible = std::numeric_limits<double>::infinity();

const LiquidFuel& liquid(Fuel fuel, const IgnitionCoefficients& c) {
  switch (fuel) {
    case Fuel::kerosene:
      return c.kerosene;
    case Fuel::diesel:
      return c.diesel;
    case Fuel::propane:
      break;
  }
  throw std::logic_error("propane is no liquid at the plug");
}

double cube(double x) { return x * x * x; }

/// Eq. 18.
double scaled_quench(double reference, const Gas& gas, const IgnitionCoefficients& c) {
  return reference * std::pow(gas.pressure / c.ignition_pressure, c.quench_pressure_exponent) *
         std::pow(gas.temperature / c.ignition_temperature, c.quench_temperature_exponent);
}

/// Eq. 19: the energy heats a ball of gas as wide as the quench distance.
double energy_scale(const Gas& gas, const IgnitionCoefficients& c) {
  const double density =
      gas.pressure / c.ignition_pressure * (c.ignition_temperature / gas.temperature);
  return cube(scaled_quench(1.0, gas, c)) * density;
}

double air_density(const Gas& gas, const IgnitionCoefficients& c) {
  return gas.pressure / (c.gas_constant * gas.temperature);
}

/// Fuel temperature above flash point, as if at the pressure of the vapour tests [K].
double vapour_offset(const Conditions& conditions, const IgnitionCoefficients& c) {
  const double flash = conditions.flash_point.value_or(liquid(conditions.fuel, c).flash_point);
  return conditions.fuel_temperature - flash -
         std::log(conditions.gas.pressure / c.vapour_pressure) / c.vapour_slope;
}

Need vapour_need(const Conditions& conditions, const IgnitionCoefficients& c) {
  const double offset = vapour_offset(conditions, c);
  const bool inside = offset >= c.vapour_cold_offset && offset <= c.vapour_warm_offset;
  const double energy = vapour_energy(conditions, c);
  return {.route = std::isfinite(energy) ? Route::vapour : Route::none,
          .energy = energy,
          .quench_distance = scaled_quench(c.vapour_quench, conditions.gas, c),
          .validity = inside ? Validity::inside : Validity::extrapolated};
}

/// Eq. 22.
Need mist_need(const Conditions& conditions, const IgnitionCoefficients& c) {
  const double distance = mist_quench(conditions, c);
  const double heat = c.mist_heat * air_density(conditions.gas, c) * c.mist_rise;
  return {.route = Route::mist,
          .energy = heat * std::numbers::pi / 6.0 * cube(distance),
          .quench_distance = distance,
          .validity = Validity::inside};
}

Need need_at_rest(const Conditions& conditions, const IgnitionCoefficients& c) {
  if (conditions.fuel == Fuel::propane) {
    return {.route = Route::gas,
            .energy = c.propane_energy * energy_scale(conditions.gas, c),
            .quench_distance = scaled_quench(c.propane_quench, conditions.gas, c),
            .validity = Validity::inside};
  }
  const Need vapour = vapour_need(conditions, c);
  if (!conditions.drop_diameter) return vapour;
  const Need mist = mist_need(conditions, c);
  return mist.energy < vapour.energy ? mist : vapour;
}

void require_numbers(const Conditions& conditions) {
  const bool gas = conditions.gas.pressure > 0.0 && conditions.gas.temperature > 0.0;
  const bool fuel = conditions.fuel == Fuel::propane || conditions.fuel_temperature > 0.0;
  const bool drops = !conditions.drop_diameter || *conditions.drop_diameter > 0.0;
  if (!(gas && fuel && drops && conditions.velocity >= 0.0)) {
    throw std::logic_error("ignition needs gas, speed and fuel at the plug");
  }
}

}  // namespace

double vapour_energy(const Conditions& conditions, const IgnitionCoefficients& c) {
  const double offset = vapour_offset(conditions, c);
  if (offset < c.vapour_cold_offset) return impossible;
  const double share = std::min(
      1.0, (offset - c.vapour_cold_offset) / (c.vapour_warm_offset - c.vapour_cold_offset));
  return c.vapour_cold_energy * std::pow(c.vapour_warm_energy / c.vapour_cold_energy, share);
}

double mist_quench(const Conditions& conditions, const IgnitionCoefficients& c) {
  const auto& fuel = liquid(conditions.fuel, c);
  const double burning = std::log1p(fuel.transfer_number);
  return conditions.drop_diameter.value() *
         std::sqrt(fuel.density / (air_density(conditions.gas, c) * burning));
}

Need ignition_need(const Conditions& conditions, const IgnitionCoefficients& c) {
  require_numbers(conditions);
  Need need = need_at_rest(conditions, c);
  need.energy *= 1.0 + c.velocity_growth * conditions.velocity;  // Eq. 23
  if (conditions.velocity > c.highest_velocity) need.validity = Validity::extrapolated;
  return need;
}

}  // namespace windgap::spark
