#pragma once

#include <cmath>
#include <nlohmann/json.hpp>

#include "units/quantity.h"

/// Numbers as every JSON answer writes them.
namespace windgap::report {

/// null where there is none: JSON knows neither NaN nor infinity.
[[nodiscard]] inline nlohmann::ordered_json number(double value) {
  return std::isfinite(value) ? nlohmann::ordered_json(value) : nlohmann::ordered_json(nullptr);
}

[[nodiscard]] inline double ampere_hours(double coulombs) {
  return coulombs / units::find_unit("Ah", units::Dimension::charge)->factor;
}

}  // namespace windgap::report
