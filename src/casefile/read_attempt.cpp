#include <fmt/format.h>

#include <array>
#include <cmath>
#include <utility>

#include "casefile/attempt_fields.h"
#include "casefile/sections.h"

namespace windgap::casefile {
namespace {

using start::Metering;

/// Keys of the case for the field names of start::fill_fallbacks; the longest match wins.
constexpr auto paths = std::to_array<std::pair<std::string_view, std::string_view>>({
    {"fuel.nozzle_", "fuel.nozzle."},
    {"fuel.", "fuel."},
    {"preheat.gas.nozzle_", "fuel.preheat.nozzle."},
    {"preheat.gas.", "fuel.preheat."},
    {"preheat.", "fuel.preheat."},
    {"burner.flame_holder_velocity", "start.flame_holder_velocity"},
    {"burner.", "engine.combustor."},
    {"housing.mass", "engine.turbine.housing_mass"},
    {"housing.wetted_area", "engine.turbine.housing_area"},
    {"fan.light_throttle", "start.fan_throttle.light"},
    {"fan.", "start.fan_throttle."},
    {"purge_", "start.purge."},
    {"shaft_motor.", "start.motor."},
});

std::string path_of(const std::string& field) {
  for (const auto& [name, path] : paths) {
    if (field.starts_with(name)) return std::string(path) + field.substr(name.size());
  }
  return "start." + field;
}

void read_supply(Reader& reader, start::FuelSupply& fuel) {
  const auto valve = reader.optional_choice<Metering>(
      "valve",
      {{"controlled", Metering::controlled}, {"fixed", Metering::fixed}, {"ramp", Metering::ramp}});
  fuel.metering = valve.value_or(Metering::controlled);
  if (fuel.metering != Metering::controlled) reader.require("flow");
  if (fuel.metering == Metering::ramp) {
    reader.require("final_flow");
    reader.require("ramp_time");
  }
  reader.require_order(
      "least_flow", fuel.least_flow, Order::at_most, "greatest_flow", fuel.greatest_flow);
  auto nozzle = reader.section("nozzle");
  nozzle.require_order("least_pressure",
                       fuel.nozzle_least_pressure,
                       Order::at_most,
                       "rated_pressure",
                       fuel.nozzle_rated_pressure);
  if (nozzle.given()) nozzle.require("flow");
}

void read_fuel(Reader reader, Draft& draft) {
  auto& setup = draft.attempt.given.setup;
  setup.fuel.kind = reader
                        .optional_choice<start::FuelKind>("kind",
                                                          {{"kerosene", start::FuelKind::kerosene},
                                                           {"diesel", start::FuelKind::diesel},
                                                           {"propane", start::FuelKind::propane}})
                        .value_or(start::FuelKind::propane);
  FieldReader v(reader);
  visit_supply(v, setup.fuel);
  read_supply(reader, setup.fuel);
  auto section = reader.section("preheat");
  start::Preheat preheat{.gas = {.kind = start::FuelKind::propane}};
  FieldReader w(section);
  visit_preheat(w, preheat);
  read_supply(section, preheat.gas);
  if (section.given()) setup.preheat.push_back(preheat);
}

void read_fan_off(Reader reader, start::FanPlan& fan) {
  fan.off = reader
                .optional_choice<start::FanOff>("off",
                                                {{"automatic", start::FanOff::automatic},
                                                 {"at_speed", start::FanOff::at_speed},
                                                 {"after_light", start::FanOff::after_light}})
                .value_or(start::FanOff::automatic);
  if (fan.off == start::FanOff::at_speed) reader.require("off_speed");
  if (fan.off == start::FanOff::after_light) reader.require("off_delay");
}

void read_burner(Reader engine, start::Setup& setup) {
  auto combustor = engine.section("combustor");
  FieldReader v(combustor);
  visit_flame_tube(v, setup.burner);
  combustor.require_order("primary_hole_area",
                          setup.burner.primary_hole_area,
                          Order::at_most,
                          "hole_area",
                          setup.burner.hole_area);
  if (combustor.has("primary_hole_area")) combustor.require("hole_area");
  auto turbine = engine.section("turbine");
  FieldReader w(turbine);
  visit_housing(w, setup.housing);
}

std::string shown(double value, units::Dimension dimension, const Draft& draft) {
  return units::format(value, dimension, draft.result.system);
}

/// No valve may pour in more than the running engine's whole air could burn.
void check_flow(Reader& reader,
                const Draft& draft,
                const start::FuelSupply& fuel,
                start::FuelKind kind,
                const Models& models) {
  const auto& parts = draft.result.parts;
  const double air = start::running_airflow(parts, models.rig);
  const double most = air * start::make_fuel(models.fuels, kind).stoichiometric_ratio;
  const auto limit = fmt::format("up to {}, which {} of air just burn",
                                 shown(most, D::mass_flow, draft),
                                 shown(air, D::mass_flow, draft));
  for (const auto& [key, flow] : {std::pair<const char*, double>{"flow", fuel.flow},
                                  {"final_flow", fuel.final_flow},
                                  {"least_flow", fuel.least_flow}}) {
    if (flow > most) reader.refuse(key, "more than the running engine's air can burn", limit);
  }
  if (fuel.metering == Metering::controlled) return;
  for (const auto& [key, flow] :
       {std::pair<const char*, double>{"flow", fuel.flow}, {"final_flow", fuel.final_flow}}) {
    reader.require_order("least_flow", fuel.least_flow, Order::at_most, key, flow);
    reader.require_order(key, flow, Order::at_most, "greatest_flow", fuel.greatest_flow);
  }
}

void check_start(Reader reader, const Draft& draft, const start::Setup& setup) {
  const auto& parts = draft.result.parts;
  auto throttle = reader.section("fan_throttle");
  if (setup.fan.light_throttle > parts.throttle) {
    throttle.refuse("light",
                    "more than the fan's throttle",
                    "up to " + shown(parts.throttle, D::ratio, draft) + " (drive.throttle)");
  }
  const double design =
      2.0 * parts.engine.design_tip_speed / parts.engine.compressor.exducer_diameter;
  if (setup.sequence.idle_speed > design) {
    reader.refuse("idle_speed",
                  "faster than the engine's design speed",
                  "up to " + shown(design, D::angular_speed, draft));
  }
  auto motor = reader.section("motor");
  motor.require_order("cut_out_speed",
                      setup.shaft_motor.cut_out_speed,
                      Order::at_most,
                      "free_speed",
                      setup.shaft_motor.free_speed);
}

/// What only stands once the gaps are filled: a time, a temperature against an assumed one.
void check_filled(Reader& root, const Draft& draft, const start::Setup& setup) {
  const auto& sequence = setup.sequence;
  if (sequence.patience <= sequence.ignition_delay) {
    root.section("start").refuse("patience",
                                 "too short for any flame: the fuel is shut before it can light",
                                 fmt::format("more than the ignition delay, {}",
                                             shown(sequence.ignition_delay, D::time, draft)));
  }
  for (const auto& preheat : setup.preheat) {
    auto reader = root.section("fuel").section("preheat");
    if (preheat.tube_temperature >= setup.gas_temperature_limit) {
      reader.refuse("tube_temperature",
                    "a flame tube hotter than the gas may be",
                    fmt::format("below {} (start.gas_temperature_limit)",
                                shown(setup.gas_temperature_limit, D::temperature, draft)));
    }
  }
}

void fill_blower(Reader reader, Draft& draft, const Models& models) {
  auto& blower = draft.attempt.blower;
  const auto fill = [&](std::string_view key, double& field, double value) {
    if (!std::isnan(field)) return;
    field = value;
    if (draft.attempt.starter != StarterKind::blower) return;
    note_default(reader, key, value, models.why("start", fmt::format("blower_{}", key)));
  };
  fill("exit_diameter", blower.exit_diameter, models.start.blower_exit_diameter);
  fill("velocity", blower.velocity, models.start.blower_velocity);
  if (std::isnan(blower.stand_off)) {
    blower.stand_off = models.start.blower_stand_off;
    if (draft.attempt.starter == StarterKind::blower) {
      note_default(reader, "at", blower.stand_off, models.why("start", "blower_stand_off"));
    }
  }
}

}  // namespace

void read_attempt(Reader& root, Draft& draft) {
  auto& attempt = draft.attempt;
  auto& setup = attempt.given.setup;
  read_fuel(root.section("fuel"), draft);
  read_burner(root.section("engine"), setup);
  auto reader = root.section("start");
  FieldReader v(reader);
  visit_sequence(v, setup);
  read_fan_off(reader.section("fan_throttle"), setup.fan);
  attempt.starter = reader
                        .optional_choice<StarterKind>("starter",
                                                      {{"fan", StarterKind::fan},
                                                       {"motor", StarterKind::motor},
                                                       {"blower", StarterKind::blower}})
                        .value_or(StarterKind::fan);
  auto blower = reader.section("blower");
  FieldReader w(blower);
  visit_blower(w, attempt.blower);
}

bool needs_start(Reader& root, const Draft& draft) {
  auto reader = root.section("start");
  return !draft.result.parts.engine.resistance && !reader.has("airflow") &&
         !reader.has("rotor_speed");
}

void complete_attempt(Reader& root, Draft& draft, const Models& models) {
  auto& result = draft.result;
  if (result.parts.engine.resistance) return;
  auto& attempt = draft.attempt;
  auto& given = attempt.given;
  auto fuel = root.section("fuel");
  note_default(fuel, "kind", "propane", "what a builder's engine is most often lit with");
  note_default(fuel, "valve", "controlled", "a hand or controller keeps the gas below its limit");
  given.setup.burner.flame_holder_velocity = result.requirement.flame_holder_velocity;
  given.setup.sequence.spin_up_time = result.requirement.start_duration;
  given.models = models.start;
  given.fuels = models.fuels;
  check_flow(fuel, draft, given.setup.fuel, given.setup.fuel.kind, models);
  for (const auto& preheat : given.setup.preheat) {
    auto gas = fuel.section("preheat");
    check_flow(gas, draft, preheat.gas, preheat.gas.kind, models);
  }
  check_start(root.section("start"), draft, given.setup);
  fill_blower(root.section("start").section("blower"), draft, models);
  attempt.setup = given.setup;
  const auto fallbacks =
      start::fill_fallbacks(attempt.setup, result.parts, models.rig, models.start);
  note_fallbacks(root.findings(), fallbacks, path_of);
  check_filled(root, draft, attempt.setup);
  for (const auto& sentence : start::contradictions(attempt.setup, result.parts, models.fuels)) {
    if (root.findings().problems.empty()) root.refuse("fuel", sentence);
  }
  attempt.derives_need = needs_start(root, draft);
  result.attempt = attempt;
}

start::Setup with_starter(const Attempt& attempt,
                          StarterKind starter,
                          const rig::Parts& parts,
                          const rig::Coefficients& models) {
  auto setup = attempt.given.setup;
  setup.starter = starter == StarterKind::motor ? start::Starter::shaft_motor : start::Starter::fan;
  (void)start::fill_fallbacks(setup, parts, models, attempt.given.models);
  return setup;
}

}  // namespace windgap::casefile
