#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "casefile/case.h"

namespace windgap::casefile {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

const std::string lamp_and_plug =
    "igniters=[{gap: {length: 2 mm}, fuel: {kind: kerosene}, sources: [{kind: storage_coil, "
    "mains_voltage: 230 V, mains_frequency: 50 Hz, capacitor: {capacitance: 1 uF, rated_voltage: "
    "630 V}, switch_rated_voltage: 1000 V, coil: {turns_ratio: 80}}]}, {place: afterburner, gap: "
    "{length: 3 mm, electrodes: points}, gas: {velocity: 30 m/s}, fuel: {kind: propane}, sources: "
    "[{name: mine, kind: transformer, primary_voltage: 230 V, turns_ratio: 35, "
    "short_circuit_current: 20 mA, frequency: 50 Hz, supply: isolated_mains}]}]";

Case read(const std::vector<std::string>& settings, Scope scope = {.spark = true}) {
  return read_case(WINDGAP_SOURCE_DIR "/tests/bad_cases/good.yaml",
                   {.settings = settings, .installed = WINDGAP_MODELS_DIR, .scope = scope});
}

const AssumedValue* assumed(const Case& bench, std::string_view key) {
  const auto found = std::find_if(bench.assumed.begin(),
                                  bench.assumed.end(),
                                  [&](const AssumedValue& value) { return value.key == key; });
  return found == bench.assumed.end() ? nullptr : &*found;
}

TEST(Igniters, TwoOnOneEngineAreTwoEntries) {
  const auto bench = read({lamp_and_plug});
  ASSERT_EQ(bench.igniters.size(), 2U);
  EXPECT_EQ(bench.igniters[0].name, "main");
  EXPECT_EQ(bench.igniters[0].place, PlugPlace::chamber);
  EXPECT_EQ(bench.igniters[1].name, "afterburner");
  EXPECT_EQ(bench.igniters[1].place, PlugPlace::afterburner);
  EXPECT_EQ(bench.igniters[1].gap.electrodes, spark::Electrodes::points);
  EXPECT_EQ(bench.igniters[1].sources[0].name, "mine");
  EXPECT_EQ(spark::supply(bench.igniters[1].sources[0].source), spark::Supply::isolated_mains);
}

TEST(Igniters, ReadInSiUnits) {
  const auto bench = read({lamp_and_plug});
  const auto& storage = std::get<spark::StorageCoil>(bench.igniters[0].sources[0].source);
  EXPECT_DOUBLE_EQ(bench.igniters[0].gap.length, 2e-3);
  EXPECT_DOUBLE_EQ(storage.capacitor.capacitance, 1e-6);
  EXPECT_DOUBLE_EQ(storage.mains_voltage, 230.0);
  EXPECT_DOUBLE_EQ(storage.firing_angle, std::numbers::pi / 2.0);
}

TEST(Igniters, ListWhatNobodyStatedAndTakeTheMoreDangerous) {
  const auto bench = read({lamp_and_plug});
  for (const auto* key : {"igniters.0.gap.electrodes",
                          "igniters.0.fuel.temperature",
                          "igniters.0.fuel.flash_point",
                          "igniters.0.sources.0.supply",
                          "igniters.0.sources.0.capacitor.dielectric",
                          "igniters.0.sources.0.coil.efficiency",
                          "igniters.0.sources.0.firing_angle",
                          "igniters.0.sources.0.bleed.kind",
                          "igniters.1.gas.pressure",
                          "igniters.1.gas.temperature"}) {
    EXPECT_NE(assumed(bench, key), nullptr) << key;
  }
  EXPECT_EQ(spark::supply(bench.igniters[0].sources[0].source), spark::Supply::tied_to_mains);
  EXPECT_EQ(assumed(bench, "igniters.1.sources.0.supply"), nullptr);
}

TEST(Igniters, LeaveTheGasOfTheChamberToTheRig) {
  const auto bench = read({lamp_and_plug});
  EXPECT_TRUE(std::isnan(bench.igniters[0].given.gas.pressure));
  EXPECT_TRUE(std::isnan(bench.igniters[0].given.velocity));
  EXPECT_DOUBLE_EQ(bench.igniters[0].given.fuel_temperature, bench.parts.site.temperature);
  EXPECT_DOUBLE_EQ(bench.igniters[1].given.gas.temperature, bench.parts.site.temperature);
}

TEST(Igniters, AreLeftOutWhereNobodyAsksForThem) {
  EXPECT_TRUE(read({lamp_and_plug}, {}).igniters.empty());
}

TEST(Igniters, ReadALampAcrossTheCharge) {
  const auto bench = read({lamp_and_plug,
                           "igniters.0.sources.0.bleed={kind: lamp, rated_voltage: 230 V, "
                           "rated_power: 40 W, count: 2}"});
  const auto& lamp = std::get<spark::Lamp>(bench.igniters[0].sources[0].bleed);
  EXPECT_EQ(lamp.count, 2);
  EXPECT_DOUBLE_EQ(lamp.rated_power, 40.0);
}

TEST(Igniters, RefuseALampThatBurnsThrough) {
  try {
    (void)read({lamp_and_plug,
                "igniters.0.sources.0.capacitor.capacitance=200 uF",
                "igniters.0.sources.0.bleed={kind: lamp, rated_voltage: 24 V, rated_power: 5 W}"});
    FAIL() << "accepted";
  } catch (const InputError& error) {
    EXPECT_THAT(error.what(), HasSubstr("igniters.0.sources.0.bleed.rated_power"));
    EXPECT_THAT(error.what(), HasSubstr("burn through"));
  }
}

/// What a case is refused with; empty where it is read.
std::string refusal(const std::vector<std::string>& settings) {
  try {
    (void)read(settings);
  } catch (const InputError& error) {
    return error.what();
  }
  return {};
}

TEST(Igniters, RefuseToCallTheMainsALowVoltage) {
  const auto said = refusal({lamp_and_plug, "igniters.0.sources.0.supply=isolated_low_voltage"});
  EXPECT_THAT(said, HasSubstr("igniters.0.sources.0.supply: read \"isolated_low_voltage\""));
  EXPECT_THAT(said, HasSubstr("230 V asked"));
  EXPECT_THAT(said, HasSubstr("allowed: up to 50 V"));
  EXPECT_EQ(refusal({lamp_and_plug, "igniters.0.sources.0.supply=isolated_mains"}), "");
}

TEST(Igniters, RefuseAStringOfLampsOnHighVoltage) {
  const auto said = refusal(
      {"igniters=[{gap: {length: 2 mm}, fuel: {kind: propane}, sources: [{kind: ladder, "
       "supply_peak: 2 kV, supply_current: 10 mA, frequency: 50 Hz, stages: 16, capacitor: "
       "{capacitance: 10 nF, rated_voltage: 6 kV}, diode_rated_voltage: 6 kV, bleed: {kind: lamp, "
       "count: 60, rated_voltage: 230 V, rated_power: 40 W}}]}]"});
  EXPECT_THAT(said, HasSubstr("igniters.0.sources.0.bleed.kind: read \"lamp\""));
  EXPECT_THAT(said, HasSubstr("32 kV asked"));
  EXPECT_THAT(said, HasSubstr("allowed: lamps up to 1.5 kV; resistors above"));
}

TEST(Igniters, NoTwoSourcesShareAName) {
  const std::string one =
      "kind: transformer, primary_voltage: 230 V, turns_ratio: 35, short_circuit_current: 20 mA, "
      "frequency: 50 Hz}";
  const auto both = [&](const std::string& first, const std::string& second) {
    return "igniters=[{gap: {length: 2 mm}, fuel: {kind: propane}, sources: [{" + first + one +
           ", {" + second + one + "]}]";
  };
  const auto bench = read({both("", "")});
  EXPECT_EQ(bench.igniters[0].sources[0].name, "transformer");
  EXPECT_EQ(bench.igniters[0].sources[1].name, "transformer 2");
  EXPECT_THAT(refusal({both("name: old, ", "name: old, ")}),
              HasSubstr("igniters.0.sources.1.name: read \"old\""));
  EXPECT_EQ(refusal({both("name: old, ", "name: new, ")}), "");
}

TEST(Igniters, ANameGivenByNumberIsNobodyElses) {
  const std::string plug =
      "gap: {length: 2 mm}, fuel: {kind: propane}, sources: [{kind: transformer, primary_voltage: "
      "230 V, turns_ratio: 35, short_circuit_current: 20 mA, frequency: 50 Hz, supply: "
      "isolated_mains}]}";
  const auto bench =
      read({"igniters=[{name: main 2, " + plug + ", {" + plug + ", {" + plug + ", {" + plug + "]"});
  ASSERT_EQ(bench.igniters.size(), 4U);
  std::vector<std::string> names;
  for (const auto& igniter : bench.igniters) names.push_back(igniter.name);
  EXPECT_THAT(names, ElementsAre("main 2", "main", "main 3", "main 4"));
}

TEST(Igniters, RefuseAnElectrolyticThatRings) {
  const std::string key = "igniters.0.sources.0.capacitor.dielectric";
  EXPECT_THROW((void)read({lamp_and_plug, key + "=electrolytic"}), InputError);
  EXPECT_NO_THROW(
      (void)read({lamp_and_plug, key + "=electrolytic", "igniters.0.sources.0.ringing=clamped"}));
}

TEST(Igniters, RefuseToBleedWhatKeepsNoCharge) {
  EXPECT_THROW(
      (void)read({lamp_and_plug,
                  "igniters.1.sources.0.bleed={kind: lamp, rated_voltage: 230 V, rated_power: "
                  "40 W}"}),
      InputError);
}

TEST(Igniters, ABleederThatStaysIsCheckedWithItsLadder) {
  const std::string ladder =
      "igniters=[{gap: {length: 2 mm}, fuel: {kind: propane}, sources: [{kind: ladder, "
      "supply_peak: "
      "2 kV, supply_current: 10 mA, frequency: 20 kHz, stages: 15, capacitor: {capacitance: 10 nF, "
      "rated_voltage: 6 kV}, diode_rated_voltage: 6 kV, bleed: {kind: resistors, count: 30, "
      "resistance: 1 Mohm, rated_voltage: 3 kV, rated_power: 5 W, connection: permanent}}]}]";
  try {
    (void)read({ladder});
    FAIL() << "accepted";
  } catch (const InputError& error) {
    EXPECT_THAT(error.what(), HasSubstr("igniters.0.sources.0.bleed.resistance"));
    EXPECT_THAT(error.what(), HasSubstr("more than the ladder's supply gives"));
  }
  const std::string how = "igniters.0.sources.0.bleed.connection=";
  EXPECT_NO_THROW((void)read({ladder, how + "self_closing"}));
  EXPECT_NO_THROW((void)read({ladder, how + "switched"}));
}

TEST(Igniters, MeasuredResistanceMustBeToldTheVelocity) {
  const std::vector<std::string> blown{
      "engine={resistance: {throat_diameter: 46 mm, loss_factor: 14}}", "start.airflow=18 g/s"};
  auto settings = blown;
  settings.push_back(lamp_and_plug);
  EXPECT_THROW((void)read(settings), InputError);
  settings.emplace_back("igniters.0.gas.velocity=6 m/s");
  EXPECT_NO_THROW((void)read(settings));
}

}  // namespace
}  // namespace windgap::casefile
