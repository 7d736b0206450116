#pragma once

#include "casefile/fields.h"
#include "drive/drive.h"
#include "fan/fan.h"
#include "rig/parts.h"

/// The numbers of the fan, its motor, stream and readings, and of the drive (see fields.h).
namespace windgap::casefile {

template <class V>
void visit_static_point(V& v, fan::StaticPoint& point) {
  v("thrust", point.thrust, Allowed{D::force, 0.1, 500, "N"});
  v("voltage", point.voltage, Allowed{D::voltage, 1, 120, "V"});
  v("current", point.current, Allowed{D::current, 0.1, 1000, "A"});
  v("electrical_power", point.electrical_power, Allowed{D::power, 1, 60000, "W"});
  v("speed", point.speed, Allowed{D::angular_speed, 500, 200000, "rpm"});
  v("density", point.density, Allowed{D::density, 0.4, 1.6, "kg/m3"});
}

template <class V>
void visit_motor(V& v, drive::Motor& motor) {
  v("speed_constant", motor.speed_constant, Allowed{D::speed_constant, 20, 30000, "rpm/V"});
  v("resistance", motor.resistance, Allowed{D::resistance, 0.1, 10000, "mohm"});
  v("no_load_current", motor.no_load_current, Allowed{D::current, 0.01, 50, "A"});
  v("max_current", motor.max_current, Allowed{D::current, 0.1, 1000, "A"});
  v("mass", motor.mass, Allowed{D::mass, 1, 20000, "g"});
  v("winding_heat_capacity",
    motor.winding_heat_capacity,
    Allowed{D::heat_capacity, 0.1, 10000, "J/K"});
}

template <class V>
void visit_fan(V& v, fan::Fan& fan) {
  visit_static_point(v, fan.datasheet);
  v("bore_diameter", fan.bore_diameter, Allowed{D::length, 10, 500, "mm"});
  v("hub_diameter", fan.hub_diameter, Allowed{D::length, 1, 500, "mm"});
  v("exit_diameter", fan.exit_diameter, Allowed{D::length, 10, 500, "mm"});
  v("outer_diameter", fan.outer_diameter, Allowed{D::length, 10, 700, "mm"});
  v("length", fan.length, Allowed{D::length, 5, 1000, "mm"});
  v("mass", fan.mass, Allowed{D::mass, 1, 20000, "g"});
  v.in("measured", [&](auto& w) { visit_static_point(w, fan.measured); });
  v.in("curve", [&](auto& w) {
    w("speed", fan.curve.speed, Allowed{D::angular_speed, 500, 200000, "rpm"});
    w("density", fan.curve.density, Allowed{D::density, 0.4, 1.6, "kg/m3"});
  });
}

template <class V>
void visit_nozzle(V& v, fan::Fan& fan) {
  v("nozzle_diameter", fan.nozzle_diameter, Allowed{D::length, 5, 500, "mm"});
}

template <class V>
void visit_stream(V& v, fan::Stream& stream) {
  v("exit_diameter", stream.exit_diameter, Allowed{D::length, 5, 500, "mm"});
  v("velocity", stream.velocity, Allowed{D::speed, 1, 250, "m/s"});
  v("hub_diameter", stream.hub_diameter, Allowed{D::length, 0, 400, "mm"});
  v("swirl_number", stream.swirl_number, Allowed{D::number, 0, 0.8, ""});
}

template <class V>
void visit_reading(V& v, rig::AxisReading& reading) {
  v("at", reading.distance, Allowed{D::length, 1, 10000, "mm"});
  v("radius", reading.radius, Allowed{D::length, 0, 1000, "mm"});
  v("pressure", reading.pressure, Allowed{D::pressure, 0.01, 500, "mbar"});
  v("throttle", reading.throttle, Allowed{D::ratio, 5, 100, "%"});
}

/// What the case says of the jet besides the fan.
template <class V>
void visit_jet(V& v, rig::Parts& parts) {
  v("propeller_share", parts.propeller_share, Allowed{D::ratio, 0, 100, "%"});
}

template <class V>
void visit_pack(V& v, drive::Pack& pack) {
  v("capacity", pack.capacity, Allowed{D::charge, 50, 200000, "mAh"});
  v("cell_resistance", pack.cell_resistance, Allowed{D::resistance, 0.05, 1000, "mohm"});
  v("temperature", pack.temperature, Allowed{D::temperature, -20, 60, "degC"});
  v("state_of_charge", pack.state_of_charge, Allowed{D::ratio, 0, 100, "%"});
  v("continuous_current", pack.continuous_current, Allowed{D::current, 0.1, 5000, "A"});
  v("burst_current", pack.burst_current, Allowed{D::current, 0.1, 5000, "A"});
  v("mass", pack.mass, Allowed{D::mass, 1, 50000, "g"});
}

/// All of the drive but the motor, which comes with the fan.
template <class V>
void visit_drive(V& v, drive::Drive& drive) {
  v.in("pack", [&](auto& w) { visit_pack(w, drive.pack); });
  v.in("leads", [&](auto& w) {
    w("resistance", drive.leads.resistance, Allowed{D::resistance, 0, 1000, "mohm"});
    w("length", drive.leads.length, Allowed{D::length, 10, 10000, "mm"});
    w("wire_area", drive.leads.wire_area, Allowed{D::area, 0.1, 200, "mm2"});
  });
  v.in("controller", [&](auto& w) {
    auto& controller = drive.controller;
    w("rated_current", controller.rated_current, Allowed{D::current, 1, 1000, "A"});
    w("burst_current", controller.burst_current, Allowed{D::current, 1, 2000, "A"});
    w("resistance", controller.resistance, Allowed{D::resistance, 0, 1000, "mohm"});
    w("current_limit", controller.current_limit, Allowed{D::current, 1, 2000, "A"});
    w("mass", controller.mass, Allowed{D::mass, 1, 5000, "g"});
  });
}

template <class V>
void visit_throttle(V& v, rig::Parts& parts) {
  v("throttle", parts.throttle, Allowed{D::ratio, 5, 100, "%"});
}

}  // namespace windgap::casefile
