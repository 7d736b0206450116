#pragma once

#include "casefile/attempt.h"
#include "casefile/fields.h"

/// The numbers of fuel, burner and start (see fields.h).
namespace windgap::casefile {

template <class V>
void visit_supply(V& v, start::FuelSupply& fuel) {
  v("flow", fuel.flow, Allowed{D::mass_flow, 0.001, 100, "g/s"});
  v("final_flow", fuel.final_flow, Allowed{D::mass_flow, 0.001, 100, "g/s"});
  v("ramp_time", fuel.ramp_time, Allowed{D::time, 0, 300, "s"});
  v("least_flow", fuel.least_flow, Allowed{D::mass_flow, 0, 100, "g/s"});
  v("greatest_flow", fuel.greatest_flow, Allowed{D::mass_flow, 0.001, 100, "g/s"});
  v.in("nozzle", [&](auto& w) {
    w("flow", fuel.nozzle_flow, Allowed{D::mass_flow, 0.001, 100, "g/s"});
    w("rated_pressure", fuel.nozzle_rated_pressure, Allowed{D::pressure, 0.1, 200, "bar"});
    w("least_pressure", fuel.nozzle_least_pressure, Allowed{D::pressure, 0.01, 200, "bar"});
  });
}

template <class V>
void visit_preheat(V& v, start::Preheat& preheat) {
  visit_supply(v, preheat.gas);
  v("tube_temperature", preheat.tube_temperature, Allowed{D::temperature, 0, 900, "degC"});
  v("changeover_time", preheat.changeover_time, Allowed{D::time, 0, 60, "s"});
}

template <class V>
void visit_flame_tube(V& v, start::BurnerDetail& burner) {
  v("primary_hole_area", burner.primary_hole_area, Allowed{D::area, 0.01, 1000, "cm2"});
  v("hole_area", burner.hole_area, Allowed{D::area, 0.01, 1000, "cm2"});
  v("primary_share", burner.primary_share, Allowed{D::ratio, 3, 100, "%"});
  v("tube_mass", burner.tube_mass, Allowed{D::mass, 5, 50000, "g"});
}

template <class V>
void visit_housing(V& v, start::Housing& housing) {
  v("housing_mass", housing.mass, Allowed{D::mass, 20, 100000, "g"});
  v("housing_area", housing.wetted_area, Allowed{D::area, 1, 10000, "cm2"});
}

template <class V>
void visit_sequence(V& v, start::Setup& setup) {
  auto& sequence = setup.sequence;
  v("gas_temperature_limit",
    setup.gas_temperature_limit,
    Allowed{D::temperature, 400, 1300, "degC"});
  v("speed_margin", setup.speed_margin, Allowed{D::ratio, 0, 100, "%"});
  v("idle_speed", sequence.idle_speed, Allowed{D::angular_speed, 1000, 250000, "rpm"});
  v("ignition_delay", sequence.ignition_delay, Allowed{D::time, 0, 60, "s"});
  v("patience", sequence.patience, Allowed{D::time, 0.1, 300, "s"});
  v("time_limit", sequence.time_limit, Allowed{D::time, 1, 600, "s"});
  v.in("purge", [&](auto& w) {
    w("changes", sequence.purge.changes, Allowed{D::number, 4, 50, ""});  // nfpa86: four at least
    w("volume", sequence.purge.volume, Allowed{D::volume, 0.01, 200, "L"});
    w("least", sequence.purge.least, Allowed{D::time, 0, 300, "s"});
  });
  v.in("fan_throttle", [&](auto& w) {
    w("light", setup.fan.light_throttle, Allowed{D::ratio, 5, 100, "%"});
    w("ramp_time", setup.fan.ramp_time, Allowed{D::time, 0, 60, "s"});
    w("spool_time", setup.fan.spool_time, Allowed{D::time, 0.05, 30, "s"});
    w("off_speed", setup.fan.off_speed, Allowed{D::angular_speed, 1000, 250000, "rpm"});
    w("off_delay", setup.fan.off_delay, Allowed{D::time, 0, 300, "s"});
  });
  v.in("motor", [&](auto& w) {
    auto& motor = setup.shaft_motor;
    w("stall_torque", motor.stall_torque, Allowed{D::torque, 0.001, 100, "N*m"});
    w("free_speed", motor.free_speed, Allowed{D::angular_speed, 500, 200000, "rpm"});
    w("cut_out_speed", motor.cut_out_speed, Allowed{D::angular_speed, 500, 200000, "rpm"});
  });
}

template <class V>
void visit_blower(V& v, Blower& blower) {
  v("exit_diameter", blower.exit_diameter, Allowed{D::length, 10, 500, "mm"});
  v("velocity", blower.velocity, Allowed{D::speed, 5, 200, "m/s"});
  v("at", blower.stand_off, Allowed{D::length, 1, 10000, "mm"});
}

}  // namespace windgap::casefile
