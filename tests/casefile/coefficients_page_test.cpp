#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <map>
#include <string>
#include <vector>

#include "casefile/case.h"
#include "casefile/variations.h"
#include "placement/placement.h"

namespace windgap::casefile {
namespace {

/// A line of models/coefficients.md, its cells by the table's heads.
using Row = std::map<std::string, std::string>;

std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells;
  std::string cell;
  for (std::size_t i = 2; i < line.size(); ++i) {
    if (line[i] == '\\' && i + 1 < line.size()) {
      cell += line[++i];
    } else if (line[i] == '|') {
      while (cell.ends_with(' ')) cell.pop_back();
      cells.push_back(cell);
      cell.clear();
      ++i;
    } else {
      cell += line[i];
    }
  }
  return cells;
}

/// By `module.key`.
std::map<std::string, Row> page() {
  std::ifstream file(WINDGAP_MODELS_DIR "/coefficients.md");
  std::map<std::string, Row> rows;
  std::string module;
  std::vector<std::string> heads;
  for (std::string line; std::getline(file, line);) {
    if (line.starts_with("## ")) module = line.substr(3);
    if (line.starts_with("| key ")) heads = cells_of(line);
    if (!line.starts_with("| ") || line.starts_with("| key ")) continue;
    const auto cells = cells_of(line);
    EXPECT_EQ(cells.size(), heads.size()) << line;
    Row row;
    for (std::size_t i = 0; i < cells.size() && i < heads.size(); ++i) row[heads[i]] = cells[i];
    EXPECT_TRUE(rows.try_emplace(module + "." + row["key"], row).second) << line;
  }
  return rows;
}

Case demo() {
  return read_case(WINDGAP_SOURCE_DIR "/cases/demo.yaml",
                   {.models = {WINDGAP_MODELS_DIR},
                    .scope = {.spark = true, .start = true, .cooling = true, .choice = true}});
}

// Made anew by tests/reference/coefficients/list.py when this fails (DEVELOPERS.md says how).
TEST(CoefficientsPage, ListsEveryCoefficientAsItIs) {
  auto rows = page();
  const auto bench = demo();
  for (const auto& info : bench.models.infos) {
    const auto name = info.module + "." + info.key;
    ASSERT_TRUE(rows.contains(name)) << name;
    auto& row = rows.at(name);
    if (!std::isnan(info.value)) {
      EXPECT_NEAR(
          std::strtod(row["value"].c_str(), nullptr), info.value, 1e-12 * std::abs(info.value))
          << name;
    }
    EXPECT_EQ(row["unit"], info.unit) << name;
    EXPECT_EQ(row["validity"], info.validity) << name;
    EXPECT_TRUE(row["source"].starts_with(info.source + " (")) << name;
    EXPECT_TRUE(row["source"].ends_with(": " + info.where)) << name;
    EXPECT_EQ(row["spread"] == "none", info.spread.distribution == Distribution::none) << name;
    rows.erase(name);
  }
  for (const auto& [name, row] : rows) ADD_FAILURE() << name << " is no coefficient";
}

// The page's numbers follow the demo by tolerance: a tenth, or half a millimetre.
TEST(CoefficientsPage, ShowsWhatEachDoesToTheDemo) {
  auto rows = page();
  const auto bench = demo();
  const auto place = [&](const rig::Coefficients& models) {
    return placement::answer(
        bench.parts, models, bench.requirement, bench.models.placement, {.threads = 1});
  };
  const auto nominal = place(bench.models.rig);
  ASSERT_TRUE(nominal.advice.feasible);
  const double mount = nominal.advice.stand_off;
  const double airflow = nominal.advice.mount.delivery.airflow;
  int compared = 0;
  for (const auto& variation : variations(bench)) {
    for (const auto* name : {"turbine.volute_loss",
                             "compressor.volute_cone_loss",
                             "fan.datasheet_thrust",
                             "jet.core_length_nozzle"}) {
      if (variation.name != name) continue;
      auto parts = bench.parts;
      auto models = bench.models.rig;
      variation.apply(parts, models);
      const auto moved = place(models);
      ASSERT_TRUE(moved.advice.feasible) << name;
      const double millimetres = 1e3 * (moved.advice.stand_off - mount);
      const double percent = 1e2 * (rig::deliver(moved.rig, mount).airflow / airflow - 1.0);
      auto& row = rows.at(name);
      EXPECT_NEAR(std::strtod(row["stand-off [mm]"].c_str(), nullptr),
                  millimetres,
                  0.5 + 0.1 * std::abs(millimetres))
          << name;
      EXPECT_NEAR(
          std::strtod(row["airflow [%]"].c_str(), nullptr), percent, 0.05 + 0.1 * std::abs(percent))
          << name;
      ++compared;
    }
  }
  EXPECT_EQ(compared, 4);
}

}  // namespace
}  // namespace windgap::casefile
