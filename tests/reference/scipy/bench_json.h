#pragma once

#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <string_view>
#include <type_traits>

#include "casefile/bench_fields.h"
#include "casefile/engine_fields.h"
#include "casefile/fan_fields.h"
#include "rig/parts.h"

/// A bench and its coefficients as JSON in SI units, for the reference scripts and back. Numbers
/// are walked by the lists that reading a case uses. Only what those scripts compute: a fan by its
/// datasheet before an engine of parts.
namespace windgap::drive {
NLOHMANN_JSON_SERIALIZE_ENUM(Chemistry,
                             {{Chemistry::lithium_polymer, "lithium_polymer"},
                              {Chemistry::lithium_ion, "lithium_ion"},
                              {Chemistry::iron_phosphate, "iron_phosphate"}})
}  // namespace windgap::drive
namespace windgap::fan {
NLOHMANN_JSON_SERIALIZE_ENUM(Vanes,
                             {{Vanes::unknown, "unknown"}, {Vanes::yes, "yes"}, {Vanes::no, "no"}})
}  // namespace windgap::fan
namespace windgap::jet {
NLOHMANN_JSON_SERIALIZE_ENUM(HubEnd, {{HubEnd::tail_cone, "tail_cone"}, {HubEnd::blunt, "blunt"}})
}  // namespace windgap::jet
namespace windgap::engine {
NLOHMANN_JSON_SERIALIZE_ENUM(BearingKind,
                             {{BearingKind::journal, "journal"}, {BearingKind::ball, "ball"}})
}  // namespace windgap::engine
namespace windgap::rig {
NLOHMANN_JSON_SERIALIZE_ENUM(
    Sense, {{Sense::unknown, "unknown"}, {Sense::same, "same"}, {Sense::opposite, "opposite"}})
}  // namespace windgap::rig

namespace windgap::reference {

/// Writes what is visited; an unset number becomes null.
class JsonWriter {
 public:
  explicit JsonWriter(nlohmann::json& out) : out_(out) {}
  template <class Field>
  void operator()(std::string_view key, Field& field) const {
    out_[std::string(key)] = field;
  }
  void operator()(std::string_view key, Table& table) const {
    out_[std::string(key)] = {{"x", table.x}, {"y", table.y}};
  }
  void operator()(std::string_view key, double& field, const casefile::Allowed& /*range*/) const {
    out_[std::string(key)] = field;
  }
  template <class Function>
  void in(std::string_view key, Function&& function) const {
    JsonWriter inner(out_[std::string(key)]);
    function(inner);
  }

 private:
  nlohmann::json& out_;
};

/// Reads the same back. @throws nlohmann::json::exception where something is missing.
class JsonReader {
 public:
  explicit JsonReader(const nlohmann::json& in) : in_(in) {}
  template <class Field>
  void operator()(std::string_view key, Field& field) const {
    const auto& entry = in_.at(std::string(key));
    if constexpr (std::is_same_v<Field, double>) {
      field = entry.is_null() ? unset : entry.get<double>();
    } else {
      entry.get_to(field);
    }
  }
  void operator()(std::string_view key, Table& table) const {
    const auto& entry = in_.at(std::string(key));
    entry.at("x").get_to(table.x);
    entry.at("y").get_to(table.y);
  }
  void operator()(std::string_view key, double& field, const casefile::Allowed& /*range*/) const {
    (*this)(key, field);
  }
  template <class Function>
  void in(std::string_view key, Function&& function) const {
    // Files written before a section was there leave it as it is.
    if (!in_.contains(std::string(key))) return;
    JsonReader inner(in_.at(std::string(key)));
    function(inner);
  }

 private:
  const nlohmann::json& in_;
};

template <class V>
void visit_bench_fan(V& v, fan::Fan& fan) {
  casefile::visit_fan(v, fan);
  casefile::visit_nozzle(v, fan);
  v("hub_end", fan.hub_end);
  v("vanes", fan.vanes);
}

template <class V>
void visit_bench_engine(V& v, engine::Engine& engine) {
  casefile::visit_engine(v, engine);
  v.in("compressor", [&](auto& w) {
    w("blades", engine.compressor.blades);
    w("splitters", engine.compressor.splitters);
  });
  v.in("turbine", [&](auto& w) { w("blades", engine.turbine.blades); });
  v.in("bearings", [&](auto& w) { w("kind", engine.bearings.kind); });
  v.in("calibration", [&](auto& w) {
    w("turbine_area", engine.calibration.turbine_area);
    w("friction", engine.calibration.friction);
  });
}

/// Everything of a bench that decides its delivered airflow. @throws std::bad_variant_access for a
/// Stream.
template <class V>
void visit_bench(V& v, rig::Parts& parts) {
  v.in("site", [&](auto& w) { casefile::visit_site(w, parts.site); });
  v.in("fan", [&](auto& w) { visit_bench_fan(w, std::get<fan::Fan>(parts.source)); });
  v.in("motor", [&](auto& w) {
    casefile::visit_motor(w, parts.drive.motor);
    w("winding_conductance", parts.drive.motor.winding_conductance);
  });
  v.in("drive", [&](auto& w) {
    casefile::visit_drive(w, parts.drive);
    w.in("pack", [&](auto& x) {
      x("cells", parts.drive.pack.cells);
      x("chemistry", parts.drive.pack.chemistry);
    });
  });
  casefile::visit_throttle(v, parts);
  casefile::visit_jet(v, parts);
  casefile::visit_wall(v, parts);
  v.in("engine", [&](auto& w) { visit_bench_engine(w, parts.engine); });
  v.in("mounting", [&](auto& w) { casefile::visit_mounting(w, parts.mounting); });
  v.in("start", [&](auto& w) { casefile::visit_start(w, parts.start); });
  v("sense", parts.sense);
}

/// @throws std::logic_error for a bench that the scripts do not compute.
[[nodiscard]] inline nlohmann::json to_json(rig::Parts parts) {
  if (!std::holds_alternative<fan::Fan>(parts.source) || parts.engine.resistance ||
      parts.guard.kind != blockage::GuardKind::none) {
    throw std::logic_error("the peer computes a fan before an engine of parts, without guard");
  }
  if (!std::get<fan::Fan>(parts.source).curve.points.empty()) {
    throw std::logic_error("the peer computes a fan without a measured curve");
  }
  nlohmann::json out;
  JsonWriter writer(out);
  visit_bench(writer, parts);
  auto& readings = out["axis_readings"] = nlohmann::json::array();
  for (auto& reading : parts.axis_readings) {
    JsonWriter one(readings.emplace_back());
    casefile::visit_reading(one, reading);
  }
  return out;
}

[[nodiscard]] inline rig::Parts parts_of(const nlohmann::json& in) {
  rig::Parts parts;
  parts.source = fan::Fan{};
  JsonReader reader(in);
  visit_bench(reader, parts);
  for (const auto& entry : in.at("axis_readings")) {
    JsonReader one(entry);
    casefile::visit_reading(one, parts.axis_readings.emplace_back());
  }
  return parts;
}

[[nodiscard]] inline nlohmann::json to_json(rig::Coefficients c) {
  nlohmann::json out;
  rig::visit_modules(c, [&](const std::string& module, auto& coefficients) {
    JsonWriter writer(out[module]);
    visit(coefficients, writer);
  });
  return out;
}

[[nodiscard]] inline rig::Coefficients coefficients_of(const nlohmann::json& in) {
  rig::Coefficients c;
  rig::visit_modules(c, [&](const std::string& module, auto& coefficients) {
    JsonReader reader(in.at(module));
    visit(coefficients, reader);
  });
  return c;
}

/// Replaces one coefficient, `module.key`; of a table all ordinates by a factor.
inline void replace(rig::Coefficients& c, std::string_view name, double value) {
  rig::visit_modules(c, [&](const std::string& module, auto& coefficients) {
    if (!name.starts_with(module) || name.substr(module.size(), 1) != ".") return;
    visit(coefficients, [&](std::string_view key, auto& field) {
      if (key != name.substr(module.size() + 1)) return;
      if constexpr (std::is_same_v<std::decay_t<decltype(field)>, Table>) {
        for (double& y : field.y) y *= value;
      } else {
        field = value;
      }
    });
  });
}

}  // namespace windgap::reference
