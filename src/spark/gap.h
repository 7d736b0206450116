#pragma once

#include "spark/coefficients.h"
#include "units/table.h"

/// Will it spark, is the spark enough, and how long is the box dangerous after switch-off.
/// Equations, sources, validity: models/spark.md (numbers in the comments are the equations there).
namespace windgap::spark {

/// Whether a number lies inside the range its source covers.
enum class Validity { inside, extrapolated };

/// The gas at the plug.
struct Gas {
  double pressure = unset;     ///< static, absolute [Pa]
  double temperature = unset;  ///< [K]
};

/// What faces what across the gap.
enum class Electrodes {
  uniform,     ///< plates, or spheres much larger than the gap
  plug_edged,  ///< a new plug: sharp-edged centre electrode
  plug_worn,   ///< a used plug: rounded edges; asks for more than a new one
  points,      ///< needle points
};

struct Gap {
  double length = unset;  ///< between the electrodes [m]
  Electrodes electrodes = Electrodes::plug_worn;
};

struct Breakdown {
  double voltage = unset;  ///< peak, slowly rising [V]
  Validity validity = Validity::inside;
};

/// Density of the gas over that of the reference state [-] (Eq. 1).
/// @throws std::logic_error unless pressure and temperature are above zero.
[[nodiscard]] double relative_density(const Gas& gas, const GapCoefficients& c);

/// Peak voltage at which the gap breaks down (Eq. 2 to 5): uniform-field form for gaps of about
/// 0.05 mm and more at room density, Paschen's below, the accepted minimum as the floor.
/// Extrapolated left of the minimum, beyond the checked length, outside the checked density.
/// @throws std::logic_error unless gap, pressure and temperature are above zero.
[[nodiscard]] Breakdown breakdown(const Gap& gap, const Gas& gas, const GapCoefficients& c);

/// What the breakdown was checked for, seen from this gas.
struct CheckedGap {
  double density = unset;   ///< relative, of this gas [-]
  double shortest = unset;  ///< gap in this gas [m]
  double longest = unset;   ///< [m]
};
/// @throws std::logic_error unless pressure and temperature are above zero.
[[nodiscard]] CheckedGap checked_gap(const Gas& gas, const GapCoefficients& c);

/// The longest gap that `voltage` breaks down in this gas [m]; 0 below the minimum voltage.
/// @throws std::logic_error unless voltage, pressure and temperature are numbers above zero.
[[nodiscard]] double longest_gap(double voltage,
                                 Electrodes electrodes,
                                 const Gas& gas,
                                 const GapCoefficients& c);

}  // namespace windgap::spark
