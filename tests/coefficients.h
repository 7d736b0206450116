#pragma once

#include <yaml-cpp/yaml.h>

#include <set>
#include <stdexcept>
#include <string>

#include "units/table.h"

/// The shipped coefficients of one module, for tests: models/physics/<module>.yaml.
namespace windgap::testing {

inline void read_field(const YAML::Node& entry, double& field) {
  field = entry["value"].as<double>();
}

inline void read_field(const YAML::Node& entry, Table& field) {
  field.x = entry["table"]["x"].as<std::vector<double>>();
  field.y = entry["table"]["y"].as<std::vector<double>>();
}

/// @throws std::runtime_error if the file misses a coefficient or holds one nobody reads.
template <class Coefficients>
Coefficients shipped(const std::string& module) {
  const auto file = YAML::LoadFile(WINDGAP_MODELS_DIR "/physics/" + module + ".yaml");
  Coefficients coefficients;
  std::set<std::string> known;
  visit(coefficients, [&](const std::string& key, auto& field) {
    if (!file[key]) throw std::runtime_error(module + ".yaml misses " + key);
    read_field(file[key], field);
    known.insert(key);
  });
  for (const auto& entry : file) {
    const auto key = entry.first.as<std::string>();
    if (!known.contains(key)) throw std::runtime_error(module + ".yaml: nobody reads " + key);
  }
  return coefficients;
}

}  // namespace windgap::testing
