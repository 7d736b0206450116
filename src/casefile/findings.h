#pragma once

#include <limits>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "casefile/document.h"
#include "casefile/problems.h"
#include "units/format.h"
#include "units/table.h"

namespace windgap::casefile {

/// What a key measures and how far its value may go, both ends included, in SI.
struct Measure {
  units::Dimension dimension;
  double least = -std::numeric_limits<double>::infinity();
  double most = std::numeric_limits<double>::infinity();
};

/// A value that the case gives, as it was understood.
struct GivenValue {
  std::string key = {};
  std::string written = {};  ///< the text in the file
  std::string shown = {};    ///< in the units of results; for words the same text
  std::string unit = {};     ///< as written; empty for words and bare numbers
  Place place = {};
};

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
  bool may_lack = false;  ///< what a section leaves out is no problem: nobody asks for it
  Problems problems = {};
  std::vector<GivenValue> given = {};
  std::vector<AssumedValue> assumed = {};
  std::vector<Tolerance> tolerances = {};
  std::vector<std::string> warnings = {};
  std::vector<File> files = {};                               ///< every file read, the case first
  std::map<std::string, Measure, std::less<>> measures = {};  ///< by key path
  /// Keys that were asked for, by the path of the map they stand in.
  std::map<std::string, std::vector<std::string>, std::less<>> accepted = {};
};

/// One problem for each key of the tree below `node` that nobody asked for, with the key that was
/// probably meant. Maps that nobody read are left alone: their own key is the problem.
void report_unknown_keys(const Node& node, const std::string& path, Findings& findings);

/// The value given under a key, or nullptr.
[[nodiscard]] const GivenValue* find_given(const Findings& findings, std::string_view key);

/// Lists a default; `value` in SI, of the dimension that reading noted for the key.
void assume(Findings& findings, const std::string& key, double value, std::string source);

/// `a.b` joined, without a leading point.
[[nodiscard]] std::string join_path(std::string_view path, std::string_view key);

}  // namespace windgap::casefile
