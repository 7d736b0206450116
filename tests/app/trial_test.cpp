// `trial` and `learn` from the outside: nothing is lost, two writers wait for each other.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <thread>

#include "app/folder_lock.h"
#include "app/program.h"
#include "casefile/folder.h"
#include "casefile/log.h"
#include "report/shown.h"

namespace windgap::app {
namespace {

using test::content;
using test::Ran;
using Json = nlohmann::json;
using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

const std::string bench = WINDGAP_SOURCE_DIR "/cases/yardstick.yaml";

class CliTrial : public testing::Test {
 protected:
  [[nodiscard]] Ran windgap(const std::string& arguments, const std::string& name = "out") const {
    return test::run_program(folder_.path(), arguments, name);
  }
  [[nodiscard]] std::string log() const { return (folder_.path() / "shed" / "log.yaml").string(); }
  [[nodiscard]] Ran trial(const std::string& words, const std::string& name = "out") const {
    return windgap(fmt::format("trial '{}' --case {} {}", log(), bench, words), name);
  }

  void SetUp() override { std::filesystem::create_directories(folder_.path() / "shed"); }

  casefile::Folder folder_;
};

TEST_F(CliTrial, TheFirstAttemptNeedsTheCase) {
  const auto ran = windgap(fmt::format("trial '{}' --at '180 mm' --kind lit --caught no", log()));
  EXPECT_EQ(ran.exit, 2);
  EXPECT_THAT(ran.err, HasSubstr("--case"));
  EXPECT_FALSE(std::filesystem::exists(log()));
}

TEST_F(CliTrial, AppendsAndKeepsWhatAPersonWrote) {
  ASSERT_EQ(trial("--at '180 mm' --kind lit --caught no --failure hung").exit, 0);
  const auto first = content(log());
  std::ofstream(log(), std::ios::app) << "  # swept the guard\n";
  ASSERT_EQ(trial("--at '120 mm' --kind lit --caught yes --note 'fine: \"loud\"'").exit, 0);
  EXPECT_THAT(content(log()), StartsWith(first + "  # swept the guard\n"));
  EXPECT_EQ(casefile::read_log(log()).entries.size(), 2U);
}

TEST_F(CliTrial, BadWordsLeaveTheLogAsItWas) {
  ASSERT_EQ(trial("--at '180 mm' --kind lit --caught no").exit, 0);
  const auto before = content(log());
  const auto ran = trial("--at '180 stone' --kind lit --caught no");
  EXPECT_EQ(ran.exit, 2);
  EXPECT_THAT(ran.err, HasSubstr("--at"));
  EXPECT_EQ(content(log()), before);
}

TEST_F(CliTrial, ADamagedLogIsNamedByItsLineAndNotTouched) {
  ASSERT_EQ(trial("--at '180 mm' --kind lit --caught no").exit, 0);
  std::ofstream(log(), std::ios::app) << "  - at: somewhere\n";
  const auto before = content(log());
  const auto ran = trial("--at '120 mm' --kind lit --caught yes");
  EXPECT_EQ(ran.exit, 2);
  EXPECT_THAT(ran.err, HasSubstr("log.yaml:"));
  EXPECT_EQ(content(log()), before);
}

TEST_F(CliTrial, AnotherFanIsRefusedWithTheDifference) {
  ASSERT_EQ(trial("--at '180 mm' --kind lit --caught no").exit, 0);
  const auto ran =
      windgap(fmt::format("learn {} '{}' --set fan=fans/ducted-64.yaml", bench, log()));
  EXPECT_EQ(ran.exit, 2);
  EXPECT_THAT(ran.err, HasSubstr("fan.bore_diameter"));
  EXPECT_THAT(ran.err, HasSubstr("70 mm"));
  EXPECT_THAT(ran.err, HasSubstr("64 mm"));
}

TEST_F(CliTrial, TwoWritersAtOnceLoseNothing) {
  constexpr int each = 4;
  ASSERT_EQ(trial("--at '180 mm' --kind lit --caught no").exit, 0);
  const auto write = [&](const std::string& name) {
    for (int i = 0; i < each; ++i) {
      EXPECT_EQ(trial("--at '150 mm' --kind cold --speed '9000 rpm'", name).exit, 0);
    }
  };
  std::thread one([&] { write("one"); });
  std::thread two([&] { write("two"); });
  one.join();
  two.join();
  EXPECT_EQ(casefile::read_log(log()).entries.size(), 1U + 2U * each);
}

TEST_F(CliTrial, ALockedFolderIsSaidToBe) {
  ASSERT_EQ(trial("--at '180 mm' --kind lit --caught no").exit, 0);
  const auto before = content(log());
  const FolderLock lock(folder_.path() / "shed");
  const auto ran = trial("--at '150 mm' --kind cold --speed '9000 rpm'");
  EXPECT_EQ(ran.exit, 2);
  EXPECT_THAT(ran.err, HasSubstr("another windgap"));
  EXPECT_EQ(content(log()), before);
}

TEST_F(CliTrial, LearnAnswersInJsonWithItsKeysAndTheSameBytesByThreads) {
  ASSERT_EQ(trial("--at '120 mm' --kind cold --speed '15000 rpm'").exit, 0);
  ASSERT_EQ(trial("--at '120 mm' --kind lit --caught yes").exit, 0);
  const auto one = windgap(fmt::format("learn {} '{}' --json --threads 1", bench, log()));
  const auto two = windgap(fmt::format("learn {} '{}' --json --threads 2", bench, log()));
  ASSERT_EQ(one.exit, 0) << one.err;
  EXPECT_EQ(one.out, two.out);
  const auto document = Json::parse(one.out);
  for (const auto* key :
       {"stand_off_m", "reliability", "next_stand_off_m", "stop", "effective_sample_size"}) {
    EXPECT_TRUE(document.contains(key)) << key;
  }
}

TEST_F(CliTrial, ANoteThatIsNoTextIsNotWritten) {
  ASSERT_EQ(trial("--at '180 mm' --kind lit --caught no").exit, 0);
  const auto before = content(log());
  const auto ran =
      trial("--at '150 mm' --kind cold --speed '9000 rpm' --note \"$(printf 'bad\\377')\"");
  EXPECT_EQ(ran.exit, 2);
  EXPECT_THAT(ran.err, HasSubstr("--note: this is not text"));
  EXPECT_EQ(content(log()), before);
}

TEST_F(CliTrial, AnOpenQuotationMarkSwallowsNothing) {
  ASSERT_EQ(trial("--at '180 mm' --kind lit --caught no --failure hung --note sound").exit, 0);
  const auto sound = content(log());
  for (const std::string quote : {"'", "\""}) {
    const auto open =
        sound.substr(0, sound.rfind("note:")) + "note: " + quote + "stayed at 18000\n";
    std::ofstream(log()) << open;
    const auto ran = trial("--at '200 mm' --kind lit --caught yes");
    EXPECT_EQ(ran.exit, 2) << quote;
    EXPECT_THAT(ran.err, HasSubstr("log.yaml:")) << quote;
    EXPECT_EQ(content(log()), open) << quote;
  }
}

// An open mark in one entry and a lone one in the next make a text of both that YAML accepts.
TEST_F(CliTrial, EntriesThatHangTogetherByAMarkAreNamed) {
  ASSERT_EQ(trial("--at '180 mm' --kind lit --caught yes --note fine").exit, 0);
  ASSERT_EQ(trial("--at '200 mm' --kind lit --caught yes --note fine").exit, 0);
  auto text = content(log());
  text.replace(text.find("note: \"fine\""), 12, "note: \"new pack");
  text.replace(text.find("note: \"fine\""), 12, "note: moved by 3\"");
  std::ofstream(log()) << text;
  const auto ran = windgap(fmt::format("learn {} '{}'", bench, log()));
  EXPECT_EQ(ran.exit, 2);
  EXPECT_THAT(ran.err, HasSubstr("not closed on its line"));
  const auto line =
      std::count(text.begin(), text.begin() + static_cast<long>(text.find("\"new")), '\n');
  EXPECT_THAT(ran.err, HasSubstr(fmt::format("log.yaml:{}:", line + 1)));
}

TEST_F(CliTrial, MarksInsideTextAreText) {
  ASSERT_EQ(trial("--at '180 mm' --kind lit --caught yes --note \"it's 3\\\" off # so\"").exit, 0);
  std::ofstream(log(), std::ios::app) << "  # the fan's cable\n";
  ASSERT_EQ(trial("--at '190 mm' --kind lit --caught yes").exit, 0);
  EXPECT_EQ(casefile::read_log(log()).entries.size(), 2U);
}

TEST_F(CliTrial, NothingIsLockedThatHasNotCaughtOnce) {
  for (const auto* at : {"120 mm", "180 mm", "240 mm", "300 mm"}) {
    ASSERT_EQ(trial(fmt::format("--at '{}' --kind cold --speed '18000 rpm'", at)).exit, 0);
  }
  for (int again = 0; again < 2; ++again) {
    ASSERT_EQ(trial("--at '260 mm' --kind lit --caught no --failure hung").exit, 0);
    const auto ran = windgap(fmt::format("learn {} '{}' --quiet", bench, log()));
    EXPECT_THAT(ran.out, Not(HasSubstr("Lock"))) << again;
  }
}

TEST_F(CliTrial, AnAttemptSetAsideIsKeptAndCountsNoMore) {
  std::filesystem::copy_file(WINDGAP_SOURCE_DIR "/cases/yardstick-log.yaml", log());
  ASSERT_EQ(trial("--at '150 mm' --kind lit --caught no --failure hung").exit, 0);
  const auto learn = fmt::format("learn {} '{}' --json", bench, log());
  EXPECT_THAT(windgap(learn).out, HasSubstr("--set-aside 5"));
  const auto without_note = trial("--set-aside 5");
  EXPECT_EQ(without_note.exit, 2);
  EXPECT_THAT(without_note.err, HasSubstr("--note"));
  EXPECT_EQ(trial("--set-aside 6 --note x").exit, 2);
  EXPECT_EQ(trial("--set-aside 5 --at '120 mm' --note x").exit, 2);
  const auto before = content(log());
  ASSERT_EQ(trial("--set-aside 5 --note 'a stick in the guard, removed'").exit, 0);
  EXPECT_THAT(content(log()), StartsWith(before));
  const auto learned = Json::parse(windgap(learn).out);
  EXPECT_EQ(learned.at("contradictions").size(), 0U);
  ASSERT_EQ(learned.at("attempts").size(), 5U);
  EXPECT_EQ(learned.at("attempts")[4].at("set_aside"), "a stick in the guard, removed");
  EXPECT_TRUE(learned.at("attempts")[0].at("set_aside").is_null());
  for (const auto& one : learned.at("evidence")) EXPECT_NE(one.at("attempt"), 5);
}

TEST_F(CliTrial, NothingIsProposedInJsonThatTheTextDoesNotPropose) {
  std::filesystem::copy_file(WINDGAP_SOURCE_DIR "/cases/yardstick-log.yaml", log());
  ASSERT_EQ(trial("--at '150 mm' --kind lit --caught no --failure hung").exit, 0);
  const auto ran = windgap(fmt::format("learn {} '{}' --json", bench, log()));
  const auto learned = Json::parse(ran.out);
  ASSERT_GT(learned.at("contradictions").size(), 0U);
  EXPECT_TRUE(learned.at("next_kind").is_null());
  EXPECT_TRUE(learned.at("next_stand_off_m").is_null());
}

TEST_F(CliTrial, SeveralDarkAttemptsPointAtSparkAndFuel) {
  for (const auto* at : {"200 mm", "150 mm"}) {
    ASSERT_EQ(trial(fmt::format("--at '{}' --kind lit --caught no --failure no_light", at)).exit,
              0);
  }
  const auto ran = windgap(fmt::format("learn {} '{}'", bench, log()));
  std::istringstream words(ran.out);
  std::string flowed;
  for (std::string word; words >> word;) flowed += word + " ";
  EXPECT_THAT(flowed, HasSubstr("2 attempts did not light at all"));
  EXPECT_THAT(flowed, HasSubstr("Look at spark and fuel before the next start"));
  EXPECT_EQ(ran.exit, 1);
}

TEST_F(CliTrial, AnAnswerReplacesNeitherLogNorCase) {
  ASSERT_EQ(trial("--at '180 mm' --kind lit --caught no").exit, 0);
  const auto before = content(log());
  const auto ran = windgap(fmt::format("learn {} '{}' --out '{}'", bench, log(), log()));
  EXPECT_EQ(ran.exit, 2);
  EXPECT_THAT(ran.err, HasSubstr("LOG and --out both name"));
  EXPECT_EQ(content(log()), before);
}

const std::string logged = WINDGAP_SOURCE_DIR "/cases/yardstick-log.yaml";

TEST_F(CliTrial, TheMountStaysOnTheBracketsTravelWhereverAttemptsWere) {
  const auto ran =
      windgap(fmt::format("learn {} {} --json --set mount.farthest='200 mm'", bench, logged));
  ASSERT_EQ(ran.exit, 0) << ran.err;
  const auto document = Json::parse(ran.out);
  EXPECT_LE(document.at("edge_m").get<double>(), 0.2);
  for (const auto& reach : document.at("reach_5_50_95_m")) EXPECT_LE(reach.get<double>(), 0.2);
}

TEST_F(CliTrial, NoStartIsNamedFirstWhileAnAttemptContradicts) {
  const auto sound = windgap(fmt::format("learn {} {} --quiet", bench, logged));
  EXPECT_THAT(sound.out, Not(HasSubstr("Look before")));
  std::ofstream(log()) << content(logged) << "  - { at: 200 mm, kind: cold, speed: 50 rpm }\n";
  const auto ran = windgap(fmt::format("learn {} '{}'", bench, log()));
  EXPECT_THAT(ran.out, HasSubstr("Look before the next start: attempt"));
  EXPECT_LT(ran.out.find("Look before"), ran.out.find("Next a "));
}

TEST_F(CliTrial, AttemptsThatAgreeButFitNoBenchOfTheCaseAreCalledOut) {
  ASSERT_EQ(trial("--at '120 mm' --kind cold --speed '4500 rpm'").exit, 0);
  ASSERT_EQ(trial("--at '200 mm' --kind cold --speed '4000 rpm'").exit, 0);
  ASSERT_EQ(trial("--at '250 mm' --kind cold --speed '3700 rpm'").exit, 0);
  const auto document = Json::parse(windgap(fmt::format("learn {} '{}' --json", bench, log())).out);
  EXPECT_THAT(document.at("headline").get<std::string>(), HasSubstr("contradict"));
  ASSERT_FALSE(document.at("contradictions").empty());
}

TEST_F(CliTrial, LearnKeepsToEightyColumns) {
  ASSERT_EQ(trial("--at '180 mm' --kind lit --caught no --failure no_light --speed '9800 rpm' "
                  "--pressure '12 mbar' --tap mouth --voltage '21.4 V' --oil '35 degC'")
                .exit,
            0);
  std::istringstream lines(windgap(fmt::format("learn {} '{}'", bench, log())).out);
  for (std::string line; std::getline(lines, line);) {
    EXPECT_LE(report::width_of(line), 80U) << line;
  }
}

TEST_F(CliTrial, ADistanceThatIsNotReliableEnoughSaysSo) {
  const auto ran = windgap("place " WINDGAP_SOURCE_DIR
                           "/cases/demo.yaml --set start.reliability='95 %' --at '270 mm'");
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.out, HasSubstr("not as reliably as asked"));
  EXPECT_THAT(ran.out, HasSubstr("of starts have air enough"));
}

TEST_F(CliTrial, PlaceWithReliabilityAnswersWithBothMounts) {
  const auto one =
      windgap(fmt::format("place {} --set start.confidence='60 %' --json --threads 1", bench));
  const auto two =
      windgap(fmt::format("place {} --set start.confidence='60 %' --json --threads 2", bench));
  EXPECT_EQ(one.out, two.out);
  const auto document = Json::parse(one.out);
  EXPECT_DOUBLE_EQ(document.at("reliability").get<double>(), 0.95);
  EXPECT_TRUE(document.contains("nominal_stand_off_m"));
  EXPECT_NE(
      windgap(fmt::format("place {} --set start.confidence='60 %' --json --seed 7", bench)).out,
      one.out);
}

/// The demo without its stated airflow, another piece of it replaced, beside the log.
std::string derived(const std::filesystem::path& folder,
                    const std::string& old_text = "",
                    const std::string& new_text = "") {
  auto text = content(WINDGAP_SOURCE_DIR "/cases/demo.yaml");
  const auto replace = [&](const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    ASSERT_NE(at, std::string::npos) << from;
    text.replace(at, from.size(), to);
  };
  replace("airflow: 24 g/s, ", "");
  if (!old_text.empty()) replace(old_text, new_text);
  const auto path = folder / "shed" / "garden.yaml";
  std::ofstream(path) << text;
  return path.string();
}

TEST_F(CliTrial, NoFlameIsProposedWhereAStartRunsHot) {
  const auto garden = derived(
      folder_.path(), "valve: controlled, greatest_flow: 3 g/s", "valve: fixed, flow: 0.36 g/s");
  ASSERT_EQ(
      windgap(fmt::format("trial '{}' --case '{}' --at '300 mm' --kind cold --speed '14500 rpm' "
                          "--pressure '25 mbar' --tap mouth",
                          log(),
                          garden))
          .exit,
      0);
  const auto ran = windgap(fmt::format("learn '{}' '{}'", garden, log()));
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.out, HasSubstr("No start yet: a start run at"));
  const auto json = Json::parse(windgap(fmt::format("learn '{}' '{}' --json", garden, log())).out);
  EXPECT_TRUE(json["next_stand_off_m"].is_null());
  EXPECT_EQ(json["refused_by_start_run"]["reason"], "gas_temperature_limit");
}

TEST_F(CliTrial, NearestToReliableIsWhereMostBenchesAre) {
  // From where the fan's other limits hold.
  const auto garden = derived(folder_.path(), "nearest: 20 mm", "nearest: 40 mm");
  for (int i = 0; i < 4; ++i) {
    ASSERT_EQ(windgap(fmt::format("trial '{}' --case '{}' --at '100 mm' --kind lit --caught no "
                                  "--failure hung",
                                  log(),
                                  garden))
                  .exit,
              0);
  }
  const auto json = Json::parse(windgap(fmt::format("learn '{}' '{}' --json", garden, log())).out);
  ASSERT_TRUE(json["stand_off_m"].is_null());
  double most = 0.0;
  for (const auto& place : json["prospects"]) {
    most = std::max(most, place["benches_reliable"].get<double>());
  }
  EXPECT_NEAR(json["benches_reliable"].get<double>(), most, 0.2 * most);
}

TEST_F(CliTrial, LearnWritesAPageWithTheCurvesBeforeAndAfter) {
  const std::string cases = WINDGAP_SOURCE_DIR "/cases/";
  const auto page = folder_.path() / "lesson.html";
  const auto ran = windgap(fmt::format(
      "learn {0}yardstick.yaml {0}yardstick-log.yaml --out '{1}'", cases, page.string()));
  EXPECT_LE(ran.exit, 1) << ran.err;
  const auto text = content(page);
  EXPECT_THAT(text, HasSubstr("Before and after the attempts"));
  EXPECT_THAT(text, HasSubstr("<svg"));
  EXPECT_THAT(text, Not(HasSubstr("nan")));
  EXPECT_THAT(text, HasSubstr("</html>"));
}

TEST_F(CliTrial, ReportOfAReliableMountDrawsItsCurves) {
  const auto page = folder_.path() / "page.html";
  const auto ran = windgap(fmt::format(
      "report {}/cases/yardstick.yaml --out '{}' --quiet", WINDGAP_SOURCE_DIR, page.string()));
  EXPECT_LE(ran.exit, 1) << ran.err;
  const auto text = content(page);
  EXPECT_THAT(text, HasSubstr("Share of attempts that find air enough"));
  EXPECT_THAT(text, Not(HasSubstr(">nan")));
}

}  // namespace
}  // namespace windgap::app
