#include "properties/scenes.h"

#include <cstdlib>
#include <numbers>
#include <ostream>

#include "engine/fallbacks.h"
#include "support/bench.h"
#include "support/models.h"

namespace windgap::test {
namespace {

constexpr double freezing = 273.15;

/// The same benches in every run, unless the caller's RC_PARAMS ask for others.
const int fixed_seed = ::setenv("RC_PARAMS", "seed=1", 0);  // NOLINT(concurrency-mt-unsafe)

/// Evenly from `low` to `high`, both included.
rc::Gen<double> between(double low, double high) {
  constexpr int steps = 1'000'000;
  return rc::gen::map(rc::gen::resize(rc::kNominalSize, rc::gen::inRange(0, steps + 1)),
                      [=](int i) { return low + (high - low) * i / steps; });
}

/// The garden engine with every length in proportion.
engine::Engine engine_of(const Scene& scene) {
  const double scale = scene.inducer_diameter / garden_engine().compressor.inducer_diameter;
  engine::Engine engine;
  engine.mouth = {.diameter = 0.060 * scale,
                  .lip_radius = 0.007 * scale,
                  .face_diameter = 0.078 * scale,
                  .throat_diameter = 0.046 * scale};
  engine.compressor.inducer_diameter = 0.046 * scale;
  engine.compressor.exducer_diameter = 0.060 * scale;
  engine.turbine.inducer_diameter = 0.056 * scale;
  engine.turbine.exducer_diameter = 0.047 * scale;
  engine.turbine.volute_area_over_radius = 0.0160 * scale;
  engine.bearings.oil = garden_engine().bearings.oil;
  engine.bearings.oil.mass_flow = unset;
  engine.bearings.oil.inlet_temperature = scene.oil_temperature;
  (void)engine::fill_fallbacks(engine, models().engine);
  return engine;
}

rig::Parts parts_without_source(const Scene& scene) {
  rig::Parts parts;
  parts.site = {.altitude = scene.altitude, .temperature = scene.temperature};
  parts.engine = engine_of(scene);
  parts.throttle = scene.throttle;
  parts.mounting = {.offset = scene.offset_share * scene.bore_share * scene.inducer_diameter,
                    .tilt = scene.tilt};
  return parts;
}

}  // namespace

std::ostream& operator<<(std::ostream& out, const Scene& s) {
  return out << "inducer " << s.inducer_diameter << ", bore share " << s.bore_share << ", velocity "
             << s.exit_velocity << ", hub share " << s.hub_share << ", throttle " << s.throttle
             << ", offset share " << s.offset_share << ", tilt " << s.tilt << ", altitude "
             << s.altitude << ", temperature " << s.temperature << ", oil " << s.oil_temperature
             << ", stand-off share " << s.stand_off_share << ", blunt " << s.blunt_hub << ", vanes "
             << s.vanes;
}

rc::Gen<Scene> any_scene() {
  return rc::gen::build<Scene>(
      rc::gen::set(&Scene::inducer_diameter, between(0.034, 0.120)),
      rc::gen::set(&Scene::bore_share, between(0.6, 2.5)),
      rc::gen::set(&Scene::exit_velocity, between(15.0, 110.0)),
      rc::gen::set(&Scene::hub_share, between(0.2, 0.6)),
      rc::gen::set(&Scene::throttle, between(0.1, 1.0)),
      rc::gen::set(&Scene::offset_share, between(0.0, 0.5)),
      rc::gen::set(&Scene::tilt, between(0.0, 0.17)),
      rc::gen::set(&Scene::altitude, between(0.0, 4000.0)),
      rc::gen::set(&Scene::temperature, between(freezing - 20.0, freezing + 45.0)),
      rc::gen::set(&Scene::oil_temperature, between(freezing - 10.0, freezing + 80.0)),
      rc::gen::set(&Scene::stand_off_share, between(0.05, 40.0)),
      rc::gen::set(&Scene::blunt_hub, rc::gen::arbitrary<bool>()),
      rc::gen::set(&Scene::vanes, rc::gen::arbitrary<bool>()));
}

rig::Parts fan_parts(const Scene& scene) {
  auto parts = parts_without_source(scene);
  constexpr double density = 1.225;
  constexpr double voltage = 22.2;
  constexpr double efficiency = 0.45;  // jet power over electrical power of a good small unit
  fan::Fan fan;
  fan.bore_diameter = scene.bore_share * scene.inducer_diameter;
  fan.hub_diameter = scene.hub_share * fan.bore_diameter;
  fan.hub_end = scene.blunt_hub ? jet::HubEnd::blunt : jet::HubEnd::tail_cone;
  fan.vanes = scene.vanes ? fan::Vanes::yes : fan::Vanes::no;
  const double area = std::numbers::pi / 4.0 *
                      (fan.bore_diameter * fan.bore_diameter - fan.hub_diameter * fan.hub_diameter);
  const double thrust = density * area * scene.exit_velocity * scene.exit_velocity;
  fan.datasheet = {.thrust = thrust,
                   .voltage = voltage,
                   .current = 0.5 * thrust * scene.exit_velocity / (efficiency * voltage)};
  parts.drive.pack = {
      .cells = 6,
      .capacity = fan.datasheet.current * 3.0 * 60.0,  // three minutes at full blast
      .state_of_charge = 0.95};
  (void)fan::fill_fallbacks(fan, parts.drive, models().fan, models().drive);
  parts.source = fan;
  return parts;
}

rig::Parts stream_parts(const Scene& scene) {
  auto parts = parts_without_source(scene);
  const double bore = scene.bore_share * scene.inducer_diameter;
  parts.source =
      fan::Stream{.exit_diameter = bore,
                  .velocity = scene.exit_velocity,
                  .hub_diameter = scene.hub_share * bore,
                  .hub_end = scene.blunt_hub ? jet::HubEnd::blunt : jet::HubEnd::tail_cone};
  return parts;
}

double stand_off(const Scene& scene) {
  return scene.stand_off_share * scene.bore_share * scene.inducer_diameter;
}

}  // namespace windgap::test
