#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
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
  const auto named =
      demo({"igniters.0.sources.0.name='the very long name of a battery coil from the shed'"});
  const auto late = demo({"igniters.0.sources.1.firing_angle=179 deg"});
  for (const auto* outcome : {&plain(), &with_afterburner(), &named, &late}) {
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
  EXPECT_THAT(text, HasSubstr("through a contact that rests closed"));
  EXPECT_THAT(
      text,
      HasSubstr("Do not fix them across it for good: of 29.4 kV that would leave 9.32 kV, no "
                "more than what the gap asks for."));
  EXPECT_THAT(text, HasSubstr("goes dark at 70 V"));
  EXPECT_THAT(text, HasSubstr("dark does not mean safe"));
  EXPECT_EQ(text.find("A charged-indicator"), text.rfind("A charged-indicator"))
      << "no plain neon lamp fits the ladder's 30 kV";
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

/// One box whose old capacitors give charge back.
const char* const old_box =
    "igniters.0.sources.0={name: old box, kind: converter, battery_voltage: 12 V, "
    "converter_voltage: 2 kV, converter_power: 60 W, sparks_per_second: 10, ringing: clamped, "
    "capacitor: {capacitance: 1 uF, rated_voltage: 3 kV, dielectric: paper_oil}, "
    "switch_rated_voltage: 3 kV, coil: {turns_ratio: 12}, indicator: {dark_below: 50 V}, bleed: "
    "{kind: resistors, resistance: "
    "330 kohm, count: 10, rated_voltage: 500 V, rated_power: 2 W, connection: permanent}}";

TEST(SparkReport, SafeIsSafeOnlyShortedWhereChargeComesBack) {
  const auto old = demo({old_box});
  const auto verdicts = judge_igniters(old);
  const auto& igniter = old.bench.igniters.front();
  EXPECT_THAT(headline(igniter, verdicts.front()),
              HasSubstr("and only while its terminals are kept shorted"));
  const auto strap = std::string("Leave a shorting strap across the terminals of the old box");
  for (const auto& text :
       {flowed(spark_text(old.bench, verdicts)), flowed(spark_brief(old.bench, verdicts))}) {
    const auto verdict = text.find("main: ");
    const auto at = text.find(strap);
    ASSERT_NE(at, std::string::npos) << text;
    EXPECT_GT(at, verdict);
    EXPECT_LT(at, text.find("Judged"));
    EXPECT_THAT(text, HasSubstr("up to 100 V come back by themselves"));
    EXPECT_THAT(text, testing::Not(HasSubstr("old box: dark then means safe")));
  }
  const auto text = flowed(spark_text(old.bench, verdicts));
  EXPECT_THAT(text, HasSubstr("may come back: harmless only while shorted."));
  EXPECT_THAT(text, HasSubstr("dark does not mean safe, for what comes back"));
  EXPECT_THAT(text, HasSubstr("‡ only while its terminals are kept shorted."));
  const auto section = spark_section(old);
  EXPECT_THAT(section, HasSubstr(strap));
  EXPECT_LT(section.find(strap), section.find("<table"));
  const auto document = Json::parse(spark_json(old, verdicts));
  const auto& source = document.at("igniters").at(0).at("sources").at(0);
  EXPECT_TRUE(source.at("safe_after_only_shorted").get<bool>());
  EXPECT_FALSE(source.at("stored_charge").at("indicator_truthful").get<bool>());
  EXPECT_GT(source.at("stored_charge").at("recovery_voltage_v").get<double>(), 60.0);
}

TEST(SparkReport, NoIndicatorIsTrustedBesideAReboundAboveSixtyVolts) {
  for (const auto* dielectric : {"film", "ceramic", "paper_oil"}) {
    const auto one =
        demo({old_box, std::string("igniters.0.sources.0.capacitor.dielectric=") + dielectric});
    const auto verdicts = judge_igniters(one);
    for (const auto& source : verdicts.front().sources) {
      if (!source.spark.charge) continue;
      const auto& charge = *source.spark.charge;
      EXPECT_EQ(source.spark.keep_shorted, charge.fitted.recovery_voltage > 60.0);
      if (source.spark.keep_shorted) {
        EXPECT_FALSE(charge.indicator.value().truthful) << dielectric;
      }
    }
  }
}

TEST(SparkReport, OtherBoxesThatAreChargedStandUnderTheVerdict) {
  const auto brief = flowed(spark_brief(plain().bench, judge_igniters(plain())));
  EXPECT_EQ(brief.find("Before anything else: these voltages kill"), 0U);
  EXPECT_THAT(brief, HasSubstr("one hand only"));
  EXPECT_THAT(brief,
              HasSubstr("main: sparks and lights; no charge stays after switch-off Not fitted, but "
                        "fed from the mains:"));
  EXPECT_THAT(
      brief,
      HasSubstr(
          "belong to each. Not fitted, but charged once built: storage box, harmless 2.23 s after "
          "switch-off; ladder of 15, nothing bleeds it, charged for some 7 "
          "days, roughly 3 days to 16 days, after switch-off."));
}

TEST(SparkReport, RareSparksAreUnsureWithReasonAndRemedy) {
  const auto rare = demo({"igniters.0.sources.0.sparks_per_second=0.01"});
  const auto verdicts = judge_igniters(rare);
  for (const auto& text :
       {flowed(spark_text(rare.bench, verdicts)), flowed(spark_brief(rare.bench, verdicts))}) {
    EXPECT_THAT(text, HasSubstr("main: sparks only once in 100 s: unsure whether it lights"));
    EXPECT_THAT(text, testing::Not(HasSubstr("sparks and lights")));
  }
  EXPECT_THAT(flowed(spark_text(rare.bench, verdicts)),
              HasSubstr("Why: it sparks once in 100 s, and may not while a mixture that burns is "
                        "at the plug: 1 a second or more is wanted; set more sparks a second."));
  const auto document = Json::parse(spark_json(rare, verdicts));
  const auto& source = document.at("igniters").at(0).at("sources").at(0);
  EXPECT_EQ(source.at("verdict"), "unsure");
  EXPECT_TRUE(source.at("rare").get<bool>());
  EXPECT_FALSE(source.at("lights").get<bool>());
  EXPECT_THAT(source.at("why").get<std::string>(), HasSubstr("set more sparks a second"));
  EXPECT_FALSE(document.at("lights").get<bool>());
}

TEST(SparkReport, TheMainsStandUnderTheVerdictWhateverTheRank) {
  const auto mains = demo({"igniters.0.gap.length=1.9 mm",
                           "igniters.0.sources.3={name: coil, kind: dwell_coil, battery_voltage: "
                           "12 V, primary_resistance: 1.5 ohm, primary_inductance: 6 mH, dwell: 8 "
                           "ms, sparks_per_second: 50, clamp_voltage: 350 V, "
                           "switch_rated_voltage: 450 V, switch_rated_current: 15 A, coil: "
                           "{turns_ratio: 80}}",
                           "igniters.0.sources.0={name: box, kind: storage_coil, mains_voltage: "
                           "230 V, mains_frequency: 50 Hz, charging_resistance: 200 ohm, ringing: "
                           "clamped, supply: tied_to_mains, capacitor: {capacitance: 2 uF, "
                           "rated_voltage: 630 V}, switch_rated_voltage: 1000 V, coil: "
                           "{turns_ratio: 80}}"});
  const auto verdicts = judge_igniters(mains);
  EXPECT_EQ(verdicts.front().ranked.front(), 3U) << "the fitted one is not the best";
  for (const auto& text :
       {flowed(spark_text(mains.bench, verdicts)), flowed(spark_brief(mains.bench, verdicts))}) {
    const auto verdict = text.find("main: ");
    const auto live = text.find("The box is fitted and tied to the mains: every part is live");
    ASSERT_NE(live, std::string::npos) << text;
    EXPECT_GT(live, verdict);
    EXPECT_LT(live, text.find("Why:"));
    EXPECT_THAT(text.substr(live), HasSubstr("protective earth and a residual-current device"));
    EXPECT_THAT(text.substr(0, verdict), HasSubstr("residual-current device"));
  }
  const auto also = Json::parse(spark_json(mains, verdicts)).at("igniters").at(0).at("also");
  EXPECT_THAT(also.dump(), HasSubstr("every part is live"));
  EXPECT_THAT(flowed(spark_brief(plain().bench, judge_igniters(plain()))),
              HasSubstr("Not fitted, but fed from the mains: storage box, tied: every part is "
                        "live; ladder of 15, through a transformer; 20 to 1, tied: every part is "
                        "live."));
}

TEST(SparkReport, ATimeThatWaitsForAHandIsMarkedInTheTable) {
  const auto switched = demo({"igniters.0.sources.1.bleed.connection=switched"});
  const auto text = flowed(text_of(switched));
  EXPECT_THAT(text, HasSubstr("2.23 s†"));
  EXPECT_THAT(text, HasSubstr("† counted from when its lamp or bleeder is connected, not before."));
  EXPECT_THAT(flowed(text_of(plain())), testing::Not(HasSubstr("†")));
  EXPECT_THAT(spark_section(switched), HasSubstr("2.23 s†"));
}

TEST(SparkReport, ShowsWhatBreakdownWasCheckedFor) {
  const auto text = flowed(text_of(plain()));
  const auto density = std::string("0.3 to 5 times the density of room air (here 1.03)");
  const auto product = std::string("of 0.76 to 3040 Pa m (here 262)");
  const auto gaps = std::string("gaps of 0.00726 mm to 29.1 mm");
  const auto section = flowed(spark_section(plain()));
  for (const auto& part : {density, product, gaps, std::string("some from memory")}) {
    EXPECT_THAT(text, HasSubstr(part));
    EXPECT_THAT(section, HasSubstr(part));
  }
  const auto document = Json::parse(spark_json(plain(), judge_igniters(plain())));
  const auto& checked = document.at("igniters").at(0).at("sources").at(0).at("checked");
  EXPECT_EQ(checked.at("lowest_density"), 0.3);
  EXPECT_EQ(checked.at("highest_density"), 5.0);
  EXPECT_NEAR(
      checked.at("longest_gap_m").get<double>() * checked.at("relative_density").get<double>(),
      0.03,
      1e-12);
  EXPECT_NEAR(checked.at("greatest_pressure_gap_pa_m").get<double>(), 0.03 * 101325.0, 1e-9);
}

TEST(SparkReport, ALongestGapThatEndsWithTheCheckSaysSo) {
  const auto far = demo({"igniters.0.gap.electrodes=points",
                         "igniters.0.sources.0.primary_inductance=10 mH",
                         "igniters.0.sources.0.dwell=18 ms",
                         "igniters.0.sources.0.switch_rated_voltage=800 V",
                         "igniters.0.sources.0.clamp_voltage=610 V"});
  const auto spark = judge_igniters(far).front().sources.front().spark;
  EXPECT_TRUE(spark.gaps.ends_with_the_check) << spark.gaps.longest;
  EXPECT_THAT(flowed(text_of(far)),
              HasSubstr("the voltage reaches farther, what breakdown was checked for does not"));
}

TEST(SparkReport, ShowsALaddersDropAndRipple) {
  const auto said = std::string(
      "ladder of 15: 30 kV with nothing drawn; the 0.001 mA drawn cost 616 V and leave "
      "63.8 V of ripple, 58.1 V by another rule.");
  EXPECT_THAT(flowed(text_of(plain())), HasSubstr(said));
  EXPECT_THAT(flowed(spark_section(plain())), HasSubstr(said));
  const auto document = Json::parse(spark_json(plain(), judge_igniters(plain())));
  const auto& sources = document.at("igniters").at(0).at("sources");
  const auto& state = sources.at(2).at("ladder");
  // By hand from the formulas: n 7.5, 1 uA, 50 Hz, 10 nF.
  EXPECT_NEAR(state.at("drop_kv").get<double>(), 0.61625, 1e-9);
  EXPECT_NEAR(state.at("ripple_kv").get<double>(), 0.06375, 1e-9);
  EXPECT_NEAR(state.at("ripple_by_makers_rule_kv").get<double>(), 0.058125, 1e-9);
  EXPECT_EQ(state.at("open_kv"), 30.0);
  EXPECT_TRUE(sources.at(0).at("ladder").is_null());
}

TEST(SparkReport, ABleederForGoodTakesTheLaddersVoltage) {
  const auto starved =
      demo({"igniters.0.sources.2.bleed={kind: resistors, resistance: 1.5 Mohm, count: 190, "
            "rated_voltage: 350 V, rated_power: 0.6 W, connection: permanent}"});
  const auto document = Json::parse(spark_json(starved, judge_igniters(starved)));
  const auto& ladder = document.at("igniters").at(0).at("sources").at(2);
  EXPECT_NEAR(ladder.at("available_kv").get<double>(), 9.29, 0.01);
  EXPECT_EQ(ladder.at("verdict"), "no spark");
  EXPECT_LT(ladder.at("safe_after_s").get<double>(), 5.0);
}

TEST(SparkReport, AStarvingBleederIsTurnedIntoOneThatIsNot) {
  const std::string ladder =
      "igniters.0.sources.2.bleed={kind: resistors, count: 190, "
      "rated_voltage: 2 kV, rated_power: 0.6 W, ";
  const auto starved = demo({ladder + "resistance: 1.5 Mohm, connection: permanent}"});
  const auto of = [](const Outcome& outcome) {
    return Json::parse(spark_json(outcome, judge_igniters(outcome)))
        .at("igniters")
        .at(0)
        .at("sources")
        .at(2);
  };
  const auto source = of(starved);
  const auto& bleeder = source.at("starving_bleeder");
  EXPECT_THAT(source.at("why").get<std::string>(),
              HasSubstr("the bleeder fitted for good takes what is missing: 29.4 kV without it"));
  EXPECT_THAT(flowed(text_of(starved)),
              HasSubstr("It does not light as the bleeder fitted for good takes what is missing"));
  // By hand: 616 Mohm inside, 29.38 kV, 9.34 kV times 1.5 left: R = 616 x 14.0 / (29.38 - 14.0).
  const double least = bleeder.at("least_resistance_ohm").get<double>();
  EXPECT_NEAR(least, 561e6, 6e6);
  const auto with = [&](double share) {
    return of(demo({ladder + "resistance: " + std::to_string(share * least / 190.0) +
                    " ohm, connection: permanent}"}));
  };
  EXPECT_TRUE(with(1.01).at("lights").get<bool>());
  EXPECT_FALSE(with(0.99).at("lights").get<bool>());
  EXPECT_NEAR(with(1.0).at("safe_after_s").get<double>(),
              bleeder.at("safe_after_s").get<double>(),
              0.01 * bleeder.at("safe_after_s").get<double>());
  EXPECT_TRUE(of(plain()).at("starving_bleeder").is_null());
}

TEST(SparkReport, AContactMustBearTheStoresVoltage) {
  const auto closing = demo({"igniters.0.sources.1.bleed.connection=self_closing"});
  EXPECT_THAT(flowed(text_of(closing)),
              HasSubstr("Its contact must bear 325 V when open, which nobody checked here"));
  const auto bled = [](const Outcome& outcome) {
    return Json::parse(spark_json(outcome, judge_igniters(outcome)))
        .at("igniters")
        .at(0)
        .at("sources")
        .at(1)
        .at("stored_charge")
        .at("fitted_bleeder");
  };
  EXPECT_NEAR(bled(closing).at("contact_bears_v").get<double>(), 325.27, 0.01);
  EXPECT_EQ(bled(closing).at("connection"), "self_closing");
  EXPECT_TRUE(bled(plain()).at("contact_bears_v").is_null());
  EXPECT_THAT(flowed(text_of(plain())), testing::Not(HasSubstr("Its contact must bear")));
}

TEST(SparkReport, JsonHasTheLampTheHazardAndWhatToPrefer) {
  const auto lamp =
      demo({"igniters.0.sources.1.bleed={kind: lamp, rated_voltage: 230 V, rated_power: 40 W}"});
  const auto document = Json::parse(spark_json(lamp, judge_igniters(lamp)));
  const auto& igniter = document.at("igniters").at(0);
  const auto& charge = igniter.at("sources").at(1).at("stored_charge");
  EXPECT_EQ(charge.at("fitted_bleeder").at("kind"), "lamp");
  EXPECT_EQ(charge.at("fitted_bleeder").at("lamps"), 1);
  EXPECT_EQ(charge.at("fitted_bleeder").at("rated_voltage_v"), 230.0);
  EXPECT_EQ(charge.at("hazard"), "a shock");
  EXPECT_TRUE(igniter.at("prefer").is_null()) << "the battery coil is the one fitted";
  const auto boxed = demo(
      {"igniters.0.gap.length=1.9 mm",
       "igniters.0.sources.0={name: box, kind: storage_coil, mains_voltage: 230 V, "
       "mains_frequency: "
       "50 Hz, charging_resistance: 200 ohm, ringing: clamped, capacitor: {capacitance: 2 uF, "
       "rated_voltage: 630 V}, switch_rated_voltage: 1000 V, coil: {turns_ratio: 80}}",
       "igniters.0.sources.1={name: coil, kind: dwell_coil, battery_voltage: 12 V, "
       "primary_resistance: 1.5 ohm, primary_inductance: 6 mH, dwell: 8 ms, sparks_per_second: 50, "
       "clamp_voltage: 350 V, switch_rated_voltage: 450 V, switch_rated_current: 15 A, coil: "
       "{turns_ratio: 80}}"});
  const auto said = Json::parse(spark_json(boxed, judge_igniters(boxed))).at("igniters").at(0);
  EXPECT_THAT(said.at("prefer").get<std::string>(), HasSubstr("the coil lights it too"));
  EXPECT_THAT(flowed(text_of(boxed)), HasSubstr("main: the coil lights it too"));
}

TEST(SparkReport, SmallThingsAreSaidAsTheyAre) {
  const auto dim = demo({"igniters.0.sources.1.indicator.dark_below=400 V"});
  EXPECT_THAT(flowed(text_of(dim)), HasSubstr("dark at 400 V never lights on 325 V"));
  EXPECT_THAT(text_of(dim), testing::Not(HasSubstr(" 0 ms")));
  const auto dead = demo({"igniters.0.sources.0.dwell=0.01 ms"});
  EXPECT_THAT(flowed(text_of(dead)), HasSubstr("No gap does: with the margin taken off"));
  EXPECT_FALSE(std::regex_search(text_of(dead), std::regex("[^0-9.]0 mm")));
}

TEST(SparkReport, ACaseThatStatesTheGasNeedsNoRig) {
  const auto bench = casefile::read_case(
      WINDGAP_SOURCE_DIR "/tests/bad_cases/spark_outside.yaml",
      {.settings = {"fan=",
                    "engine=",
                    "drive=",
                    "mount=",
                    "igniters.0.gas={pressure: 1 bar, temperature: 15 degC, velocity: 5 m/s}"},
       .models = {WINDGAP_MODELS_DIR},
       .scope = {.spark = true, .spark_alone = true}});
  EXPECT_TRUE(bench.rig_is_open);
  const auto verdicts = judge_stated(bench);
  ASSERT_EQ(verdicts.size(), 1U);
  EXPECT_THAT(flowed(spark_text(bench, verdicts)),
              HasSubstr("Judged in the gas stated: 1000 mbar"));
  const auto document = Json::parse(spark_json(bench, verdicts, unset));
  EXPECT_TRUE(document.at("stand_off_m").is_null());
}

TEST(SparkReport, WarnsOfXRaysRightUnderTheVerdict) {
  const auto high = demo({"igniters.0.sources.2.stages=20"});
  const auto text = flowed(spark_brief(high.bench, judge_igniters(high)));
  EXPECT_THAT(text,
              HasSubstr("The ladder of 15 reaches 40 kV with its lead off, beyond the voltage "
                        "up to which X-rays are no issue"));
  const auto bound = units::format(high.bench.models.spark.source.xray_voltage,
                                   units::Dimension::voltage,
                                   units::System::metric);
  for (const auto& caution : spark_cautions()) {
    if (caution.key != "burns") continue;
    EXPECT_THAT(std::string(caution.brief), HasSubstr("up to " + bound));
    EXPECT_THAT(std::string(caution.full), HasSubstr("up to " + bound));
  }
}

TEST(SparkReport, WhereNoChainIsSensibleItSaysSo) {
  const auto huge = demo({"igniters.0.sources.2.output_capacitance=40 nF"});
  EXPECT_THAT(
      flowed(text_of(huge)),
      HasSubstr("No chain of up to 30 resistors as commonly sold makes it harmless within 5 s and "
                "bears it for good"));
  const auto document = Json::parse(spark_json(huge, judge_igniters(huge)));
  EXPECT_TRUE(document.at("igniters")
                  .at(0)
                  .at("sources")
                  .at(2)
                  .at("stored_charge")
                  .at("bleeder")
                  .is_null());
}

TEST(SparkReport, JsonTellsUnsureFromNoAndTheEnergyWithoutAJump) {
  const auto document = Json::parse(spark_json(plain(), judge_igniters(plain())));
  const auto& sources = document.at("igniters").at(0).at("sources");
  const std::pair<const char*, const char*> wanted[] = {
      {"yes", "lights"}, {"unsure", "unsure"}, {"yes", "lights"}, {"no", "no spark"}};
  for (std::size_t i = 0; i < 4; ++i) {
    const auto& source = sources.at(i);
    EXPECT_EQ(source.at("jump"), wanted[i].first);
    EXPECT_EQ(source.at("verdict"), wanted[i].second);
    EXPECT_EQ(source.at("jumps").get<bool>(), source.at("jump") == "yes");
    EXPECT_GT(source.at("energy_j").get<double>(), 0.0);
    EXPECT_EQ(
        source.at("enough").get<bool>(),
        source.at("energy_ratio").get<double>() >= source.at("wanted_energy_ratio").get<double>());
  }
  EXPECT_TRUE(sources.at(1).at("enough").get<bool>());
  EXPECT_FALSE(sources.at(1).at("lights").get<bool>());
}

TEST(SparkReport, ColdFuelIsTooColdWhateverTheVoltage) {
  const auto cold = demo({"igniters.0.fuel={kind: kerosene, temperature: -10 degC}"});
  const auto verdicts = judge_igniters(cold);
  for (const auto& row :
       source_rows(cold.bench.igniters.front(), verdicts.front(), units::System::metric)) {
    EXPECT_EQ(row[7], "too cold") << row[0];
  }
  const auto both = demo(
      {"igniters.0.fuel={kind: kerosene, temperature: -10 degC}", "igniters.0.gap.length=12 mm"});
  const auto text = flowed(text_of(both));
  EXPECT_THAT(text, HasSubstr("does not spark, and the fuel is too cold for any"));
  EXPECT_THAT(text, HasSubstr("Why: the gap of 12 mm asks for"));
  EXPECT_THAT(text, HasSubstr("; the fuel is too cold to give vapour"));
}

TEST(SparkReport, ReasonsHaveNoExponents) {
  const auto weak = demo({"igniters.0.sources.0.dwell=0.05 ms",
                          "igniters.0.fuel={kind: kerosene, temperature: 10 degC, drop_diameter: "
                          "0.3 mm}"});
  const auto spark = judge_igniters(weak).front().sources.front().spark;
  const auto why = why_not(spark, weak.bench.igniters.front(), units::System::metric);
  EXPECT_THAT(why, HasSubstr("5 times the least that lights this fuel"));
  EXPECT_FALSE(std::regex_search(why, std::regex("[0-9]e[+-]?[0-9]"))) << why;
}

TEST(SparkReport, ALampIsNoBleederUntilConnected) {
  const auto lamp = demo(
      {"igniters.0.sources.0={kind: storage_coil, mains_voltage: 230 V, mains_frequency: 50 Hz, "
       "ringing: clamped, capacitor: {capacitance: 2 uF, rated_voltage: 630 V}, "
       "switch_rated_voltage: 1000 V, coil: {turns_ratio: 80}, bleed: {kind: lamp, "
       "rated_voltage: 230 V, rated_power: 40 W}}"});
  const auto text = flowed(text_of(lamp));
  EXPECT_THAT(text, HasSubstr("after its bleeder is connected, not before"));
  EXPECT_THAT(
      text,
      HasSubstr("once it is connected; without, it takes some 47 h, roughly 21 h to 4 days, "
                "as it leaks."));
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

TEST(SparkReport, TheMarginIsOverWhatItsOwnSourceIsAsked) {
  const auto text = flowed(text_of(plain()));
  EXPECT_THAT(text,
              HasSubstr("The margin is over what the gap asks: 9.34 kV of the battery coil, the "
                        "ladder of 15, the 20 to 1; 10.7 kV of the storage box, as its pulse is "
                        "steep."));
  const auto verdict = judge_igniters(plain()).front();
  for (const auto& source : verdict.sources) {
    EXPECT_NEAR(source.spark.margin,
                source.spark.output.peak_voltage / source.spark.required_voltage - 1.0,
                1e-12);
  }
  const auto document = Json::parse(spark_json(plain(), judge_igniters(plain())));
  const auto& box = document.at("igniters").at(0).at("sources").at(1);
  EXPECT_NEAR(
      box.at("required_kv").get<double>(), 1.15 * box.at("breakdown_kv").get<double>(), 1e-9);
  const auto section = spark_section(plain());
  EXPECT_THAT(section, HasSubstr("asked in a steep pulse"));
  EXPECT_THAT(section, HasSubstr("10.7 kV of the storage box"));
}

/// The demo with its storage box as the one fitted.
Outcome with_box(std::vector<std::string> settings = {}) {
  std::vector<std::string> all{
      "igniters.0.sources=[{name: box, kind: storage_coil, mains_voltage: 230 V, mains_frequency: "
      "50 Hz, charging_resistance: 200 ohm, ringing: clamped, supply: tied_to_mains, capacitor: "
      "{capacitance: 2 uF, rated_voltage: 630 V}, switch_rated_voltage: 1000 V, coil: "
      "{turns_ratio: 80}}]"};
  all.insert(all.end(), settings.begin(), settings.end());
  return demo(all);
}

TEST(SparkReport, ASteepPulseIsToldFromASlowRise) {
  const auto fitted = with_box();
  const auto text = flowed(text_of(fitted));
  EXPECT_THAT(text,
              HasSubstr("breaks down at 9.34 kV in a slow rise and asks for 10.7 kV in the steep "
                        "pulse of the box"));
  EXPECT_THAT(spark_section(fitted), HasSubstr("asked in a steep pulse"));
  EXPECT_THAT(flowed(text_of(plain())), testing::Not(HasSubstr("in a slow rise")));
}

TEST(SparkReport, CautionsOfSourcesNotFittedAreInTheText) {
  const auto near_rating = demo({"igniters.0.sources.1.switch_rated_voltage=700 V",
                                 "igniters.0.sources.1.bleed.resistance=2 Mohm",
                                 "igniters.0.sources.1.bleed.connection=self_closing"});
  const auto text = flowed(text_of(near_rating));
  EXPECT_THAT(text, HasSubstr("Warning: main, not fitted, storage box:"));
  for (const auto* said : {"closer to its rating than a part",
                           "tied to the mains",
                           "a contact may stick",
                           "the charge outlasts the time",
                           "Warning: main, not fitted, ladder of 15:"}) {
    EXPECT_THAT(text, HasSubstr(said));
  }
}

TEST(SparkReport, TheVerdictSaysWhenTheChargeLastsTooLong) {
  const auto slow =
      with_box({"igniters.0.sources.0.bleed={kind: resistors, resistance: 1000 Mohm, "
                "count: 2, rated_voltage: 350 V, rated_power: 0.6 W, connection: "
                "permanent}"});
  EXPECT_THAT(flowed(spark_brief(slow.bench, judge_igniters(slow))),
              HasSubstr("after switch-off, longer than the 5 s it should take"));
  EXPECT_THAT(spark_brief(plain().bench, judge_igniters(plain())),
              testing::Not(HasSubstr("longer than")));
}

TEST(SparkReport, LeakageIsMarkedAsRough) {
  const auto text = flowed(text_of(plain()));
  EXPECT_THAT(text, HasSubstr("~7 days"));
  EXPECT_THAT(text, HasSubstr("~ by leakage alone, rough and not to be counted on."));
  const auto document = Json::parse(spark_json(plain(), judge_igniters(plain())));
  const auto& charge = document.at("igniters").at(0).at("sources").at(2).at("stored_charge");
  EXPECT_NEAR(charge.at("unaided_range_s").at(1).get<double>() /
                  charge.at("unaided_range_s").at(0).get<double>(),
              std::exp(1.6),
              0.12);
}

TEST(SparkReport, ATinyOrLowStoreIsGivenNoSillyAdvice) {
  const auto tiny = with_box({"igniters.0.sources.0.capacitor.capacitance=100 pF"});
  const auto text = flowed(text_of(tiny));
  EXPECT_THAT(text, HasSubstr("It is so small that no bleeder need be fitted"));
  EXPECT_THAT(text, testing::Not(HasSubstr("outlasts")));
  EXPECT_THAT(text, testing::Not(HasSubstr("resistors in series")));
  const auto low = with_box({"igniters.0.sources.0.mains_voltage=30 V"});
  const auto harmless = flowed(text_of(low));
  EXPECT_THAT(harmless, HasSubstr("what stays after switch-off is below the safe voltage"));
  EXPECT_THAT(harmless, testing::Not(HasSubstr("0 ms")));
  EXPECT_THAT(harmless, testing::Not(HasSubstr("charged-indicator")));
  const auto starved = demo({"igniters.0.sources.2.load_current=60 uA"});
  EXPECT_THAT(flowed(text_of(starved)), testing::Not(HasSubstr("of 0 V that would leave")));
}

TEST(SparkReport, HeadlineAndTableTellQuenchingFromWeakness) {
  const auto narrow = demo({"igniters.0.gap.length=0.01 mm"});
  const auto& igniter = narrow.bench.igniters.front();
  EXPECT_THAT(headline(igniter, judge_igniters(narrow).front()),
              HasSubstr("sparks, but in so short a gap that the electrodes put the flame out"));
  for (const auto* dwell : {"0.3 ms", "0.6 ms", "0.9 ms", "1.2 ms"}) {
    const auto weak = demo({std::string("igniters.0.sources.0.dwell=") + dwell,
                            "igniters.0.gap.length=1.9 mm",
                            "igniters.0.sources.0.coil.secondary_capacitance=10 pF",
                            "igniters.0.fuel={kind: kerosene, drop_diameter: 0.03 mm}"});
    const auto verdict = judge_igniters(weak).front();
    const auto& spark = verdict.sources.front().spark;
    const auto head = headline(weak.bench.igniters.front(), verdict);
    EXPECT_EQ(verdict_word(spark) == "weak", head.find("but weakly: may not light") != head.npos);
    EXPECT_EQ(verdict_word(spark) == "too weak", head.find("too weakly to light") != head.npos);
  }
}

TEST(SparkReport, AnotherFuelThanTheEnginesIsSaid) {
  const auto said = std::string(
      "The spark of main is judged for propane, but the engine is lit on kerosene: right only "
      "where "
      "that propane is a pilot flame of its own at the plug.");
  const auto kerosene = demo({"fuel.kind=kerosene"});
  const auto verdicts = judge_igniters(kerosene);
  EXPECT_THAT(flowed(spark_text(kerosene.bench, verdicts)), HasSubstr(said));
  EXPECT_THAT(flowed(spark_brief(kerosene.bench, verdicts)), HasSubstr(said));
  EXPECT_THAT(spark_section(kerosene), HasSubstr(said));
  EXPECT_EQ(other_fuel(kerosene.bench), said);
  const auto preheated = demo({"fuel.kind=kerosene", "fuel.preheat={flow: 0.3 g/s}"});
  EXPECT_TRUE(other_fuel(preheated.bench).empty()) << "its gas is what is lit";
  EXPECT_TRUE(other_fuel(plain().bench).empty());
  EXPECT_TRUE(other_fuel(demo({"fuel.kind="}).bench).empty())
      << "nothing stated, nothing to contradict";
}

TEST(SparkReport, NoIgniterNoSection) {
  auto outcome = plain();
  outcome.bench.igniters.clear();
  EXPECT_TRUE(spark_section(outcome).empty());
}

TEST(SparkReport, TellsWhenEnergyAndChargeAreWithinTheirLimits) {
  const auto said = HasSubstr(
      "It is within the energy limits from the start, within the charge limit of parts "
      "that can be touched after 3.53 s: neither permits anything.");
  EXPECT_THAT(flowed(text_of(plain())), said);
  EXPECT_THAT(flowed(spark_section(plain())), said);
}

TEST(SparkReport, NumbersAreReadable) {
  const auto metric = units::System::metric;
  EXPECT_EQ(readable(4e-11, units::Dimension::energy, metric), "<0.0001 mJ");
  EXPECT_EQ(readable(0.0718, units::Dimension::energy, metric), "71.8 mJ");
  EXPECT_EQ(readable(0.0, units::Dimension::energy, metric), "0 mJ");
  EXPECT_EQ(times(87.42), "87.4 times");
  EXPECT_EQ(times(59712345.0), "59700000 times");
  const auto wild = demo({"igniters.0.sources.3.frequency=60 kHz",
                          "igniters.0.sources.3.turns_ratio=200",
                          "igniters.0.gap.length=0.02 mm",
                          "igniters.0.sources.2.load_current=0 mA",
                          "igniters.0.sources.1.firing_angle=179 deg"});
  const auto text = text_of(wild);
  EXPECT_FALSE(std::regex_search(text, std::regex("[0-9]e[+-]?[0-9]"))) << text;
  EXPECT_THAT(text, HasSubstr(">999 %"));
  EXPECT_THAT(text, HasSubstr("120000"));
  EXPECT_THAT(flowed(text), HasSubstr("nothing is drawn, so nothing drops"));
}

TEST(SparkReport, LastingChoosesReadableUnits) {
  EXPECT_EQ(lasting(2.0, units::System::metric), "2 s");
  EXPECT_EQ(lasting(600.0, units::System::metric), "10 min");
  EXPECT_EQ(lasting(36000.0, units::System::metric), "10 h");
  EXPECT_EQ(lasting(864000.0, units::System::metric), "10 days");
}

}  // namespace
}  // namespace windgap::report
