#include "fan/static_point.h"

#include <cmath>
#include <numbers>

namespace windgap::fan {
namespace {

bool is_measured(const Fan& fan) { return !std::isnan(fan.measured.thrust); }

const StaticPoint& loaded_point(const Fan& fan) {
  const bool complete = !std::isnan(fan.measured.voltage) && !std::isnan(current_of(fan.measured));
  return complete ? fan.measured : fan.datasheet;
}

double density_of(const StaticPoint& point, const Coefficients& c) {
  return std::isnan(point.density) ? c.standard_density : point.density;
}

}  // namespace

double stream_area(const Fan& fan, const Coefficients& c) {
  const double hub_share = fan.hub_end == jet::HubEnd::blunt ? 1.0 : c.cone_hub_area;
  const double square =
      fan.exit_diameter * fan.exit_diameter - hub_share * fan.hub_diameter * fan.hub_diameter;
  return std::numbers::pi / 4.0 * square;
}

double mean_square_radius(const Fan& fan) {
  return (fan.bore_diameter * fan.bore_diameter + fan.hub_diameter * fan.hub_diameter) / 8.0;
}

Believed believed_thrust(const Fan& fan, const Coefficients& c) {
  const bool measured = is_measured(fan);
  const auto& point = measured ? fan.measured : fan.datasheet;
  Believed believed;
  believed.thrust = measured ? point.thrust : c.datasheet_thrust * point.thrust;
  believed.density = density_of(point, c);
  const double area = stream_area(fan, c);
  believed.velocity = std::sqrt(believed.thrust / (believed.density * area));
  believed.mass_flow = believed.density * area * believed.velocity;
  return believed;
}

double current_of(const StaticPoint& point) {
  return std::isnan(point.current) ? point.electrical_power / point.voltage : point.current;
}

Shaft loaded_shaft(const Fan& fan, const drive::Drive& drive, const Coefficients& c) {
  const auto& point = loaded_point(fan);
  const auto& motor = drive.motor;
  const double current = current_of(point);
  const double back_voltage =
      point.voltage - current * (motor.resistance + drive.controller.resistance);
  const double speed = std::isnan(point.speed) ? motor.speed_constant * back_voltage : point.speed;
  const double torque = (current - motor.no_load_current) / motor.speed_constant;
  return {.speed = speed,
          .load_coefficient = torque / (speed * speed),
          .density = density_of(point, c)};
}

double believed_speed(const Fan& fan,
                      const drive::Drive& drive,
                      const Shaft& shaft,
                      const Coefficients& c) {
  const auto& point = is_measured(fan) ? fan.measured : fan.datasheet;
  if (!std::isnan(point.speed)) {
    return point.speed;
  }
  if (&point == &loaded_point(fan)) {
    return shaft.speed;
  }
  // Measured thrust and voltage only: the datasheet's wheel on a stiff supply of that voltage.
  drive::Prepared stiff;
  stiff.open_circuit_voltage = point.voltage;
  stiff.pack_resistance = 0.0;
  stiff.controller_resistance = drive.controller.resistance;
  stiff.switching_loss = 0.0;
  stiff.speed_constant = drive.motor.speed_constant;
  stiff.motor_resistance = drive.motor.resistance;
  stiff.no_load_current = drive.motor.no_load_current;
  const double load = shaft.load_coefficient * density_of(point, c) / shaft.density;
  return drive::run(stiff, load, 1.0).speed;
}

}  // namespace windgap::fan
