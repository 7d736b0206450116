#include "units/dimension.h"

#include <algorithm>
#include <array>
#include <numbers>
#include <utility>

namespace windgap::units {
namespace {

// Exact by definition.
constexpr double inch = 0.0254;
constexpr double foot = 12 * inch;
constexpr double mile = 5280 * foot;
constexpr double pound = 0.45359237;
constexpr double ounce = pound / 16;
constexpr double gravity = 9.80665;
constexpr double minute = 60.0;
constexpr double hour = 60 * minute;
constexpr double turn = 2 * std::numbers::pi;
constexpr double rpm = turn / minute;
constexpr double litre = 1e-3;
constexpr double ice_point = 273.15;
constexpr double fahrenheit = 5.0 / 9.0;
constexpr double fahrenheit_zero = ice_point - 32 * fahrenheit;
// Conventional water and mercury columns (1000 kg/m^3 and 13 595.1 kg/m^3 under standard gravity).
constexpr double water_mm = gravity;
constexpr double mercury_mm = 13.5951 * gravity;

constexpr auto table = std::to_array<Unit>({
    {"m", Dimension::length, 1},
    {"mm", Dimension::length, 1e-3},
    {"cm", Dimension::length, 1e-2},
    {"um", Dimension::length, 1e-6},
    {"km", Dimension::length, 1e3},
    {"in", Dimension::length, inch},
    {"inch", Dimension::length, inch},
    {"ft", Dimension::length, foot},
    {"m2", Dimension::area, 1},
    {"cm2", Dimension::area, 1e-4},
    {"mm2", Dimension::area, 1e-6},
    {"in2", Dimension::area, inch* inch},
    {"ft2", Dimension::area, foot* foot},
    {"m3", Dimension::volume, 1},
    {"L", Dimension::volume, litre},
    {"l", Dimension::volume, litre},
    {"mL", Dimension::volume, 1e-3 * litre},
    {"ml", Dimension::volume, 1e-3 * litre},
    {"cm3", Dimension::volume, 1e-6},
    {"in3", Dimension::volume, inch* inch* inch},
    {"m/s", Dimension::speed, 1},
    {"km/h", Dimension::speed, 1e3 / hour},
    {"mph", Dimension::speed, mile / hour},
    {"ft/s", Dimension::speed, foot},
    {"kg/s", Dimension::mass_flow, 1},
    {"g/s", Dimension::mass_flow, 1e-3},
    {"kg/min", Dimension::mass_flow, 1 / minute},
    {"g/min", Dimension::mass_flow, 1e-3 / minute},
    {"kg/h", Dimension::mass_flow, 1 / hour},
    {"lb/s", Dimension::mass_flow, pound},
    {"lb/min", Dimension::mass_flow, pound / minute},
    {"lb/h", Dimension::mass_flow, pound / hour},
    {"m3/s", Dimension::volume_flow, 1},
    {"m3/h", Dimension::volume_flow, 1 / hour},
    {"L/s", Dimension::volume_flow, litre},
    {"L/min", Dimension::volume_flow, litre / minute},
    {"mL/s", Dimension::volume_flow, 1e-3 * litre},
    {"mL/min", Dimension::volume_flow, 1e-3 * litre / minute},
    {"ml/min", Dimension::volume_flow, 1e-3 * litre / minute},
    {"ft3/min", Dimension::volume_flow, foot* foot* foot / minute},
    {"cfm", Dimension::volume_flow, foot* foot* foot / minute},
    {"Pa", Dimension::pressure, 1},
    {"hPa", Dimension::pressure, 1e2},
    {"kPa", Dimension::pressure, 1e3},
    {"MPa", Dimension::pressure, 1e6},
    {"mbar", Dimension::pressure, 1e2},
    {"bar", Dimension::pressure, 1e5},
    {"mmH2O", Dimension::pressure, water_mm},
    {"cmH2O", Dimension::pressure, 10 * water_mm},
    {"inH2O", Dimension::pressure, 25.4 * water_mm},
    {"mmHg", Dimension::pressure, mercury_mm},
    {"inHg", Dimension::pressure, 25.4 * mercury_mm},
    {"psi", Dimension::pressure, pound* gravity / (inch * inch)},
    {"K", Dimension::temperature, 1},
    {"degC", Dimension::temperature, 1, ice_point},
    {"degF", Dimension::temperature, fahrenheit, fahrenheit_zero},
    {"K", Dimension::temperature_difference, 1},
    {"degC", Dimension::temperature_difference, 1},
    {"degF", Dimension::temperature_difference, fahrenheit},
    {"rad/s", Dimension::angular_speed, 1},
    {"rpm", Dimension::angular_speed, rpm},
    {"krpm", Dimension::angular_speed, 1e3 * rpm},
    {"rev/s", Dimension::angular_speed, turn},
    {"rad/s/V", Dimension::speed_constant, 1},
    {"rpm/V", Dimension::speed_constant, rpm},
    {"V", Dimension::voltage, 1},
    {"mV", Dimension::voltage, 1e-3},
    {"kV", Dimension::voltage, 1e3},
    {"A", Dimension::current, 1},
    {"mA", Dimension::current, 1e-3},
    {"uA", Dimension::current, 1e-6},
    {"ohm", Dimension::resistance, 1},
    {"mohm", Dimension::resistance, 1e-3},
    {"kohm", Dimension::resistance, 1e3},
    {"Mohm", Dimension::resistance, 1e6},
    {"C", Dimension::charge, 1},
    {"Ah", Dimension::charge, hour},
    {"mAh", Dimension::charge, 1e-3 * hour},
    {"uC", Dimension::charge, 1e-6},
    {"J", Dimension::energy, 1},
    {"mJ", Dimension::energy, 1e-3},
    {"kJ", Dimension::energy, 1e3},
    {"MJ", Dimension::energy, 1e6},
    {"Wh", Dimension::energy, hour},
    {"kWh", Dimension::energy, 1e3 * hour},
    {"W", Dimension::power, 1},
    {"mW", Dimension::power, 1e-3},
    {"kW", Dimension::power, 1e3},
    {"hp", Dimension::power, 550 * foot* pound* gravity},
    {"kg", Dimension::mass, 1},
    {"g", Dimension::mass, 1e-3},
    {"mg", Dimension::mass, 1e-6},
    {"lb", Dimension::mass, pound},
    {"oz", Dimension::mass, ounce},
    {"N", Dimension::force, 1},
    {"mN", Dimension::force, 1e-3},
    {"kN", Dimension::force, 1e3},
    {"lbf", Dimension::force, pound* gravity},
    {"ozf", Dimension::force, ounce* gravity},
    {"kgf", Dimension::force, gravity},
    {"gf", Dimension::force, 1e-3 * gravity},
    {"kg", Dimension::force, gravity},
    {"g", Dimension::force, 1e-3 * gravity},
    {"lb", Dimension::force, pound* gravity},
    {"oz", Dimension::force, ounce* gravity},
    {"N/m", Dimension::stiffness, 1},
    {"N/mm", Dimension::stiffness, 1e3},
    {"lbf/in", Dimension::stiffness, pound* gravity / inch},
    {"N*m", Dimension::torque, 1},
    {"mN*m", Dimension::torque, 1e-3},
    {"uN*m", Dimension::torque, 1e-6},
    {"N*cm", Dimension::torque, 1e-2},
    {"N*mm", Dimension::torque, 1e-3},
    {"lbf*in", Dimension::torque, pound* gravity* inch},
    {"lb*in", Dimension::torque, pound* gravity* inch},
    {"in*lb", Dimension::torque, pound* gravity* inch},
    {"lbf*ft", Dimension::torque, pound* gravity* foot},
    {"lb*ft", Dimension::torque, pound* gravity* foot},
    {"ft*lb", Dimension::torque, pound* gravity* foot},
    {"oz*in", Dimension::torque, ounce* gravity* inch},
    {"kg*m2", Dimension::inertia, 1},
    {"kg*cm2", Dimension::inertia, 1e-4},
    {"kg*mm2", Dimension::inertia, 1e-6},
    {"g*m2", Dimension::inertia, 1e-3},
    {"g*cm2", Dimension::inertia, 1e-7},
    {"g*mm2", Dimension::inertia, 1e-9},
    {"lb*in2", Dimension::inertia, pound* inch* inch},
    {"m2/s", Dimension::kinematic_viscosity, 1},
    {"mm2/s", Dimension::kinematic_viscosity, 1e-6},
    {"cSt", Dimension::kinematic_viscosity, 1e-6},
    {"Pa*s", Dimension::dynamic_viscosity, 1},
    {"mPa*s", Dimension::dynamic_viscosity, 1e-3},
    {"cP", Dimension::dynamic_viscosity, 1e-3},
    {"kg/m3", Dimension::density, 1},
    {"kg/L", Dimension::density, 1e3},
    {"g/cm3", Dimension::density, 1e3},
    {"g/mL", Dimension::density, 1e3},
    {"lb/ft3", Dimension::density, pound / (foot * foot * foot)},
    {"J/kg", Dimension::specific_energy, 1},
    {"kJ/kg", Dimension::specific_energy, 1e3},
    {"MJ/kg", Dimension::specific_energy, 1e6},
    {"J/kg/K", Dimension::specific_heat, 1},
    {"J/(kg*K)", Dimension::specific_heat, 1},
    {"kJ/kg/K", Dimension::specific_heat, 1e3},
    {"kJ/(kg*K)", Dimension::specific_heat, 1e3},
    {"J/K", Dimension::heat_capacity, 1},
    {"kJ/K", Dimension::heat_capacity, 1e3},
    {"K/W", Dimension::thermal_resistance, 1},
    {"s", Dimension::time, 1},
    {"ms", Dimension::time, 1e-3},
    {"us", Dimension::time, 1e-6},
    {"min", Dimension::time, minute},
    {"h", Dimension::time, hour},
    {"rad", Dimension::angle, 1},
    {"deg", Dimension::angle, turn / 360},
    {"", Dimension::ratio, 1},
    {"%", Dimension::ratio, 1e-2},
    {"", Dimension::number, 1},
    {"H", Dimension::inductance, 1},
    {"mH", Dimension::inductance, 1e-3},
    {"uH", Dimension::inductance, 1e-6},
    {"F", Dimension::capacitance, 1},
    {"mF", Dimension::capacitance, 1e-3},
    {"uF", Dimension::capacitance, 1e-6},
    {"nF", Dimension::capacitance, 1e-9},
    {"pF", Dimension::capacitance, 1e-12},
    {"Hz", Dimension::frequency, 1},
    {"kHz", Dimension::frequency, 1e3},
    {"MHz", Dimension::frequency, 1e6},
});

/// UTF-8 sequences that people paste, and the spelling of the table.
constexpr auto spellings = std::to_array<std::pair<std::string_view, std::string_view>>({
    {"\u00b5", "u"},
    {"\u03bc", "u"},
    {"\u00b0", "deg"},
    {"\u00b2", "2"},
    {"\u00b3", "3"},
    {"\u2082", "2"},
    {"\u00b7", "*"},
    {"\u22c5", "*"},
    {"\u03a9", "ohm"},
    {"\u2126", "ohm"},
    {"\u2103", "degC"},
    {"\u2109", "degF"},
    {"^", ""},
});

std::string without_products(std::string_view symbol) {
  std::string joined(symbol);
  std::erase(joined, '*');
  return joined;
}

bool spells(std::string_view plain, const Unit& unit) {
  return plain == unit.symbol || (unit.symbol.find('*') != std::string_view::npos &&
                                  plain == without_products(unit.symbol));
}

}  // namespace

std::span<const Unit> all_units() { return table; }

std::string plain_symbol(std::string_view written) {
  std::string plain;
  bool gap = false;
  while (!written.empty()) {
    if (written.front() == ' ') {
      gap = true;
      written.remove_prefix(1);
      continue;
    }
    std::string_view next = written.substr(0, 1);
    std::string_view becomes = next;
    for (const auto& [from, to] : spellings) {
      if (written.starts_with(from)) {
        next = from;
        becomes = to;
        break;
      }
    }
    // A space between two letters is a product ("N m"); beside an operator it means nothing.
    const bool operators = becomes == "*" || becomes == "/";
    const bool after_operator = plain.empty() || plain.back() == '*' || plain.back() == '/';
    const bool after_degree = plain == "deg";
    if (gap && !operators && !after_operator && !after_degree) plain += '*';
    gap = false;
    plain += becomes;
    written.remove_prefix(next.size());
  }
  // "in H2O" is no product of inches and water.
  if (const auto column = plain.find("*H"); column != std::string::npos) plain.erase(column, 1);
  return plain;
}

std::optional<Unit> find_unit(std::string_view written, Dimension dimension) {
  const auto plain = plain_symbol(written);
  const auto* found = std::find_if(table.begin(), table.end(), [&](const Unit& unit) {
    return unit.dimension == dimension && spells(plain, unit);
  });
  if (found == table.end()) return std::nullopt;
  return *found;
}

std::optional<Dimension> measured_by(std::string_view written) {
  const auto plain = plain_symbol(written);
  const auto* found = std::find_if(
      table.begin(), table.end(), [&](const Unit& unit) { return spells(plain, unit); });
  if (found == table.end()) return std::nullopt;
  return found->dimension;
}

Wording wording(Dimension dimension) {
  switch (dimension) {
    case Dimension::length:
      return {"a length", "46 mm or 1.8 in"};
    case Dimension::area:
      return {"an area", "12 cm2 or 1.9 in2"};
    case Dimension::volume:
      return {"a volume", "0.8 L or 50 in3"};
    case Dimension::speed:
      return {"a speed", "12 m/s or 27 mph"};
    case Dimension::mass_flow:
      return {"a mass flow", "24 g/s or 3.2 lb/min"};
    case Dimension::volume_flow:
      return {"a volume flow", "250 mL/min or 15 L/s"};
    case Dimension::pressure:
      return {"a pressure", "21 mbar or 8.4 inH2O"};
    case Dimension::temperature:
      return {"a temperature", "11 degC or 52 degF"};
    case Dimension::temperature_difference:
      return {"a temperature difference", "5 K or 9 degF"};
    case Dimension::angular_speed:
      return {"a rotational speed", "21000 rpm or 21 krpm"};
    case Dimension::speed_constant:
      return {"a motor speed constant", "2200 rpm/V"};
    case Dimension::voltage:
      return {"a voltage", "21.8 V"};
    case Dimension::current:
      return {"a current", "85 A"};
    case Dimension::resistance:
      return {"a resistance", "4.5 mohm"};
    case Dimension::charge:
      return {"a charge", "3300 mAh"};
    case Dimension::energy:
      return {"an energy", "73 Wh or 20 mJ"};
    case Dimension::power:
      return {"a power", "1800 W or 1.8 kW"};
    case Dimension::mass:
      return {"a mass", "380 g or 13 oz"};
    case Dimension::force:
      return {"a force", "16 N, 1.6 kg (as a scale reads) or 3.5 lbf"};
    case Dimension::stiffness:
      return {"a stiffness", "9 N/mm or 50 lbf/in"};
    case Dimension::torque:
      return {"a torque", "12 mN*m or 1.7 oz*in"};
    case Dimension::inertia:
      return {"a moment of inertia", "2.4e-5 kg*m2 or 240 g*cm2"};
    case Dimension::kinematic_viscosity:
      return {"a kinematic viscosity", "32 cSt"};
    case Dimension::dynamic_viscosity:
      return {"a dynamic viscosity", "28 mPa*s"};
    case Dimension::density:
      return {"a density", "0.8 kg/L"};
    case Dimension::specific_energy:
      return {"an energy per mass", "43 MJ/kg"};
    case Dimension::specific_heat:
      return {"a specific heat", "1.9 kJ/(kg K)"};
    case Dimension::heat_capacity:
      return {"a heat capacity", "60 J/K"};
    case Dimension::thermal_resistance:
      return {"a thermal resistance", "2 K/W"};
    case Dimension::time:
      return {"a time", "8 s or 2 min"};
    case Dimension::angle:
      return {"an angle", "1.5 deg"};
    case Dimension::ratio:
      return {"a share", "85 % or 0.85"};
    case Dimension::number:
      return {"a plain number", "14"};
    case Dimension::inductance:
      return {"an inductance", "8 mH"};
    case Dimension::capacitance:
      return {"a capacitance", "1 uF"};
    case Dimension::frequency:
      return {"a frequency", "50 Hz"};
  }
  return {"a quantity", "46 mm"};
}

}  // namespace windgap::units
