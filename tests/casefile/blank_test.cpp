#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "casefile/case.h"
#include "casefile/document.h"

/// cases/blank.yaml, the questions a person answers.
namespace windgap::casefile {
namespace {

const std::filesystem::path blank = std::filesystem::path(WINDGAP_SOURCE_DIR) / "cases/blank.yaml";

/// Answers to everything marked as needed, for a bench of parts.
const std::vector<std::string> needed{"fan.bore_diameter=64 mm",
                                      "fan.thrust=1.9 kg",
                                      "drive.pack.cells=6",
                                      "drive.pack.capacity=3300 mAh",
                                      "engine.compressor.inducer_diameter=46 mm",
                                      "engine.compressor.exducer_diameter=65 mm",
                                      "engine.turbine.inducer_diameter=58 mm",
                                      "engine.turbine.exducer_diameter=49 mm",
                                      "engine.turbine.volute_area_over_radius=0.63 in",
                                      "engine.bearings.oil.cold.temperature=40 degC",
                                      "engine.bearings.oil.cold.kinematic_viscosity=32 cSt",
                                      "engine.bearings.oil.hot.temperature=100 degC",
                                      "engine.bearings.oil.hot.kinematic_viscosity=5.4 cSt",
                                      "mount.nearest=20 mm",
                                      "mount.farthest=600 mm"};

Case filled(std::vector<std::string> answers) {
  ReadOptions options;
  options.installed = WINDGAP_MODELS_DIR;
  options.settings = std::move(answers);
  return read_case(blank, options);
}

void collect_keys(const Node& node, const std::string& path, std::set<std::string>& keys) {
  for (const auto& entry : node.entries) {
    keys.insert(join_path(path, entry.key));
    collect_keys(entry.value, join_path(path, entry.key), keys);
  }
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    collect_keys(node.items[i], join_path(path, std::to_string(i)), keys);
  }
}

TEST(Blank, IsACaseOnceFilled) {
  const auto bench = filled(needed);
  EXPECT_EQ(bench.title, "blank");
  EXPECT_FALSE(bench.assumed.empty());
}

TEST(Blank, NeedsEveryAnswerItCallsNeeded) {
  for (std::size_t i = 0; i < needed.size(); ++i) {
    auto answers = needed;
    answers.erase(answers.begin() + static_cast<std::ptrdiff_t>(i));
    EXPECT_THROW((void)filled(std::move(answers)), InputError) << needed[i];
  }
}

TEST(Blank, TakesMeasuredEndsInPlaceOfParts) {
  const auto bench = filled({"fan.stream.exit_diameter=60 mm",
                             "fan.stream.velocity=72 m/s",
                             "engine.resistance.throat_diameter=46 mm",
                             "engine.resistance.loss_factor=14",
                             "mount.nearest=20 mm",
                             "mount.farthest=600 mm",
                             "start.airflow=24 g/s"});
  EXPECT_TRUE(std::holds_alternative<fan::Stream>(bench.parts.source));
}

TEST(Blank, AsksForExactlyTheAcceptedKeys) {
  std::set<std::string> accepted;
  for (const auto& [path, keys] : filled(needed).accepted) {
    for (const auto& key : keys) accepted.insert(join_path(path, key));
  }
  Problems problems;
  const auto tree = parse_document(read_file(blank, problems).value(), problems).value();
  std::set<std::string> asked;
  collect_keys(tree, "", asked);
  EXPECT_EQ(asked, accepted);
}

void collect_questions(const Node& node, std::vector<int>& lines) {
  for (const auto& entry : node.entries) {
    if (entry.value.kind == Node::Kind::null) lines.push_back(entry.place.line);
    collect_questions(entry.value, lines);
  }
  for (const auto& item : node.items) collect_questions(item, lines);
}

TEST(Blank, SaysAtEveryQuestionHowToAnswerAndWhatHappensElse) {
  Problems problems;
  const auto file = read_file(blank, problems).value();
  std::vector<int> questions;
  collect_questions(parse_document(file, problems).value(), questions);
  EXPECT_GT(questions.size(), 150U);
  std::istringstream text(file.text);
  std::vector<std::string> lines(1);
  for (std::string line; std::getline(text, line);) lines.push_back(line);
  std::set<int> asked;
  for (const int number : questions) {
    EXPECT_TRUE(asked.insert(number).second) << "two questions on line " << number;
    const auto& line = lines.at(static_cast<std::size_t>(number));
    const auto help = line.substr(std::min(line.find("# "), line.size()));
    EXPECT_TRUE(help.find("; else ") != std::string::npos ||
                help.find("; needed") != std::string::npos)
        << line;
  }
}

TEST(Blank, NamesItsLinesWhenSomethingNeededIsEmpty) {
  try {
    (void)filled({});
    FAIL() << "an empty case was accepted";
  } catch (const InputError& error) {
    EXPECT_EQ(error.problems().size(), needed.size());
    for (const auto& problem : error.problems()) {
      std::ifstream file(blank);
      std::string line;
      for (int i = 0; i < problem.place.line; ++i) std::getline(file, line);
      const auto key = problem.key.substr(problem.key.rfind('.') + 1);
      EXPECT_NE(line.find(key + ":"), std::string::npos) << to_text(problem);
    }
  }
}

}  // namespace
}  // namespace windgap::casefile
