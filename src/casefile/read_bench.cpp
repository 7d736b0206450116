#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "casefile/bench_fields.h"
#include "casefile/sections.h"

namespace windgap::casefile {
namespace {

void complete_start(Reader& root, Draft& draft) {
  auto reader = root.section("start");
  const auto& parts = draft.result.parts;
  const auto& engine = parts.engine;
  if (engine.resistance) {
    if (reader.has("rotor_speed")) {
      reader.refuse("rotor_speed", "a measured resistance has no rotor; give start.airflow");
    } else {
      reader.require("airflow");
    }
    return;
  }
  const double tip_radius = engine.compressor.exducer_diameter / 2;
  const double design_speed = engine.design_tip_speed / tip_radius;
  if (parts.start.rotor_speed > design_speed) {
    reader.refuse(
        "rotor_speed",
        "faster than the engine's design speed",
        "up to " +
            units::format(design_speed, units::Dimension::angular_speed, draft.result.system));
  }
  if (reader.has("airflow") || reader.has("rotor_speed")) return;
  reader.assume(
      "airflow", "derived", "what lets this engine, lit, turn itself up to self-sustaining speed");
}

void complete_running(Reader& root, Draft& draft, const Models& models) {
  auto reader = root.section("running");
  const auto& parts = draft.result.parts;
  if (!reader.has("airflow")) {
    reader.assume("airflow",
                  fmt::format("what passes the inlet's throat at Mach {}",
                              models.rig.bench.running_inducer_mach),
                  models.why("bench", "running_inducer_mach"));
  }
  note_default(reader,
               "nozzle_pressure_ratio",
               models.rig.blockage.nozzle_pressure_ratio,
               models.why("blockage", "nozzle_pressure_ratio"));
  if (parts.start.airflow >= parts.running.airflow) {
    root.refuse(
        "start.airflow",
        "the engine would need more air to start than it draws running",
        fmt::format("less than {} (running.airflow)",
                    units::format(
                        parts.running.airflow, units::Dimension::mass_flow, draft.result.system)));
  }
}

}  // namespace

rig::Sense sense_of(fan::Rotation fan, fan::Rotation engine) {
  if (fan == fan::Rotation::unknown || engine == fan::Rotation::unknown) return rig::Sense::unknown;
  return fan == engine ? rig::Sense::same : rig::Sense::opposite;
}

void note_default(Reader& reader, std::string_view key, double value, std::string why) {
  if (reader.has(key)) return;
  const auto path = join_path(reader.path(), key);
  const auto known = reader.findings().measures.find(path);
  const auto dimension =
      known == reader.findings().measures.end() ? D::number : known->second.dimension;
  reader.assume(key, units::format(value, dimension, reader.findings().system), std::move(why));
}

void note_default(Reader& reader, std::string_view key, std::string_view word, std::string why) {
  if (!reader.has(key)) reader.assume(key, std::string(word), std::move(why));
}

void accept_component_keys(Reader& reader) {
  (void)reader.optional_text("model");
  (void)reader.optional_text("origin");
}

void read_site(Reader reader, Draft& draft) {
  auto& site = draft.result.parts.site;
  FieldReader v(reader);
  visit_site(v, site);
  note_default(reader, "relative_humidity", site.relative_humidity, "dry air");
  note_default(reader, "wind", site.wind, "no wind stated");
  if (reader.has("altitude") && reader.has("pressure")) {
    draft.result.warnings.emplace_back(
        "site.altitude: only its standard temperature could matter, the pressure is given");
  }
}

void read_mount(Reader reader, Draft& draft) {
  auto& parts = draft.result.parts;
  auto& need = draft.result.requirement;
  auto& drilling = draft.result.drilling;
  need.nearest = reader.required("nearest", measure({D::length, 1, 10000, "mm"}));
  need.farthest = reader.required("farthest", measure({D::length, 1, 10000, "mm"}));
  reader.require_order("nearest", need.nearest, Order::below, "farthest", need.farthest);
  const double slip = reader.optional("slip", measure({D::length, 0, 200, "mm"}));
  if (reader.has("slip")) need.slip = slip;
  if (need.nearest < need.farthest && need.slip >= need.farthest - need.nearest) {
    reader.refuse("slip", "the play is as long as the bracket's travel");
  }
  FieldReader v(reader);
  visit_mounting(v, parts.mounting);
  note_default(reader, "slip", need.slip, "no play or bend of the bracket stated");
  note_default(reader, "offset", parts.mounting.offset, "the fan looks at the mouth's centre");
  note_default(reader, "tilt", parts.mounting.tilt, "the fan's axis is parallel to the engine's");
  drilling.holes_to_exit =
      reader.optional("holes_to_exit", measure({D::length, -1000, 1000, "mm"}));
  drilling.mouth_to_bench_datum =
      reader.optional("mouth_to_bench_datum", measure({D::length, -5000, 5000, "mm"}));
  auto& choosing = draft.result.choosing;
  choosing.bracket_height = reader.optional("height", measure({D::length, 10, 2000, "mm"}));
  choosing.bolt = reader.optional("bolt", measure({D::length, 2, 30, "mm"}));
  auto struts = reader.section("struts");
  FieldReader w(struts);
  visit_struts(w, parts.struts);
  parts.struts.count = struts.optional_count("count", 0, 12).value_or(0);
  if (!struts.given()) {
    note_default(struts, "count", "0", "no bracket arms before the mouth stated");
  } else {
    struts.require("count", "a whole number from 0 to 12");
  }
  if (parts.struts.count > 0) {
    struts.require("width");
    struts.require("length");
  }
}

void read_start(Reader reader, Draft& draft) {
  auto& parts = draft.result.parts;
  FieldReader v(reader);
  visit_start(v, parts.start);
  if (reader.has("airflow") && reader.has("rotor_speed")) {
    reader.refuse("rotor_speed", "give either airflow or rotor_speed, they may contradict");
  }
  auto& need = draft.result.requirement;
  need.margin = reader.optional("margin", measure({D::ratio, 0, 200, "%"}));
  need.start_duration = reader.optional("duration", measure({D::time, 0.5, 300, "s"}));
  need.flame_holder_velocity =
      reader.optional("flame_holder_velocity", measure({D::speed, 0.5, 100, "m/s"}));
  need.reliability = reader.optional("reliability", measure({D::ratio, 50, 99.9, "%"}));
  need.confidence = reader.optional("confidence", measure({D::ratio, 50, 99.9, "%"}));
}

void read_running(Reader reader, Draft& draft) {
  FieldReader v(reader);
  visit_running(v, draft.result.parts.running);
  draft.result.requirement.allowed_running_loss =
      reader.optional("allowed_loss", measure({D::ratio, 0.01, 20, "%"}));
  read_last_run(reader, draft);
}

void complete_site(Reader& root, Draft& draft, const Models& models) {
  auto reader = root.section("site");
  auto& site = draft.result.parts.site;
  if (std::isnan(site.altitude) && std::isnan(site.pressure)) {
    site.altitude = 0.0;
    note_default(reader, "altitude", "sea level", "neither altitude nor pressure stated");
  }
  if (std::isnan(site.temperature)) {
    const double altitude = std::isnan(site.altitude) ? 0.0 : site.altitude;
    const double standard = air::standard_atmosphere(models.rig.air, altitude).temperature;
    site.temperature = standard;
    note_default(reader, "temperature", standard, "standard atmosphere at the altitude");
  }
}

void complete_bench(Reader& root, Draft& draft, const Models& models) {
  auto& need = draft.result.requirement;
  auto& parts = draft.result.parts;
  complete_site(root, draft, models);
  parts.sense = sense_of(draft.fan.rotation, draft.engine_rotation);
  if (parts.sense == rig::Sense::unknown && !draft.has_stream && !draft.fan_is_open) {
    root.findings().assumed.push_back(
        {.key = "fan.rotation",
         .value = "unknown",
         .source = "both senses against the engine's rotor are computed, the worse one is used"});
  }
  complete_start(root, draft);
  complete_running(root, draft, models);
  const auto fill = [&](std::string_view section,
                        std::string_view key,
                        double& field,
                        double value,
                        std::string_view coefficient) {
    if (!std::isnan(field)) return;
    field = value;
    auto reader = root.section(section);
    note_default(reader, key, value, models.why("placement", coefficient));
  };
  const auto& c = models.placement;
  fill("start", "margin", need.margin, c.airflow_margin, "airflow_margin");
  fill("start", "duration", need.start_duration, c.start_duration, "start_duration");
  fill("start",
       "flame_holder_velocity",
       need.flame_holder_velocity,
       c.flame_holder_velocity,
       "flame_holder_velocity");
  fill("running",
       "allowed_loss",
       need.allowed_running_loss,
       c.allowed_running_loss,
       "allowed_running_loss");
}

}  // namespace windgap::casefile
