#include <gtest/gtest.h>
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "casefile/models.h"

namespace windgap::casefile {
namespace {

const std::filesystem::path folder = WINDGAP_MODELS_DIR "/physics";

bool is_text(const YAML::Node& node) {
  return node && node.IsScalar() && node.Scalar().find_first_not_of(" ?-.") != std::string::npos;
}

bool is_number(const YAML::Node& node) {
  double value = unset;
  return node && node.IsScalar() && YAML::convert<double>::decode(node, value) &&
         std::isfinite(value);
}

bool are_numbers(const YAML::Node& node) {
  return node && node.IsSequence() && std::all_of(node.begin(), node.end(), is_number);
}

void judge_value(const YAML::Node& entry, std::vector<std::string>& faults) {
  const auto table = entry["table"];
  const bool tabulated = table && table.IsMap() && are_numbers(table["x"]) &&
                         are_numbers(table["y"]) && table["x"].size() == table["y"].size() &&
                         table["x"].size() > 1;
  if (is_number(entry["value"]) == tabulated) faults.emplace_back("value");
}

void judge_spread(const YAML::Node& spread, std::vector<std::string>& faults) {
  if (!spread || !spread.IsMap()) return faults.push_back("spread");
  int given = 0;
  for (const auto* kind : {"none", "normal", "lognormal", "uniform"}) {
    if (!spread[kind]) continue;
    ++given;
    const bool wide = is_number(spread[kind]) && spread[kind].as<double>() > 0.0;
    if (wide == (std::string(kind) == "none")) faults.emplace_back("spread.width");
  }
  if (given != 1) faults.emplace_back("spread.distribution");
  if (!is_text(spread["group"])) faults.emplace_back("spread.group");
  const auto varies = spread["varies"];
  if (!is_text(varies) || (varies.Scalar() != "bench" && varies.Scalar() != "start")) {
    faults.emplace_back("spread.varies");
  }
}

void judge_source(const YAML::Node& entry,
                  const YAML::Node& sources,
                  std::vector<std::string>& faults) {
  const auto source = entry["source"];
  if (!source || !source.IsMap()) return faults.push_back("source");
  if (!is_text(source["key"]) || !sources[source["key"].Scalar()]) {
    faults.emplace_back("source.key");
  }
  if (!is_text(source["where"])) faults.emplace_back("source.where");
  constexpr std::array kinds{
      "measured", "digitised", "derived", "estimated", "standard", "convention"};
  const auto kind = source["kind"] ? source["kind"].Scalar() : std::string();
  if (std::find(kinds.begin(), kinds.end(), kind) == kinds.end()) {
    faults.emplace_back("source.kind");
  }
  // Who estimates says how sure he is.
  if (kind == "estimated" && entry["spread"] && entry["spread"]["none"]) {
    faults.emplace_back("spread of an estimate");
  }
}

/// What an entry lacks, read from the file itself and not through the program.
std::vector<std::string> faults_of(const YAML::Node& entry, const YAML::Node& sources) {
  std::vector<std::string> faults;
  if (!entry.IsMap()) return {"entry"};
  judge_value(entry, faults);
  for (const auto* key : {"unit", "validity"}) {
    const bool dash = std::string(key) == "unit" && entry[key] && entry[key].Scalar() == "-";
    if (!dash && !is_text(entry[key])) faults.emplace_back(key);
  }
  judge_spread(entry["spread"], faults);
  judge_source(entry, sources, faults);
  return faults;
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const auto& word : words) text += (text.empty() ? "" : ", ") + word;
  return text;
}

YAML::Node all_sources() { return YAML::LoadFile(WINDGAP_MODELS_DIR "/sources.yaml"); }

std::vector<std::filesystem::path> physics_files() {
  std::vector<std::filesystem::path> files;
  for (const auto& file : std::filesystem::directory_iterator(folder)) files.push_back(file.path());
  return files;
}

TEST(PhysicsFiles, HoldEveryCoefficientWithItsSource) {
  Problems problems;
  const auto models = load_models({WINDGAP_MODELS_DIR},
                                  problems,
                                  {.spark = true, .start = true, .cooling = true, .choice = true});
  for (const auto& problem : problems.list()) ADD_FAILURE() << to_text(problem);
  EXPECT_FALSE(models.infos.empty());
  for (const auto& [key, source] : models.sources) {
    EXPECT_FALSE(source.authors.empty() || source.title.empty()) << key;
  }
}

TEST(PhysicsFiles, LackNothingInAnyEntry) {
  const auto sources = all_sources();
  std::size_t entries = 0;
  for (const auto& file : physics_files()) {
    ASSERT_EQ(file.extension(), ".yaml") << file;
    for (const auto& entry : YAML::LoadFile(file.string())) {
      ++entries;
      EXPECT_EQ(joined(faults_of(entry.second, sources)), "")
          << file.stem().string() << "." << entry.first.Scalar();
    }
  }
  EXPECT_GT(entries, 400U);
}

/// No file and no entry that the models do not read.
TEST(PhysicsFiles, AreReadWhole) {
  Problems problems;
  const auto models = load_models({WINDGAP_MODELS_DIR},
                                  problems,
                                  {.spark = true, .start = true, .cooling = true, .choice = true});
  std::set<std::string> read;
  for (const auto& info : models.infos) read.insert(info.module + "." + info.key);
  for (const auto& file : physics_files()) {
    for (const auto& entry : YAML::LoadFile(file.string())) {
      const auto name = file.stem().string() + "." + entry.first.Scalar();
      EXPECT_TRUE(read.contains(name)) << name << " is read by nothing";
    }
  }
}

TEST(PhysicsFiles, AreFoundFaultyWhereSomethingIsMissing) {
  const auto sources = YAML::Load("{ book1990: { title: A book } }");
  const std::string good =
      R"({ value: 0.05, unit: "-", spread: { normal: 0.02, group: inlet, varies: start },
           source: { key: book1990, where: "Table 2", kind: measured }, validity: "rounded lips" })";
  ASSERT_EQ(joined(faults_of(YAML::Load(good), sources)), "");
  const std::vector<std::array<std::string, 3>> cases{
      {"value: 0.05, ", "", "value"},
      {"value: 0.05", "value: about 5", "value"},
      {"value: 0.05", "value: .nan", "value"},
      {"value: 0.05", "value: 0.05, table: { x: [0, 1], y: [1, 2] }", "value"},
      {"value: 0.05", "table: { x: [0, 1], y: [1] }", "value"},
      {"unit: \"-\", ", "", "unit"},
      {"unit: \"-\"", "unit: \"\"", "unit"},
      {", validity: \"rounded lips\"", "", "validity"},
      {"\"rounded lips\"", "\"?\"", "validity"},
      {"spread: { normal: 0.02, group: inlet, varies: start },", "", "spread"},
      {"normal: 0.02", "normal: 0", "spread.width"},
      {"normal: 0.02", "none: 0.02", "spread.width"},
      {"normal: 0.02, ", "", "spread.distribution"},
      {"normal: 0.02", "normal: 0.02, uniform: 0.1", "spread.distribution"},
      {"group: inlet, ", "", "spread.group"},
      {", varies: start", "", "spread.varies"},
      {"varies: start", "varies: often", "spread.varies"},
      {"source: { key: book1990, where: \"Table 2\", kind: measured }, ", "", "source"},
      {"key: book1990, ", "", "source.key"},
      {"key: book1990", "key: book1991", "source.key"},
      {"where: \"Table 2\", ", "", "source.where"},
      {", kind: measured", "", "source.kind"},
      {"kind: measured", "kind: guessed", "source.kind"},
      {"normal: 0.02, group: inlet, varies: start },\n           source: { key: book1990, where: "
       "\"Table 2\", kind: measured",
       "none: 0, group: inlet, varies: start }, source: { key: book1990, where: Table, kind: "
       "estimated",
       "spread of an estimate"}};
  for (const auto& [from, to, fault] : cases) {
    auto text = good;
    const auto at = text.find(from);
    ASSERT_NE(at, std::string::npos) << from;
    text.replace(at, from.size(), to);
    EXPECT_EQ(joined(faults_of(YAML::Load(text), sources)), fault) << text;
  }
}

TEST(PhysicsFiles, SayWhyACoefficientHasItsValue) {
  Problems problems;
  const auto models = load_models({WINDGAP_MODELS_DIR}, problems);
  EXPECT_EQ(models.why("jet", "core_length_nozzle"),
            "length of the zone of flow establishment (measured, albertson1950)");
  EXPECT_EQ(models.why("jet", "no_such_key"), "");
}

TEST(PhysicsFiles, AreLookedUpInEachFolderInTurn) {
  Problems problems;
  const auto models = load_models({"/nowhere", WINDGAP_MODELS_DIR}, problems);
  EXPECT_TRUE(problems.empty());
  Problems missing;
  (void)load_models({"/nowhere"}, missing);
  EXPECT_FALSE(missing.empty());
}

}  // namespace
}  // namespace windgap::casefile
