#include "support/published.h"

#include <fstream>
#include <sstream>
#include <stdexcept>

namespace windgap::test {
namespace {

std::vector<std::string> split(const std::string& line) {
  std::vector<std::string> cells;
  std::istringstream stream(line);
  for (std::string cell; std::getline(stream, cell, ',');) cells.push_back(cell);
  return cells;
}

}  // namespace

std::vector<PublishedRow> published_rows(const std::string& file) {
  const std::string path = std::string(WINDGAP_SOURCE_DIR) + "/tests/published/" + file;
  std::ifstream input(path);
  if (!input) throw std::runtime_error("cannot read " + path);
  std::vector<std::string> names;
  std::vector<PublishedRow> rows;
  int number = 0;
  for (std::string line; std::getline(input, line);) {
    ++number;
    if (line.empty() || line.front() == '#') continue;
    const auto cells = split(line);
    if (names.empty()) {
      for (const auto& cell : cells) names.push_back(cell.substr(0, cell.find(" [")));
      continue;
    }
    if (cells.size() != names.size()) throw std::runtime_error("ragged row in " + path);
    PublishedRow row{.line = number, .values = {}};
    for (std::size_t i = 0; i < cells.size(); ++i) row.values[names[i]] = std::stod(cells[i]);
    rows.push_back(row);
  }
  if (rows.empty()) throw std::runtime_error("no row in " + path);
  return rows;
}

}  // namespace windgap::test
