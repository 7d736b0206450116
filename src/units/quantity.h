#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "units/dimension.h"
#include "units/table.h"

namespace windgap::units {

/// A quantity as a person wrote it, in SI.
struct Quantity {
  double value = unset;    ///< SI unit of the dimension
  double tolerance = 0.0;  ///< half width, same unit (kelvin for a temperature); 0 if none given
  std::string unit = {};   ///< the unit text as written; empty for a bare number
};

/// Either a quantity or what is wrong with the text.
struct Reading {
  std::optional<Quantity> quantity = {};
  std::string problem = {};     ///< "the unit is missing"
  std::string suggestion = {};  ///< "1.8 in" or empty
};

/// Reads `70 mm`, `46 ± 0.2 mm`, `46 mm +- 2 %`, `12.5 psi`, `-3 degC`, `.63 in`, `0.9`, `90 %`.
/// A tolerance without unit is in the unit of the value; one in percent is a share of the value,
/// except where the value itself is in percent. Same result in every locale. Infinite, undefined,
/// overflowing and hexadecimal numbers are refused, as is anything after the unit.
[[nodiscard]] Reading parse(std::string_view text, Dimension wanted);

/// "a length with its unit, such as 46 mm or 1.8 in"
[[nodiscard]] std::string wanted_text(Dimension dimension);

}  // namespace windgap::units
