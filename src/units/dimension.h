#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

/// Units of the trade and what they measure. The only place that knows a conversion factor.
namespace windgap::units {

/// What a quantity measures. The comment is the SI unit that values have inside the program.
enum class Dimension {
  length,                  ///< m
  area,                    ///< m^2
  volume,                  ///< m^3
  speed,                   ///< m/s
  mass_flow,               ///< kg/s
  volume_flow,             ///< m^3/s
  pressure,                ///< Pa
  temperature,             ///< K, absolute
  temperature_difference,  ///< K
  angular_speed,           ///< rad/s
  speed_constant,          ///< rad/(s V)
  voltage,                 ///< V
  current,                 ///< A
  resistance,              ///< ohm
  charge,                  ///< C
  energy,                  ///< J
  power,                   ///< W
  mass,                    ///< kg
  force,                   ///< N; kg, g, lb, oz mean the weight a kitchen scale reads
  stiffness,               ///< N/m
  torque,                  ///< N m
  inertia,                 ///< kg m^2
  kinematic_viscosity,     ///< m^2/s
  dynamic_viscosity,       ///< Pa s
  density,                 ///< kg/m^3
  specific_energy,         ///< J/kg
  specific_heat,           ///< J/(kg K)
  heat_capacity,           ///< J/K
  thermal_resistance,      ///< K/W
  time,                    ///< s
  angle,                   ///< rad
  ratio,                   ///< fraction; written bare or in percent
  number,                  ///< pure number, written bare; percent is not its unit
  inductance,              ///< H
  capacitance,             ///< F
  frequency,               ///< Hz
};

/// One way to write a dimension: SI value = offset + factor * written value.
struct Unit {
  std::string_view symbol;  ///< ASCII, products written with '*'; empty for a bare number
  Dimension dimension;
  double factor;
  double offset = 0.0;
};

/// A dimension in words, and how a person may write it.
struct Wording {
  std::string_view noun;      ///< "a length"
  std::string_view examples;  ///< "46 mm or 1.8 in"
};

[[nodiscard]] std::span<const Unit> all_units();
[[nodiscard]] Wording wording(Dimension dimension);

/// Symbol as written by a person (µ, °, ², ·, Ω, spaces, '^') in the spelling of `Unit::symbol`.
[[nodiscard]] std::string plain_symbol(std::string_view written);

/// The unit that `written` names where `dimension` is wanted, if it is one.
[[nodiscard]] std::optional<Unit> find_unit(std::string_view written, Dimension dimension);

/// What a unit of this spelling measures in the first place, whatever is wanted.
[[nodiscard]] std::optional<Dimension> measured_by(std::string_view written);

}  // namespace windgap::units
