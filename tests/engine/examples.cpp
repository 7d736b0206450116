#include "engine/examples.h"

#include "engine/fallbacks.h"
#include "support/models.h"

namespace windgap::engine::example {

Engine calipers() {
  Engine e;
  e.name = "invented, 46 mm inducer";
  e.compressor.inducer_diameter = 0.046;
  e.compressor.exducer_diameter = 0.0605;
  e.turbine.inducer_diameter = 0.0555;
  e.turbine.exducer_diameter = 0.047;
  e.turbine.volute_area_over_radius = 0.0155;
  e.bearings.oil.cold = {.temperature = 313.15, .kinematic_viscosity = 32e-6};
  e.bearings.oil.hot = {.temperature = 373.15, .kinematic_viscosity = 5.4e-6};
  return e;
}

Engine filled() {
  Engine e = calipers();
  fill_fallbacks(e, coefficients());
  return e;
}

const Coefficients& coefficients() { return test::models().engine; }

air::Ambient room() { return air::make_ambient(test::models().air, {}); }

Prepared prepared() { return prepare(filled(), coefficients(), test::models().air); }

Flow flow(const Push& push) {
  const auto ambient = room();
  return {.mass_flow = push.mass_flow,
          .speed = push.speed,
          .inlet_total_pressure = ambient.pressure + push.pressure,
          .inlet_total_temperature = ambient.temperature,
          .inlet_swirl = push.swirl,
          .turbine_inlet_temperature = push.turbine_temperature,
          .fuel_air_ratio = 0.015};
}

GasPath run(const Prepared& engine, const Push& push) { return march(engine, room(), flow(push)); }

}  // namespace windgap::engine::example
