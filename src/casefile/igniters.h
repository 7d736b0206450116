#pragma once

#include <optional>
#include <string>
#include <vector>

#include "spark/spark.h"

/// Igniters as a case gives them.
namespace windgap::casefile {

/// Where the plug looks.
enum class PlugPlace {
  chamber,     ///< the gas is the rig's at the mount, unless given
  afterburner  ///< behind the turbine, in air as dense as outside unless given
};

struct SparkSource {
  std::string name = {};  ///< as the case calls it, else its kind
  spark::Source source;
  spark::Bleed bleed = spark::NoBleed{};
  std::optional<double> indicator_threshold = {};  ///< [V]
};

struct Igniter {
  std::string name;
  PlugPlace place = PlugPlace::chamber;
  spark::Gap gap;
  spark::Conditions given;           ///< gas and velocity unset where the rig is to tell
  std::vector<SparkSource> sources;  ///< the first is the one fitted, others are compared
};

/// "dwell coil"
[[nodiscard]] std::string_view kind_name(const spark::Source& source);

}  // namespace windgap::casefile
