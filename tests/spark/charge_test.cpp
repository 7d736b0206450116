#include "spark/charge.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>
#include <string>

#include "spark/source.h"
#include "support/models.h"

namespace windgap::spark {
namespace {

class SparkCharge : public testing::Test {
 protected:
  const ChargeCoefficients c = test::spark_models().charge;
  const Store line{.capacitance = 30e-6, .voltage = 325.0};
  const Lamp lamp{.rated_voltage = 230.0, .rated_power = 60.0};

  [[nodiscard]] static ResistorChain chain(double resistance, int count) {
    return {.resistance = resistance, .count = count, .rated_voltage = 350.0, .rated_power = 2.0};
  }
};

TEST_F(SparkCharge, AnEqualChainIsOneResistor) {
  EXPECT_DOUBLE_EQ(time_to(60.0, line, chain(25e3, 4), c), time_to(60.0, line, chain(100e3, 1), c));
}

TEST_F(SparkCharge, WhatIsAlreadyLowTakesNoTime) {
  EXPECT_EQ(time_to(60.0, {1e-6, 48.0}, NoBleed{}, c), 0.0);
}

TEST_F(SparkCharge, LeakageAloneFollowsTheDielectric) {
  auto store = line;
  const double film = time_to(60.0, store, NoBleed{}, c);
  EXPECT_NEAR(film, c.leakage.film * std::log(325.0 / 60.0), 1e-6);
  store.dielectric = Dielectric::electrolytic;
  EXPECT_LT(time_to(60.0, store, NoBleed{}, c), film);
}

TEST_F(SparkCharge, LampWireClosesItsOwnLabel) {
  const auto wire = filament(lamp, c);
  const double area = 3.14159265358979 / 4.0 * wire.diameter * wire.diameter;
  EXPECT_NEAR(c.tungsten_resistivity * wire.length / area, wire.hot_resistance, 1e-6);
  EXPECT_NEAR(wire.hot_resistance, 230.0 * 230.0 / 60.0, 1e-9);
  EXPECT_GT(wire.hot_resistance / wire.cold_resistance, 12.0);
  EXPECT_LT(wire.hot_resistance / wire.cold_resistance, 16.0);
}

TEST_F(SparkCharge, ALittleChargeLeavesTheLampCold) {
  const Store small{.capacitance = 1e-9, .voltage = 325.0};
  const double cold = filament(lamp, c).cold_resistance;
  EXPECT_NEAR(time_to(60.0, small, lamp, c) / (cold * 1e-9 * std::log(325.0 / 60.0)), 1.0, 1e-3);
}

TEST_F(SparkCharge, TheLampsOwnHeatSlowsIt) {
  const double cold = filament(lamp, c).cold_resistance;
  const double with_heat = time_to(60.0, line, lamp, c);
  EXPECT_GT(with_heat, 2.0 * cold * line.capacitance * std::log(325.0 / 60.0));
  EXPECT_LT(with_heat,
            filament(lamp, c).hot_resistance * line.capacitance * std::log(325.0 / 60.0));
}

// The same two equations marched in time with small Euler steps, instead of over the voltage's
// logarithm: the step's error falls in proportion to the step.
TEST_F(SparkCharge, LampAgreesWithAPlainMarchInTime) {
  const auto wire = filament(lamp, c);
  const auto march = [&](double step) {
    double time = 0.0;
    double voltage = line.voltage;
    double temperature = c.lamp_cold_temperature;
    while (true) {
      const double resistance =
          wire.hot_resistance * std::pow(temperature / c.lamp_hot_temperature, c.tungsten_exponent);
      const double radiated =
          lamp.rated_power * (std::pow(temperature, 4.0) - std::pow(c.lamp_cold_temperature, 4.0)) /
          (std::pow(c.lamp_hot_temperature, 4.0) - std::pow(c.lamp_cold_temperature, 4.0));
      const double heating = voltage * voltage / resistance;
      const double before = voltage;
      voltage -= step * voltage / (resistance * line.capacitance);
      if (voltage <= 60.0) return time + step * (before - 60.0) / (before - voltage);
      temperature += step * (heating - radiated) / (wire.mass * c.tungsten_heat);
      time += step;
    }
  };
  const double solved = time_to(60.0, line, lamp, c);
  const double coarse = std::abs(march(4e-6) - solved);
  const double fine = std::abs(march(1e-6) - solved);
  EXPECT_LT(fine, 2e-3 * solved);
  EXPECT_LT(fine, 0.5 * coarse);
}

TEST_F(SparkCharge, TheFilamentTakesNoMoreThanTheChargeHolds) {
  const auto result = discharge(line, lamp, c);
  const double rise = stored_energy(line) / (filament(lamp, c).mass * c.tungsten_heat);
  EXPECT_GT(result.hottest_filament, c.lamp_cold_temperature + 0.5 * rise);
  EXPECT_LE(result.hottest_filament, c.lamp_cold_temperature + rise);
}

TEST_F(SparkCharge, AnOverloadedLampIsRefused) {
  const Lamp small{.rated_voltage = 24.0, .rated_power = 5.0};
  const auto findings = discharge(line, small, c).findings;
  ASSERT_FALSE(findings.empty());
  EXPECT_EQ(findings.front().key, "bleed.filament_temperature");
  EXPECT_EQ(findings.front().severity, Severity::refused);
  EXPECT_GT(findings.front().read, findings.front().allowed);
}

// 29 kJ into eighteen small lamps: beyond melting the equations themselves run away.
TEST_F(SparkCharge, ALampFarBeyondMeltingIsRefusedToo) {
  const Store bank{.capacitance = 583e-6, .voltage = 10e3, .dielectric = Dielectric::ceramic};
  const Lamp chain_of_lamps{.rated_voltage = 258.5, .rated_power = 8.237, .count = 18};
  const auto findings = discharge(bank, chain_of_lamps, c).findings;
  ASSERT_FALSE(findings.empty());
  EXPECT_EQ(findings.front().key, "bleed.filament_temperature");
  EXPECT_EQ(findings.front().severity, Severity::refused);
}

// 1500 V, end of low direct voltage in IEC 60364-1, from memory.
TEST_F(SparkCharge, AStringOfLampsIsNotForHighVoltage) {
  const auto refused_at = [&](double voltage) {
    const Store high{.capacitance = 1e-9, .voltage = voltage};
    const Lamp many{.rated_voltage = 230.0, .rated_power = 40.0, .count = 200};
    const auto findings = discharge(high, many, c).findings;
    return std::any_of(findings.begin(), findings.end(), [&](const Finding& finding) {
      return finding.key == "bleed.lamp_string" && finding.severity == Severity::refused &&
             finding.read == voltage && finding.allowed == 1500.0;
    });
  };
  EXPECT_TRUE(refused_at(31e3));
  EXPECT_TRUE(refused_at(1501.0));
  EXPECT_FALSE(refused_at(1500.0));
}

TEST_F(SparkCharge, CurveEndsWhereTheTimeDoes) {
  for (const Bleed& bleed : {Bleed{chain(100e3, 1)}, Bleed{lamp}, Bleed{NoBleed{}}}) {
    const auto curve = discharge_curve(line, bleed, 60.0, 9, c);
    ASSERT_EQ(curve.size(), 9U);
    EXPECT_EQ(curve.front().time, 0.0);
    EXPECT_DOUBLE_EQ(curve.front().voltage, 325.0);
    EXPECT_NEAR(curve.back().time, time_to(60.0, line, bleed, c), 1e-6 * curve.back().time);
    for (std::size_t i = 1; i < curve.size(); ++i) {
      EXPECT_GT(curve[i].time, curve[i - 1].time);
      EXPECT_LT(curve[i].voltage, curve[i - 1].voltage);
    }
  }
}

TEST_F(SparkCharge, ChargeLimitIsAChargeBelowFifteenKilovoltsAndAnEnergyAbove) {
  EXPECT_NEAR(charge_limit_voltage(1e-6, c), 45.0, 1e-9);
  EXPECT_NEAR(charge_limit_voltage(1e-9, c), std::sqrt(2.0 * 0.35 / 1e-9), 1e-6);
}

// Bands: up to 100 V 100 J, to 400 V 1 J, above 0.25 J.
TEST_F(SparkCharge, EnergyLimitPicksItsBand) {
  EXPECT_NEAR(energy_limit_voltage(1e-6, c), std::sqrt(0.5 / 1e-6), 1e-9);
  EXPECT_DOUBLE_EQ(energy_limit_voltage(10e-6, c), 400.0);
  EXPECT_NEAR(energy_limit_voltage(30e-6, c), std::sqrt(2.0 / 30e-6), 1e-9);
  EXPECT_DOUBLE_EQ(energy_limit_voltage(1e-3, c), 100.0);
  EXPECT_NEAR(energy_limit_voltage(0.1, c), std::sqrt(200.0 / 0.1), 1e-9);
}

TEST_F(SparkCharge, HazardFollowsTheEnergy) {
  EXPECT_EQ(hazard({1.0, 50.0}, c), Hazard::none);
  EXPECT_EQ(hazard({1e-9, 1000.0}, c), Hazard::within_limits);
  EXPECT_EQ(hazard(line, c), Hazard::above_limits);
  EXPECT_EQ(hazard({300e-6, 325.0}, c), Hazard::may_kill);
}

TEST_F(SparkCharge, AdvisedBleederIsHarmlessInTimeAndWithinItsShare) {
  for (const Store& store : {line, Store{1e-6, 2000.0}, Store{2.2e-6, 600.0}, Store{5e-9, 3e4}}) {
    const auto advice = advise_bleeder(store, c);
    ASSERT_TRUE(advice);
    const ResistorChain fitted{.resistance = advice->resistance_each,
                               .count = advice->count,
                               .rated_voltage = advice->rating.voltage,
                               .rated_power = advice->rating.power};
    const auto result = discharge(store, fitted, c);
    const double nominal = c.safe_time / (1.0 + c.resistor_tolerance);
    const double leaking = nominal / (1.0 + nominal / time_to(60.0, store, NoBleed{}, c));
    EXPECT_NEAR(result.safe_after, leaking, 1e-9);
    EXPECT_TRUE(result.findings.empty()) << result.findings.front().why;
    EXPECT_LE(advice->voltage_each, c.resistor_share * advice->rating.voltage);
    EXPECT_LE(advice->power_each, c.resistor_share * advice->rating.power);
    EXPECT_LE(advice->count, c.resistor_most);
  }
  EXPECT_FALSE(advise_bleeder({1e-3, 48.0}, c));
}

TEST_F(SparkCharge, CommonResistorsAreAdvisedWhereTheyDo) {
  EXPECT_EQ(advise_bleeder(line, c)->rating.voltage, c.small_resistor.voltage);
  EXPECT_EQ(advise_bleeder({20e-3, 100.0}, c)->rating.voltage, c.cased_resistor.voltage);
  EXPECT_EQ(advise_bleeder({5e-9, 3e4}, c)->rating.voltage, c.tall_resistor.voltage);
  EXPECT_EQ(advise_bleeder({300e-6, 325.0}, c)->rating.voltage, c.cased_resistor.voltage);
}

TEST_F(SparkCharge, NoChainIsAdvisedThatNobodyWouldBuild) {
  EXPECT_FALSE(advise_bleeder({10e-3, 5000.0}, c));
  EXPECT_FALSE(advise_bleeder({1e-9, 3e6}, c));
}

TEST_F(SparkCharge, OnlyAPermanentChainLoadsTheSource) {
  auto fitted = chain(100e3, 4);
  EXPECT_DOUBLE_EQ(always_across(fitted), 400e3);
  for (const auto connection : {Connection::self_closing, Connection::switched}) {
    fitted.connection = connection;
    EXPECT_EQ(always_across(fitted), nothing_across);
  }
  EXPECT_EQ(always_across(lamp), nothing_across);
  EXPECT_EQ(always_across(NoBleed{}), nothing_across);
}

TEST_F(SparkCharge, ASelfClosingChainBearsAPulseButItsContactMayStick) {
  auto closing = chain(10e3, 1);  // 11.1 W at first, 5.5 times its rating
  closing.connection = Connection::self_closing;
  const auto findings = discharge(line, closing, c).findings;
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_EQ(findings[0].key, "bleed.connection");
  EXPECT_EQ(std::string(findings[0].why).find("a contact may stick"), 0U);
}

// 2.5 times the rated voltage is 6.25 times the rated power: 325 V over 1 Ohm, 5 % low elsewhere,
// is 110.9 kW and asks for 17.7 kW, by hand.
TEST_F(SparkCharge, AResistorThatBurstsIsNoBleeder) {
  for (const auto connection : {Connection::self_closing, Connection::switched}) {
    auto weak = chain(1.0, 1);
    weak.connection = connection;
    const auto findings = discharge(line, weak, c).findings;
    ASSERT_TRUE(refused(findings));
    EXPECT_EQ(findings[0].key, "bleed.pulse_power");
    EXPECT_NEAR(findings[0].read, 1.05 * 325.0 * 325.0 / 6.25, 1e-6);
    EXPECT_EQ(findings[0].allowed, 2.0);
    weak.rated_power = 17.8e3;
    EXPECT_FALSE(refused(discharge(line, weak, c).findings));
    weak.rated_power = 17.7e3;
    EXPECT_TRUE(refused(discharge(line, weak, c).findings));
    weak.resistance = 10e3;
    weak.rated_voltage = 300.0;
    EXPECT_TRUE(refused(discharge(line, weak, c).findings)) << "the voltage counts in a pulse too";
  }
}

// A slow pulse: 20 mF at 100 V hold 100 J; over 1 kOhm 10.5 W at first, 105 J in all, which over 5
// s are 21 W and ask for 21 / 6.25 = 3.36 W. What bears 10.5 W for ever bears it once.
TEST_F(SparkCharge, ASlowPulseIsJudgedByItsEnergy) {
  auto slow = chain(1e3, 1);
  slow.connection = Connection::self_closing;
  EXPECT_NEAR(chain_share(slow, {20e-3, 100.0}, c).asked_power, 3.36, 1e-9);
  EXPECT_NEAR(chain_share(slow, {200e-3, 100.0}, c).asked_power, 10.5, 1e-9);
}

TEST_F(SparkCharge, ALampFarAboveItsCrestMayArcOver) {
  const Store high{.capacitance = 1e-9, .voltage = 1500.0};
  const auto findings = discharge(high, lamp, c).findings;
  ASSERT_TRUE(refused(findings));
  EXPECT_EQ(findings[0].key, "bleed.lamp_voltage");
  EXPECT_EQ(findings[0].read, 1500.0);
  EXPECT_NEAR(findings[0].allowed, 650.5, 0.1);  // 2 sqrt(2) 230 V, by hand
  auto many = lamp;
  many.count = 3;  // 500 V on each
  EXPECT_FALSE(refused(discharge(high, many, c).findings));
  many.count = 2;
  EXPECT_TRUE(refused(discharge(high, many, c).findings));
  EXPECT_FALSE(refused(discharge(line, lamp, c).findings)) << "the usual lamp on the line's crest";
}

TEST_F(SparkCharge, WhatIsFittedIsNeverSlowerThanNothing) {
  for (const auto dielectric : {Dielectric::film, Dielectric::ceramic, Dielectric::electrolytic}) {
    const Store store{.capacitance = 1e-6, .voltage = 325.0, .dielectric = dielectric};
    const double alone = time_to(60.0, store, NoBleed{}, c);
    for (const double resistance : {1e6, 1e9, 1e12}) {
      EXPECT_LT(time_to(60.0, store, chain(resistance, 1), c), alone) << resistance;
    }
    EXPECT_LT(time_to(60.0, store, lamp, c), alone);
  }
}

TEST_F(SparkCharge, ATinyStoreNeedsNoBleederThatNobodyCanBuild) {
  const Store tiny{.capacitance = 100e-12, .voltage = 325.0};
  EXPECT_TRUE(needs_no_bleeder(tiny, c));
  EXPECT_FALSE(advise_bleeder(tiny, c));
  EXPECT_FALSE(needs_no_bleeder(line, c));
  EXPECT_FALSE(needs_no_bleeder({10e-9, 15e3}, c)) << "150 uC";
  EXPECT_TRUE(needs_no_bleeder({1.0, 48.0}, c));
}

TEST_F(SparkCharge, WhatComesBackMakesADarkIndicatorLie) {
  const Store old{.capacitance = 1e-6, .voltage = 2000.0, .dielectric = Dielectric::paper_oil};
  EXPECT_TRUE(discharge(old, NoBleed{}, c).keep_shorted);
  EXPECT_FALSE(indicator(50.0, old, NoBleed{}, c).truthful);
  const Store low{.capacitance = 1e-6, .voltage = 1000.0, .dielectric = Dielectric::paper_oil};
  EXPECT_FALSE(discharge(low, NoBleed{}, c).keep_shorted);
  EXPECT_TRUE(indicator(50.0, low, NoBleed{}, c).truthful);
}

TEST_F(SparkCharge, AChainBeyondItsRatingsIsRefusedWithNumbers) {
  const ResistorChain weak{
      .resistance = 10e3, .count = 1, .rated_voltage = 250.0, .rated_power = 0.25};
  const auto findings = discharge(line, weak, c).findings;
  ASSERT_EQ(findings.size(), 2U);
  EXPECT_EQ(findings[0].key, "bleed.rated_voltage");
  EXPECT_EQ(findings[0].severity, Severity::refused);
  EXPECT_NEAR(findings[0].read, 325.0, 1e-9);
  EXPECT_EQ(findings[0].allowed, 250.0);
  EXPECT_EQ(findings[1].key, "bleed.rated_power");
  EXPECT_NEAR(findings[1].read, 325.0 * 325.0 / 10e3 * 1.05, 1e-9);
}

TEST_F(SparkCharge, TheWorstOfAChainBearsMoreThanItsShare) {
  const auto share = chain_share(chain(100e3, 4), line, c);
  const double high = 1.0 + c.resistor_tolerance;
  const double low = 1.0 - c.resistor_tolerance;
  EXPECT_NEAR(share.voltage, 325.0 * high / (high + 3.0 * low), 1e-9);
  EXPECT_NEAR(share.power, 325.0 * 325.0 / (16.0 * 100e3) * high, 1e-12);
  const auto alone = chain_share(chain(100e3, 1), line, c);
  EXPECT_NEAR(alone.voltage, 325.0, 1e-9);
}

TEST_F(SparkCharge, ASwitchedBleederIsNamedAsSuch) {
  auto switched = chain(10e3, 1);
  switched.connection = Connection::switched;
  const auto findings = discharge(line, switched, c).findings;
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_EQ(findings[0].key, "bleed.connection");
  EXPECT_EQ(std::string(findings[0].why).find("a bleeder that somebody must connect"), 0U);
  EXPECT_EQ(findings[0].severity, Severity::caution);
}

TEST_F(SparkCharge, ADarkIndicatorAboveSixtyVoltsLies) {
  EXPECT_FALSE(indicator(90.0, line, NoBleed{}, c).truthful);
  const auto good = indicator(50.0, line, chain(100e3, 1), c);
  EXPECT_TRUE(good.truthful);
  EXPECT_NEAR(good.energy_left, 30e-6 * 2500.0 / 2.0, 1e-12);
  EXPECT_NEAR(good.dark_after, std::log(6.5) / (1.0 / 3.0 + 1.0 / c.leakage.film), 1e-9);
}

TEST_F(SparkCharge, AbsorbedChargeComesBack) {
  const Store old{.capacitance = 1e-6, .voltage = 2000.0, .dielectric = Dielectric::paper_oil};
  const auto result = discharge(old, chain(1e6, 10), c);
  EXPECT_NEAR(result.recovery_voltage, 2000.0 * c.absorption.paper_oil, 1e-9);
  EXPECT_EQ(result.findings.back().key, "recovery_voltage");
}

TEST_F(SparkCharge, ImpossibleStoresAreTheCallersMistake) {
  EXPECT_THROW((void)time_to(60.0, {-1e-6, 300.0}, NoBleed{}, c), std::logic_error);
  EXPECT_THROW((void)time_to(60.0, {1e-6, unset}, NoBleed{}, c), std::logic_error);
  EXPECT_THROW((void)time_to(0.0, line, NoBleed{}, c), std::logic_error);
  EXPECT_THROW((void)time_to(60.0, line, chain(0.0, 1), c), std::logic_error);
  EXPECT_THROW((void)filament({.rated_voltage = 0.0, .rated_power = 60.0}, c), std::logic_error);
}

}  // namespace
}  // namespace windgap::spark
