#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "spark/coefficients.h"
#include "spark/gap.h"
#include "units/table.h"

/// The least spark energy that lights a fuel, and the gap below which the electrodes put the young
/// flame out (Eq. 18 to 23 of models/spark.md).
namespace windgap::spark {

enum class Fuel { propane, kerosene, diesel };

/// What surrounds the plug when it should light.
struct Conditions {
  Gas gas;
  double velocity = unset;  ///< past the plug [m/s]
  Fuel fuel = Fuel::propane;
  double fuel_temperature = unset;  ///< of the liquid that gives the vapour; liquids only [K]
  std::optional<double> drop_diameter = {};  ///< Sauter mean of the spray; none: not sprayed [m]
  std::optional<double> flash_point = {};    ///< of this batch; none: the fuel's usual one [K]
};

/// How the fuel meets the spark.
enum class Route {
  gas,     ///< fuel gas mixed with air
  vapour,  ///< vapour over warm liquid
  mist,    ///< drops
  none,    ///< too cold and not sprayed: no spark lights it
};

/// What the spark must do here. Energies are in the gas, after the electrodes took their share.
struct Need {
  Route route = Route::none;
  double energy = unset;           ///< least, in the moving gas [J]; infinite on Route::none
  double quench_distance = unset;  ///< [m]
  Validity validity = Validity::inside;
};

/// The cheapest route open to this fuel.
/// @throws std::logic_error unless pressure, temperatures and drop size are above zero and the
/// velocity is at least zero.
[[nodiscard]] Need ignition_need(const Conditions& conditions, const IgnitionCoefficients& c);

/// Least energy in vapour over the liquid at rest [J] (Eq. 20); infinite below the cold end.
[[nodiscard]] double vapour_energy(const Conditions& conditions, const IgnitionCoefficients& c);

/// Quench distance in a mist [m] (Eq. 21).
[[nodiscard]] double mist_quench(const Conditions& conditions, const IgnitionCoefficients& c);

/// What no number here knows; to be said with every verdict.
inline constexpr std::array<std::string_view, 6> ignition_unknowns{
    "the mixture at the plug: every energy is for the best one, and a lean or rich one needs tens "
    "of times more",
    "whether spray and spark are in the same place at the same time",
    "soot, water and liquid fuel on the insulator, which bleed the voltage away before it is there",
    "turbulence: only the mean speed past the plug is counted",
    "ions of a flame that already burns, which lower the voltage needed",
    "whether the young flame then spreads and holds: that is the combustor's matter",
};

}  // namespace windgap::spark
