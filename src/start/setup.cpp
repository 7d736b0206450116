#include "start/setup.h"

#include <cmath>
#include <numbers>
#include <utility>

namespace windgap::start {
namespace {

bool given(double value) { return !std::isnan(value); }

class Filler {
 public:
  void fill(double& field, std::string key, double value, const char* why) {
    if (given(field)) return;
    field = value;
    assumed_.push_back({.field = std::move(key), .value = value, .why = why});
  }
  [[nodiscard]] std::vector<Assumed> take() { return std::move(assumed_); }

 private:
  std::vector<Assumed> assumed_;
};

void fill_supply(
    Filler& f, FuelSupply& fuel, const std::string& key, double widest, const Coefficients& c) {
  if (given(fuel.nozzle_flow)) {
    f.fill(fuel.nozzle_rated_pressure,
           key + ".nozzle_rated_pressure",
           c.nozzle_rated_pressure,
           "how spray nozzles are rated (nozzle_rated_pressure)");
    f.fill(fuel.nozzle_least_pressure,
           key + ".nozzle_least_pressure",
           c.nozzle_least_pressure,
           "below it the spray collapses (nozzle_least_pressure)");
    f.fill(fuel.least_flow,
           key + ".least_flow",
           fuel.nozzle_flow * std::sqrt(fuel.nozzle_least_pressure / fuel.nozzle_rated_pressure),
           "the nozzle at its least pressure");
  } else {
    f.fill(fuel.least_flow, key + ".least_flow", 0.0, "a valve that closes without a step");
  }
  f.fill(fuel.greatest_flow,
         key + ".greatest_flow",
         widest,
         "half as much again as full speed needs (greatest_fuel_air_ratio)");
}

double flame_tube_mass(const engine::Combustor& burner,
                       const rig::Coefficients& models,
                       const Coefficients& c) {
  const double section = models.engine.combustor.tube_area_ratio * burner.reference_area;
  const double diameter = std::sqrt(4.0 * section / std::numbers::pi);
  const double side = 4.0 * burner.volume / diameter;
  return c.tube_density * c.tube_thickness * side;
}

void fill_sequence(Filler& f,
                   Sequence& s,
                   const rig::Parts& parts,
                   const rig::Coefficients& models,
                   const Coefficients& c) {
  const auto purge = with_practice(
      s.purge, parts.engine.combustor.volume / models.engine.combustor.tube_area_ratio, c.purge);
  f.fill(s.purge.changes, "purge_changes", purge.changes, "published practice (purge_changes)");
  f.fill(s.purge.volume, "purge_volume", purge.volume, "burner case and passages (passage_share)");
  f.fill(s.purge.least, "purge_least", purge.least, "a person counts to ten (least_purge)");
  f.fill(s.ignition_delay, "ignition_delay", c.ignition_delay, "usual plug (ignition_delay)");
  f.fill(s.patience, "patience", c.patience, "nobody waits longer (patience)");
  f.fill(s.spin_up_time, "spin_up_time", c.spin_up_time, "one attempt (spin_up_time)");
  f.fill(s.time_limit, "time_limit", c.time_limit, "nobody waits longer (time_limit)");
  const double design_speed =
      2.0 * parts.engine.design_tip_speed / parts.engine.compressor.exducer_diameter;
  f.fill(s.idle_speed,
         "idle_speed",
         c.idle_share * design_speed,
         "usual share of full speed (idle_share)");
}

void check_supply(std::vector<std::string>& found, const FuelSupply& fuel, const std::string& key) {
  if (fuel.least_flow > fuel.greatest_flow) {
    found.push_back(key + ": the least flow is above the greatest");
  }
  if (fuel.metering == Metering::controlled) return;
  if (fuel.flow < fuel.least_flow || fuel.flow > fuel.greatest_flow) {
    found.push_back(key + ": the set flow is outside what valve, pump or nozzle can give");
  }
  if (fuel.nozzle_least_pressure > fuel.nozzle_rated_pressure) {
    found.push_back(key + ": the nozzle's least pressure is above its rated one");
  }
}

}  // namespace

double running_airflow(const rig::Parts& parts, const rig::Coefficients& models) {
  if (given(parts.running.airflow)) return parts.running.airflow;
  const double throat = parts.engine.mouth.throat_diameter;
  const auto room = air::make_ambient(models.air, parts.site);
  const double gamma = air::gamma(models.air, room.temperature);
  const double speed_of_sound = std::sqrt(gamma * air::gas_constant(models.air) * room.temperature);
  return room.density * std::numbers::pi * throat * throat / 4.0 *
         models.bench.running_inducer_mach * speed_of_sound;
}

std::vector<Assumed> fill_fallbacks(Setup& setup,
                                    const rig::Parts& parts,
                                    const rig::Coefficients& models,
                                    const Coefficients& c) {
  Filler f;
  const double widest = c.greatest_fuel_air_ratio * running_airflow(parts, models);
  fill_supply(f, setup.fuel, "fuel", widest, c);
  for (auto& preheat : setup.preheat) {
    fill_supply(f, preheat.gas, "preheat.gas", widest, c);
    f.fill(preheat.tube_temperature,
           "preheat.tube_temperature",
           c.preheated_temperature,
           "vaporizer tubes hot enough (preheated_temperature)");
    f.fill(preheat.changeover_time,
           "preheat.changeover_time",
           c.changeover_time,
           "gas closed as liquid opens (changeover_time)");
  }
  auto& burner = setup.burner;
  if (given(burner.primary_hole_area) && given(burner.hole_area)) {
    burner.primary_share = burner.primary_hole_area / burner.hole_area;
  }
  f.fill(burner.primary_share,
         "burner.primary_share",
         c.primary_share,
         "hole areas not given (primary_share)");
  f.fill(burner.tube_mass,
         "burner.tube_mass",
         flame_tube_mass(parts.engine.combustor, models, c),
         "sheet of usual thickness (tube_thickness)");
  const double wheel = parts.engine.turbine.inducer_diameter;
  f.fill(setup.housing.mass,
         "housing.mass",
         c.housing_mass_ratio * c.housing_density * wheel * wheel * wheel,
         "usual for the wheel (housing_mass_ratio)");
  f.fill(setup.housing.wetted_area,
         "housing.wetted_area",
         c.housing_wetted_ratio * wheel * wheel,
         "usual for the wheel (housing_wetted_ratio)");
  f.fill(setup.gas_temperature_limit,
         "gas_temperature_limit",
         c.gas_temperature_limit,
         "a start's usual limit (gas_temperature_limit)");
  f.fill(setup.speed_margin, "speed_margin", c.speed_margin, "usual reserve (speed_margin)");
  if (setup.starter == Starter::fan) {
    f.fill(setup.fan.light_throttle,
           "fan.light_throttle",
           parts.throttle,
           "lit at the same throttle as everything else");
  }
  f.fill(setup.fan.ramp_time, "fan.ramp_time", c.ramp_time, "hand on the throttle (ramp_time)");
  f.fill(setup.fan.spool_time,
         "fan.spool_time",
         c.fan_spool_time,
         "usual controller (fan_spool_time)");
  if (setup.starter == Starter::shaft_motor) {
    auto& motor = setup.shaft_motor;
    f.fill(motor.stall_torque,
           "shaft_motor.stall_torque",
           c.motor_stall_torque,
           "a usual hobby motor (motor_stall_torque)");
    f.fill(motor.free_speed,
           "shaft_motor.free_speed",
           c.motor_free_speed,
           "a usual hobby motor (motor_free_speed)");
    if (!given(motor.cut_out_speed)) motor.cut_out_speed = motor.free_speed;
  }
  fill_sequence(f, setup.sequence, parts, models, c);
  return f.take();
}

std::vector<std::string> missing(const Setup& setup) {
  std::vector<std::string> keys;
  const auto need = [&](double value, const std::string& key) {
    if (!given(value)) keys.push_back(key);
  };
  const auto need_supply = [&](const FuelSupply& fuel, const std::string& key) {
    if (fuel.metering == Metering::controlled) return;
    need(fuel.flow, key + ".flow");
    if (fuel.metering == Metering::fixed) return;
    need(fuel.final_flow, key + ".final_flow");
    need(fuel.ramp_time, key + ".ramp_time");
  };
  need_supply(setup.fuel, "fuel");
  for (const auto& preheat : setup.preheat) need_supply(preheat.gas, "preheat.gas");
  need(setup.burner.flame_holder_velocity, "burner.flame_holder_velocity");
  if (setup.fan.off == FanOff::at_speed) need(setup.fan.off_speed, "fan.off_speed");
  if (setup.fan.off == FanOff::after_light) need(setup.fan.off_delay, "fan.off_delay");
  return keys;
}

std::vector<std::string> contradictions(const Setup& setup,
                                        const rig::Parts& parts,
                                        const FuelCoefficients& fuels) {
  std::vector<std::string> found;
  check_supply(found, setup.fuel, "fuel");
  for (const auto& preheat : setup.preheat) {
    check_supply(found, preheat.gas, "preheat.gas");
    if (make_fuel(fuels, setup.fuel.kind).phase == Phase::gas) {
      found.emplace_back("preheat: a main fuel that is a gas itself needs none");
    }
    if (make_fuel(fuels, preheat.gas.kind).phase != Phase::gas) {
      found.emplace_back("preheat.gas: preheating wants a gas");
    }
    if (preheat.tube_temperature >= setup.gas_temperature_limit) {
      found.emplace_back("the changeover waits for a flame tube hotter than the gas may be");
    }
  }
  if (setup.burner.primary_hole_area > setup.burner.hole_area) {
    found.emplace_back("the primary holes are larger than all holes together");
  }
  if (setup.starter == Starter::fan && setup.fan.light_throttle > parts.throttle) {
    found.emplace_back("the throttle at light-off is above the fan's throttle");
  }
  const double design_speed =
      2.0 * parts.engine.design_tip_speed / parts.engine.compressor.exducer_diameter;
  if (setup.starter == Starter::fan && setup.fan.off == FanOff::at_speed &&
      setup.fan.off_speed > design_speed) {
    found.emplace_back("the fan is to stop above the rotor's design speed");
  }
  if (setup.starter == Starter::shaft_motor &&
      setup.shaft_motor.cut_out_speed > setup.shaft_motor.free_speed) {
    found.emplace_back("the clutch lets go above the speed that the shaft motor reaches");
  }
  return found;
}

}  // namespace windgap::start
