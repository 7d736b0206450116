// The start as a person gets it: what is caught, what is not and why, for engines of four sizes.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "app/app.h"
#include "casefile/folder.h"

namespace windgap::app {
namespace {

using Json = nlohmann::json;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

struct Said {
  int exit = -1;
  std::string out;
  std::string err;
};

Said windgap(const std::vector<std::string>& words) {
  std::vector<const char*> arguments{"windgap"};
  for (const auto& word : words) arguments.push_back(word.c_str());
  arguments.push_back("--models");
  arguments.push_back(WINDGAP_MODELS_DIR);
  std::ostringstream out;
  std::ostringstream err;
  const int exit = run(static_cast<int>(arguments.size()), arguments.data(), out, err);
  return {.exit = exit, .out = out.str(), .err = err.str()};
}

const std::string demo = WINDGAP_SOURCE_DIR "/cases/demo.yaml";

Said spin(const std::vector<std::string>& more) {
  std::vector<std::string> words{"spin", demo};
  for (const auto& word : more) words.push_back(word);
  return windgap(words);
}

Json json_of(const std::vector<std::string>& more) {
  auto words = more;
  words.emplace_back("--json");
  return Json::parse(spin(words).out);
}

/// Without the breaks of lines.
std::string flowed(const std::string& text) {
  std::istringstream words(text);
  std::string line;
  for (std::string word; words >> word;) line += (line.empty() ? "" : " ") + word;
  return line;
}

TEST(Spin, SaysYesWithZeroAndNoWithOne) {
  const auto near = spin({"--at", "200mm"});
  EXPECT_EQ(near.exit, 0) << near.err;
  EXPECT_THAT(near.out, HasSubstr("It catches at 200 mm"));
  const auto far = spin({"--at", "900mm"});
  EXPECT_EQ(far.exit, 1) << far.err;
  EXPECT_THAT(far.out, HasSubstr("It does not catch at 900 mm"));
  EXPECT_THAT(far.out, HasSubstr("It hung"));
  EXPECT_THAT(flowed(far.out), HasSubstr("What would help"));
  EXPECT_THAT(near.err, IsEmpty());
}

// Each engine caught near and not caught far, by the demo's fan (models/start.md).
TEST(Spin, EnginesOfFourSizesAreCaughtNearAndNotFar) {
  for (const auto* const engine : {"shed-34", "garden-46", "barn-52", "field-76"}) {
    const std::string model = std::string("engine.model=engines/") + engine + ".yaml";
    const auto near = json_of({"--at", "150mm", "--set", model});
    EXPECT_TRUE(near.at("caught").get<bool>()) << engine << near.at("reason");
    const auto far = json_of({"--at", "1000mm", "--set", model});
    EXPECT_FALSE(far.at("caught").get<bool>()) << engine;
    EXPECT_GT(near.at("margin").get<double>(), 0.0);
    EXPECT_LT(far.at("margin").get<double>(), 0.0);
  }
}

TEST(Spin, HasEveryKeyOfTheDesign) {
  const auto document = json_of({"--at", "200mm"});
  for (const auto* key : {"caught",
                          "reason",
                          "stand_off_m",
                          "events",
                          "self_sustaining_rpm",
                          "hottest_gas_temperature_k",
                          "starting_airflow_kg_s",
                          "lit_airflow_kg_s",
                          "torque_part_kg_s",
                          "hot_start_part_kg_s",
                          "purge_s",
                          "new_purge_s",
                          "losses",
                          "seasons",
                          "torque_map"}) {
    EXPECT_TRUE(document.contains(key)) << key;
  }
  double before = 0.0;
  for (const auto& event : document.at("events")) {
    EXPECT_GE(event.at("time_s").get<double>(), before);
    before = event.at("time_s").get<double>();
    for (const auto* key : {"name", "rpm", "airflow_kg_s", "gas_temperature_k"}) {
      EXPECT_TRUE(event.contains(key)) << key;
    }
  }
  EXPECT_LT(document.at("hottest_gas_temperature_k"), document.at("gas_temperature_limit_k"));
  EXPECT_LT(std::abs(document.at("energy_missing").get<double>()), 1e-3);
}

TEST(Spin, HoldsTheBlowerWhereAskedAndTheMotorNowhere) {
  EXPECT_EQ(json_of({"--starter", "blower", "--at", "300mm"}).at("stand_off_m"), 0.3);
  const auto motor = spin({"--starter", "motor", "--at", "300mm"});
  EXPECT_EQ(motor.exit, 2);
  EXPECT_THAT(motor.err, HasSubstr("--at: a motor on the shaft stands at no distance"));
}

TEST(Spin, RefusesAPurgeThatIsTooShort) {
  const auto said = spin({"--set", "start.purge.changes=0"});
  EXPECT_EQ(said.exit, 2);
  EXPECT_THAT(said.err, HasSubstr("start.purge.changes: read \"0\""));
}

TEST(Spin, SaysThatWithoutASparkThereIsNoLightOff) {
  const auto said = spin({"--set", "igniters.0.gap.length=12mm"});
  EXPECT_EQ(said.exit, 1);
  EXPECT_THAT(said.out, HasSubstr("the igniter does not light it. Without a spark"));
}

TEST(Spin, ASparkThatComesTooLateIsNoLightOff) {
  const std::string rate = "igniters.0.sources.0.sparks_per_second=";
  const auto late = json_of({"--at", "200mm", "--set", rate + "0.02"});
  EXPECT_EQ(late.at("reason"), "no_spark");
  EXPECT_EQ(late.at("spark_wait_s"), 50.0);
  EXPECT_THAT(spin({"--at", "200mm", "--set", rate + "0.02"}).out, HasSubstr("once in 50 s"));
  EXPECT_THAT(spin({"--at", "200mm", "--set", rate + "0.02"}).out, HasSubstr("gives up"));
  const auto light_off = [](const Json& document) {
    double fuel = 0.0;
    for (const auto& event : document.at("events")) {
      if (event.at("name") == "fuel_on") fuel = event.at("time_s").get<double>();
      if (event.at("name") == "light_off") return event.at("time_s").get<double>() - fuel;
    }
    return -1.0;
  };
  const auto slow = json_of({"--at", "200mm", "--set", rate + "0.25"});
  EXPECT_NEAR(light_off(slow), 4.0, 1e-6);
  EXPECT_THAT(spin({"--at", "200mm", "--set", rate + "0.25"}).out, HasSubstr("with a bang"));
  EXPECT_NEAR(light_off(json_of({"--at", "200mm"})), 0.8, 1e-6) << "the usual delay";
}

TEST(Spin, HasAnElectricalCautionWhereThereIsAnIgniter) {
  const auto said = [](const Json& document) { return document.at("cautions").dump(); };
  EXPECT_THAT(said(json_of({})), HasSubstr("these voltages kill"));
  EXPECT_THAT(said(json_of({})), HasSubstr("residual-current device"));
  EXPECT_THAT(spin({}).out, HasSubstr("Mind: the igniter: these voltages kill"));
  EXPECT_EQ(said(json_of({"--set", "igniters=[]"})).find("kill"), std::string::npos);
}

TEST(Spin, SaysWhereTheSparkIsNotJudged) {
  const auto none = spin({"--set", "igniters=[]"});
  EXPECT_THAT(flowed(none.out),
              HasSubstr("Whether it sparks is not judged: the case describes no igniter"));
  const auto outside =
      spin({"--set", "igniters.0.place=afterburner", "--set", "igniters.0.gas={velocity: 20 m/s}"});
  EXPECT_THAT(flowed(outside.out), HasSubstr("no igniter in the chamber"));
  const auto motor = spin({"--starter", "motor"});
  EXPECT_THAT(flowed(motor.out), HasSubstr("Whether it sparks is not judged: the gas at the plug"));
  EXPECT_EQ(flowed(spin({}).out).find("not judged"), std::string::npos);
  EXPECT_FALSE(json_of({"--set", "igniters=[]"}).at("spark_judged").get<bool>());
  const auto placed = windgap({"place", demo, "--confirm", "--set", "igniters=[]"});
  EXPECT_THAT(flowed(placed.out), HasSubstr("Whether it sparks is not judged"));
  EXPECT_TRUE(json_of({}).at("spark_judged").get<bool>());
  const std::string other = "judged for propane, but the engine is lit on kerosene";
  EXPECT_THAT(flowed(spin({"--set", "fuel.kind=kerosene"}).out), HasSubstr(other));
  EXPECT_THAT(flowed(windgap({"place", demo, "--confirm", "--set", "fuel.kind=kerosene"}).out),
              HasSubstr(other));
  EXPECT_EQ(flowed(spin({}).out).find("judged for"), std::string::npos);
  const auto dark = windgap({"place", demo, "--confirm", "--set", "igniters.0.gap.length=12mm"});
  EXPECT_THAT(flowed(dark.out), HasSubstr("(no spark)"));
  EXPECT_EQ(dark.out.find("no_spark"), std::string::npos);
}

TEST(Spin, WritesTheWholeTransient) {
  const casefile::Folder folder;
  const auto file = (folder.path() / "start.csv").string();
  const auto said = spin({"--at", "200mm", "--csv", file, "--quiet"});
  EXPECT_EQ(said.out, "It catches at 200 mm\n");
  std::ifstream stream(file);
  std::string head;
  std::getline(stream, head);
  EXPECT_THAT(head, HasSubstr("time_s,rpm,airflow_kg_s"));
  EXPECT_THAT(head, ::testing::EndsWith(",event"));
  const auto columns = std::count(head.begin(), head.end(), ',');
  int rows = 0;
  for (std::string row; std::getline(stream, row); ++rows) {
    EXPECT_EQ(std::count(row.begin(), row.end(), ','), columns) << row;
  }
  EXPECT_GT(rows, 100);
}

TEST(Spin, FitsItsWidth) {
  for (const auto& more : std::vector<std::vector<std::string>>{
           {"--at", "200mm"},
           {"--at", "900mm"},
           {"--at", "200mm", "--set", "fuel.least_flow=0.5 g/s"},
           {"--at", "200mm", "--set", "fuel.greatest_flow=0.05 g/s"},
           {"--at", "200mm", "--set", "igniters.0.gap.length=12mm"},
           {"--at", "200mm", "--set", "drive.pack.cell_resistance=30 mohm"},
           {"--starter", "motor", "--set", "start.motor.stall_torque=0.001 N m"}}) {
    const auto said = spin(more);
    EXPECT_THAT(said.err, IsEmpty());
    std::istringstream text(said.out);
    for (std::string line; std::getline(text, line);) {
      const auto width = std::count_if(line.begin(), line.end(), [](char c) {
        return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
      });
      EXPECT_LE(width, 80) << line;
    }
  }
}

TEST(Spin, ComparesOtherStarters) {
  const auto motor = json_of({"--starter", "motor"});
  EXPECT_TRUE(motor.at("stand_off_m").is_null());
  EXPECT_TRUE(motor.at("margin").is_null());
  EXPECT_TRUE(motor.at("caught").get<bool>());
  const auto blower = json_of({"--starter", "blower"});
  EXPECT_EQ(blower.at("stand_off_m"), 0.15);
  const auto wrong = spin({"--starter", "rope"});
  EXPECT_EQ(wrong.exit, 2);
  EXPECT_THAT(wrong.err, HasSubstr("allowed: fan, motor, blower"));
  EXPECT_THAT(wrong.out, IsEmpty());
}

TEST(Spin, ColdOilIsWorseThanWarm) {
  const auto seasons = json_of({"--at", "200mm"}).at("seasons");
  ASSERT_EQ(seasons.size(), 2U);
  EXPECT_GT(seasons[0].at("oil_viscosity_pa_s"), seasons[1].at("oil_viscosity_pa_s"));
  EXPECT_GT(seasons[0].at("self_sustaining_rpm"), seasons[1].at("self_sustaining_rpm"));
}

TEST(Spin, FlagsAValveBeyondStoichiometric) {
  const auto said =
      spin({"--at", "200mm", "--set", "fuel.valve=fixed", "--set", "fuel.flow=2.5 g/s"});
  EXPECT_EQ(said.exit, 1);
  EXPECT_THAT(said.out, HasSubstr("too much fuel"));
  EXPECT_THAT(said.out, HasSubstr("burns no more than"));
}

TEST(Spin, NeedsARotor) {
  const auto said = windgap({"spin", WINDGAP_SOURCE_DIR "/cases/measured-inches.yaml"});
  EXPECT_EQ(said.exit, 2);
  EXPECT_THAT(said.err, HasSubstr("no rotor to start"));
}

TEST(Spin, PlaceDerivesTheStartingAirflowAndConfirmsItsMount) {
  const auto said = windgap({"place", demo, "--json", "--set", "start.airflow=", "--confirm"});
  EXPECT_EQ(said.exit, 0) << said.err;
  const auto document = Json::parse(said.out);
  EXPECT_EQ(document.at("starting_airflow_from"), "derived");
  EXPECT_TRUE(document.at("lightoff_rpm").is_null());
  EXPECT_NEAR(document.at("starting_airflow_kg_s").get<double>(),
              json_of({}).at("starting_airflow_kg_s").get<double>(),
              1e-9);
  const auto& confirmation = document.at("confirmation");
  ASSERT_EQ(confirmation.at("runs").size(), 2U);
  EXPECT_TRUE(confirmation.at("runs")[0].at("caught").get<bool>());
  EXPECT_LT(confirmation.at("runs")[0].at("light_off_to_fan_off_s").get<double>(), 15.0);
  EXPECT_GT(confirmation.at("stops_at_m"), document.at("edge_m"));
  EXPECT_TRUE(Json::parse(windgap({"place", demo, "--json"}).out).at("confirmation").is_null());
}

TEST(Spin, SaysWhereAnOptionBelongs) {
  std::ostringstream out;
  std::ostringstream err;
  const std::vector<const char*> words{"windgap", "--models", ".", "spin", demo.c_str()};
  EXPECT_EQ(run(static_cast<int>(words.size()), words.data(), out, err), 2);
  EXPECT_THAT(err.str(), HasSubstr("--models belongs after the verb: windgap spin CASE --models"));
}

TEST(Spin, PlaceCountsTheSameAssumptionsWithARunAndWithout) {
  const auto count = [](const std::vector<std::string>& words) {
    return Json::parse(windgap(words).out).at("assumed").size();
  };
  EXPECT_EQ(count({"place", demo, "--json"}), count({"place", demo, "--json", "--confirm"}));
}

TEST(Spin, RefusesAGasToPreheatAGas) {
  const auto said = spin({"--set", "fuel.preheat.tube_temperature=400 degC"});
  EXPECT_EQ(said.exit, 2);
  EXPECT_THAT(said.err, HasSubstr("a main fuel that is a gas itself needs none"));
}

TEST(Spin, SaysThatAColdLiquidLightsTooEasilyHere) {
  const auto kerosene = spin({"--at", "200mm", "--set", "fuel.kind=kerosene"});
  EXPECT_THAT(kerosene.out, HasSubstr("colder than the flash point of kerosene"));
  for (const auto& more : {std::vector<std::string>{"--at", "200mm"},
                           {"--at",
                            "200mm",
                            "--set",
                            "fuel.kind=kerosene",
                            "--set",
                            "fuel.preheat.tube_temperature=400 degC"}}) {
    EXPECT_THAT(spin(more).out, ::testing::Not(HasSubstr("flash point")));
  }
}

TEST(Spin, RoundsAPurgeUpToWholeSeconds) {
  const auto document = json_of({"--at", "200mm"});
  const auto shown = static_cast<int>(std::ceil(document.at("purge_s").get<double>()));
  EXPECT_THAT(spin({"--at", "200mm"}).out, HasSubstr("at least " + std::to_string(shown) + " s:"));
}

TEST(Spin, FlagsSurgeAndChoke) {
  const std::vector<std::string> throttled{"--starter",
                                           "motor",
                                           "--set",
                                           "start.motor.stall_torque=1 N m",
                                           "--set",
                                           "start.motor.free_speed=200000 rpm",
                                           "--set",
                                           "engine.turbine.exducer_hub_diameter=43 mm"};
  const auto flagged = json_of(throttled);
  EXPECT_TRUE(flagged.at("surged").get<bool>());
  EXPECT_TRUE(flagged.at("choked").get<bool>());
  const auto text = spin(throttled).out;
  EXPECT_THAT(text, HasSubstr("The compressor surges on the way"));
  EXPECT_THAT(text, HasSubstr("A passage of the engine chokes on the way"));
  const auto usual = json_of({"--at", "200mm"});
  EXPECT_FALSE(usual.at("surged").get<bool>());
  EXPECT_FALSE(usual.at("choked").get<bool>());
}

TEST(Spin, NamesAHotStartBeforeADrownedFlame) {
  const auto said = json_of({"--set", "fuel.least_flow=0.5 g/s"});
  EXPECT_GT(said.at("hottest_gas_temperature_k"), said.at("gas_temperature_limit_k"));
  EXPECT_EQ(said.at("reason"), "gas_temperature_limit");
}

TEST(Spin, NamesTheNumberThatTheFlameLacks) {
  EXPECT_THAT(flowed(spin({"--set", "start.flame_holder_velocity=1 m/s"}).out),
              HasSubstr("at most 1 m/s hold a flame"));
  const auto lean = json_of({"--set", "fuel.valve=fixed", "--set", "fuel.flow=0.05g/s"});
  ASSERT_EQ(lean.at("reason"), "no_light_too_lean");
  const auto& flame = lean.at("flame_at_the_end");
  EXPECT_LT(flame.at("primary_equivalence_ratio"), flame.at("least"));
}

TEST(Spin, AStartThatDoesNotCatchRefutesAMountAndSaysSoFirst) {
  const auto said = windgap({"place",
                             demo,
                             "--set",
                             "start.airflow=",
                             "--set",
                             "fuel.valve=fixed",
                             "--set",
                             "fuel.flow=3 g/s",
                             "--quiet"});
  EXPECT_EQ(said.exit, 1);
  EXPECT_THAT(said.out, ::testing::StartsWith("Do not drill yet"));
}

TEST(Spin, WarmOilDoesNotMakeAGoodStartHang) {
  for (const auto* engine : {"garden-46", "field-76"}) {
    for (const auto* oil : {"50 degC", "70 degC", "100 degC"}) {
      const auto said = windgap({"spin",
                                 demo,
                                 "--set",
                                 "start.airflow=",
                                 "--set",
                                 fmt::format("engine.model=engines/{}.yaml", engine),
                                 "--set",
                                 fmt::format("engine.bearings.oil.inlet_temperature={}", oil),
                                 "--quiet"});
      EXPECT_EQ(said.exit, 0) << engine << " " << oil << said.out;
    }
  }
}

TEST(Spin, OilLikeTarLeavesTheRotorAtRest) {
  using Label = std::pair<const char*, const char*>;
  for (const auto& [cold, hot] : {Label{"100 cSt", "5.4 cSt"}, Label{"500 cSt", "30 cSt"}}) {
    const auto said =
        json_of({"--set",
                 "engine.bearings.oil.inlet_temperature=-20 degC",
                 "--set",
                 fmt::format("engine.bearings.oil.hot.kinematic_viscosity={}", hot),
                 "--set",
                 fmt::format("engine.bearings.oil.cold.kinematic_viscosity={}", cold)});
    EXPECT_EQ(said.at("reason"), "does_not_turn") << cold;
  }
}

TEST(Spin, ARampGoesOnAfterTheChangeover) {
  const auto said = json_of({"--at",  "200mm",
                             "--set", "fuel.kind=kerosene",
                             "--set", "fuel.valve=ramp",
                             "--set", "fuel.flow=0.6 g/s",
                             "--set", "fuel.final_flow=1.2 g/s",
                             "--set", "fuel.ramp_time=5 s",
                             "--set", "fuel.greatest_flow=",
                             "--set", "fuel.preheat.greatest_flow=3 g/s",
                             "--set", "start.idle_speed=75000 rpm",
                             "--set", "engine.bearings.oil.inlet_temperature=20 degC"});
  EXPECT_EQ(said.at("reason"), "caught");
  double greatest = 0.0;
  for (const auto& event : said.at("events")) {
    greatest = std::max(greatest, event.at("fuel_kg_s").get<double>());
  }
  EXPECT_NEAR(greatest, 1.2e-3, 1e-5);
}

// A fixed valve gives too little beyond idle to turn it there alone: idle is enough to let the fan
// go.
TEST(Spin, LetsTheFanGoAtIdleWhateverTheValveGivesBeyond) {
  for (const auto* at : {"100 mm", "200 mm", "300 mm"}) {
    const auto said = json_of({"--at",
                               at,
                               "--set",
                               "fuel.kind=kerosene",
                               "--set",
                               "fuel.valve=fixed",
                               "--set",
                               "fuel.flow=1 g/s",
                               "--set",
                               "fuel.greatest_flow=",
                               "--set",
                               "fuel.preheat.greatest_flow=3 g/s"});
    EXPECT_EQ(said.at("reason"), "caught") << at;
    EXPECT_LT(std::abs(said.at("energy_missing").get<double>()), 1e-3) << at;
  }
}

TEST(Spin, BallBearingsInWarmOilAreNoSearchAtAll) {
  const auto said = json_of({"--set",
                             "engine.bearings.kind=ball",
                             "--set",
                             "engine.bearings.oil.inlet_temperature=100 degC",
                             "--set",
                             "start.idle_speed=20000 rpm"});
  EXPECT_EQ(said.at("reason"), "caught");
}

TEST(Spin, ASmallValveThatTheRunCatchesOnIsNoneThatPlacementRefuses) {
  for (const auto* flow : {"0.55 g/s", "0.6 g/s", "0.64 g/s"}) {
    const auto setting = fmt::format("fuel.greatest_flow={}", flow);
    const auto run = json_of({"--at", "150mm", "--set", "start.airflow=", "--set", setting});
    EXPECT_EQ(run.at("caught").get<bool>(), run.at("starting_airflow_kg_s").is_number()) << flow;
  }
}

TEST(Spin, NamesAMotorThatLetsGoBeforeTheFuel) {
  const auto said = json_of({"--starter", "motor", "--set", "start.motor.cut_out_speed=10000 rpm"});
  EXPECT_EQ(said.at("reason"), "motor_let_go_early");
  EXPECT_EQ(said.at("fuel_used_kg"), 0.0);
}

TEST(Spin, NamesAnIdleThatCannotBeHeld) {
  const auto said = json_of({"--set", "start.idle_speed=20000 rpm"});
  EXPECT_FALSE(said.at("caught").get<bool>());
  const auto text = flowed(spin({"--set", "start.idle_speed=25000 rpm"}).out);
  EXPECT_THAT(text, HasSubstr("lies below the speed from which it sustains itself"));
}

TEST(Spin, SaysWhichRotorSpeedPlacementAsksFor) {
  const auto text =
      flowed(spin({"--set", "start.airflow=", "--set", "start.rotor_speed=30000 rpm"}).out);
  EXPECT_THAT(text, HasSubstr("Placement asks for the case's own rotor speed, 30000 rpm"));
  EXPECT_THAT(text, HasSubstr("trust neither before a cold trial"));
}

// The page's caption promises it: the torque alone crosses nought at self-sustaining speed.
TEST(Spin, TorqueMapCrossesNoughtWhereTheTextSays) {
  for (const auto* engine : {"shed-34", "garden-46", "field-76"}) {
    const auto said = json_of(
        {"--set", "start.airflow=", "--set", fmt::format("engine.model=engines/{}.yaml", engine)});
    const auto& map = said.at("torque_map");
    double crossing = 0.0;
    for (std::size_t i = 1; i < map.size(); ++i) {
      const auto value = [&](std::size_t at, const char* key) {
        return map[at].at(key).get<double>();
      };
      const double a = value(i - 1, "net_torque_without_n_m");
      const double b = value(i, "net_torque_without_n_m");
      if (a < 0.0 && b >= 0.0) {
        crossing = std::lerp(value(i - 1, "rpm"), value(i, "rpm"), a / (a - b));
      }
    }
    const double told = said.at("usual_self_sustaining_rpm").get<double>();
    EXPECT_NEAR(crossing, told, 0.03 * told) << engine;
  }
}

TEST(Spin, QuietSaysWhyNot) {
  EXPECT_THAT(flowed(spin({"--at", "900mm", "--quiet"}).out), HasSubstr("It hung"));
}

TEST(Spin, AdvisesMoreFuelWhereTheGasIsCool) {
  const auto said =
      spin({"--at", "200mm", "--set", "fuel.valve=fixed", "--set", "fuel.flow=0.2 g/s"});
  EXPECT_EQ(said.exit, 1);
  EXPECT_THAT(flowed(said.out), HasSubstr("What would help: more fuel"));
  EXPECT_THAT(said.out, ::testing::Not(HasSubstr("stronger fan")));
}

TEST(Spin, AdvisesAMotorWhatAMotorLacks) {
  const auto weak = spin({"--starter", "motor", "--set", "start.motor.stall_torque=0.01 N m"});
  EXPECT_EQ(weak.exit, 1);
  EXPECT_THAT(weak.out, HasSubstr("shaft motor with more torque"));
  EXPECT_THAT(weak.out, ::testing::Not(HasSubstr("stronger fan")));
  const auto slow = spin({"--starter", "motor", "--set", "start.motor.free_speed=9000 rpm"});
  EXPECT_EQ(slow.exit, 1);
  EXPECT_THAT(slow.out, HasSubstr("shaft motor with a higher free speed"));
}

TEST(Spin, SaysThatTheRotorDoesNotTurnAndWhatWouldTurnIt) {
  const auto flowed = [](const std::string& text) {
    std::istringstream words(text);
    std::string line;
    for (std::string word; words >> word;) line += (line.empty() ? "" : " ") + word;
    return line;
  };
  const std::vector<std::string> motor{
      "--starter", "motor", "--set", "start.motor.stall_torque=0.001 N m"};
  const auto pulled = spin(motor);
  EXPECT_EQ(pulled.exit, 1);
  EXPECT_THAT(flowed(pulled.out), HasSubstr("The rotor does not turn"));
  EXPECT_THAT(flowed(pulled.out), HasSubstr("At rest it is turned by 1 mN·m"));
  EXPECT_THAT(flowed(pulled.out), HasSubstr("a shaft motor with more torque, warm thin oil"));
  const auto document = json_of(motor);
  EXPECT_EQ(document.at("reason"), "does_not_turn");
  EXPECT_GT(document.at("breakaway_torque_n_m"), 0.001);
  EXPECT_EQ(document.at("fuel_used_kg"), 0.0);
  const auto blown = spin({"--at", "1500mm"});
  EXPECT_EQ(blown.exit, 1);
  EXPECT_THAT(flowed(blown.out), HasSubstr("more throttle before light-off"));
  EXPECT_EQ(json_of({"--at", "1500mm"}).at("reason"), "does_not_turn");
  // Lit at full throttle there is none to add.
  const auto full = spin({"--at", "2000mm", "--set", "start.fan_throttle.light=100 %"});
  EXPECT_THAT(flowed(full.out), HasSubstr("The rotor does not turn"));
  EXPECT_THAT(flowed(full.out), ::testing::Not(HasSubstr("more throttle")));
}

TEST(Spin, RefusesWhatCannotBe) {
  struct Bad {
    std::vector<std::string> settings;
    std::string said;
  };
  for (const auto& bad : std::vector<Bad>{
           {{"engine.bearings.oil.hot.kinematic_viscosity=0 cSt"},
            "engine.bearings.oil.hot.kinematic_viscosity: read \"0 cSt\": the value is too small; "
            "allowed: 1 cSt to 5000 cSt"},
           {{"engine.bearings.oil.inlet_temperature=-200 degC"},
            "engine.bearings.oil.inlet_temperature: read \"-200 degC\": the value is too small; "
            "allowed: -40 degC to 150 degC"},
           {{"engine.rotor.inertia=0 kg*mm2"},
            "engine.rotor.inertia: read \"0 kg*mm2\": the value is too small"},
           {{"fuel.valve=fixed", "fuel.flow=-2 g/s"},
            "fuel.flow: read \"-2 g/s\": the value is too small; allowed: 0.001 g/s to 100 g/s"},
           {{"start.patience=0.5 s"},
            "start.patience: read \"0.5 s\": too short for any flame: the fuel is shut before it "
            "can light; allowed: more than the ignition delay, 0.8 s"},
           {{"fuel.kind=kerosene",
             "fuel.preheat.tube_temperature=500 degC",
             "start.gas_temperature_limit=450 degC"},
            "fuel.preheat.tube_temperature: read \"500 degC\": a flame tube hotter than the gas "
            "may be; allowed: below 450 °C (start.gas_temperature_limit)"}}) {
    std::vector<std::string> words;
    for (const auto& setting : bad.settings) {
      words.emplace_back("--set");
      words.push_back(setting);
    }
    const auto said = spin(words);
    EXPECT_EQ(said.exit, 2) << bad.said;
    EXPECT_THAT(said.err, HasSubstr(bad.said));
    EXPECT_EQ(std::count(said.err.begin(), said.err.end(), '\n'), 1) << said.err;
    EXPECT_THAT(said.out, IsEmpty());
  }
}

TEST(Spin, SaysThatTheTimeWasUpBeforeAnythingLit) {
  const auto said = spin({"--set", "start.time_limit=1 s"});
  EXPECT_THAT(said.out, HasSubstr("The attempt's time, 1 s, was up before anything lit"));
  EXPECT_THAT(said.out, HasSubstr("start.time_limit"));
}

TEST(Spin, PlaceTellsSeasonsToProgramsAsToPeople) {
  const std::vector<std::string> derive{"place", demo, "--set", "start.airflow="};
  auto words = derive;
  words.emplace_back("--json");
  const auto seasons = Json::parse(windgap(words).out).at("seasons");
  const auto text = windgap(derive).out;
  ASSERT_EQ(seasons.size(), 2U);
  for (const auto& season : seasons) {
    const bool enough = season.at("airflow_kg_s") >= season.at("starting_airflow_kg_s");
    EXPECT_EQ(season.at("enough").get<bool>(), enough);
    EXPECT_EQ(season.at("margin").get<double>() >= 0.0, enough);
    const auto said = "A " + season.at("name").get<std::string>() + " start";
    EXPECT_EQ(text.find(said) == std::string::npos, enough) << said;
  }
  EXPECT_THAT(Json::parse(windgap({"place", demo, "--json"}).out).at("seasons"), IsEmpty());
}

TEST(Spin, SaysWhereItSustainsItselfWhenIdleIsTooSlow) {
  const auto said = spin({"--set", "start.idle_speed=15000 rpm"});
  EXPECT_THAT(said.out, ::testing::Not(HasSubstr("never")));
  EXPECT_THAT(said.out, HasSubstr("It sustains itself only from"));
}

TEST(Spin, ExplainsAStartThatCatchesThoughShort) {
  const auto said = spin({"--at", "560mm"});
  EXPECT_EQ(said.exit, 0) << said.out;
  EXPECT_THAT(said.out, HasSubstr("short"));
  EXPECT_THAT(said.out, HasSubstr("It catches all the same"));
  EXPECT_THAT(said.out, HasSubstr("start.duration"));
}

TEST(Spin, PlaceSaysForWhichOilItsNeedHoldsAndWarnsOfWinter) {
  const auto said = windgap({"place", demo, "--set", "start.airflow=", "--confirm"});
  EXPECT_THAT(said.out, HasSubstr("for oil entering at"));
  EXPECT_THAT(said.out, HasSubstr("A winter start"));
  std::istringstream words(said.out);
  std::string line;
  for (std::string word; words >> word;) line += word + " ";
  EXPECT_THAT(line, HasSubstr("The slot ends earlier"));
  const auto stated = windgap({"place", demo});
  EXPECT_THAT(stated.out, ::testing::Not(HasSubstr("winter")));
}

}  // namespace
}  // namespace windgap::app
