#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>
#include <vector>

#include "casefile/case.h"

/// The section on the purge after the run.
namespace windgap::casefile {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

const fs::path good = fs::path(WINDGAP_SOURCE_DIR) / "tests/bad_cases/good.yaml";

Case with(std::vector<std::string> settings, bool cooling = true) {
  ReadOptions options;
  options.installed = WINDGAP_MODELS_DIR;
  options.settings = std::move(settings);
  options.scope.cooling = cooling;
  return read_case(good, options);
}

std::string refusal(std::vector<std::string> settings) {
  try {
    (void)with(std::move(settings));
  } catch (const InputError& error) {
    return error.what();
  }
  ADD_FAILURE() << "the case was accepted";
  return "";
}

const AssumedValue* assumed(const Case& bench, std::string_view key) {
  const auto& list = bench.cool.assumed;
  const auto found = std::find_if(
      list.begin(), list.end(), [&](const AssumedValue& value) { return value.key == key; });
  return found == list.end() ? nullptr : &*found;
}

TEST(CoolSection, IsReadIntoSi) {
  const auto bench = with({"cool.turbine_housing.mass=3200 g",
                           "cool.casing.material=stainless",
                           "cool.rotor.temperature=500 degC",
                           "cool.cooling_per_minute=60 K",
                           "cool.charge_left=1800 mAh",
                           "cool.throttle=[20 %, 60 %]",
                           "cool.dry_speed=6000 rpm",
                           "running.duration=8 min"});
  const auto& cool = bench.cool;
  EXPECT_TRUE(cool.possible);
  EXPECT_DOUBLE_EQ(cool.engine.build.mass[cooling::index(cooling::Part::turbine_housing)], 3.2);
  EXPECT_EQ(cool.engine.build.material[cooling::index(cooling::Part::casing)],
            cooling::Material::stainless);
  EXPECT_DOUBLE_EQ(cool.engine.temperature[cooling::index(cooling::Part::rotor)], 773.15);
  EXPECT_NEAR(cool.need.cooling_rate, 1.0, 1e-12);
  EXPECT_NEAR(cool.charge_left, 6480.0, 1e-9);
  EXPECT_DOUBLE_EQ(cool.need.least_throttle, 0.2);
  EXPECT_DOUBLE_EQ(cool.need.most_throttle, 0.6);
  EXPECT_NEAR(cool.engine.dry_speed, 628.3, 0.1);
  EXPECT_DOUBLE_EQ(cool.engine.run, 480.0);
}

TEST(CoolSection, ListsEverythingNobodySaidApartFromTheMountsAssumptions) {
  const auto bench = with({});
  for (const auto* key : {"cool.oil_pump",
                          "cool.goal",
                          "cool.oil",
                          "cool.glove_level",
                          "cool.contact_time",
                          "cool.dry_speed",
                          "cool.throttle",
                          "cool.starts",
                          "cool.charge_left",
                          "cool.rotor.mass",
                          "cool.liner.material",
                          "running.gas_temperature",
                          "running.duration"}) {
    ASSERT_NE(assumed(bench, key), nullptr) << key;
    EXPECT_FALSE(assumed(bench, key)->value.empty()) << key;
    EXPECT_FALSE(assumed(bench, key)->source.empty()) << key;
  }
  EXPECT_EQ(bench.assumed.size(), with({}, false).assumed.size());
}

TEST(CoolSection, WhatIsGivenIsNotAssumed) {
  const auto bench = with({"cool.oil_pump=always", "cool.rotor.mass=0.4 kg", "cool.starts=3"});
  for (const auto* key : {"cool.oil_pump", "cool.rotor.mass", "cool.starts"}) {
    EXPECT_EQ(assumed(bench, key), nullptr) << key;
  }
  EXPECT_EQ(bench.cool.engine.pump, cooling::PumpUse::always);
  EXPECT_EQ(bench.cool.starts, 3.0);
}

TEST(CoolSection, TheRunDoesNotMatterWhereEveryTemperatureIsRead) {
  std::vector<std::string> settings;
  for (std::size_t i = 0; i < cooling::part_count; ++i) {
    settings.push_back("cool." + std::string(name(static_cast<cooling::Part>(i))) +
                       ".temperature=300 degC");
  }
  EXPECT_EQ(assumed(with(settings), "running.gas_temperature"), nullptr);
}

TEST(CoolSection, RefusesARangeOfThrottleWithoutAWholePercent) {
  EXPECT_THAT(refusal({"cool.throttle=[20.2 %, 20.8 %]"}), HasSubstr("whole percents"));
  EXPECT_THAT(refusal({"cool.throttle=[60 %, 20 %]"}), ::testing::Not(HasSubstr("whole percents")));
}

TEST(CoolSection, RefusesAPartColderThanTheRoom) {
  const auto text =
      refusal({"site.temperature=20 degC", "cool.centre_housing.temperature=12 degC"});
  EXPECT_THAT(text, HasSubstr("cool.centre_housing.temperature"));
  EXPECT_THAT(text, HasSubstr("12 degC"));
  EXPECT_THAT(text, HasSubstr("colder than the room"));
  EXPECT_THAT(text, HasSubstr("from 20 °C (site.temperature) up"));
}

TEST(CoolSection, RefusesAnEngineThatIsColdAlready) {
  std::vector<std::string> settings{"site.temperature=20 degC"};
  for (std::size_t i = 0; i < cooling::part_count; ++i) {
    settings.push_back("cool." + std::string(name(static_cast<cooling::Part>(i))) +
                       ".temperature=20 degC");
  }
  EXPECT_THAT(refusal(settings), HasSubstr("no part is hotter than the room"));
}

TEST(CoolSection, AMeasuredInletLeavesNothingToCool) {
  const fs::path blank = fs::path(WINDGAP_SOURCE_DIR) / "cases/blank.yaml";
  ReadOptions options;
  options.installed = WINDGAP_MODELS_DIR;
  options.scope.cooling = true;
  options.settings = {"fan.stream.exit_diameter=60 mm",
                      "fan.stream.velocity=72 m/s",
                      "engine.resistance.throat_diameter=46 mm",
                      "engine.resistance.loss_factor=14",
                      "mount.nearest=20 mm",
                      "mount.farthest=600 mm",
                      "start.airflow=24 g/s"};
  EXPECT_FALSE(read_case(blank, options).cool.possible);
}

}  // namespace
}  // namespace windgap::casefile
