#pragma once

#include <string>
#include <string_view>

#include "units/dimension.h"

namespace windgap::units {

/// The units a person reads results in.
enum class System { metric, inch };

/// An SI value as a person reads it: `262 mm` or `10.3 in`, `31.2 g/s` or `4.13 lb/min`,
/// `21 mbar` or `8.43 inH2O`, `22300 rpm`, `11 °C`. Three significant digits (millimetres and
/// pressures are never rounded left of the point), no trailing zeros; `n/a` for a NaN.
[[nodiscard]] std::string format(double value, Dimension dimension, System system);

/// The same in a unit the person chose, as he wrote it; with four digits. Used for limits.
/// @throws std::logic_error if `unit` is no unit of the dimension.
[[nodiscard]] std::string format_in(double value, Dimension dimension, std::string_view unit);

/// The unit of results of this size, for the head of a column: SI = offset + factor * shown.
[[nodiscard]] Unit display_unit(double value, Dimension dimension, System system);

}  // namespace windgap::units
