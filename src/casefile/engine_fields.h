#pragma once

#include "blockage/blockage.h"
#include "casefile/fields.h"
#include "engine/parts.h"
#include "rig/parts.h"

/// The numbers of the engine, its mouth and guard (see fields.h).
namespace windgap::casefile {

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
  v.in("measured", [&](auto& w) {
    auto& run = engine.measured;
    w("total_pressure", run.total_pressure, Allowed{D::pressure, 0.1, 500, "mbar"});
    w("throat_static_pressure",
      run.throat_static_pressure,
      Allowed{D::pressure, -500, 500, "mbar"});
    w("mass_flow", run.mass_flow, Allowed{D::mass_flow, 0.1, 10000, "g/s"});
    w("speed", run.speed, Allowed{D::angular_speed, 10, 200000, "rpm"});
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

}  // namespace windgap::casefile
