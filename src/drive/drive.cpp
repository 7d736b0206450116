#include "drive/drive.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>

namespace windgap::drive {
namespace {

double limit_or_none(double limit) {
  return std::isnan(limit) ? std::numeric_limits<double>::infinity() : limit;
}

double positive(double value, const char* what) {
  if (!(value > 0.0) || !std::isfinite(value)) {
    throw std::logic_error(std::string("drive: ") + what + " must be given and positive");
  }
  return value;
}

double not_negative(double value, const char* what) {
  if (!(value >= 0.0) || !std::isfinite(value)) {
    throw std::logic_error(std::string("drive: ") + what + " must be given and not negative");
  }
  return value;
}

void fill(std::vector<Assumed>& notes, double& field, Assumed assumed) {
  if (!std::isnan(field)) {
    return;
  }
  field = assumed.value;
  notes.push_back(std::move(assumed));
}

const Table& open_circuit_table(const Coefficients& c, Chemistry chemistry) {
  switch (chemistry) {
    case Chemistry::lithium_ion:
      return c.open_circuit_lithium_ion;
    case Chemistry::iron_phosphate:
      return c.open_circuit_iron_phosphate;
    case Chemistry::lithium_polymer:
      break;
  }
  return c.open_circuit_lithium_polymer;
}

/// Pack current per motor current at a duty (Eq. 3).
double pack_share(const Prepared& drive, double duty) {
  return duty + drive.switching_loss * (1.0 - duty);
}

/// Completes the electrical side once duty, speed and motor current are known.
Running account(const Prepared& drive, Running running) {
  const double current = running.motor_current;
  const double share = pack_share(drive, running.duty);
  running.pack_current = current * share;
  running.pack_voltage = drive.open_circuit_voltage - running.pack_current * drive.pack_resistance;
  running.motor_voltage = running.speed / drive.speed_constant + current * drive.motor_resistance;
  running.shaft_power = running.torque * running.speed;
  running.winding_loss = current * current * drive.motor_resistance;
  running.no_load_loss =
      running.motor_voltage * current - running.winding_loss - running.shaft_power;
  running.controller_loss =
      current * current * drive.controller_resistance +
      drive.switching_loss * (1.0 - running.duty) * running.pack_voltage * current;
  running.pack_loss = running.pack_current * running.pack_current * drive.pack_resistance;
  running.burst_use = std::max({running.pack_current / drive.pack_burst_current,
                                current / drive.controller_burst_current,
                                current / drive.motor_max_current});
  running.continuous_use = std::max({running.pack_current / drive.pack_continuous_current,
                                     current / drive.controller_rated_current,
                                     current / drive.motor_max_current});
  running.sagged = running.pack_voltage < drive.lowest_voltage;
  return running;
}

/// Duty at which the motor takes `current` at `speed`: the smaller root of Eq. 6.
double duty_at(const Prepared& drive, double speed, double current) {
  const double needed = speed / drive.speed_constant +
                        current * (drive.motor_resistance + drive.controller_resistance);
  const double sag = current * drive.pack_resistance;
  const double linear = drive.open_circuit_voltage - drive.switching_loss * sag;
  const double square = (1.0 - drive.switching_loss) * sag;
  return 2.0 * needed /
         (linear + std::sqrt(std::max(linear * linear - 4.0 * square * needed, 0.0)));
}

/// Resistance of both leads and the plugs from what is known of the wire [ohm] (Eq. 9).
double wire_resistance(const Leads& leads, const Coefficients& c) {
  return 2.0 * leads.length * c.copper_resistivity / leads.wire_area +
         static_cast<double>(leads.plugs) * c.plug_resistance;
}

/// Cell resistance over that at 25 degC (Eq. 10).
double cold_factor(const Pack& pack, const Coefficients& c) {
  return std::isnan(pack.temperature) ? 1.0
                                      : interpolate(c.resistance_temperature, pack.temperature);
}

}  // namespace

double open_circuit_voltage(const Coefficients& c, Chemistry chemistry, double charge) {
  return interpolate(open_circuit_table(c, chemistry), charge);
}

Assumed cooling_at(const Motor& motor, double full_current, const Coefficients& c) {
  return {"motor.winding_conductance",
          full_current * full_current * motor.resistance / c.winding_rise,
          "usual steady temperature of a fan's motor at its full current"};
}

std::vector<Assumed> fill_fallbacks(Drive& drive, const Coefficients& c) {
  std::vector<Assumed> notes;
  auto& pack = drive.pack;
  fill(notes,
       pack.cell_resistance,
       {"pack.cell_resistance", c.resistance_capacity / pack.capacity, "typical for the capacity"});
  fill(notes,
       pack.continuous_current,
       {"pack.continuous_current", c.continuous_rate * pack.capacity, "rate a pack sustains"});
  fill(notes,
       pack.burst_current,
       {"pack.burst_current", c.burst_rate * pack.capacity, "rate a pack gives for seconds"});
  const double wire = wire_resistance(drive.leads, c);
  if (std::isnan(drive.leads.resistance) && std::isfinite(wire)) drive.leads.resistance = wire;
  fill(notes,
       drive.leads.resistance,
       {"leads.resistance", c.lead_resistance, "two short thick leads and one plug"});
  fill(notes,
       drive.controller.resistance,
       {"controller.resistance", c.controller_resistance, "two switches in series"});
  if (!std::isnan(drive.controller.rated_current)) {
    fill(notes,
         drive.controller.burst_current,
         {"controller.burst_current",
          c.controller_burst * drive.controller.rated_current,
          "usual share of the rated current"});
  }
  if (!std::isnan(drive.motor.mass)) {
    fill(notes,
         drive.motor.winding_heat_capacity,
         {"motor.winding_heat_capacity",
          c.heated_mass_share * drive.motor.mass * c.heated_specific_heat,
          "usual share of the motor's mass"});
  }
  const double full_current = drive.motor.max_current;
  if (!std::isnan(full_current) && !std::isnan(drive.motor.resistance)) {
    fill(notes, drive.motor.winding_conductance, cooling_at(drive.motor, full_current, c));
  }
  return notes;
}

Prepared prepare(const Drive& drive, const Coefficients& c) {
  const auto& [pack, leads, controller, motor] = drive;
  if (pack.cells < 1) {
    throw std::logic_error("drive: a pack needs cells");
  }
  if (!(pack.state_of_charge >= 0.0 && pack.state_of_charge <= 1.0)) {
    throw std::logic_error("drive: state of charge must lie between 0 and 1");
  }
  const auto cells = static_cast<double>(pack.cells);
  const double lowest = pack.chemistry == Chemistry::iron_phosphate
                            ? c.lowest_voltage_iron_phosphate
                            : c.lowest_voltage_lithium;
  return {
      .open_circuit_voltage = cells * open_circuit_voltage(c, pack.chemistry, pack.state_of_charge),
      .pack_resistance =
          cells * cold_factor(pack, c) * not_negative(pack.cell_resistance, "cell resistance") +
          not_negative(leads.resistance, "lead resistance"),
      .controller_resistance = not_negative(controller.resistance, "controller resistance"),
      .switching_loss = c.switching_loss,
      .speed_constant = positive(motor.speed_constant, "speed constant"),
      .motor_resistance = positive(motor.resistance, "motor resistance"),
      .no_load_current = not_negative(motor.no_load_current, "no-load current"),
      .current_limit = limit_or_none(controller.current_limit),
      .pack_continuous_current = limit_or_none(pack.continuous_current),
      .pack_burst_current = limit_or_none(pack.burst_current),
      .controller_rated_current = limit_or_none(controller.rated_current),
      .controller_burst_current = limit_or_none(controller.burst_current),
      .motor_max_current = limit_or_none(motor.max_current),
      .lowest_voltage = cells * lowest,
      .capacity = positive(pack.capacity, "capacity"),
      .charge = pack.state_of_charge * pack.capacity,
      .winding_heat_capacity = positive(motor.winding_heat_capacity, "winding heat capacity"),
      .winding_conductance = not_negative(motor.winding_conductance, "winding conductance"),
      .copper_heat_share = c.copper_heat_share,
      .copper_drop_share = c.copper_drop_share,
      .winding_temperature_limit = c.winding_temperature_limit,
      .temperature_coefficient = c.copper_temperature_coefficient};
}

Running run(const Prepared& drive, double load_coefficient, double throttle) {
  Running running;
  running.duty = throttle;
  const double resistance = drive.motor_resistance + drive.controller_resistance +
                            throttle * pack_share(drive, throttle) * drive.pack_resistance;
  const double drive_voltage = throttle * drive.open_circuit_voltage;
  const double excess = drive_voltage - drive.no_load_current * resistance;
  if (!(excess > 0.0)) {
    running.speed = 0.0;
    running.torque = 0.0;
    running.motor_current = drive_voltage / resistance;
    return account(drive, running);
  }
  // Eq. 5: speed/Kv + Kv k speed^2 R = d V0 - I0 R, the positive root without cancellation.
  const double linear = 1.0 / drive.speed_constant;
  const double square = drive.speed_constant * load_coefficient * resistance;
  running.speed = 2.0 * excess / (linear + std::sqrt(linear * linear + 4.0 * square * excess));
  running.torque = load_coefficient * running.speed * running.speed;
  running.motor_current = drive.no_load_current + drive.speed_constant * running.torque;
  running.turns = true;
  if (running.motor_current > drive.current_limit) {
    running.limited = true;
    running.motor_current = drive.current_limit;
    running.torque = std::max(drive.current_limit - drive.no_load_current, 0.0) * linear;
    running.speed = std::sqrt(running.torque / load_coefficient);
    running.duty = duty_at(drive, running.speed, running.motor_current);
  }
  return account(drive, running);
}

Standstill standstill(const Drive& drive, const Coefficients& c, double throttle) {
  const auto ready = prepare(drive, c);
  if (ready.current_limit <= ready.no_load_current) return Standstill::current_limit;
  constexpr double unloaded = 0.0;
  return run(ready, unloaded, throttle).turns ? Standstill::none : Standstill::voltage;
}

}  // namespace windgap::drive
