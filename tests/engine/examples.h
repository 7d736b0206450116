#pragma once

#include "air/air.h"
#include "engine/engine.h"

/// An invented turbocharger engine with a 46 mm inducer, and how to ask it things.
namespace windgap::engine::example {

/// Calipers only, everything else still unset.
[[nodiscard]] Engine calipers();

/// The same with every fallback filled.
[[nodiscard]] Engine filled();

[[nodiscard]] const Coefficients& coefficients();
[[nodiscard]] air::Ambient room();

/// Prepared with the shipped coefficients.
[[nodiscard]] Prepared prepared();

/// Pushed with a gauge total pressure [Pa].
struct Push {
  double mass_flow = 0.0;
  double speed = 0.0;
  double pressure = 3500.0;
  double swirl = 0.0;
  double turbine_temperature = 0.0;
};
[[nodiscard]] Flow flow(const Push& push);
[[nodiscard]] GasPath run(const Prepared& engine, const Push& push);

}  // namespace windgap::engine::example
