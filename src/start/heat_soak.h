#pragma once

#include "units/table.h"

/// Hot walls that take heat from the gas and give it back (Eqs. 9 to 12 of models/start.md).
namespace windgap::start {

/// One side of a wall along a duct.
struct WallSide {
  double transfer_scale = unset;  ///< number of transfer units times mass flow^exponent
  double exponent = unset;        ///< of the mass flow [-]
};

/// A duct's wall before it is prepared.
struct Duct {
  double wetted_area = unset;  ///< [m^2]
  double flow_area = unset;    ///< [m^2]
  double enhancement = 1.0;    ///< over a straight duct [-]
  double viscosity = unset;    ///< of the gas, held constant [Pa s]
};

/// Coefficients of St = factor Re^-a Pr^-b.
struct Stanton {
  double factor = unset;
  double reynolds_exponent = unset;
  double prandtl_exponent = unset;
  double prandtl = unset;
};

[[nodiscard]] WallSide make_side(const Duct& duct, const Stanton& stanton);

/// Number of transfer units hA/(m cp) of a side [-].
[[nodiscard]] double transfer_units(const WallSide& side, double mass_flow) noexcept;

/// Gas temperature behind a wall: T_w + (T - T_w) exp(-units) [K].
[[nodiscard]] double behind_wall(double gas, double wall, double units) noexcept;

/// Gas temperature ahead of a wall that leaves it with `behind` [K].
[[nodiscard]] double ahead_of_wall(double behind, double wall, double units) noexcept;

}  // namespace windgap::start
