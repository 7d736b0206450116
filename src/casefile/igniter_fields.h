#pragma once

#include <array>
#include <string_view>

#include "casefile/fields.h"

/// The numbers of an igniter's source under their keys, whatever its kind (see fields.h).
namespace windgap::casefile {

struct SourceNumber {
  std::string_view group;  ///< map inside the source; empty for the source itself
  std::string_view key;
  Allowed allowed;
};

inline constexpr auto source_numbers = std::to_array<SourceNumber>({
    {"", "primary_voltage", {D::voltage, 1, 1000, "V"}},
    {"", "turns_ratio", {D::number, 1, 1000, ""}},
    {"", "short_circuit_current", {D::current, 0.01, 2000, "mA"}},
    {"", "frequency", {D::frequency, 10, 1e6, "Hz"}},
    {"", "supply_peak", {D::voltage, 10, 50000, "V"}},
    {"", "supply_current", {D::current, 0.001, 2000, "mA"}},
    {"", "diode_rated_voltage", {D::voltage, 1, 100000, "V"}},
    {"", "load_current", {D::current, 0, 100, "mA"}},
    {"", "output_capacitance", {D::capacitance, 0, 1e6, "pF"}},
    {"", "battery_voltage", {D::voltage, 1, 60, "V"}},
    {"", "primary_resistance", {D::resistance, 0.01, 1000, "ohm"}},
    {"", "primary_inductance", {D::inductance, 0.001, 1000, "mH"}},
    {"", "dwell", {D::time, 0.01, 1000, "ms"}},
    {"", "sparks_per_second", {D::number, 0.01, 5000, ""}},
    {"", "current_limit", {D::current, 0.1, 100, "A"}},
    {"", "clamp_voltage", {D::voltage, 10, 5000, "V"}},
    {"", "primary_capacitance", {D::capacitance, 0, 1e4, "nF"}},
    {"", "switch_rated_voltage", {D::voltage, 10, 10000, "V"}},
    {"", "switch_rated_current", {D::current, 0.1, 1000, "A"}},
    {"", "mains_voltage", {D::voltage, 1, 500, "V"}},
    {"", "mains_frequency", {D::frequency, 10, 500, "Hz"}},
    {"", "firing_angle", {D::angle, 0, 179, "deg"}},
    {"", "charging_resistance", {D::resistance, 0, 1e6, "ohm"}},
    {"", "converter_voltage", {D::voltage, 10, 5000, "V"}},
    {"", "converter_power", {D::power, 0.01, 10000, "W"}},
    {"capacitor", "capacitance", {D::capacitance, 1e-4, 1e4, "uF"}},
    {"capacitor", "rated_voltage", {D::voltage, 1, 100000, "V"}},
    {"coil", "turns_ratio", {D::number, 1, 1000, ""}},
    {"coil", "efficiency", {D::ratio, 1, 100, "%"}},
    {"coil", "secondary_capacitance", {D::capacitance, 1, 1e5, "pF"}},
    {"bleed", "resistance", {D::resistance, 0.001, 1e6, "kohm"}},
    {"bleed", "rated_voltage", {D::voltage, 1, 100000, "V"}},
    {"bleed", "rated_power", {D::power, 0.01, 10000, "W"}},
    {"indicator", "dark_below", {D::voltage, 1, 10000, "V"}},
});

}  // namespace windgap::casefile
