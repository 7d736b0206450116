#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "casefile/document.h"
#include "casefile/problems.h"
#include "units/format.h"
#include "units/table.h"

namespace windgap::casefile {

/// A value that nobody gave.
struct AssumedValue {
  std::string key = {};     ///< `engine.oil.temperature`
  std::string value = {};   ///< as shown to a person
  std::string source = {};  ///< why this value
};

/// How sure a number is that the case gives or that was assumed with a spread.
struct Tolerance {
  std::string key = {};
  double value = unset;       ///< SI
  double half_width = unset;  ///< SI, never negative
};

/// What comes to light while a case is read.
struct Findings {
  units::System system = units::System::metric;
  Problems problems = {};
  std::vector<AssumedValue> assumed = {};
  std::vector<Tolerance> tolerances = {};
  std::vector<std::string> warnings = {};
  std::vector<File> files = {};  ///< every file read, the case first
  /// Keys that were asked for, by the path of the map they stand in.
  std::map<std::string, std::vector<std::string>, std::less<>> accepted = {};
};

/// One problem for each key of the tree below `node` that nobody asked for, with the key that was
/// probably meant. Maps that nobody read are left alone: their own key is the problem.
void report_unknown_keys(const Node& node, const std::string& path, Findings& findings);

/// `a.b` joined, without a leading point.
[[nodiscard]] std::string join_path(std::string_view path, std::string_view key);

}  // namespace windgap::casefile
