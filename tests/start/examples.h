#pragma once

#include <numbers>
#include <stdexcept>
#include <string>

#include "engine/fallbacks.h"
#include "start/run.h"
#include "support/bench.h"
#include "support/models.h"

/// Invented starts that the tests of this folder share.
namespace windgap::start::examples {

inline constexpr double rpm = std::numbers::pi / 30.0;

struct Example {
  rig::Parts parts = test::garden_parts();
  Setup setup = {
      .burner = {.flame_holder_velocity = test::placement_models().flame_holder_velocity}};

  [[nodiscard]] rig::Rig rig() const {
    return rig::assemble(parts, test::models(), rig::JetChoice::estimated);
  }
  [[nodiscard]] Prepared prepared() const {
    Setup filled = setup;
    (void)fill_fallbacks(filled, parts, test::models(), test::start_models());
    return prepare(filled, parts, test::models(), test::fuel_models(), test::start_models());
  }
  [[nodiscard]] Bench bench(double stand_off) const {
    return {parts, test::models(), rig(), prepared(), stand_off};
  }
  [[nodiscard]] Run run_at(double stand_off) const {
    Bench there = bench(stand_off);
    return run(there);
  }
};

/// Fed with a fixed flow of its fuel [kg/s].
inline Example with_fixed_flow(double flow) {
  Example example;
  example.setup.fuel.metering = Metering::fixed;
  example.setup.fuel.flow = flow;
  return example;
}

/// The engine in another size, every length by the same factor; the same fan.
inline Example scaled(double factor) {
  Example example;
  engine::Engine engine;
  const auto& garden = example.parts.engine;
  engine.mouth = garden.mouth;
  for (double* length : {&engine.mouth.diameter,
                         &engine.mouth.lip_radius,
                         &engine.mouth.face_diameter,
                         &engine.mouth.throat_diameter}) {
    *length *= factor;
  }
  engine.compressor.inducer_diameter = factor * garden.compressor.inducer_diameter;
  engine.compressor.exducer_diameter = factor * garden.compressor.exducer_diameter;
  engine.turbine.inducer_diameter = factor * garden.turbine.inducer_diameter;
  engine.turbine.exducer_diameter = factor * garden.turbine.exducer_diameter;
  engine.turbine.volute_area_over_radius = factor * garden.turbine.volute_area_over_radius;
  engine.bearings.oil = garden.bearings.oil;
  engine.bearings.oil.mass_flow = factor * factor * garden.bearings.oil.mass_flow;
  (void)engine::fill_fallbacks(engine, test::models().engine);
  example.parts.engine = engine;
  return example;
}

/// Of the first event of its kind.
/// @throws std::out_of_range, which fails the test, if there is none.
[[nodiscard]] inline Sample at(const Run& run, EventKind kind) {
  for (const auto& event : run.events) {
    if (event.kind == kind) return event.sample;
  }
  throw std::out_of_range(std::string(name(kind)) + " did not happen");
}

}  // namespace windgap::start::examples
