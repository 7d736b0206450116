#include "units/format.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

namespace windgap::units {
namespace {

constexpr int digits_of_result = 3;
constexpr int digits_of_limit = 4;

/// One unit that results are shown in, from this SI size upwards.
struct Choice {
  Dimension dimension;
  std::string_view metric;
  std::string_view inch;
  double from = 0.0;
};

// For each dimension rising in `from`; the last one not above the value serves.
constexpr auto choices = std::to_array<Choice>({
    {Dimension::length, "mm", "in"},
    {Dimension::length, "m", "ft", 10.0},
    {Dimension::area, "mm2", "in2"},
    {Dimension::area, "cm2", "in2", 1e-4},
    {Dimension::volume, "mL", "in3"},
    {Dimension::volume, "L", "in3", 1e-3},
    {Dimension::speed, "m/s", "ft/s"},
    {Dimension::mass_flow, "g/s", "lb/min"},
    {Dimension::volume_flow, "mL/min", "mL/min"},
    {Dimension::volume_flow, "L/s", "cfm", 1e-4},
    {Dimension::pressure, "mbar", "inH2O"},
    {Dimension::pressure, "mbar", "psi", 2e4},
    {Dimension::temperature, "degC", "degF"},
    {Dimension::temperature_difference, "K", "degF"},
    {Dimension::angular_speed, "rpm", "rpm"},
    {Dimension::speed_constant, "rpm/V", "rpm/V"},
    {Dimension::voltage, "V", "V"},
    {Dimension::voltage, "kV", "kV", 1e3},
    {Dimension::current, "mA", "mA"},
    {Dimension::current, "A", "A", 0.1},
    {Dimension::resistance, "mohm", "mohm"},
    {Dimension::resistance, "ohm", "ohm", 1.0},
    {Dimension::resistance, "kohm", "kohm", 1e3},
    {Dimension::resistance, "Mohm", "Mohm", 1e6},
    {Dimension::charge, "uC", "uC"},
    {Dimension::charge, "mAh", "mAh", 1.0},
    {Dimension::energy, "mJ", "mJ"},
    {Dimension::energy, "J", "J", 1.0},
    {Dimension::energy, "kJ", "kJ", 1e3},
    {Dimension::power, "W", "W"},
    {Dimension::power, "kW", "kW", 1e3},
    {Dimension::mass, "g", "oz"},
    {Dimension::mass, "kg", "lb", 1.0},
    {Dimension::force, "N", "lbf"},
    {Dimension::stiffness, "N/mm", "lbf/in"},
    {Dimension::torque, "mN*m", "oz*in"},
    {Dimension::torque, "N*m", "lbf*in", 1.0},
    {Dimension::inertia, "g*mm2", "g*mm2"},
    {Dimension::inertia, "kg*mm2", "kg*mm2", 1e-6},
    {Dimension::kinematic_viscosity, "cSt", "cSt"},
    {Dimension::dynamic_viscosity, "mPa*s", "mPa*s"},
    {Dimension::density, "kg/m3", "lb/ft3"},
    {Dimension::specific_energy, "MJ/kg", "MJ/kg"},
    {Dimension::specific_heat, "kJ/(kg*K)", "kJ/(kg*K)"},
    {Dimension::heat_capacity, "J/K", "J/K"},
    {Dimension::thermal_resistance, "K/W", "K/W"},
    {Dimension::time, "ms", "ms"},
    {Dimension::time, "s", "s", 0.1},
    {Dimension::time, "min", "min", 180.0},
    {Dimension::angle, "deg", "deg"},
    {Dimension::ratio, "%", "%"},
    {Dimension::number, "", ""},
    {Dimension::inductance, "uH", "uH"},
    {Dimension::inductance, "mH", "mH", 1e-3},
    {Dimension::inductance, "H", "H", 1.0},
    {Dimension::capacitance, "pF", "pF"},
    {Dimension::capacitance, "nF", "nF", 1e-9},
    {Dimension::capacitance, "uF", "uF", 1e-6},
    {Dimension::frequency, "Hz", "Hz"},
    {Dimension::frequency, "kHz", "kHz", 1e3},
});

/// Results in these are cut to the significant digits even left of the point.
bool rounds_whole_digits(Dimension dimension) { return dimension == Dimension::angular_speed; }

int whole_digits(double value) {
  const double size = std::abs(value);
  return size < 1 ? 0 : 1 + static_cast<int>(std::floor(std::log10(size)));
}

std::string without_trailing_zeros(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string number_text(double value, int digits) {
  constexpr double largest_plain = 1e9;
  constexpr double smallest_plain = 1e-4;
  const double size = std::abs(value);
  if (size != 0.0 && (size >= largest_plain || size < smallest_plain)) {
    return fmt::format("{:.{}g}", value, digits);
  }
  const int leading_zeros =
      size == 0.0 || size >= 1 ? 0 : static_cast<int>(-std::floor(std::log10(size))) - 1;
  const int decimals = std::max(0, digits - whole_digits(value) + leading_zeros);
  return without_trailing_zeros(fmt::format("{:.{}f}", value, decimals));
}

double shown_value(double value, const Unit& unit) {
  if (unit.offset == 0.0) return value / unit.factor;
  // The freezing point is 0, not the rounding error of the subtraction.
  constexpr double steps_per_degree = 1e6;
  const double degrees = (value - unit.offset) / unit.factor;
  return std::round(degrees * steps_per_degree) / steps_per_degree;
}

/// Symbol as print shows it: products with a dot, squares and degrees as signs.
std::string shown(std::string_view symbol) {
  std::string text;
  for (std::size_t i = 0; i < symbol.size(); ++i) {
    const char c = symbol[i];
    const bool ends = i + 1 == symbol.size() || symbol[i + 1] == '/';
    if (c == '*') {
      text += "\u00b7";
    } else if (c == '2' && ends && i > 0) {
      text += "\u00b2";
    } else if (c == '3' && ends && i > 0) {
      text += "\u00b3";
    } else {
      text += c;
    }
  }
  if (text == "degC") return "\u00b0C";
  if (text == "degF") return "\u00b0F";
  if (text == "deg") return "\u00b0";
  if (text.ends_with("ohm")) return text.substr(0, text.size() - 3) + "\u03a9";
  if (text == "uH" || text == "uF" || text == "uC") return "\u00b5" + text.substr(1);
  return text;
}

std::string joined(const std::string& number, const std::string& unit) {
  if (unit.empty()) return number;
  return unit == "\u00b0" ? number + unit : number + " " + unit;
}

}  // namespace

Unit display_unit(double value, Dimension dimension, System system) {
  const Choice* best = nullptr;
  for (const auto& choice : choices) {
    if (choice.dimension != dimension) continue;
    if (best == nullptr || std::abs(value) >= choice.from) best = &choice;
  }
  if (best == nullptr) throw std::logic_error("a dimension without a unit to show it in");
  const auto unit = find_unit(system == System::metric ? best->metric : best->inch, dimension);
  if (!unit) throw std::logic_error("a unit to show results in is not in the table");
  return *unit;
}

std::string format(double value, Dimension dimension, System system) {
  if (!std::isfinite(value)) return "n/a";
  const auto unit = display_unit(value, dimension, system);
  double shown_number = shown_value(value, unit);
  if (rounds_whole_digits(dimension) && whole_digits(shown_number) > digits_of_result) {
    const double step = std::pow(10.0, whole_digits(shown_number) - digits_of_result);
    shown_number = std::round(shown_number / step) * step;
  }
  return joined(number_text(shown_number, digits_of_result), shown(unit.symbol));
}

std::string format_in(double value, Dimension dimension, std::string_view unit) {
  const auto found = find_unit(unit, dimension);
  if (!found) throw std::logic_error("format_in: not a unit of the dimension");
  if (!std::isfinite(value)) return "n/a";
  const auto number = number_text(shown_value(value, *found), digits_of_limit);
  return joined(number, std::string(unit));
}

}  // namespace windgap::units
