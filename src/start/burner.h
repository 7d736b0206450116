#pragma once

#include "air/air.h"
#include "start/fuel.h"

/// The burner: how hot a fuel flow makes the air, how much of it burns, where it lights and where
/// it goes out (Eqs. 3 to 8 of models/start.md). Allocation-free closed forms.
namespace windgap::start {

struct Burner {
  double volume = unset;                  ///< of the flame tube [m^3]
  double primary_share = unset;           ///< of the air through the primary holes [-]
  double half_loading = unset;            ///< [kg/(s m^3)]
  double loading_pressure = unset;        ///< [Pa]
  double pressure_exponent = unset;       ///< [-]
  double temperature_rate = unset;        ///< [1/K]
  double temperature_datum = unset;       ///< [K]
  double greatest_loading = unset;        ///< [kg/(s m^3)]
  double cold_liquid_efficiency = unset;  ///< [-]
  double ready_temperature = unset;       ///< [K]
  double cold_temperature = unset;        ///< of a flame tube that has never burnt: the room's [K]
  double lightoff_lean = unset;           ///< [-]
  double blowout_lean = unset;            ///< [-]
  double rich_share = unset;              ///< [-]
  double lightoff_velocity = unset;       ///< past the flame holder [m/s]
  double burning_velocity = unset;        ///< the same for a burning flame [m/s]
};

/// Air as it enters the burner.
struct BurnerInlet {
  double mass_flow = unset;    ///< [kg/s]
  double pressure = unset;     ///< total [Pa]
  double temperature = unset;  ///< total [K]
};

/// Combustor loading [kg/(s m^3)], pressure in units of loading_pressure (Eq. 3).
[[nodiscard]] double loading(const Burner& burner, const BurnerInlet& inlet) noexcept;

/// How far a wall is from vaporizing all that is sprayed on it: 1 in the room, 0 when ready [-].
[[nodiscard]] double coldness(const Burner& burner, double wall) noexcept;

/// Share of the fuel that burns [-] (Eq. 4).
[[nodiscard]] double efficiency(const Burner& burner,
                                double loading,
                                double liquid_share,
                                double tube_temperature) noexcept;

/// Temperature behind the flame when `burnt` kg of fuel a kg of air burn in air of
/// `air_temperature`, no heat lost [K] (Eq. 5).
struct Heat {
  double burnt = unset;            ///< fuel-air ratio that really burns [-]
  double heating_value = unset;    ///< [J/kg]
  double air_temperature = unset;  ///< [K]
  double product_heat = 1.0;       ///< [-]
};
[[nodiscard]] double flame_temperature(const air::Coefficients& air, const Heat& heat) noexcept;

/// Burnt fuel-air ratio that gives a temperature [-] (Eq. 5 solved for it).
struct Wanted {
  double temperature = unset;      ///< behind the flame [K]
  double heating_value = unset;    ///< [J/kg]
  double air_temperature = unset;  ///< [K]
  double product_heat = 1.0;       ///< [-]
  double lost = 0.0;               ///< by the flame, per kg of air [J/kg]
};
[[nodiscard]] double burnt_ratio_for(const air::Coefficients& air, const Wanted& wanted) noexcept;

/// What a flame needs of its mixture, at a loading (Eqs. 6, 7).
struct Window {
  double lean = unset;  ///< least equivalence ratio of the primary zone [-]
  double rich = unset;  ///< greatest [-]; below `lean`: nothing burns
};
enum class FlameState { unlit, burning };
[[nodiscard]] Window flammable(const Burner& burner,
                               const Mixture& mixture,
                               double loading,
                               FlameState state) noexcept;

/// Equivalence ratio of the primary zone [-] (Eq. 6).
[[nodiscard]] double primary_equivalence(const Burner& burner,
                                         const Mixture& mixture,
                                         double fuel_air_ratio) noexcept;

enum class Flame { holds, too_lean, too_rich, too_fast, overloaded };

/// The first condition that fails, in the order velocity, loading, lean, rich.
struct FlameInputs {
  double fuel_air_ratio = unset;         ///< supplied [-]
  double loading = unset;                ///< [kg/(s m^3)]
  double flame_holder_velocity = unset;  ///< [m/s]
};
[[nodiscard]] Flame judge_flame(const Burner& burner,
                                const Mixture& mixture,
                                const FlameInputs& inputs,
                                FlameState state) noexcept;

}  // namespace windgap::start
