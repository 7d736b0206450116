#include "fan/fan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "fan/static_point.h"

namespace windgap::fan {
namespace {

double area_of(double radius) { return std::numbers::pi * radius * radius; }

double vane_efficiency(const Coefficients& c, Vanes vanes) {
  switch (vanes) {
    case Vanes::yes:
      return c.vane_efficiency;
    case Vanes::no:
      return 0.0;
    case Vanes::unknown:
      break;
  }
  return c.vane_efficiency_unknown;
}

void require(bool holds, const char* what) {
  if (!holds) {
    throw std::logic_error(std::string("fan: ") + what);
  }
}

/// The measured points over flow and pressure of their own static point, which is the crossing with
/// the exit's dynamic head. Returns the static stream velocity over shaft speed.
double set_measured_points(Characteristic& curve,
                           const Fan& fan,
                           double area,
                           double static_speed,
                           const Coefficients& c) {
  const auto& points = fan.curve.points;
  const double speed = std::isnan(fan.curve.speed) ? static_speed : fan.curve.speed;
  const double density = std::isnan(fan.curve.density) ? c.standard_density : fan.curve.density;
  require(points.size() >= Characteristic::fewest_points &&
              points.size() <= Characteristic::most_points,
          "a measured curve has too few or too many points");
  curve.count = points.size();
  for (std::size_t i = 0; i < points.size(); ++i) {
    require(points[i].flow >= 0.0 && (i == 0 || points[i].flow > points[i - 1].flow),
            "the flows of a measured curve must rise");
    curve.flow[i] = points[i].flow / (area * speed);
    curve.pressure[i] = points[i].pressure_rise / (density * speed * speed);
  }
  // With flow as stream velocity over shaft speed the open exit's resistance is 1/2.
  complete(curve, unset);
  const double flow = balance(curve, 1.0 / 2.0);
  require(flow > 0.0 && std::isfinite(flow), "the measured curve never meets the open exit");
  for (std::size_t i = 0; i < curve.count; ++i) {
    curve.flow[i] /= flow;
    curve.pressure[i] /= flow * flow / 2.0;
  }
  return flow;
}

/// Eq. 10: resistance of the exit against which the fan works, over that of its own open exit.
double exit_resistance(const Prepared& fan, double back_pressure_ratio) {
  const double contraction = fan.stream_area / fan.exit_area;
  return contraction * contraction * (1.0 + back_pressure_ratio + fan.loss);
}

drive::Running standing() {
  drive::Running none;
  for (double* field : {&none.speed,
                        &none.torque,
                        &none.shaft_power,
                        &none.duty,
                        &none.motor_voltage,
                        &none.motor_current,
                        &none.pack_voltage,
                        &none.pack_current,
                        &none.winding_loss,
                        &none.no_load_loss,
                        &none.controller_loss,
                        &none.pack_loss,
                        &none.burst_use,
                        &none.continuous_use}) {
    *field = 0.0;
  }
  return none;
}

/// What follows from the velocity at the exit.
void complete_exit(const Prepared& fan, double back_pressure_ratio, Operating& point) {
  point.mass_flow = fan.density * fan.exit_area * point.exit_velocity;
  point.dynamic_head = fan.density * point.exit_velocity * point.exit_velocity / 2.0;
  point.exit_total_pressure = point.dynamic_head * (1.0 + back_pressure_ratio);
  point.thrust = point.mass_flow * point.exit_velocity +
                 back_pressure_ratio * point.dynamic_head * fan.exit_area;
}

}  // namespace

Prepared prepare(const Fan& fan,
                 const drive::Drive& drive,
                 const air::Ambient& ambient,
                 const Coefficients& c,
                 const drive::Coefficients& d) {
  const double area = stream_area(fan, c);
  const auto believed = believed_thrust(fan, c);
  const auto shaft = loaded_shaft(fan, drive, c);
  const double speed = believed_speed(fan, drive, shaft, c);
  const bool has_curve = !fan.curve.points.empty();
  require(area > 0.0 && (believed.velocity > 0.0 || has_curve),
          "needs a static thrust or a measured curve, and an exit wider than the hub");
  require(speed > 0.0 && shaft.load_coefficient > 0.0,
          "current, voltage and motor constants contradict each other");
  require(ambient.density > 0.0, "the air has no density");

  Prepared ready;
  ready.drive = drive::prepare(drive, d);
  ready.density = ambient.density;
  ready.stream_area = area;
  ready.exit_area = area;
  ready.nozzle_loss = c.nozzle_loss;
  ready.nozzle_contraction = c.nozzle_contraction;
  ready.exit_velocity_per_speed = believed.velocity / speed;
  ready.load_coefficient = shaft.load_coefficient * ambient.density / shaft.density;
  ready.swirl_left = 1.0 - vane_efficiency(c, fan.vanes);
  ready.bore_radius = fan.exit_diameter / 2.0;
  ready.rim_radius = ready.bore_radius;
  ready.hub_radius = fan.hub_diameter / 2.0;
  ready.hub_end = fan.hub_end;

  auto& curve = ready.curve;
  if (has_curve) {
    ready.exit_velocity_per_speed = set_measured_points(curve, fan, area, speed, c);
  }
  // Eq. 6: torque over flow, radius and speed; a density cancels.
  ready.work = shaft.load_coefficient /
               (shaft.density * area * ready.exit_velocity_per_speed * mean_square_radius(fan));
  const double work = std::clamp(ready.work, c.least_work, c.most_work);
  curve.work_slope = c.euler_slope * (1.0 - work) / work;
  curve.curvature = c.efficiency_curvature;
  complete(curve, c.stall_flow);
  return std::isnan(fan.nozzle_diameter) ? ready : with_nozzle(ready, fan.nozzle_diameter);
}

Prepared prepare(const Stream& stream, const air::Ambient& ambient) {
  require(stream.exit_diameter > stream.hub_diameter && stream.hub_diameter >= 0.0 &&
              stream.velocity > 0.0 && ambient.density > 0.0,
          "a stream needs a velocity and an exit wider than its hub");
  Prepared ready;
  ready.holds_flow = true;
  ready.density = ambient.density;
  ready.bore_radius = stream.exit_diameter / 2.0;
  ready.rim_radius = ready.bore_radius;
  ready.hub_radius = stream.hub_diameter / 2.0;
  ready.hub_end = stream.hub_end;
  ready.stream_area = area_of(ready.bore_radius) -
                      (stream.hub_end == jet::HubEnd::blunt ? area_of(ready.hub_radius) : 0.0);
  ready.exit_area = ready.stream_area;
  ready.velocity = stream.velocity;
  ready.swirl_number = stream.swirl_number;
  return ready;
}

Prepared with_nozzle(const Prepared& fan, double nozzle_diameter) {
  if (fan.holds_flow) {
    return fan;
  }
  Prepared fitted = fan;
  fitted.rim_radius = nozzle_diameter / 2.0;
  fitted.exit_area = std::min(fan.nozzle_contraction * area_of(fitted.rim_radius), fan.stream_area);
  fitted.loss = fan.nozzle_loss;
  return fitted;
}

Operating operate(const Prepared& fan, double throttle, double back_pressure_ratio) {
  Operating point;
  if (fan.holds_flow) {
    point.speed = 0.0;
    point.shaft_torque = 0.0;
    point.exit_velocity = fan.velocity;
    point.swirl_number = fan.swirl_number;
    point.stall_margin = std::numeric_limits<double>::infinity();
    point.drive = standing();
    complete_exit(fan, back_pressure_ratio, point);
    return point;
  }
  const double resistance = exit_resistance(fan, back_pressure_ratio);
  const double flow = resistance == 1.0 ? 1.0 : balance(fan.curve, resistance);
  point.drive = drive::run(fan.drive, fan.load_coefficient * torque_at(fan.curve, flow), throttle);
  point.speed = point.drive.speed;
  point.shaft_torque = point.drive.torque;
  point.exit_velocity =
      flow * fan.exit_velocity_per_speed * point.speed * fan.stream_area / fan.exit_area;
  point.stall_margin = flow / fan.curve.stall_flow - 1.0;
  complete_exit(fan, back_pressure_ratio, point);
  const double momentum = point.mass_flow * point.exit_velocity;
  point.swirl_number =
      momentum > 0.0 ? point.shaft_torque * fan.swirl_left / (momentum * fan.rim_radius) : 0.0;
  return point;
}

jet::Exit jet_exit(const Prepared& fan, const Operating& operating) {
  const double contraction = std::min(fan.exit_area / fan.stream_area, 1.0);
  return {.rim_radius = fan.rim_radius,
          .area = fan.exit_area,
          .hub_radius = fan.hub_radius * contraction * std::sqrt(contraction),  // Eq. 12
          .hub_end = fan.hub_end,
          .swirl_number = operating.swirl_number};
}

}  // namespace windgap::fan
