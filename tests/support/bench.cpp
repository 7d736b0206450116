#include "support/bench.h"

#include "engine/fallbacks.h"
#include "support/models.h"

namespace windgap::test {

engine::Engine garden_engine() {
  engine::Engine engine;
  engine.mouth = {
      .diameter = 0.060, .lip_radius = 0.007, .face_diameter = 0.078, .throat_diameter = 0.046};
  engine.compressor.inducer_diameter = 0.046;
  engine.compressor.exducer_diameter = 0.060;
  engine.turbine.inducer_diameter = 0.056;
  engine.turbine.exducer_diameter = 0.047;
  engine.turbine.volute_area_over_radius = 0.0160;
  engine.bearings.oil.cold = {.temperature = 313.15, .kinematic_viscosity = 68e-6};
  engine.bearings.oil.hot = {.temperature = 373.15, .kinematic_viscosity = 10.5e-6};
  engine.bearings.oil.inlet_temperature = 323.15;
  (void)engine::fill_fallbacks(engine, models().engine);
  return engine;
}

rig::Parts garden_parts() {
  rig::Parts parts;
  parts.site = {.altitude = 220.0, .temperature = 284.15, .wind = 1.0};
  fan::Fan fan;
  fan.datasheet = {.thrust = 19.0, .voltage = 22.2, .current = 62.0};
  fan.bore_diameter = 0.064;
  fan.hub_diameter = 0.027;
  fan.vanes = fan::Vanes::yes;
  parts.drive.pack = {.cells = 6, .capacity = 3.3 * 3600.0, .state_of_charge = 0.95};
  parts.drive.controller.rated_current = 80.0;
  parts.drive.motor = {.speed_constant = 220.0, .resistance = 0.022, .no_load_current = 2.8};
  (void)fan::fill_fallbacks(fan, parts.drive, models().fan, models().drive);
  parts.source = fan;
  parts.engine = garden_engine();
  parts.mounting = {.offset = 0.002, .tilt = 0.0175};
  return parts;
}

placement::Requirement usual_requirement() {
  const auto& c = placement_models();
  placement::Requirement need;
  need.margin = c.airflow_margin;
  need.allowed_running_loss = c.allowed_running_loss;
  need.flame_holder_velocity = c.flame_holder_velocity;
  need.start_duration = c.start_duration;
  need.nearest = 0.020;
  need.farthest = 0.600;
  return need;
}

}  // namespace windgap::test
