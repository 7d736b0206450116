#include "spark/spark.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "support/models.h"

namespace windgap::spark {
namespace {

// The parts below are invented.
class Spark : public testing::Test {
 protected:
  const Coefficients c = test::spark_models();

  const Conditions propane{
      .gas = {.pressure = 1.06e5, .temperature = 290.0}, .velocity = 6.0, .fuel = Fuel::propane};
  const Coil coil{.turns_ratio = 80.0};

  [[nodiscard]] Source dwell() const {
    return DwellCoil{.battery_voltage = 12.0,
                     .primary_resistance = 1.5,
                     .primary_inductance = 6e-3,
                     .dwell = 8e-3,
                     .sparks_per_second = 50.0,
                     .clamp_voltage = 350.0,
                     .switch_rated_voltage = 400.0,
                     .switch_rated_current = 15.0,
                     .coil = coil};
  }
  [[nodiscard]] Source storage() const {
    return StorageCoil{.mains_voltage = 230.0,
                       .mains_frequency = 50.0,
                       .firing_angle = std::numbers::pi / 2.0,
                       .charging_resistance = 200.0,
                       .ringing = Ringing::clamped,
                       .capacitor = {.capacitance = 2e-6, .rated_voltage = 630.0},
                       .switch_rated_voltage = 1000.0,
                       .coil = coil};
  }
  [[nodiscard]] Source transformer() const {
    return StepUpTransformer{.primary_voltage = 100.0,
                             .turns_ratio = 20.0,
                             .short_circuit_current = 25e-3,
                             .frequency = 50.0};
  }
  [[nodiscard]] Source ladder() const {
    return Ladder{.supply_peak = 2000.0,
                  .supply_current = 10e-3,
                  .frequency = 50.0,
                  .stages = 15,
                  .counted_in = StageCount::diodes,
                  .capacitor = {.capacitance = 10e-9, .rated_voltage = 6000.0},
                  .diode_rated_voltage = 6000.0};
  }
  [[nodiscard]] Igniter igniter(const Source& source, double gap = 2.5e-3) const {
    return {.gap = {.length = gap, .electrodes = Electrodes::plug_worn},
            .source = source,
            .bleed = NoBleed{}};
  }
  [[nodiscard]] Assessment at(const Igniter& one) const { return assess(one, propane, c); }
};

TEST_F(Spark, ADwellCoilLightsPropane) {
  const auto result = at(igniter(dwell()));
  EXPECT_TRUE(result.jumps);
  EXPECT_TRUE(result.enough);
  EXPECT_TRUE(result.lights);
  EXPECT_EQ(result.jump, Jump::yes);
  EXPECT_GT(result.margin, result.wanted_margin);
  EXPECT_FALSE(result.charge);
  EXPECT_EQ(result.safe_after, 0.0);
}

// common practice, no source: igniter boxes spark once a second or more often.
TEST_F(Spark, RareSparksMayMissTheMixture) {
  auto slow = std::get<DwellCoil>(dwell());
  slow.sparks_per_second = 0.9;
  const auto rare = at(igniter(slow));
  EXPECT_TRUE(rare.jumps && rare.enough && rare.ignites);
  EXPECT_TRUE(rare.rare);
  EXPECT_FALSE(rare.lights);
  slow.sparks_per_second = 1.0;
  const auto often = at(igniter(slow));
  EXPECT_FALSE(often.rare);
  EXPECT_TRUE(often.lights);
  EXPECT_FALSE(at(igniter(transformer())).rare) << "no spark at all is no rare one";
}

TEST_F(Spark, RankingPutsADeadSourceBelowAnUnsureOne) {
  const double longest = at(igniter(dwell())).gaps.longest;
  const auto unsure_mains = at(igniter(storage()));
  ASSERT_EQ(unsure_mains.jump, Jump::unsure);
  const auto dead_battery = at(igniter(dwell(), 3.0 * longest));
  ASSERT_EQ(dead_battery.jump, Jump::no);
  auto slow = std::get<DwellCoil>(dwell());
  slow.sparks_per_second = 0.1;
  const std::vector<Assessment> all{
      dead_battery, unsure_mains, at(igniter(slow)), at(igniter(storage(), 1.9e-3))};
  ASSERT_TRUE(all[3].lights);
  EXPECT_EQ(ranked(all), (std::vector<std::size_t>{3, 2, 1, 0}));
}

TEST_F(Spark, UsableGapsJumpWithTheMarginAndClearTheQuenchDistance) {
  const auto wide = at(igniter(dwell()));
  ASSERT_LT(wide.gaps.shortest, wide.gaps.longest);
  const auto longest = at(igniter(dwell(), wide.gaps.longest * 0.999));
  EXPECT_TRUE(longest.jumps);
  EXPECT_FALSE(at(igniter(dwell(), wide.gaps.longest * 1.001)).jumps);
  const auto narrow = at(igniter(dwell(), wide.gaps.shortest * 0.99));
  EXPECT_TRUE(narrow.enough);
  EXPECT_TRUE(narrow.quenches);
  EXPECT_FALSE(narrow.lights);
  EXPECT_TRUE(at(igniter(dwell(), wide.gaps.shortest * 1.01)).lights);
}

TEST_F(Spark, JumpHasThreeAnswersAndTheEnergyItsOwn) {
  const double longest = at(igniter(dwell())).gaps.longest;
  const auto unsure = at(igniter(dwell(), 1.2 * longest));
  EXPECT_EQ(unsure.jump, Jump::unsure);
  EXPECT_FALSE(unsure.jumps);
  EXPECT_GT(unsure.margin, 0.0);
  const auto none = at(igniter(dwell(), 3.0 * longest));
  EXPECT_EQ(none.jump, Jump::no);
  EXPECT_LT(none.margin, 0.0);
  for (const auto& one : {unsure, none}) {
    EXPECT_TRUE(one.enough);
    EXPECT_GT(one.energy_ratio, one.wanted_energy_ratio);
    EXPECT_FALSE(one.lights);
  }
}

TEST_F(Spark, TheLongestGapStopsWhereTheCheckDoes) {
  auto strong = std::get<Ladder>(ladder());
  strong.stages = 25;
  auto one = igniter(strong);
  one.gap.electrodes = Electrodes::points;
  const auto result = at(one);
  EXPECT_TRUE(result.gaps.ends_with_the_check);
  EXPECT_DOUBLE_EQ(result.gaps.longest, result.checked.longest);
  EXPECT_DOUBLE_EQ(result.checked.longest, checked_gap(propane.gas, c.gap).longest);
  EXPECT_FALSE(at(igniter(dwell())).gaps.ends_with_the_check);
}

TEST_F(Spark, AnAdvisedBleederIsTriedOnTheSource) {
  const auto weak = at(igniter(ladder()));
  ASSERT_TRUE(weak.charge && weak.charge->advice);
  const auto& bad = *weak.charge->advice;
  EXPECT_EQ(bad.connection, Connection::self_closing);
  EXPECT_LT(bad.margin, weak.wanted_margin);
  // Fitted for good all the same, the source does what the advice foretold.
  const auto fitted = [&](const AdvisedBleeder& advised, const Source& source, Connection how) {
    auto one = igniter(source);
    one.bleed = ResistorChain{.resistance = advised.chain.resistance_each,
                              .count = advised.chain.count,
                              .rated_voltage = advised.chain.rating.voltage,
                              .rated_power = advised.chain.rating.power,
                              .connection = how};
    return at(one);
  };
  const auto starved = fitted(bad, ladder(), Connection::permanent);
  EXPECT_NEAR(starved.output.peak_voltage, bad.peak_voltage, 1e-9 * bad.peak_voltage);
  EXPECT_FALSE(starved.lights);
  const auto closing = fitted(bad, ladder(), Connection::self_closing);
  EXPECT_TRUE(closing.lights);
  EXPECT_LE(closing.safe_after, c.charge.safe_time);

  const auto box = at(igniter(storage(), 1.9e-3));
  ASSERT_TRUE(box.lights && box.charge && box.charge->advice);
  const auto& good = *box.charge->advice;
  EXPECT_EQ(good.connection, Connection::permanent);
  auto kept = igniter(storage(), 1.9e-3);
  kept.bleed = ResistorChain{.resistance = good.chain.resistance_each,
                             .count = good.chain.count,
                             .rated_voltage = good.chain.rating.voltage,
                             .rated_power = good.chain.rating.power};
  const auto bled = at(kept);
  EXPECT_TRUE(bled.lights);
  EXPECT_LE(bled.safe_after, c.charge.safe_time);
  EXPECT_NEAR(bled.output.peak_voltage, good.peak_voltage, 1e-9 * good.peak_voltage);
  EXPECT_GE(good.peak_voltage, (1.0 - c.charge.bleeder_loss) * box.output.peak_voltage);
}

TEST_F(Spark, AStiffLadderBearsItsBleeder) {
  auto stiff = std::get<Ladder>(ladder());
  stiff.frequency = 20e3;
  stiff.capacitor.capacitance = 1e-9;
  const auto result = at(igniter(stiff));
  ASSERT_TRUE(result.charge && result.charge->advice);
  EXPECT_EQ(result.charge->advice->connection, Connection::permanent);
}

TEST_F(Spark, WhatComesBackCountsInTheVerdict) {
  auto old = std::get<Ladder>(ladder());
  old.capacitor.dielectric = Dielectric::paper_oil;
  EXPECT_TRUE(at(igniter(old)).keep_shorted);
  EXPECT_FALSE(at(igniter(storage())).keep_shorted);
}

TEST_F(Spark, ASteepPulseIsAskedForMore) {
  const auto result = at(igniter(storage()));
  EXPECT_NEAR(result.required_voltage, c.source.fast_rise * result.breakdown.voltage, 1e-9);
}

TEST_F(Spark, OnlyTheGasesShareCounts) {
  const auto result = at(igniter(dwell()));
  EXPECT_NEAR(
      result.energy_in_gas, (1.0 - c.ignition.cathode_share) * result.output.spark_energy, 1e-15);
  EXPECT_NEAR(result.energy_ratio, result.energy_in_gas / result.need.energy, 1e-12);
}

TEST_F(Spark, ColdKeroseneIsAnotherMatterThanPropane) {
  auto cold = propane;
  cold.fuel = Fuel::kerosene;
  cold.fuel_temperature = 288.0;
  const auto dry = assess(igniter(dwell()), cold, c);
  EXPECT_TRUE(dry.jumps);
  EXPECT_FALSE(dry.enough);
  EXPECT_EQ(dry.energy_ratio, 0.0);
  cold.drop_diameter = 120e-6;
  const auto mist = assess(igniter(dwell(), 4e-3), cold, c);
  EXPECT_GT(mist.energy_ratio, 0.0);
  EXPECT_LT(mist.energy_ratio, 0.1 * at(igniter(dwell(), 4e-3)).energy_ratio);
}

TEST_F(Spark, ARefusedSourceGetsNoVerdict) {
  auto wrong = std::get<StorageCoil>(storage());
  wrong.feed = Feed::alternating;
  wrong.capacitor.dielectric = Dielectric::electrolytic;
  const auto result = at(igniter(wrong));
  EXPECT_TRUE(result.refused);
  EXPECT_FALSE(result.jumps);
  EXPECT_FALSE(result.enough);
  EXPECT_FALSE(result.findings.empty());
}

TEST_F(Spark, TwoIgnitersAreTwoEntries) {
  const auto main = at(igniter(dwell()));
  auto hot = propane;
  hot.gas = {.pressure = 1.05e5, .temperature = 800.0};
  const auto afterburner = assess(igniter(dwell()), hot, c);
  EXPECT_LT(afterburner.required_voltage, 0.5 * main.required_voltage);
}

TEST_F(Spark, RankingPutsAWorkingIsolatedSourceFirst) {
  auto wrong = std::get<StorageCoil>(storage());
  wrong.capacitor.rated_voltage = 250.0;
  const std::vector<Assessment> all{
      at(igniter(wrong)), at(igniter(transformer())), at(igniter(storage())), at(igniter(dwell()))};
  const std::vector<std::size_t> expected{3, 2, 1, 0};
  EXPECT_EQ(ranked(all), expected);
}

TEST_F(Spark, CurvesFollowTheKnob) {
  const auto falling = source_curve(ladder(), 20, c.source);
  EXPECT_EQ(falling.setting, Setting::load_current);
  EXPECT_TRUE(std::is_sorted(falling.peak_voltages.rbegin(), falling.peak_voltages.rend()));
  const auto angle = source_curve(storage(), 20, c.source);
  EXPECT_EQ(angle.setting, Setting::firing_angle);
  EXPECT_GT(angle.peak_voltages[5], 2.0 * angle.peak_voltages.back());
  const auto rising = source_curve(dwell(), 20, c.source);
  EXPECT_TRUE(std::is_sorted(rising.peak_voltages.begin(), rising.peak_voltages.end()));
  const auto gap = breakdown_curve(Electrodes::plug_worn, 5e-3, 10, propane.gas, c.gap);
  ASSERT_EQ(gap.size(), 10U);
  EXPECT_DOUBLE_EQ(gap.back().length, 5e-3);
  EXPECT_THROW((void)source_curve(dwell(), 1, c.source), std::logic_error);
}

TEST_F(Spark, MissingGapOrGasIsTheCallersMistake) {
  EXPECT_THROW((void)at(igniter(dwell(), 0.0)), std::logic_error);
  EXPECT_THROW((void)assess(igniter(dwell()), Conditions{}, c), std::logic_error);
}

// common practice, no source: a 20 : 1 transformer on about 100 V gives some 2 kV, which is not
// enough for an opened plug gap.
TEST_F(Spark, CommonPracticeTransformerIsTooWeakForAnOpenedGap) {
  const auto result = at(igniter(transformer(), 2.0e-3));
  EXPECT_NEAR(result.output.peak_voltage / std::sqrt(2.0), 2000.0, 1e-9);
  EXPECT_LT(result.margin, 0.0);
  EXPECT_FALSE(result.jumps);
  EXPECT_GT(result.gaps.shortest, result.gaps.longest);
}

// common practice, no source: a ladder on a 2 kV, 10 mA supply climbs 2, 4, 6, 8 ... to about 30 kV
// at microamperes. Counted in diodes: in doublers the same supply would climb 4, 8, 12.
TEST_F(Spark, CommonPracticeLadderClimbsToThirtyKilovoltsAtMicroamperes) {
  for (int step = 1; step <= 15; ++step) {
    EXPECT_DOUBLE_EQ(ladder_open_voltage(step, StageCount::diodes, 2000.0), 2000.0 * step);
  }
  auto loaded = std::get<Ladder>(ladder());
  loaded.load_current = 1e-6;
  EXPECT_NEAR(output(loaded, 8000.0, c.source).peak_voltage, 30e3, 1e3);
  loaded.load_current = 100e-6;
  EXPECT_EQ(output(loaded, 8000.0, c.source).peak_voltage, 0.0);
}

// common practice, no source: a 1 uF, 2 kV capacitor with its built-in bleeder is harmless in 10 to
// 15 s. With the usual 10 MOhm (from memory) that is so by the energy limit; 60 V takes 35 s.
TEST_F(Spark, CommonPracticeBleederIsHarmlessByItsEnergyLimit) {
  const Store store{.capacitance = 1e-6, .voltage = 2000.0};
  const ResistorChain built_in{
      .resistance = 10e6, .count = 1, .rated_voltage = 3000.0, .rated_power = 1.0};
  const auto result = discharge(store, built_in, c.charge);
  EXPECT_GE(result.energy_limit_after, 10.0);
  EXPECT_LE(result.energy_limit_after, 15.0);
  EXPECT_NEAR(result.safe_after, 35.1, 0.1);
}

// common practice, no source: the same 10 to 15 s. Down to 60 V they ask for 3 to 4 MOhm.
TEST_F(Spark, CommonPracticeBleederReachesSixtyVoltsWithThreeToFourMegohm) {
  const Store store{.capacitance = 1e-6, .voltage = 2000.0};
  for (const double resistance : {3e6, 4e6}) {
    const ResistorChain built_in{
        .resistance = resistance, .count = 1, .rated_voltage = 3000.0, .rated_power = 2.0};
    const double after = discharge(store, built_in, c.charge).safe_after;
    EXPECT_GE(after, 10.0);
    EXPECT_LE(after, 15.0);
  }
}

// common practice, no source: 30 uF across a lamp in under a second, and for days without.
TEST_F(Spark, CommonPracticeLampEmptiesThirtyMicrofaradsInUnderASecond) {
  const Store store{.capacitance = 30e-6, .voltage = 325.0};
  const Lamp lamp{.rated_voltage = 230.0, .rated_power = 40.0};
  EXPECT_LT(time_to(c.charge.safe_voltage, store, lamp, c.charge), 1.0);
  EXPECT_GT(time_to(c.charge.safe_voltage, store, NoBleed{}, c.charge), 86400.0);
}

TEST_F(Spark, FourSourcesAreAssessedInUnderAMillisecond) {
  auto bled = igniter(storage());
  bled.bleed = Lamp{.rated_voltage = 230.0, .rated_power = 60.0};
  const std::vector<Igniter> all{igniter(transformer()), igniter(ladder()), igniter(dwell()), bled};
  auto best = std::chrono::duration<double>::max();
  double jumping = 0.0;
  for (int run = 0; run < 20; ++run) {
    const auto start = std::chrono::steady_clock::now();
    for (const auto& one : all) jumping += at(one).jumps ? 1.0 : 0.0;
    best = std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - start));
  }
  RecordProperty("seconds_for_four", std::to_string(best.count()));
  EXPECT_GT(jumping, 0.0);
  EXPECT_LT(best.count(), 1e-3);
}

}  // namespace
}  // namespace windgap::spark
