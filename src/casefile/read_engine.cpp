#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "casefile/engine_fields.h"
#include "casefile/sections.h"
#include "engine/bearings.h"
#include "engine/fallbacks.h"

namespace windgap::casefile {
namespace {

/// A/R from the area and the radius of its centre, where no mark can be read.
void read_volute(Reader& reader, double& area_over_radius) {
  const double area = reader.optional("volute_area", measure({D::area, 0.2, 1000, "cm2"}));
  const double radius = reader.optional("volute_radius", measure({D::length, 5, 500, "mm"}));
  if (!reader.has("volute_area") && !reader.has("volute_radius")) return;
  reader.require("volute_area");
  reader.require("volute_radius");
  if (reader.has("volute_area_over_radius")) {
    reader.refuse("volute_area", "A/R is given already as volute_area_over_radius");
  }
  area_over_radius = area / radius;
  // The ensemble varies A/R itself.
  double share = 0.0;
  auto& tolerances = reader.findings().tolerances;
  for (const auto* const key : {"volute_area", "volute_radius"}) {
    for (const auto& tolerance : tolerances) {
      if (tolerance.key != join_path(reader.path(), key)) continue;
      share = std::hypot(share, tolerance.half_width / tolerance.value);
    }
  }
  if (share > 0.0) {
    tolerances.push_back({.key = join_path(reader.path(), "volute_area_over_radius"),
                          .value = area_over_radius,
                          .half_width = share * area_over_radius});
  }
}

double count_or_unset(Reader& reader, std::string_view key, int least) {
  constexpr int most = 40;
  const auto count = reader.optional_count(key, least, most);
  return count ? static_cast<double>(*count) : unset;
}

void check_mouth(Reader& reader, const engine::Mouth& mouth) {
  reader.require_order(
      "throat_diameter", mouth.throat_diameter, Order::at_most, "diameter", mouth.diameter);
  reader.require_order(
      "diameter", mouth.diameter, Order::at_most, "face_diameter", mouth.face_diameter);
}

void check_compressor(Reader& reader, const engine::Compressor& part) {
  reader.require_order("inducer_hub_diameter",
                       part.inducer_hub_diameter,
                       Order::below,
                       "inducer_diameter",
                       part.inducer_diameter);
  reader.require_order("inducer_diameter",
                       part.inducer_diameter,
                       Order::below,
                       "exducer_diameter",
                       part.exducer_diameter);
  reader.require_order("exducer_diameter",
                       part.exducer_diameter,
                       Order::at_most,
                       "diffuser_diameter",
                       part.diffuser_diameter);
  reader.require_order("clearance", part.clearance, Order::below, "tip_width", part.tip_width);
  reader.require_order(
      "tip_width", part.tip_width, Order::below, "exducer_diameter", part.exducer_diameter);
}

void check_turbine(Reader& reader, const engine::Turbine& part) {
  reader.require_order("exducer_hub_diameter",
                       part.exducer_hub_diameter,
                       Order::below,
                       "exducer_diameter",
                       part.exducer_diameter);
  reader.require_order("exducer_diameter",
                       part.exducer_diameter,
                       Order::below,
                       "inducer_diameter",
                       part.inducer_diameter);
  reader.require_order(
      "tip_width", part.tip_width, Order::below, "inducer_diameter", part.inducer_diameter);
}

/// Two points too close together make of an oil at its inlet what no oil is.
void check_oil(Reader& oil, const engine::Oil& part, const engine::BearingCoefficients& c) {
  constexpr double stiffest = 20.0;  // [m^2/s]: where ASTM D341 ends
  const double kinematic = engine::oil_viscosity(part, c, part.inlet_temperature) / part.density;
  if (kinematic <= stiffest) return;
  oil.refuse("cold.kinematic_viscosity",
             "with the hot one it makes the oil stiffer at its inlet temperature than any oil is",
             "two points of one oil's label, such as 40 and 100 degC");
}

void check_bearings(Reader& reader, const engine::Bearings& part) {
  reader.require_order("journal_diameter",
                       part.journal_diameter,
                       Order::below,
                       "ring_outer_diameter",
                       part.ring_outer_diameter);
  reader.require_order("thrust_inner_diameter",
                       part.thrust_inner_diameter,
                       Order::below,
                       "thrust_outer_diameter",
                       part.thrust_outer_diameter);
  auto oil = reader.section("oil");
  const auto& [cold, hot] = std::pair(part.oil.cold, part.oil.hot);
  oil.require_order(
      "cold.temperature", cold.temperature, Order::below, "hot.temperature", hot.temperature);
  oil.require_order("hot.kinematic_viscosity",
                    hot.kinematic_viscosity,
                    Order::below,
                    "cold.kinematic_viscosity",
                    cold.kinematic_viscosity);
}

void require_parts(Reader& reader) {
  auto compressor = reader.section("compressor");
  compressor.require("inducer_diameter");
  compressor.require("exducer_diameter");
  auto turbine = reader.section("turbine");
  turbine.require("inducer_diameter");
  turbine.require("exducer_diameter");
  if (!turbine.has("volute_area") && !turbine.has("volute_radius")) {
    turbine.require("volute_area_over_radius");
  }
  auto oil = reader.section("bearings").section("oil");
  for (const auto* const point : {"cold", "hot"}) {
    auto label = oil.section(point);
    label.require("temperature");
    label.require("kinematic_viscosity");
  }
}

void read_resistance(Reader& reader, Draft& draft) {
  auto section = reader.section("resistance");
  FieldReader v(section);
  visit_resistance(v, draft.resistance);
  if (!section.given()) return;
  section.require("throat_diameter");
  section.require("loss_factor");
  draft.result.parts.engine.resistance = draft.resistance;
  for (const auto* const part :
       {"compressor", "turbine", "combustor", "exhaust", "bearings", "rotor", "measured"}) {
    if (!reader.section(part).given()) continue;
    draft.result.warnings.push_back(
        fmt::format("engine.{}: not used, the measured resistance stands for the engine", part));
  }
}

void read_guard(Reader reader, blockage::Guard& guard) {
  guard.kind =
      reader
          .optional_choice<blockage::GuardKind>("kind",
                                                {{"none", blockage::GuardKind::none},
                                                 {"round_wire", blockage::GuardKind::round_wire},
                                                 {"perforated", blockage::GuardKind::perforated}})
          .value_or(blockage::GuardKind::none);
  FieldReader v(reader);
  visit_guard(v, guard);
  if (!reader.given()) return;
  reader.require("kind", "none, round_wire, perforated");
  if (guard.kind == blockage::GuardKind::none) return;
  reader.require("open_area");
  if (guard.kind == blockage::GuardKind::round_wire) reader.require("wire_diameter");
}

void read_measured(Reader reader, Draft& draft) {
  auto& run = draft.measured;
  run.total_pressure = reader.optional("total_pressure", measure({D::pressure, 0.1, 500, "mbar"}));
  run.throat_static_pressure =
      reader.optional("throat_static_pressure", measure({D::pressure, -500, 500, "mbar"}));
  run.mass_flow = reader.optional("mass_flow", measure({D::mass_flow, 0.1, 5000, "g/s"}));
  run.speed = reader.optional("speed", measure({D::angular_speed, 200, 200000, "rpm"}));
  draft.has_measured = reader.given();
  if (!draft.has_measured) return;
  reader.require("total_pressure");
  if (!reader.has("throat_static_pressure") && !reader.has("mass_flow") && !reader.has("speed")) {
    reader.require("mass_flow",
                   "one of mass_flow, speed, throat_static_pressure beside total_pressure");
  }
  reader.require_order("throat_static_pressure",
                       run.throat_static_pressure,
                       Order::below,
                       "total_pressure",
                       run.total_pressure);
}

void calibrate(Reader& reader, Draft& draft, const Models& models) {
  auto& parts = draft.result.parts;
  const auto ambient = air::make_ambient(models.rig.air, parts.site);
  const auto fit =
      engine::calibrate(parts.engine, models.rig.engine, models.rig.air, ambient, draft.measured);
  if (fit.status == engine::CalibrationStatus::done) {
    parts.engine.calibration = fit.calibration;
    parts.engine.measured = draft.measured;
    draft.result.calibration = fit;
    return;
  }
  auto section = reader.section("measured");
  const auto& c = models.rig.engine.engine;
  if (fit.status == engine::CalibrationStatus::implausible && section.has("speed")) {
    section.refuse("speed",
                   "the engine's dimensions do not explain this speed at this pressure",
                   fmt::format("what {} to {} times the computed bearing drag would give",
                               c.least_friction_factor,
                               c.greatest_friction_factor));
    return;
  }
  section.refuse(section.has("mass_flow") ? "mass_flow" : "throat_static_pressure",
                 "the engine's dimensions do not explain this airflow at this pressure",
                 fmt::format("what {} to {} times the computed turbine area would give",
                             c.least_area_factor,
                             c.greatest_area_factor));
}

}  // namespace

void read_engine(Reader reader, Draft& draft) {
  auto& parts = draft.result.parts;
  auto& engine = parts.engine;
  draft.result.engine_name = reader.optional_text("name").value_or("");
  engine.name = draft.result.engine_name;
  accept_component_keys(reader);
  draft.engine_rotation =
      reader
          .optional_choice<fan::Rotation>("rotation",
                                          {{"clockwise", fan::Rotation::clockwise},
                                           {"counterclockwise", fan::Rotation::counterclockwise},
                                           {"unknown", fan::Rotation::unknown}})
          .value_or(fan::Rotation::unknown);
  FieldReader v(reader);
  visit_engine(v, engine);
  auto mouth = reader.section("mouth");
  FieldReader w(mouth);
  visit_wall(w, parts);
  auto compressor = reader.section("compressor");
  engine.compressor.blades = count_or_unset(compressor, "blades", 3);
  engine.compressor.splitters = count_or_unset(compressor, "splitters", 0);
  read_volute(compressor, engine.compressor.volute_area_over_radius);
  auto turbine = reader.section("turbine");
  engine.turbine.blades = count_or_unset(turbine, "blades", 5);
  read_volute(turbine, engine.turbine.volute_area_over_radius);
  auto bearings = reader.section("bearings");
  const auto kind = bearings.optional_choice<engine::BearingKind>(
      "kind", {{"journal", engine::BearingKind::journal}, {"ball", engine::BearingKind::ball}});
  engine.bearings.kind = kind.value_or(engine::BearingKind::journal);
  read_guard(reader.section("guard"), parts.guard);
  read_measured(reader.section("measured"), draft);
  read_resistance(reader, draft);
  check_mouth(mouth, engine.mouth);
  if (engine.resistance) return;
  require_parts(reader);
  if (!kind) note_default(bearings, "kind", "journal", "the usual turbocharger");
  check_compressor(compressor, engine.compressor);
  check_turbine(turbine, engine.turbine);
  check_bearings(bearings, engine.bearings);
}

void complete_engine(Reader& root, Draft& draft, const Models& models) {
  auto& parts = draft.result.parts;
  auto& engine = parts.engine;
  auto& findings = root.findings();
  auto reader = root.section("engine");
  const auto fallbacks = engine::fill_fallbacks(engine, models.rig.engine);
  note_fallbacks(findings, fallbacks, [](const std::string& field) { return "engine." + field; });
  auto mouth = reader.section("mouth");
  note_default(mouth, "wall_thickness", parts.wall_thickness, "a thin edge");
  check_mouth(mouth, engine.mouth);
  if (parts.guard.kind != blockage::GuardKind::none && std::isnan(parts.guard.diameter)) {
    parts.guard.diameter = engine.mouth.diameter;
    assume(findings, "engine.guard.diameter", parts.guard.diameter, "across the mouth");
  }
  if (engine.resistance) return;
  auto compressor = reader.section("compressor");
  auto turbine = reader.section("turbine");
  auto bearings = reader.section("bearings");
  check_compressor(compressor, engine.compressor);
  check_turbine(turbine, engine.turbine);
  check_bearings(bearings, engine.bearings);
  if (findings.problems.empty()) {
    auto oil = bearings.section("oil");
    check_oil(oil, engine.bearings.oil, models.rig.engine.bearings);
  }
  if (draft.has_measured && findings.problems.empty()) calibrate(reader, draft, models);
}

}  // namespace windgap::casefile
