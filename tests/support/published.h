#pragma once

#include <map>
#include <string>
#include <vector>

/// Published tables kept as CSV: `#` lines name source and reading, then a header `name [unit],…`.
namespace windgap::test {

struct PublishedRow {
  int line = 0;
  std::map<std::string, double> values;  ///< by name, unit dropped

  [[nodiscard]] double at(const std::string& name) const { return values.at(name); }
};

/// Rows of tests/published/<file>. @throws std::runtime_error if it cannot be read.
[[nodiscard]] std::vector<PublishedRow> published_rows(const std::string& file);

}  // namespace windgap::test
