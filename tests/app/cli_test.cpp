// The built program from the outside: exit codes, what goes to which stream, options.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <sstream>

#include "app/program.h"
#include "casefile/folder.h"

namespace windgap::app {
namespace {

using test::content;
using test::Ran;
using Json = nlohmann::json;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::StartsWith;

const std::string cases = WINDGAP_SOURCE_DIR "/cases/";

class Cli : public testing::Test {
 protected:
  [[nodiscard]] Ran windgap(const std::string& arguments) const {
    return test::run_program(folder_.path(), arguments);
  }
  [[nodiscard]] std::string path(const std::string& name) const {
    return (folder_.path() / name).string();
  }

  casefile::Folder folder_;
};

TEST_F(Cli, AnsweredYesIsZero) {
  const auto ran = windgap("place " + cases + "demo.yaml");
  EXPECT_EQ(ran.exit, 0);
  EXPECT_THAT(ran.out, HasSubstr("Drill at "));
  EXPECT_THAT(ran.err, IsEmpty());
}

TEST_F(Cli, AnsweredNoIsOneWithReasonAndCure) {
  const auto ran = windgap("place " + cases + "too-small.yaml");
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.out, HasSubstr("No distance works"));
  EXPECT_THAT(ran.out, HasSubstr("What would mend it"));
  EXPECT_THAT(ran.err, IsEmpty());
}

TEST_F(Cli, JsonIsOneDocumentOnYesAndNo) {
  for (const auto* name : {"demo", "measured-inches", "too-small"}) {
    const auto ran = windgap(fmt::format("place {}{}.yaml --json", cases, name));
    const auto document = Json::parse(ran.out);
    EXPECT_EQ(document.at("feasible").get<bool>(), ran.exit == 0) << name;
    EXPECT_THAT(ran.out, Not(HasSubstr("nan")));
  }
}

TEST_F(Cli, BadInputIsTwoAndLeavesStandardOutputEmpty) {
  const std::vector<std::pair<std::string, std::string>> tries{
      {"", "what is the question"},
      {"plaze", "did you mean place"},
      {"place", "which case file"},
      {"place " + cases + "none.yaml", "none.yaml"},
      {"place " + cases, "cases"},
      {"place " + cases + "demo.yaml --jsn", "did you mean --json"},
      {"place " + cases + "demo.yaml more", "more"},
      {"place " + cases + "demo.yaml --step 1mm", "--step"},
      {"place " + cases + "demo.yaml --threads many", "read \"many\"; wanted: a whole number"},
      {"place " + cases + "demo.yaml --seed 18446744073709551616", "wanted: a whole number"},
      {"place " + cases + "demo.yaml --seed ''", "read \"\"; wanted: a whole number"},
      {"place " + cases + "demo.yaml --at ''", "wanted: a value"},
      {"place " + cases + "demo.yaml --out ''", "wanted: the name of a file"},
      {"choose " + cases + "demo.yaml --template ''", "wanted: the name of a file"},
      {"sweep " + cases + "demo.yaml --csv -", "./- for one of that name"},
      {"place " + cases + "demo.yaml --threads 9999999", "wanted: a whole number from 0 to 1024"},
      {"place " + cases + "demo.yaml --at", "--at"},
      {"place " + cases + "demo.yaml --at 187", "187 mm"},
      {"place " + cases + "demo.yaml --at 0mm", "1 mm to 10000 mm"},
      {"place " + cases + "demo.yaml --at nan", "--at"},
      {"place " + cases + "demo.yaml --set mount.nearst=3mm", "did you mean"},
      {"place " + cases + "demo.yaml --set nothing", "--set"},
      {"place " + cases + "demo.yaml --json --set fan.bore_diameter=1m", "fan.bore_diameter"},
      {"sweep " + cases + "demo.yaml --step 0mm", "above 0"},
      {"sweep " + cases + "demo.yaml --step 1nm", "--step"},
      {"sweep " + cases + "demo.yaml --csv /nowhere/at/all.csv", "/nowhere/at/all.csv"},
      {"place " + cases + "demo.yaml --out /nowhere/at/all.txt", "/nowhere/at/all.txt"}};
  for (const auto& [arguments, message] : tries) {
    const auto ran = windgap(arguments);
    EXPECT_EQ(ran.exit, 2) << arguments << "\n" << ran.err;
    EXPECT_THAT(ran.out, IsEmpty()) << arguments;
    EXPECT_THAT(ran.err, HasSubstr(message)) << arguments;
  }
}

TEST_F(Cli, CoolSaysYesNoOrWhatIsWrong) {
  const auto models = fmt::format(" --models {}", WINDGAP_MODELS_DIR);
  const auto yes = windgap("cool " + cases + "demo.yaml --csv " + path("cool.csv") + models);
  EXPECT_EQ(yes.exit, 0) << yes.err;
  EXPECT_THAT(yes.out, HasSubstr("1. Fuel off"));
  EXPECT_THAT(content(path("cool.csv")), StartsWith("course,time_s,rotor_k"));
  const auto no =
      windgap("cool " + cases + "demo.yaml --set cool.charge_left=10mAh --json" + models);
  EXPECT_EQ(no.exit, 1);
  EXPECT_FALSE(Json::parse(no.out).at("feasible").get<bool>());
  const std::vector<std::pair<std::string, std::string>> tries{
      {"demo.yaml --set cool.casing.material=wood", "cool.casing.material"},
      {"demo.yaml --set cool.casing.mass=-1kg", "0.005 kg to 100 kg"},
      {"demo.yaml --set cool.rotor.temperature=5degC", "colder than the room"},
      {"demo.yaml --at 0mm", "1 mm to 10000 mm"},
      {"measured-inches.yaml", "no metal to cool"}};
  for (const auto& [arguments, message] : tries) {
    const auto ran = windgap("cool " + cases + arguments + models);
    EXPECT_EQ(ran.exit, 2) << arguments;
    EXPECT_THAT(ran.out, IsEmpty()) << arguments;
    EXPECT_THAT(ran.err, HasSubstr(message)) << arguments;
  }
}

TEST_F(Cli, AnswerThatCannotBeWrittenIsNoAnswer) {
  const auto command =
      fmt::format("{} place {}demo.yaml > /dev/full 2> '{}'", WINDGAP_PROGRAM, cases, path("err"));
  const int status = std::system(command.c_str());
  ASSERT_TRUE(WIFEXITED(status));
  EXPECT_EQ(WEXITSTATUS(status), 2);
  EXPECT_THAT(content(path("err")), HasSubstr("standard output"));
}

TEST_F(Cli, HelpAndVersionAnswerWithZero) {
  EXPECT_THAT(windgap("--version").out, StartsWith("windgap "));
  for (const auto* arguments : {"--help", "--version", "place --help", "sweep --help"}) {
    const auto ran = windgap(arguments);
    EXPECT_EQ(ran.exit, 0) << arguments;
    EXPECT_THAT(ran.out, Not(IsEmpty())) << arguments;
    EXPECT_THAT(ran.err, IsEmpty()) << arguments;
  }
}

TEST_F(Cli, QuietPlaceIsOneLine) {
  const auto ran = windgap("place " + cases + "demo.yaml --quiet");
  EXPECT_EQ(ran.exit, 0);
  EXPECT_EQ(std::count(ran.out.begin(), ran.out.end(), '\n'), 1);
  EXPECT_THAT(ran.out, StartsWith("Drill at "));
}

TEST_F(Cli, AskedDistanceIsJudged) {
  EXPECT_EQ(windgap("place " + cases + "demo.yaml --at 250mm").exit, 0);
  EXPECT_EQ(windgap("place " + cases + "demo.yaml --at 9.84in").exit, 0);
  const auto outside = windgap("place " + cases + "demo.yaml --at 900mm --json");
  EXPECT_EQ(outside.exit, 1);
  EXPECT_TRUE(Json::parse(outside.out).at("outside_travel").get<bool>());
}

TEST_F(Cli, SettingsCountInOrder) {
  const auto nominal = Json::parse(windgap("place " + cases + "demo.yaml --json").out);
  const auto ran = windgap("place " + cases +
                           "demo.yaml --json --set start.airflow=90g/s --set start.airflow=26g/s");
  const auto changed = Json::parse(ran.out);
  EXPECT_NEAR(changed.at("starting_airflow_kg_s").get<double>(), 0.026, 1e-12);
  EXPECT_LT(changed.at("stand_off_m").get<double>(), nominal.at("stand_off_m").get<double>());
}

TEST_F(Cli, ThreadsDoNotChangeAByte) {
  const auto one = windgap("place " + cases + "too-small.yaml --json --threads 1 --seed 1");
  const auto all = windgap("place " + cases + "too-small.yaml --json --seed 9");
  EXPECT_EQ(one.out, all.out);
  EXPECT_THAT(one.out, Not(IsEmpty()));
}

// One millimetre beyond the edge the constraint named active fails; at the edge less the slip it
// holds.
TEST_F(Cli, SweepConfirmsTheMount) {
  const auto placed = Json::parse(windgap("place " + cases + "demo.yaml --json").out);
  const double edge = placed.at("edge_m");
  const auto beyond = Json::parse(
      windgap(fmt::format("place {}demo.yaml --json --at {}m", cases, edge + 1e-3)).out);
  std::vector<std::string> active;
  for (const auto& constraint : placed.at("constraints")) {
    if (constraint.at("active").get<bool>()) active.push_back(constraint.at("name"));
  }
  ASSERT_EQ(active.size(), 1U);
  for (const auto& constraint : beyond.at("constraints")) {
    if (constraint.at("name") == active.front()) {
      EXPECT_LT(constraint.at("slack").get<double>(), 0.0);
    }
  }
  const auto sweep = windgap("sweep " + cases + "demo.yaml --json --step 1mm");
  EXPECT_EQ(sweep.exit, 0);
  double farthest = 0.0;
  const auto swept = Json::parse(sweep.out);
  for (const auto& row : swept.at("rows")) {
    if (row.at("feasible").get<bool>()) farthest = row.at("stand_off_m");
  }
  EXPECT_LE(farthest, edge);
  EXPECT_GT(farthest, edge - 1e-3);
}

/// Numbers of two documents agree to `tolerance`, everything else is the same.
void expect_alike(const Json& a, const Json& b, double tolerance, const std::string& where) {
  if (a.is_number() && b.is_number()) {
    const double x = a;
    const double y = b;
    EXPECT_NEAR(x, y, tolerance * (1e-3 + std::abs(y))) << where;
    return;
  }
  ASSERT_EQ(a.type(), b.type()) << where;
  if (a.is_object() || a.is_array()) {
    ASSERT_EQ(a.size(), b.size()) << where;
    for (const auto& [key, value] : a.items()) {
      const auto& other = b.is_object() ? b.at(key) : b.at(std::stoul(key));
      expect_alike(value, other, tolerance, where + "/" + key);
    }
    return;
  }
  EXPECT_EQ(a, b) << where;
}

// The committed outputs are the program's: after a wanted change run cases/run and commit them.
TEST_F(Cli, CommittedDemoIsWhatTheProgramSays) {
  const auto committed = Json::parse(content(WINDGAP_SOURCE_DIR "/reports/demo.json"));
  auto now = Json::parse(windgap("place " + cases + "demo.yaml --json").out);
  expect_alike(now, committed, 1e-6, "");
}

TEST_F(Cli, CommittedSweepIsWhatTheProgramSays) {
  const auto path = folder_.path() / "rows.csv";
  ASSERT_EQ(windgap("sweep " + cases + "demo.yaml --csv " + path.string()).exit, 0);
  const auto rows = [](const std::string& text) {
    Json table = Json::array();
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
      Json row = Json::array();
      std::istringstream cells(line);
      for (std::string cell; std::getline(cells, cell, ',');) {
        char* end = nullptr;
        const double number = std::strtod(cell.c_str(), &end);
        row.push_back(!cell.empty() && *end == '\0' ? Json(number) : Json(cell));
      }
      table.push_back(row);
    }
    return table;
  };
  const auto committed = content(WINDGAP_SOURCE_DIR "/reports/demo-sweep.csv");
  expect_alike(rows(content(path)), rows(committed), 1e-6, "");
}

// An assumption that is weighed may not make a fan that is none.
TEST_F(Cli, AHubAlmostAsWideAsTheExitHasAnAnswer) {
  const auto ran = windgap("place " + cases +
                           "demo.yaml --set fan.axis_readings= --set fan.hub_end=blunt --set "
                           "fan.hub_diameter=63mm --set fan.thrust=10N");
  EXPECT_EQ(ran.exit, 1) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("No distance works"));
}

TEST_F(Cli, WhatLiesOutsideAModelsRangeOrSenseIsFlagged) {
  const auto says = [&](const std::string& settings) {
    auto text = windgap("place " + cases + "demo.yaml --set " + settings).out;
    std::replace(text.begin(), text.end(), '\n', ' ');
    return text;
  };
  EXPECT_THAT(says("fan.hub_diameter=60mm"), HasSubstr("A hub of 85.7 % of the bore is outside"));
  EXPECT_THAT(says("drive.controller.current_limit=30A"), HasSubstr("No jet of this fan"));
  EXPECT_THAT(says("site.altitude=220m"), Not(HasSubstr("Warning")));
}

TEST_F(Cli, ReadmeShowsWhatTheProgramSays) {
  const auto now = windgap("place " + cases + "demo.yaml").out;
  EXPECT_EQ(now, content(WINDGAP_SOURCE_DIR "/reports/demo.txt"));
  EXPECT_THAT(content(WINDGAP_SOURCE_DIR "/README.md"), HasSubstr(now));
}

TEST_F(Cli, SparkAnswersYesNoAndBadInput) {
  const auto yes = windgap("spark " + cases + "demo.yaml");
  EXPECT_EQ(yes.exit, 0);
  EXPECT_THAT(yes.out, HasSubstr("main: sparks and lights"));
  const auto page = content(WINDGAP_SOURCE_DIR "/models/spark.md");
  for (const auto* source : {"battery coil *  ", "ladder of 15  ", "storage box  ", "20 to 1  "}) {
    const auto at = yes.out.find(source);
    ASSERT_NE(at, std::string::npos) << source;
    EXPECT_THAT(page, HasSubstr(yes.out.substr(at, yes.out.find('\n', at) - at)));
  }
  const auto no = windgap("spark " + cases + "demo.yaml --set igniters.0.gap.length=12mm");
  EXPECT_EQ(no.exit, 1);
  EXPECT_THAT(no.out, HasSubstr("Why: the gap of 12 mm"));
  EXPECT_THAT(no.err, IsEmpty());
  const std::vector<std::pair<std::string, std::string>> tries{
      {"too-small.yaml", "igniters: missing"},
      {"demo.yaml --set igniters=[]", "igniters: missing or empty"},
      {"demo.yaml --at 200mm --set igniters=[]", "none to judge"},
      {"blank.yaml", "none to judge"},
      {"demo.yaml --set igniters.0.sources.1.bleed.connection=self_closing --set "
       "igniters.0.sources.1.bleed.resistance=1ohm",
       "a burst one leaves the charge in place"},
      {"demo.yaml --set 'igniters.0.sources.1.bleed={kind: lamp, rated_voltage: 24 V, "
       "rated_power: 60 W}'",
       "more of them in series"},
      {"demo.yaml --set igniters.0.sources.2.bleed.kind=lamp --set "
       "igniters.0.sources.2.bleed.count=100 --set igniters.0.sources.2.bleed.rated_voltage=230V "
       "--set igniters.0.sources.2.bleed.rated_power=60W",
       "30 kV asked; allowed: lamps up to 1.5 kV"},
      {"demo.yaml --set igniters.0.sources.1.supply=isolated_low_voltage",
       "230 V asked; allowed: up to 50 V"},
      {"demo.yaml --set igniters.0.sources.3.supply=isolated_low_voltage",
       "100 V asked; allowed: up to 50 V"},
      {"demo.yaml --set igniters.0.sources.1.capacitor.capacitance=1000uF", "up to 20 J"},
      {"demo.yaml --set igniters.0.sources=[]", "sources: empty, nothing feeds this plug"},
      {"demo.yaml --set igniters.0.gap.length=0mm", "too small"},
      {"demo.yaml --set igniters.0.gap.lenght=2mm", "did you mean length"},
      {"demo.yaml --set igniters.0.sources.1.capacitor.capacitance=-1uF", "too small"},
      {"demo.yaml --set igniters.0.gas.pressure=20bar", "too large"},
      {"demo.yaml --set igniters.0.sources.2.capacitor.dielectric=electrolytic",
       "no electrolytic in a ladder"},
      {"demo.yaml --set igniters.0.sources.1.switch_rated_voltage=600V", "good for 651 V here"},
      {"demo.yaml --at 0mm", "--at"}};
  for (const auto& [arguments, message] : tries) {
    const auto ran = windgap("spark " + cases + arguments);
    EXPECT_EQ(ran.exit, 2) << arguments << "\n" << ran.err;
    EXPECT_THAT(ran.out, IsEmpty()) << arguments;
    EXPECT_THAT(ran.err, HasSubstr(message)) << arguments;
  }
}

TEST_F(Cli, SparkJsonAndQuietFollowTheDistance) {
  const auto ran = windgap("spark " + cases + "demo.yaml --json --at 200mm");
  EXPECT_EQ(ran.exit, 0);
  const auto document = Json::parse(ran.out);
  EXPECT_NEAR(document.at("stand_off_m").get<double>(), 0.2, 1e-12);
  EXPECT_EQ(document.at("igniters").at(0).at("sources").size(), 4U);
  const auto quiet = windgap("spark " + cases + "demo.yaml --quiet");
  EXPECT_THAT(quiet.out, StartsWith("Before anything else: these voltages kill"));
  EXPECT_THAT(quiet.out, HasSubstr("\nmain: sparks and lights"));
  for (const auto* said : {"residual-current device", "every part is live"}) {
    EXPECT_THAT(quiet.out, HasSubstr(said));
  }
  EXPECT_LT(std::count(quiet.out.begin(), quiet.out.end(), '\n'), 16);
}

// The page quotes two refusals; here they are, word for word.
TEST_F(Cli, SparkRefusesAsItsPageSays) {
  const auto flowed = [](const std::string& text) {
    std::istringstream words(text);
    std::string line;
    for (std::string word; words >> word;) line += (line.empty() ? "" : " ") + word;
    return line;
  };
  const auto page = flowed(content(WINDGAP_SOURCE_DIR "/models/spark.md"));
  for (const auto* setting : {"igniters.0.sources.2.capacitor.dielectric=electrolytic",
                              "igniters.0.sources.1.switch_rated_voltage=600V",
                              "igniters.0.sources.2.stages=60"}) {
    const auto ran = windgap("spark " + cases + "demo.yaml --set " + setting);
    EXPECT_EQ(ran.exit, 2) << setting;
    EXPECT_THAT(page, HasSubstr(flowed(ran.err)));
  }
}

TEST_F(Cli, SparkOfAStatedGasAsksForNoRig) {
  const auto file = path("plug.yaml");
  std::ofstream(file) << "title: Plug alone\nigniters:\n  - gap: { length: 2.5 mm }\n"
                         "    gas: { pressure: 1050 mbar, temperature: 15 degC, velocity: 6 m/s }\n"
                         "    fuel: { kind: propane }\n    sources:\n"
                         "      - { kind: transformer, primary_voltage: 230 V, turns_ratio: 60,\n"
                         "          short_circuit_current: 25 mA, frequency: 50 Hz }\n";
  const auto ran = windgap("spark " + file);
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("Judged in the gas stated: 1050 mbar"));
  EXPECT_TRUE(Json::parse(windgap("spark " + file + " --json").out).at("stand_off_m").is_null());
  const auto placed = windgap("spark " + file + " --at 200mm");
  EXPECT_EQ(placed.exit, 2) << "a distance asks for the rig";
  EXPECT_THAT(placed.err, HasSubstr("fan.bore_diameter: missing"));
  const auto open = windgap("spark " + file + " --set igniters.0.gas.velocity=");
  EXPECT_EQ(open.exit, 2);
  EXPECT_THAT(open.err, StartsWith(file + ": igniters.0.gas: not stated in full")) << open.err;
  EXPECT_THAT(open.err, HasSubstr("fan.bore_diameter: missing"));
  EXPECT_EQ(windgap("spark " + cases + "blank.yaml").err.find('\n'),
            windgap("spark " + cases + "blank.yaml").err.size() - 1)
      << "one line, nothing on fans and engines";
  const auto wrong = windgap("spark " + file + " --set fan.bore_diameter=5kg");
  EXPECT_EQ(wrong.exit, 2) << "what is given is still read";
}

TEST_F(Cli, RefusesAFolderOfModelsThatIsNotThere) {
  const auto ran = windgap("place " + cases + "demo.yaml --models /nowhere/at/all");
  EXPECT_EQ(ran.exit, 2);
  EXPECT_TRUE(ran.out.empty());
}

TEST_F(Cli, SweepAnswersZeroWhereNothingFits) {
  const auto ran = windgap("sweep " + cases + "too-small.yaml");
  EXPECT_EQ(ran.exit, 0);
  EXPECT_THAT(ran.out, HasSubstr("no, airflow"));
}

TEST_F(Cli, SweepWritesCsvAndSaysSo) {
  const auto file = path("sweep.csv");
  const auto ran = windgap("sweep " + cases + "demo.yaml --step 10mm --csv " + file);
  EXPECT_EQ(ran.exit, 0);
  EXPECT_THAT(ran.out, HasSubstr("59 distances"));
  const auto text = content(file);
  EXPECT_THAT(text, StartsWith("stand_off_m,"));
  EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 60);
}

TEST_F(Cli, OutTakesTheAnswerFromTheScreen) {
  const auto file = path("answer.txt");
  const auto ran = windgap("place " + cases + "demo.yaml --out " + file);
  EXPECT_EQ(ran.exit, 0);
  EXPECT_THAT(ran.out, IsEmpty());
  EXPECT_THAT(content(file), HasSubstr("Drill at "));
}

// One run's readings hold for every bench that this one may be: the band of the airflow narrows, by
// what the readings' own errors leave.
TEST_F(Cli, AMeasuredRunNarrowsTheEnsemble) {
  const auto ask = fmt::format("place {}demo.yaml --json --set 'start.reliability=95 %'", cases);
  const auto measured =
      " --set 'engine.measured.total_pressure=31.1 mbar ± 0.3 mbar' --set "
      "'engine.measured.speed=16800 rpm ± 100 rpm' --set 'engine.measured.mass_flow=28.2 g/s ± 0.3 "
      "g/s'";
  const auto width = [&](const std::string& more) {
    const auto answer = Json::parse(windgap(ask + more).out);
    const auto& reach = answer.at("reach_5_50_95_m");
    return reach[2].get<double>() - reach[0].get<double>();
  };
  EXPECT_LT(width(measured), 0.6 * width(""));
}

// Chances at a distance do not hang on where the bracket ends.
TEST_F(Cli, ALongerBracketDoesNotChangeTheReliableMount) {
  const auto mount = [&](const std::string& farthest) {
    const auto ran = windgap(fmt::format(
        "place {}demo.yaml --json --set 'start.reliability=95 %' --set 'mount.farthest={}'",
        cases,
        farthest));
    return Json::parse(ran.out).at("stand_off_m").get<double>();
  };
  const double usual = mount("600 mm");
  EXPECT_NEAR(mount("2000 mm"), usual, 0.002);
  EXPECT_NEAR(mount("6000 mm"), usual, 0.002);
}

// An engine that its valve cannot feed is refused by every verb, with that reason.
TEST_F(Cli, AValveThatGivesTooLittleIsNamed) {
  const auto few = cases + "demo.yaml --set start.airflow= --set 'fuel.greatest_flow=0.2 g/s'";
  const auto placed = windgap("place " + few);
  EXPECT_EQ(placed.exit, 1);
  EXPECT_THAT(placed.out, HasSubstr("fuel valve"));
  EXPECT_EQ(windgap("report " + few + " --out " + path("x.html")).exit, 1);
  EXPECT_EQ(windgap("choose " + few + " --quiet").exit, 1);
}

// What a run in time refutes is not told to be drilled or bought.
TEST_F(Cli, AStartThatTheRunRefutesIsRefusedEverywhere) {
  const auto flooded =
      cases + "demo.yaml --set start.airflow= --set fuel.valve=fixed --set 'fuel.flow=3 g/s'";
  EXPECT_THAT(windgap("place " + flooded).out, HasSubstr("Do not drill yet"));
  const auto page = windgap("report " + flooded + " --out " + path("x.html"));
  EXPECT_EQ(page.exit, 1);
  EXPECT_THAT(page.out, HasSubstr("Do not drill yet"));
  EXPECT_THAT(content(path("x.html")), HasSubstr("Do not drill yet"));
  const auto chosen = windgap("choose " + flooded);
  EXPECT_EQ(chosen.exit, 1);
  EXPECT_THAT(chosen.out, HasSubstr("does not catch"));
}

// The short list stands where the case wants it: as reliably as asked.
TEST_F(Cli, ChooseStandsWhereTheAskedReliabilityHolds) {
  const auto ask = fmt::format("{}yardstick.yaml --json", cases);
  const auto chosen = Json::parse(windgap("choose " + ask).out);
  const auto& first = chosen.at("short_list")[0];
  const auto& row = chosen.at("choices")[first.at("choice").get<std::size_t>()];
  const auto placed = Json::parse(
      windgap(fmt::format("place {} --set fan.model=fans/{}.yaml --set drive.pack=packs/{}.yaml",
                          ask,
                          row.at("fan").get<std::string>(),
                          row.at("pack").get<std::string>()))
          .out);
  EXPECT_NEAR(first.at("stand_off_m").get<double>(), placed.at("stand_off_m").get<double>(), 0.003);
}

// Who checks the reliable advice with --at is told the same.
TEST_F(Cli, AReliableMountWorksWhereItIsAsked) {
  for (const auto* of : {"yardstick.yaml",
                         "demo.yaml --set fan=fans/ducted-64.yaml --set "
                         "drive.pack=packs/6s-5000.yaml --set 'start.reliability=90 %'"}) {
    const auto ask = fmt::format("place {}{}", cases, of);
    const auto mount = Json::parse(windgap(ask + " --json").out).at("stand_off_m").get<double>();
    const auto there = windgap(fmt::format("{} --at {:.1f}mm", ask, 1e3 * mount));
    EXPECT_EQ(there.exit, 0) << there.out;
  }
}

// A cheaper fan that is reliable comes before a dearer one, whatever the first of the ranking are.
TEST_F(Cli, ChooseWalksTheRankingUntilFansAreReliable) {
  const auto chosen = Json::parse(
      windgap(fmt::format("choose {}no-fan-yet.yaml --json --set start.airflow=", cases)).out);
  const auto& list = chosen.at("short_list");
  ASSERT_EQ(list.size(), 3U);
  std::size_t before = 0;
  for (const auto& pick : list) {
    EXPECT_TRUE(pick.at("certainty").at("feasible").get<bool>());
    EXPECT_GE(pick.at("choice").get<std::size_t>(), before);
    before = pick.at("choice").get<std::size_t>();
  }
  EXPECT_LT(chosen.at("choices")[before].at("power_w").get<double>(), 1200.0);
}

TEST_F(Cli, ABracketAtAReliableMountHasAStiffness) {
  const auto chosen = Json::parse(
      windgap(fmt::format("choose {}no-fan-yet.yaml --json --set 'start.reliability=95 %'", cases))
          .out);
  EXPECT_GT(chosen.at("bracket").at("stiffness_n_per_m").get<double>(), 1000.0);
  EXPECT_GT(chosen.at("bracket").at("tolerated_tilt_rad").get<double>(), 0.005);
  for (const auto* ask : {"measured-inches.yaml --set 'start.reliability=90 %'",
                          "demo.yaml --set 'start.reliability=80 %'",
                          "no-fan-yet.yaml --set 'start.reliability=50 %'"}) {
    const auto text = windgap(fmt::format("choose {}{}", cases, ask)).out;
    EXPECT_EQ(text.find("inf "), std::string::npos) << ask;
    EXPECT_EQ(text.find(" 0°"), std::string::npos) << ask;
  }
}

TEST_F(Cli, AnAnswerReplacesNoComponent) {
  const auto folder = path("bench/");
  const auto fans = folder + "fans/";
  const std::string shipped = WINDGAP_SOURCE_DIR "/models/fans/ducted-70.yaml";
  std::filesystem::create_directories(fans);
  std::filesystem::copy_file(shipped, fans + "mine.yaml");
  std::filesystem::copy_file(shipped, fans + "mine.txt");
  const auto bench = folder + "bench.yaml";
  std::filesystem::copy_file(cases + "demo.yaml", bench);
  const auto before = content(fans + "mine.txt");
  for (const std::string file : {"mine.yaml", "mine.txt"}) {
    const auto ran =
        windgap(fmt::format("place {} --set fan.model=fans/{} --out {}", bench, file, fans + file));
    EXPECT_EQ(ran.exit, 2) << ran.out;
    EXPECT_THAT(ran.err, HasSubstr("would replace " + fans + file));
    EXPECT_EQ(content(fans + file), before);
  }
}

TEST_F(Cli, TwoOutputsOfOneFileAreRefused) {
  const auto file = path("both.txt");
  for (const auto& other : {file, path("./both.txt")}) {
    const auto ran = windgap(fmt::format("cool {}demo.yaml --csv {} --out {}", cases, file, other));
    EXPECT_EQ(ran.exit, 2);
    EXPECT_THAT(ran.err, HasSubstr("--csv and --out both name"));
    EXPECT_THAT(ran.out, IsEmpty());
    EXPECT_FALSE(std::filesystem::exists(file));
  }
}

TEST_F(Cli, CheckListsGivenAndAssumed) {
  const auto ran = windgap("check " + cases + "too-small.yaml");
  EXPECT_EQ(ran.exit, 0);
  EXPECT_THAT(ran.out, HasSubstr("fans/ducted-50.yaml:"));
  EXPECT_THAT(ran.out, HasSubstr("start.margin: "));
  EXPECT_THAT(ran.out, HasSubstr("What follows"));
}

TEST_F(Cli, ModelsOfAnotherFolderComeFirst) {
  folder_.write("my/fans/ducted-50.yaml",
                content(WINDGAP_SOURCE_DIR "/models/fans/ducted-50.yaml") + "\n# mine\n");
  const auto ran = windgap("check " + cases + "too-small.yaml --json --models " + path("my"));
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("fans/ducted-50.yaml:"));
}

TEST_F(Cli, ChooseAnswersYesWithFiles) {
  const auto ran = windgap("choose " + cases + "no-fan-yet.yaml --json --csv " + path("a.csv") +
                           " --page " + path("a.html") + " --template " + path("slot"));
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.err, IsEmpty());  // no progress where there is no terminal
  const auto document = Json::parse(ran.out);
  EXPECT_TRUE(document.at("feasible"));
  EXPECT_THAT(content(path("a.csv")), StartsWith("rank,fan,pack,"));
  EXPECT_THAT(content(path("a.html")), HasSubstr("Who reaches how far"));
  EXPECT_THAT(content(path("slot.dxf")), HasSubstr("ENTITIES"));
}

TEST_F(Cli, ChooseIsAsSureOfTheCasesOwnFanAsPlaceIs) {
  // On its own pack: on another, readings are carried that nobody took there.
  const auto chosen =
      Json::parse(windgap("choose " + cases + "demo.yaml --json --set 'choose={library: no}'").out);
  std::size_t own = 0;
  for (const auto& pick : chosen.at("short_list")) {
    const auto& certainty = pick.at("certainty");
    EXPECT_DOUBLE_EQ(certainty.at("reliability"), 0.95);
    const double caught = certainty.at("catches_at_mount");
    EXPECT_TRUE(caught > 0.0 && caught < 1.0) << caught;
    const auto& choice = chosen.at("choices").at(pick.at("choice").get<std::size_t>());
    if (!choice.at("fan").get<std::string>().ends_with('*')) continue;
    ++own;
    const auto placed =
        Json::parse(windgap("place " + cases + "demo.yaml --json --set start.reliability=95%").out);
    // A quantile of 1024 members beside one of 4096.
    EXPECT_NEAR(certainty.at("reliable_stand_off_m").get<double>(),
                placed.at("stand_off_m").get<double>(),
                5e-3);
  }
  EXPECT_EQ(own, 1U);
}

TEST_F(Cli, ChooseCountsThePurgeThatTheCaseAsksFor) {
  const auto starts = [&](const std::string& settings) {
    const auto answer =
        Json::parse(windgap("choose " + cases + "no-fan-yet.yaml --json" + settings).out);
    const auto& first = answer.at("choices").at(0);
    return std::pair{first.at("purge_s").get<double>(),
                     first.at("starts_per_charge").get<double>()};
  };
  const auto usual = starts("");
  const auto longer = starts(" --set start.purge.changes=50 --set start.purge.volume=20L");
  EXPECT_DOUBLE_EQ(usual.first, 10.0);
  EXPECT_GT(longer.first, 2.0 * usual.first);
  EXPECT_LT(longer.second, usual.second);
}

/// `| 46 mm | first | mount | ... |` of the page on choosing, from the program's answer.
std::string row_of_three_engines(const std::string& inducer, const Json& answer) {
  constexpr double kilo = 1000.0;
  std::vector<std::string> cells{inducer};
  for (const auto& pick : answer.at("short_list")) {
    const auto& choice = answer.at("choices").at(pick.at("choice").get<std::size_t>());
    auto pair = choice.at("fan").get<std::string>();
    if (!choice.at("pack").is_null()) pair += " on " + choice.at("pack").get<std::string>();
    const auto mount = fmt::format("{:.0f} mm", kilo * choice.at("stand_off_m").get<double>());
    if (cells.size() > 1) {
      cells.push_back(pair + ", " + mount);
      continue;
    }
    cells.push_back(pair);
    cells.push_back(mount);
    cells.push_back(fmt::format("{:.0f} mm", kilo * choice.at("clear_stand_off_m").get<double>()));
    const auto& power = choice.at("power_w");
    cells.push_back(power.is_null() ? "a drive of its own"
                                    : fmt::format("{:.2f} kW", power.get<double>() / kilo));
  }
  return fmt::format("| {} |\n", fmt::join(cells, " | "));
}

TEST_F(Cli, ChooseAnswersWhatItsPageSaysOfThreeEngines) {
  const auto page = content(WINDGAP_SOURCE_DIR "/models/choice.md");
  const auto ask = [&](const std::string& inducer, const std::string& settings) {
    const auto ran = windgap("choose " + cases + "no-fan-yet.yaml --json" + settings);
    ASSERT_EQ(ran.exit, 0) << ran.err;
    EXPECT_THAT(page, HasSubstr(row_of_three_engines(inducer, Json::parse(ran.out))));
  };
  ask("34 mm", " --set engine=engines/shed-34.yaml --set start.airflow=13.1g/s");
  ask("46 mm", "");
  ask("76 mm", " --set engine=engines/field-76.yaml --set start.airflow=65.5g/s");
}

TEST_F(Cli, ChooseRecommendsNothingWhoseChargeLastsForLessThanOneStart) {
  const auto ran = windgap("choose " + cases +
                           "no-fan-yet.yaml --json --set engine=engines/field-76.yaml --set "
                           "start.airflow=65.5g/s --set start.duration=60s");
  const auto document = Json::parse(ran.out);
  std::size_t flat = 0;
  for (const auto& choice : document.at("choices")) {
    if (choice.at("starts_per_charge").is_null()) continue;
    if (choice.at("verdict") == "flat_pack") ++flat;
    if (choice.at("feasible")) {
      EXPECT_GE(choice.at("starts_per_charge"), 1.0);
    }
  }
  EXPECT_GT(flat, 0U);
}

TEST_F(Cli, ChooseAnswersTheSameWhateverTheThreads) {
  const auto ask = "choose " + cases + "demo.yaml --json --threads ";
  EXPECT_EQ(windgap(ask + "1").out, windgap(ask + "2").out);
}

TEST_F(Cli, ChooseWithNothingUsableIsNoAndSaysWhatWasSkipped) {
  folder_.write("fans/broken.yaml", "name: broken\nbore_diameter: 64\n");
  folder_.write("fans/odd.yaml", "name: odd\nwings: 3\n");
  const auto file = folder_.write("case.yaml",
                                  "engine: { model: engines/garden-46.yaml }\n"
                                  "mount: { nearest: 20 mm, farthest: 400 mm }\n"
                                  "choose: { library: no, fans: [fans/broken.yaml, fans/odd.yaml, "
                                  "fans/none.yaml], packs: [packs/6s-3300.yaml] }\n");
  const auto ran = windgap("choose " + file.string());
  EXPECT_EQ(ran.exit, 1) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("Nothing to choose from"));
  for (const auto* name : {"fans/broken.yaml", "fans/odd.yaml", "fans/none.yaml"}) {
    EXPECT_THAT(ran.out, HasSubstr(std::string("Skipped ") + name));
  }
  EXPECT_THAT(ran.out, HasSubstr("unit is missing"));
  const auto document = Json::parse(windgap("choose " + file.string() + " --json").out);
  EXPECT_FALSE(document.at("feasible"));
  EXPECT_EQ(document.at("skipped").size(), 3U);
  const auto drawn = windgap("choose " + file.string() + " --template " + path("slot"));
  EXPECT_EQ(drawn.exit, 1) << drawn.err;
  EXPECT_THAT(drawn.out, HasSubstr("Nothing to choose from"));
  EXPECT_THAT(drawn.out, HasSubstr("No template was written"));
  EXPECT_FALSE(std::filesystem::exists(path("slot.dxf")));
}

TEST_F(Cli, ChooseTakesTheFormWithItsFanLeftEmpty) {
  const auto file = folder_.write("case.yaml",
                                  "engine: { model: engines/garden-46.yaml }\n"
                                  "fan:\n  stream:\n    velocity:\n  thrust:\n"
                                  "mount: { nearest: 20 mm, farthest: 400 mm }\n");
  const auto ran = windgap("choose " + file.string() + " --quiet");
  EXPECT_EQ(ran.exit, 0) << ran.err;
}

TEST_F(Cli, TheStateThatTheCaseGivesItsPackHoldsForEveryPack) {
  const auto ask = "choose " + cases + "no-fan-yet.yaml --json";
  const auto full = Json::parse(windgap(ask).out);
  const auto low = Json::parse(windgap(ask + " --set drive.pack.state_of_charge=60%").out);
  const auto starts = [](const Json& document) {
    double most = 0.0;
    for (const auto& choice : document.at("choices")) {
      if (choice.at("starts_per_charge").is_number()) {
        most = std::max(most, choice.at("starts_per_charge").get<double>());
      }
    }
    return most;
  };
  ASSERT_GT(starts(full), 0.0);
  // 20 % stays in a pack: 60 % of charge leaves half of what a full one gives.
  EXPECT_LT(starts(low), 0.6 * starts(full));
}

TEST_F(Cli, ChooseGoesOnWithTheRestOfAPartlyBrokenLibrary) {
  folder_.write("fans/broken.yaml", "name: broken\nbore_diameter: 64\n");
  const auto file = folder_.write("case.yaml",
                                  "engine: { model: engines/garden-46.yaml }\n"
                                  "mount: { nearest: 20 mm, farthest: 400 mm }\n");
  const auto ran = windgap("choose " + file.string());
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("Skipped fans/broken.yaml"));
}

TEST_F(Cli, InterruptedChoiceLeavesNothingBehind) {
  // Long enough a list to be caught in the middle.
  for (int i = 0; i < 150; ++i) {
    folder_.write(fmt::format("fans/f{}.yaml", i),
                  fmt::format("bore_diameter: {} mm\nthrust: {} N\nvoltage: 21.6 V\n",
                              60.0 + 0.1 * i,
                              20.0 + 0.05 * i));
  }
  folder_.write("case.yaml",
                "engine: { model: engines/garden-46.yaml }\n"
                "mount: { nearest: 20 mm, farthest: 900 mm }\n");
  const auto command = fmt::format(
      "cd '{}' && timeout --foreground -s INT 0.3 {} choose case.yaml --csv a.csv --page a.html > "
      "out "
      "2> err",
      folder_.path().string(),
      WINDGAP_PROGRAM);
  const int status = std::system(command.c_str());
  EXPECT_NE(WEXITSTATUS(status), 0);
  EXPECT_THAT(content(path("out")), IsEmpty());
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder_.path())) {
    if (entry.is_regular_file()) ++files;
  }
  EXPECT_EQ(files, 3U);  // case.yaml, out, err
}

const std::string demo = cases + "demo.yaml";

TEST_F(Cli, WhereANominalBenchLacksAirNothingWorksOnPaper) {
  const auto far = windgap("place " + demo + " --set 'start.reliability=95 %' --at '479 mm'");
  EXPECT_EQ(far.exit, 1);
  EXPECT_THAT(far.out, HasSubstr("479 mm does not work"));
  const auto json = Json::parse(
      windgap("place " + demo + " --set 'start.reliability=95 %' --at '479 mm' --json").out);
  EXPECT_LT(json["catches"].get<double>(), 0.05);
  EXPECT_LT(json["benches_reliable"].get<double>(), 0.05);
}

TEST_F(Cli, ReadingsOfAJetStayThoseOfFullThrottle) {
  double last = 1.0;
  for (const char* throttle : {"100 %", "95 %", "90 %", "85 %"}) {
    const auto json = Json::parse(
        windgap("place " + demo + fmt::format(" --set 'drive.throttle={}' --json", throttle)).out);
    EXPECT_LT(json["stand_off_m"].get<double>(), last) << throttle;
    last = json["stand_off_m"].get<double>();
  }
}

const std::string hot_valve = " --set 'fuel={kind: propane, valve: fixed, flow: 0.4 g/s}'";

TEST_F(Cli, AStatedAirflowIsWarnedOfWhereTheStartRunsHot) {
  const auto placed = windgap("place " + demo + hot_valve);
  EXPECT_EQ(placed.exit, 0);
  EXPECT_THAT(placed.out, HasSubstr("Warning: A start run in time at 258 mm does not catch"));
  EXPECT_THAT(windgap("place " + demo).out, Not(HasSubstr("A start run in time")));
}

TEST_F(Cli, ASweepSaysThatAirAloneIsNotAStart) {
  const auto swept = windgap("sweep " + demo + hot_valve + " --step '100 mm'");
  EXPECT_THAT(swept.out, HasSubstr("is of air alone"));
  EXPECT_THAT(windgap("sweep " + demo + " --step '100 mm'").out, Not(HasSubstr("is of air alone")));
}

}  // namespace
}  // namespace windgap::app
