#include "casefile/log.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "casefile/folder.h"

namespace windgap::casefile {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

constexpr std::string_view head =
    "format: windgap log 1\n"
    "bench:\n"
    "  title: \"Shed\"\n"
    "  units: metric\n"
    "  values:\n"
    "    fan.bore_diameter: \"70 mm\"\n"
    "attempts:\n";

Log read(std::string_view entries) {
  return read_log(File{.name = "log.yaml", .text = std::string(head) + std::string(entries)});
}

std::string problem_of(std::string_view entries) {
  try {
    (void)read(entries);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

TEST(Log, ReadsWhatWasAppended) {
  const EntryWords words{{"at", "180 mm"},
                         {"when", "2026-05-02 10:20"},
                         {"kind", "lit"},
                         {"caught", "no"},
                         {"failure", "hung"},
                         {"speed", "9800 rpm"},
                         {"pressure", "12 mbar"},
                         {"tap", "mouth"},
                         {"voltage", "21.4 V"},
                         {"oil", "35 degC"},
                         {"note", "said \"no\": # stick \\ in it"}};
  const auto log = read(entry_text(words) + entry_text(words));
  ASSERT_EQ(log.entries.size(), 2U);
  const auto& entry = log.entries.back();
  EXPECT_DOUBLE_EQ(entry.attempt.stand_off, 0.18);
  EXPECT_EQ(entry.attempt.outcome, trials::Outcome::failed);
  EXPECT_EQ(entry.attempt.failure, trials::Failure::hung);
  EXPECT_DOUBLE_EQ(entry.attempt.pressure, 1200.0);
  EXPECT_NEAR(entry.attempt.oil_temperature, 308.15, 1e-9);
  EXPECT_EQ(entry.note, "said \"no\": # stick \\ in it");
  EXPECT_EQ(log.entries.front().place.line, 8);
}

TEST(Log, FreeTextIsKeptWhateverItHolds) {
  const EntryWords words{
      {"at", "180 mm"}, {"when", "yesterday: \"x\" # or so"}, {"kind", "lit"}, {"caught", "yes"}};
  const auto log = read(entry_text(words));
  ASSERT_EQ(log.entries.size(), 1U);
  EXPECT_EQ(log.entries.front().when, "yesterday: \"x\" # or so");
}

TEST(Log, AMisspeltSectionIsNamedWithItsLine) {
  std::string text(head);
  text.replace(text.find("attempts:"), 9, "tries:");
  try {
    (void)read_log(File{.name = "log.yaml", .text = text});
    FAIL() << "accepted";
  } catch (const InputError& error) {
    EXPECT_THAT(error.what(), HasSubstr("log.yaml:7:1: tries"));
    EXPECT_THAT(error.what(), HasSubstr("attempts"));
  }
  std::string furlong(head);
  furlong.replace(furlong.find("metric"), 6, "furlong");
  try {
    (void)read_log(File{.name = "log.yaml", .text = furlong});
    FAIL() << "accepted";
  } catch (const InputError& error) {
    EXPECT_THAT(error.what(), HasSubstr("log.yaml:4:10: bench.units"));
  }
}

TEST(Log, APartThatIsThereNowIsAnotherBench) {
  const auto read_with = [](std::vector<std::string> settings) {
    return read_case(WINDGAP_SOURCE_DIR "/cases/yardstick.yaml",
                     {.settings = std::move(settings), .models = {WINDGAP_MODELS_DIR}});
  };
  const auto log = read_log(File{.name = "log.yaml", .text = log_head(read_with({}))});
  const auto list = differences(log, read_with({"fan.nozzle_diameter=65 mm"}));
  ASSERT_EQ(list.size(), 1U);
  EXPECT_EQ(list.front().key, "fan.nozzle_diameter");
  EXPECT_TRUE(list.front().another_bench);
}

TEST(Log, KeepsTolerances) {
  const auto read_with = [](const std::string& airflow) {
    return read_case(WINDGAP_SOURCE_DIR "/cases/yardstick.yaml",
                     {.settings = {"start.airflow=" + airflow}, .models = {WINDGAP_MODELS_DIR}});
  };
  const auto log = read_log(File{.name = "log.yaml", .text = log_head(read_with("22 ± 4 g/s"))});
  EXPECT_TRUE(differences(log, read_with("22 ± 4 g/s")).empty());
  const auto list = differences(log, read_with("22 ± 1 g/s"));
  ASSERT_EQ(list.size(), 1U);
  EXPECT_EQ(list.front().key, "start.airflow");
  EXPECT_FALSE(list.front().another_bench);
}

TEST(Log, IsEmptyBeforeTheFirstAttempt) { EXPECT_TRUE(read("").entries.empty()); }

TEST(Log, KeepsRemarksOfAPersonOutOfTheWay) {
  const auto log = read("  # cold morning\n  - { at: 0.2 m, kind: cold, speed: 9000 rpm }\n");
  EXPECT_EQ(log.entries.size(), 1U);
}

TEST(Log, ContradictoryEntriesAreNamedWithTheirLine) {
  EXPECT_THAT(problem_of("  - at: 180 mm\n    kind: lit\n    caught: yes\n    failure: hung\n"),
              HasSubstr("log.yaml:11:"));
  EXPECT_THAT(problem_of("  - at: 180 mm\n    kind: cold\n    caught: yes\n    speed: 9 rpm\n"),
              HasSubstr("log.yaml:10:"));
  EXPECT_THAT(problem_of("  - { at: 180 mm, kind: cold }\n"),
              HasSubstr("without speed or pressure"));
  EXPECT_THAT(problem_of("  - { at: 180, kind: lit, caught: no }\n"), HasSubstr("log.yaml:8:"));
  EXPECT_THAT(problem_of("  - { at: 180 mm, kind: lit }\n"), HasSubstr("caught"));
  EXPECT_THAT(problem_of("  - { at: 180 mm, kind: cold, pressure: 9 mbar }\n"), HasSubstr("tap"));
  EXPECT_THAT(problem_of("  - { at: 180 mm, kind: lit, caught: no, sped: 9000 rpm }\n"),
              HasSubstr("speed"));
  EXPECT_THAT(problem_of("  - nonsense\n"), HasSubstr("log.yaml:8:"));
  EXPECT_THAT(problem_of("  - [\n"), HasSubstr("log.yaml"));
}

TEST(Log, EveryProblemOfAllEntriesIsToldAtOnce) {
  const auto text =
      problem_of("  - { at: 1 kg, kind: lit, caught: no }\n  - { at: 9 mm, kind: warm }\n");
  EXPECT_THAT(text, HasSubstr("log.yaml:8:"));
  EXPECT_THAT(text, HasSubstr("log.yaml:9:"));
}

TEST(Log, SomethingElseIsNoLog) {
  EXPECT_THROW((void)read_log(File{.name = "x", .text = "title: a case\n"}), InputError);
}

TEST(Log, WordsThatCannotBeAreNamedByTheirOption) {
  try {
    (void)read_entry({{"at", "180"}, {"kind", "lit"}, {"caught", "perhaps"}});
    FAIL();
  } catch (const InputError& error) {
    EXPECT_THAT(error.what(), HasSubstr("--at"));
    EXPECT_THAT(error.what(), HasSubstr("--caught"));
  }
}

TEST(Log, AnotherFanIsAnotherBenchAndAThingMeasuredBetterIsNot) {
  const auto bench =
      read_case(WINDGAP_SOURCE_DIR "/cases/yardstick.yaml", {.models = {WINDGAP_MODELS_DIR}});
  const auto log = read_log(File{.name = "log", .text = log_head(bench)});
  EXPECT_TRUE(differences(log, bench).empty());
  const auto other =
      read_case(WINDGAP_SOURCE_DIR "/cases/yardstick.yaml",
                {.settings = {"fan=fans/ducted-64.yaml"}, .models = {WINDGAP_MODELS_DIR}});
  const auto list = differences(log, other);
  EXPECT_TRUE(std::any_of(list.begin(), list.end(), [](const Difference& d) {
    return d.key == "fan.bore_diameter" && d.another_bench;
  }));
  const auto measured = read_case(WINDGAP_SOURCE_DIR "/cases/yardstick.yaml",
                                  {.settings = {"site.temperature=20 degC",
                                                "fan.measured.thrust=20 N",
                                                "fan.measured.voltage=21 V"},
                                   .models = {WINDGAP_MODELS_DIR}});
  const auto lesser = differences(log, measured);
  EXPECT_FALSE(lesser.empty());
  for (const auto& one : lesser) EXPECT_FALSE(one.another_bench) << one.key;
}

}  // namespace
}  // namespace windgap::casefile
