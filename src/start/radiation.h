#pragma once

#include "units/table.h"

/// What the flame radiates to the metal about it (Eqs. 28 to 31 of models/start.md).
namespace windgap::start {

/// The flame as a radiating body of gas.
struct Glow {
  double temperature = unset;       ///< of the burning gas [K]
  double emissivity_scale = unset;  ///< exponent of Eq. 28 over L, pressure and sqrt(q) [1/Pa]
  double absorbed_share = unset;    ///< (1 + wall emissivity)/2 [-]
  double wall_emissivity = unset;   ///< [-]
};

struct GlowInputs {
  double temperature = unset;      ///< of the burning gas [K]
  double factor = unset;           ///< of Eq. 28 [K^1.5/(kPa m^0.5)]
  double beam_length = unset;      ///< mean, of the flame [m]
  double wall_emissivity = unset;  ///< [-]
};

[[nodiscard]] Glow make_glow(const GlowInputs& inputs);

/// Emissivity of the flame [-] (Eq. 28).
struct Flaming {
  double pressure = unset;        ///< [Pa]
  double luminosity = unset;      ///< of the fuel [-]
  double fuel_air_ratio = unset;  ///< where it burns [-]
};
[[nodiscard]] double emissivity(const Glow& glow, const Flaming& flame) noexcept;

/// From the flame to a wall [W/m^2] (Eq. 29).
[[nodiscard]] double flame_flux(const Glow& glow, double emissivity, double wall) noexcept;

/// From a small body to the wall that encloses it [W/m^2].
[[nodiscard]] double enclosed_flux(const Glow& glow, double body, double wall) noexcept;

}  // namespace windgap::start
