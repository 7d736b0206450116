#pragma once

#include "engine/coefficients.h"
#include "engine/parts.h"

namespace windgap::engine {

/// Polar inertia of both wheels and the shaft [kg m^2], or the stated one (Eq. 29 of
/// models/engine.md).
[[nodiscard]] double rotor_inertia(const Engine& engine, const EngineCoefficients& c);

/// Their mass [kg], or the stated one (Eq. 30).
[[nodiscard]] double rotor_mass(const Engine& engine, const EngineCoefficients& c);

/// Rotor speed at which the burner is lit [rad/s]: an assumed share of the design tip speed (Eq.
/// 31).
[[nodiscard]] double lightoff_speed(const Engine& engine, const EngineCoefficients& c);

}  // namespace windgap::engine
