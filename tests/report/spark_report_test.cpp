#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

#include "report/html_text.h"
#include "report/shown.h"
#include "report/spark_page.h"
#include "report/spark_text.h"
#include "report/spark_words.h"

namespace windgap::report {
namespace {

using Json = nlohmann::json;
using ::testing::HasSubstr;

Outcome demo(std::vector<std::string> settings = {}) {
  auto bench = casefile::read_case(
      WINDGAP_SOURCE_DIR "/cases/demo.yaml",
      {.settings = std::move(settings), .models = {WINDGAP_MODELS_DIR}, .scope = {.spark = true}});
  auto answer = placement::answer(
      bench.parts, bench.models.rig, bench.requirement, bench.models.placement, {});
  return {.bench = std::move(bench), .answer = std::move(answer), .asked = {}};
}

const Outcome& plain() {
  static const auto once = demo();
  return once;
}

/// The demo with an afterburner whose box keeps its charge.
const Outcome& with_afterburner() {
  static const auto once =
      demo({"igniters.1={place: afterburner, gap: {length: 3 mm}, gas: {velocity: 25 m/s}, fuel: "
            "{kind: kerosene, drop_diameter: 0.06 mm}, sources: [{name: battery box, kind: "
            "converter, battery_voltage: 12 V, converter_voltage: 400 V, converter_power: 30 W, "
            "sparks_per_second: 30, ringing: clamped, capacitor: {capacitance: 1 uF, "
            "rated_voltage: 630 V}, switch_rated_voltage: 800 V, coil: {turns_ratio: 80}}]}"});
  return once;
}

std::string text_of(const Outcome& outcome) {
  return spark_text(outcome.bench, judge_igniters(outcome));
}

std::string flowed(const std::string& text) {
  return std::regex_replace(text, std::regex("\\s+"), " ");
}

TEST(SparkReport, PutsCautionsBeforeTheVerdict) {
  const auto text = text_of(plain());
  EXPECT_EQ(text.find("Before anything else"), 0U);
  const auto verdict = text.find("main: sparks and lights; no charge stays");
  ASSERT_NE(verdict, std::string::npos);
  const auto head = flowed(text.substr(0, verdict));
  for (const auto& caution : spark_cautions()) {
    EXPECT_THAT(head, HasSubstr(std::string(caution.brief)));
  }
  for (const auto* word : {"one hand",
                           "discharge",
                           "short",
                           "residual-current",
                           "protective earth",
                           "isolat",
                           "vapour",
                           "burns",
                           "licensed practice",
                           "somebody qualified"}) {
    EXPECT_THAT(head, HasSubstr(word));
  }
}

TEST(SparkReport, ScreenIsNarrowAndHoldsNoNumberThatIsNone) {
  for (const auto* outcome : {&plain(), &with_afterburner()}) {
    const auto text = text_of(*outcome);
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) EXPECT_LE(width_of(line), 80U) << line;
    EXPECT_FALSE(std::regex_search(text, std::regex("[^a-z](nan|inf|n/a)[^a-z]")));
  }
}

TEST(SparkReport, ComparesFourSourcesBestFirst) {
  const auto verdicts = judge_igniters(plain());
  ASSERT_EQ(verdicts.front().sources.size(), 4U);
  const auto rows =
      source_rows(plain().bench.igniters.front(), verdicts.front(), units::System::metric);
  EXPECT_EQ(rows.front().front(), "battery coil *");
  EXPECT_EQ(rows.back()[7], "no spark");
  for (const auto& row : rows) EXPECT_EQ(row.size(), source_heads().size());
}

TEST(SparkReport, HarderStateCounts) {
  const auto verdicts = judge_igniters(plain());
  const auto& igniter = plain().bench.igniters.front();
  const auto& verdict = verdicts.front();
  ASSERT_EQ(verdict.states.size(), 2U);
  for (std::size_t i = 0; i < igniter.sources.size(); ++i) {
    for (const auto& state : verdict.states) {
      const auto other = spark::assess({.gap = igniter.gap, .source = igniter.sources[i].source},
                                       state.conditions,
                                       plain().bench.models.spark);
      EXPECT_LE(verdict.sources[i].spark.margin, other.margin + 1e-12) << igniter.sources[i].name;
    }
  }
}

TEST(SparkReport, SaysWhatToFitAndWhatTheLampMeans) {
  const auto text = flowed(text_of(plain()));
  EXPECT_THAT(text, HasSubstr("Harmless within 5 s with"));
  EXPECT_THAT(text, HasSubstr("count it as load_current"));
  EXPECT_THAT(text, HasSubstr("goes dark at 60 V"));
  EXPECT_THAT(text, HasSubstr("Not known here: the mixture at the plug"));
}

TEST(SparkReport, SaysWhyNot) {
  const auto opened = demo({"igniters.0.gap.length=12 mm"});
  EXPECT_THAT(flowed(text_of(opened)), HasSubstr("Why: the gap of 12 mm asks for"));
  const auto narrow = demo({"igniters.0.gap.length=0.7 mm"});
  EXPECT_THAT(flowed(text_of(narrow)), HasSubstr("put the young flame out"));
  const auto cold = demo(
      {"igniters.0.fuel={kind: kerosene, temperature: -10 degC}", "igniters.0.gap.length=3 mm"});
  EXPECT_THAT(flowed(text_of(cold)), HasSubstr("no spark lights it"));
  for (const auto* outcome : {&opened, &narrow, &cold}) {
    const auto light = light_off(outcome->bench, outcome->answer.rig, shown_row(*outcome).delivery);
    EXPECT_TRUE(light.stated);
    EXPECT_FALSE(light.lights);
    EXPECT_FALSE(light.why.empty());
  }
}

TEST(SparkReport, ALampIsNoBleederUntilConnected) {
  const auto lamp = demo(
      {"igniters.0.sources.0={kind: storage_coil, mains_voltage: 230 V, mains_frequency: 50 Hz, "
       "ringing: clamped, capacitor: {capacitance: 2 uF, rated_voltage: 630 V}, "
       "switch_rated_voltage: 1000 V, coil: {turns_ratio: 80}, bleed: {kind: lamp, "
       "rated_voltage: 230 V, rated_power: 40 W}}"});
  const auto text = flowed(text_of(lamp));
  EXPECT_THAT(text, HasSubstr("after its bleeder is connected, not before"));
  EXPECT_THAT(text, HasSubstr("once it is connected; without, it takes 47 h"));
  EXPECT_THAT(text, HasSubstr("may come back"));
}

TEST(SparkReport, SaysWhyLightOffIsNotJudged) {
  const auto weak = demo({"start.airflow=200 g/s"});
  const auto verdicts = judge_igniters(weak);
  ASSERT_EQ(verdicts.front().states.size(), 1U);
  EXPECT_THAT(flowed(text_of(weak)),
              HasSubstr("Not judged at light-off: the fan, as strong as it is, does not bring the "
                        "starting airflow."));
  const auto document = Json::parse(spark_json(weak, verdicts));
  const auto& absent = document.at("igniters").at(0).at("states").back();
  EXPECT_EQ(absent.at("name"), std::string(light_off_state));
  EXPECT_TRUE(absent.at("pressure_pa").is_null());
  EXPECT_THAT(absent.at("why").get<std::string>(), HasSubstr("does not bring"));
  EXPECT_TRUE(judge_igniters(plain()).front().no_light_off.empty());
}

TEST(SparkReport, GasStatedInFullNeedsNoStart) {
  const auto stated = demo({"start.airflow=200 g/s",
                            "igniters.0.gas={pressure: 1000 mbar, temperature: 15 degC, velocity: "
                            "5 m/s}"});
  EXPECT_THAT(flowed(text_of(stated)), testing::Not(HasSubstr("Not judged")));
}

TEST(SparkReport, TellsTheShareOfEachResistorOfTheFittedChain) {
  const auto fits = HasSubstr("The worst of its 3 resistors sees 116 V of its 350 V and 0.0561 W");
  EXPECT_THAT(flowed(text_of(plain())), fits);
  const auto document = Json::parse(spark_json(plain(), judge_igniters(plain())));
  const auto& box = document.at("igniters").at(0).at("sources").at(1);
  const auto& chain = box.at("stored_charge").at("fitted_bleeder");
  EXPECT_EQ(chain.at("resistors"), 3);
  EXPECT_EQ(chain.at("rated_voltage_v"), 350.0);
  EXPECT_GT(chain.at("voltage_each_v").get<double>(), 325.0 / 3.0);
  EXPECT_LT(chain.at("power_each_w").get<double>(), chain.at("rated_power_w").get<double>());
  EXPECT_FALSE(box.at("safe_after_needs_connecting").get<bool>());
}

TEST(SparkReport, JsonSaysWhereABleederMustBeConnected) {
  const auto switched = demo({"igniters.0.sources.1.bleed.connection=switched"});
  const auto document = Json::parse(spark_json(switched, judge_igniters(switched)));
  const auto& sources = document.at("igniters").at(0).at("sources");
  EXPECT_TRUE(sources.at(1).at("safe_after_needs_connecting").get<bool>());
  EXPECT_FALSE(sources.at(0).at("safe_after_needs_connecting").get<bool>());
}

TEST(SparkReport, NoMultipleIsWrittenWithAnExponent) {
  const auto strong = demo({"igniters.0.sources.0.primary_inductance=200 mH",
                            "igniters.0.sources.0.primary_resistance=0.1 ohm",
                            "igniters.0.sources.0.dwell=18 ms",
                            "igniters.0.gap.length=0.05 mm"});
  const auto text = text_of(strong);
  EXPECT_FALSE(std::regex_search(text, std::regex("[0-9]e[+-][0-9]"))) << text;
}

TEST(SparkReport, LightOffAsksOnlyThePlugsInTheChamber) {
  const auto& outcome = with_afterburner();
  const auto light = light_off(outcome.bench, outcome.answer.rig, shown_row(outcome).delivery);
  EXPECT_TRUE(light.stated);
  EXPECT_TRUE(light.lights);
  EXPECT_TRUE(light.why.empty());
}

TEST(SparkReport, JsonHasTheKeysForEverySource) {
  const auto& outcome = with_afterburner();
  const auto document = Json::parse(spark_json(outcome, judge_igniters(outcome)));
  ASSERT_EQ(document.at("igniters").size(), 2U);
  for (const auto& igniter : document.at("igniters")) {
    for (const auto& source : igniter.at("sources")) {
      EXPECT_TRUE(source.at("jumps").is_boolean());
      EXPECT_TRUE(source.at("enough").is_boolean());
      for (const auto* key :
           {"required_kv", "available_kv", "margin", "energy_j", "safe_after_s"}) {
        EXPECT_TRUE(source.at(key).is_number()) << key;
      }
      EXPECT_NEAR(
          source.at("margin").get<double>(),
          source.at("available_kv").get<double>() / source.at("required_kv").get<double>() - 1.0,
          1e-9);
    }
  }
  EXPECT_EQ(document.at("cautions").size(), spark_cautions().size());
}

TEST(SparkReport, PageShowsBreakdownSourceAndDischarge) {
  const auto section = spark_section(with_afterburner());
  for (const auto& caution : spark_cautions())
    EXPECT_THAT(section, HasSubstr(escaped(caution.full)));
  for (const auto* title : {"breakdown against the gap",
                            "what it has to give",
                            "how its charge leaves",
                            "afterburner"}) {
    EXPECT_THAT(section, HasSubstr(title));
  }
  EXPECT_FALSE(std::regex_search(section, std::regex("[^a-z](nan|inf|n/a|null)[^a-z]")));
  EXPECT_LT(section.find("cautions"), section.find("<h3>"));
}

TEST(SparkReport, NoIgniterNoSection) {
  auto outcome = plain();
  outcome.bench.igniters.clear();
  EXPECT_TRUE(spark_section(outcome).empty());
}

TEST(SparkReport, LastingChoosesReadableUnits) {
  EXPECT_EQ(lasting(2.0, units::System::metric), "2 s");
  EXPECT_EQ(lasting(600.0, units::System::metric), "10 min");
  EXPECT_EQ(lasting(36000.0, units::System::metric), "10 h");
  EXPECT_EQ(lasting(864000.0, units::System::metric), "10 days");
}

}  // namespace
}  // namespace windgap::report
