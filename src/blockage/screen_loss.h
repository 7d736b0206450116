#pragma once

#include "units/table.h"

/// Total-pressure loss of guards across a duct or mouth.
namespace windgap::blockage {

struct Coefficients;

enum class GuardKind { none, round_wire, perforated };

/// A foreign-object guard.
struct Guard {
  GuardKind kind = GuardKind::none;
  double open_area = unset;      ///< open over total area [-]
  double wire_diameter = unset;  ///< [m]; only for round wire
  double diameter = unset;       ///< of the cross-section it spans [m]
};

struct ScreenLoss {
  double coefficient = 0.0;  ///< on the dynamic head approaching the screen [-]
  bool in_range = true;      ///< false: outside the table or the form's range
};

/// Round-wire screen by K = beta(Re) (1 - a^2)/a^2, perforated sheet by table (Eqs. 3, 4).
/// `wire_reynolds`: approach velocity over open area, on the wire diameter; ignored for a sheet.
/// @throws std::logic_error if the open area is not between 0 and 1.
[[nodiscard]] ScreenLoss screen_loss(const Guard& guard,
                                     double wire_reynolds,
                                     const Coefficients& c);

}  // namespace windgap::blockage
