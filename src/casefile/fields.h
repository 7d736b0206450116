#pragma once

#include <string_view>

#include "casefile/findings.h"
#include "rig/parts.h"

/// Every number of a bench under its key, with what it measures and its allowed range. Said once
/// here: reading a case and finding a field for a draw of an ensemble walk the same lists.
/// A visitor has operator()(key, double& field, const Allowed&) and in(key, function(visitor)).
namespace windgap::casefile {

/// A range in a unit that people think in.
struct Allowed {
  units::Dimension dimension;
  double least = 0.0;
  double most = 0.0;
  std::string_view unit = {};
};

/// The same in SI. @throws std::logic_error if the unit is none of the dimension.
[[nodiscard]] Measure measure(const Allowed& allowed);

/// The field of a bench that a key path names, or nullptr; for draws around a tolerance.
[[nodiscard]] double* find_field(rig::Parts& parts, std::string_view key);

using D = units::Dimension;

template <class V>
void visit_site(V& v, air::Site& site) {
  v("altitude", site.altitude, Allowed{D::length, -500, 6000, "m"});
  v("pressure", site.pressure, Allowed{D::pressure, 400, 1100, "hPa"});
  v("temperature", site.temperature, Allowed{D::temperature, -40, 60, "degC"});
  v("relative_humidity", site.relative_humidity, Allowed{D::ratio, 0, 100, "%"});
  v("wind", site.wind, Allowed{D::speed, 0, 15, "m/s"});
}

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

template <class V>
void visit_wall(V& v, rig::Parts& parts) {
  v("wall_thickness", parts.wall_thickness, Allowed{D::length, 0, 50, "mm"});
}

template <class V>
void visit_mouth(V& v, engine::Mouth& mouth) {
  v("diameter", mouth.diameter, Allowed{D::length, 10, 600, "mm"});
  v("lip_radius", mouth.lip_radius, Allowed{D::length, 0, 200, "mm"});
  v("face_diameter", mouth.face_diameter, Allowed{D::length, 10, 3000, "mm"});
  v("throat_diameter", mouth.throat_diameter, Allowed{D::length, 10, 300, "mm"});
}

template <class V>
void visit_compressor(V& v, engine::Compressor& part) {
  v("inducer_diameter", part.inducer_diameter, Allowed{D::length, 15, 250, "mm"});
  v("inducer_hub_diameter", part.inducer_hub_diameter, Allowed{D::length, 2, 150, "mm"});
  v("exducer_diameter", part.exducer_diameter, Allowed{D::length, 20, 350, "mm"});
  v("tip_width", part.tip_width, Allowed{D::length, 0.5, 50, "mm"});
  v("backsweep", part.backsweep, Allowed{D::angle, 0, 65, "deg"});
  v("inducer_tip_angle", part.inducer_tip_angle, Allowed{D::angle, 20, 80, "deg"});
  v("clearance", part.clearance, Allowed{D::length, 0, 5, "mm"});
  v("diffuser_diameter", part.diffuser_diameter, Allowed{D::length, 20, 700, "mm"});
  v("volute_area_over_radius", part.volute_area_over_radius, Allowed{D::length, 1, 150, "mm"});
}

template <class V>
void visit_turbine(V& v, engine::Turbine& part) {
  v("inducer_diameter", part.inducer_diameter, Allowed{D::length, 15, 350, "mm"});
  v("tip_width", part.tip_width, Allowed{D::length, 0.5, 60, "mm"});
  v("exducer_diameter", part.exducer_diameter, Allowed{D::length, 15, 300, "mm"});
  v("exducer_hub_diameter", part.exducer_hub_diameter, Allowed{D::length, 2, 150, "mm"});
  v("exit_blade_angle", part.exit_blade_angle, Allowed{D::angle, 20, 80, "deg"});
  v("clearance", part.clearance, Allowed{D::length, 0, 5, "mm"});
  v("volute_area_over_radius", part.volute_area_over_radius, Allowed{D::length, 1, 150, "mm"});
}

template <class V>
void visit_viscosity_point(V& v, engine::ViscosityPoint& point) {
  v("temperature", point.temperature, Allowed{D::temperature, -40, 200, "degC"});
  v("kinematic_viscosity",
    point.kinematic_viscosity,
    Allowed{D::kinematic_viscosity, 1, 5000, "cSt"});
}

template <class V>
void visit_oil(V& v, engine::Oil& oil) {
  v.in("cold", [&](auto& w) { visit_viscosity_point(w, oil.cold); });
  v.in("hot", [&](auto& w) { visit_viscosity_point(w, oil.hot); });
  v("density", oil.density, Allowed{D::density, 600, 1200, "kg/m3"});
  v("specific_heat", oil.specific_heat, Allowed{D::specific_heat, 1, 4, "kJ/kg/K"});
  v("inlet_temperature", oil.inlet_temperature, Allowed{D::temperature, -40, 150, "degC"});
  v("mass_flow", oil.mass_flow, Allowed{D::mass_flow, 0.1, 300, "g/s"});
}

template <class V>
void visit_bearings(V& v, engine::Bearings& part) {
  v("journal_diameter", part.journal_diameter, Allowed{D::length, 2, 60, "mm"});
  v("journal_length", part.journal_length, Allowed{D::length, 1, 60, "mm"});
  v("inner_clearance", part.inner_clearance, Allowed{D::length, 1, 500, "um"});
  v("outer_clearance", part.outer_clearance, Allowed{D::length, 1, 1000, "um"});
  v("ring_outer_diameter", part.ring_outer_diameter, Allowed{D::length, 3, 90, "mm"});
  v("ring_outer_length", part.ring_outer_length, Allowed{D::length, 1, 80, "mm"});
  v("thrust_inner_diameter", part.thrust_inner_diameter, Allowed{D::length, 2, 100, "mm"});
  v("thrust_outer_diameter", part.thrust_outer_diameter, Allowed{D::length, 3, 150, "mm"});
  v("thrust_film", part.thrust_film, Allowed{D::length, 1, 500, "um"});
  v("ball_mean_diameter", part.ball_mean_diameter, Allowed{D::length, 3, 120, "mm"});
  v("ball_preload", part.ball_preload, Allowed{D::force, 0, 2000, "N"});
  v.in("oil", [&](auto& w) { visit_oil(w, part.oil); });
}

template <class V>
void visit_engine(V& v, engine::Engine& engine) {
  v.in("mouth", [&](auto& w) { visit_mouth(w, engine.mouth); });
  v.in("compressor", [&](auto& w) { visit_compressor(w, engine.compressor); });
  v.in("turbine", [&](auto& w) { visit_turbine(w, engine.turbine); });
  v.in("combustor", [&](auto& w) {
    auto& part = engine.combustor;
    w("reference_area", part.reference_area, Allowed{D::area, 1, 5000, "cm2"});
    w("flame_holder_area", part.flame_holder_area, Allowed{D::area, 1, 5000, "cm2"});
    w("volume", part.volume, Allowed{D::volume, 0.01, 100, "L"});
    w("cold_loss_factor", part.cold_loss_factor, Allowed{D::number, 0, 1000, ""});
    w("hot_loss_factor", part.hot_loss_factor, Allowed{D::number, 0, 20, ""});
  });
  v.in("exhaust", [&](auto& w) {
    w("area", engine.exhaust.area, Allowed{D::area, 1, 2000, "cm2"});
    w("loss_factor", engine.exhaust.loss_factor, Allowed{D::number, 0, 50, ""});
  });
  v.in("bearings", [&](auto& w) { visit_bearings(w, engine.bearings); });
  v.in("rotor", [&](auto& w) {
    w("inertia", engine.rotor.inertia, Allowed{D::inertia, 0.01, 100000, "kg*mm2"});
    w("mass", engine.rotor.mass, Allowed{D::mass, 5, 50000, "g"});
  });
  v("design_tip_speed", engine.design_tip_speed, Allowed{D::speed, 100, 700, "m/s"});
}

template <class V>
void visit_resistance(V& v, engine::Resistance& resistance) {
  v("throat_diameter", resistance.throat_diameter, Allowed{D::length, 10, 300, "mm"});
  v("loss_factor", resistance.loss_factor, Allowed{D::number, 0.01, 10000, ""});
}

template <class V>
void visit_guard(V& v, blockage::Guard& guard) {
  v("open_area", guard.open_area, Allowed{D::ratio, 5, 99, "%"});
  v("wire_diameter", guard.wire_diameter, Allowed{D::length, 0.02, 10, "mm"});
  v("diameter", guard.diameter, Allowed{D::length, 10, 1000, "mm"});
}

template <class V>
void visit_mounting(V& v, rig::Mounting& mounting) {
  v("offset", mounting.offset, Allowed{D::length, 0, 500, "mm"});
  v("tilt", mounting.tilt, Allowed{D::angle, 0, 45, "deg"});
}

template <class V>
void visit_struts(V& v, blockage::Struts& struts) {
  v("width", struts.width, Allowed{D::length, 0.1, 200, "mm"});
  v("length", struts.length, Allowed{D::length, 1, 500, "mm"});
}

template <class V>
void visit_start(V& v, rig::StartNeed& start) {
  v("airflow", start.airflow, Allowed{D::mass_flow, 0.1, 5000, "g/s"});
  v("rotor_speed", start.rotor_speed, Allowed{D::angular_speed, 500, 200000, "rpm"});
}

template <class V>
void visit_running(V& v, rig::Running& running) {
  v("airflow", running.airflow, Allowed{D::mass_flow, 1, 20000, "g/s"});
  v("nozzle_pressure_ratio", running.nozzle_pressure_ratio, Allowed{D::number, 1.01, 8, ""});
}

}  // namespace windgap::casefile
