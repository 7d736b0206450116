#include "report/spark_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

#include "report/shown.h"

namespace windgap::report {
namespace {

using units::Dimension;

constexpr auto table = std::to_array<Caution>({
    {"lethal",
     "these voltages kill, and so does the charge that stays after switch-off",
     "The voltages of an igniter kill. Its capacitors keep enough charge to kill after it is "
     "switched off and unplugged."},
    {"codes_first",
     "local codes and licensed practice come first; if unsure, find somebody qualified",
     "Local codes and licensed practice come before anything computed here. This is advice on "
     "numbers and no wiring guide. If you are unsure about anything, stop and find somebody "
     "qualified."},
    {"one_hand",
     "one hand only: switch off, wait, discharge through a resistor, measure, short, leave the "
     "short on, then touch",
     "Work with one hand, the other away from metal. Switch off and unplug, wait, discharge "
     "through a resistor, measure, short the terminals, and leave the short on before touching: a "
     "capacitor can charge itself up again."},
    {"isolation",
     "prefer an isolated low-voltage source; whatever meets the mains needs isolation, protective "
     "earth and a residual-current device",
     "Prefer an isolated low-voltage source such as a battery's. Whatever meets the mains needs "
     "isolation, protective earth and a residual-current device; without isolation plug and "
     "engine are live."},
    {"vapour",
     "no spark where fuel vapour has gathered",
     "A spark lights whatever vapour has gathered, in the engine or around the bench. Purge before "
     "every attempt, and try a plug outside of the engine only far from fuel."},
    {"burns",
     "X-rays and ozone are no issue at these levels, burns and fire are",
     "X-rays and ozone are no issue at these levels. Burns at the plug and its lead, and fire from "
     "hot resistors and cracked insulation, are."},
});

std::string volts(double value, units::System system) {
  return units::format(value, Dimension::voltage, system);
}

std::string joules(double value, units::System system) {
  return units::format(value, Dimension::energy, system);
}

/// "87.4 times", "3000 times": three digits, never an exponent.
std::string times(double ratio) {
  constexpr double least = 0.001;
  constexpr double whole = 100.0;
  if (ratio > 0.0 && ratio < least) return fmt::format("less than {} times", least);
  if (ratio < whole) return fmt::format("{:.3g} times", ratio);
  const double unit = std::pow(10.0, std::floor(std::log10(ratio)) - 2.0);
  return fmt::format("{:.0f} times", unit * std::round(ratio / unit));
}

/// A margin as a share over the need, or as a multiple where a share says little.
std::string over(double margin) {
  constexpr double many = 3.0;
  if (!(margin > -1.0)) return "nothing of it";
  if (margin < 0.0) return fmt::format("{:.0f} % short", -100.0 * margin);
  return margin < many ? fmt::format("{:.0f} % over", 100.0 * margin) : times(1.0 + margin);
}

std::string_view fed_from(spark::Supply supply) {
  switch (supply) {
    case spark::Supply::isolated_low_voltage:
      return "isolated, low voltage";
    case spark::Supply::isolated_mains:
      return "mains, isolated";
    case spark::Supply::tied_to_mains:
      break;
  }
  return "tied to the mains";
}

std::string_view verdict_word(const spark::Assessment& spark, const casefile::Igniter& igniter) {
  if (spark.enough) return "lights";
  if (!spark.jumps) return spark.margin < 0.0 ? "no spark" : "unsure";
  if (!(spark.energy_ratio > 0.0)) return "too cold";
  if (igniter.gap.length < spark.need.quench_distance) return "quenches";
  return "too weak";
}

std::string_view hazard_words(spark::Hazard hazard) {
  switch (hazard) {
    case spark::Hazard::none:
      return "harmless";
    case spark::Hazard::within_limits:
      return "a shock";
    case spark::Hazard::above_limits:
      return "enough to burn and to throw you";
    case spark::Hazard::may_kill:
      break;
  }
  return "enough to kill";
}

std::string_view fuel_word(const spark::Assessment& spark, const spark::Conditions& conditions) {
  if (conditions.fuel == spark::Fuel::propane) return "propane";
  const bool diesel = conditions.fuel == spark::Fuel::diesel;
  if (spark.need.route == spark::Route::mist) return diesel ? "diesel mist" : "kerosene mist";
  return diesel ? "diesel vapour" : "kerosene vapour";
}

std::string safe_text(const spark::Assessment& spark, units::System system) {
  if (!spark.charge) return "at once";
  return lasting(spark.safe_after, system);
}

/// "The worst of 2 resistors sees 171 V of its 350 V and 0.03 W of its 0.6 W."
std::string chain_text(const spark::ResistorChain& chain,
                       const spark::Store& store,
                       const spark::ChargeCoefficients& c,
                       units::System system) {
  const auto share = spark::chain_share(chain, store, c);
  const auto watts = [&](double value) { return units::format(value, Dimension::power, system); };
  return fmt::format("{} sees {} of its {} and {} of its {}{}.",
                     chain.count == 1 ? std::string("Its resistor")
                                      : fmt::format("The worst of its {} resistors", chain.count),
                     volts(share.voltage, system),
                     volts(chain.rated_voltage, system),
                     watts(share.power),
                     watts(chain.rated_power),
                     chain.connection == spark::Connection::switched ? ", at first" : "");
}

std::string bleeder_text(const spark::BleederAdvice& advice,
                         const spark::ChargeCoefficients& c,
                         units::System system) {
  const auto ohms = [&](double value) {
    return units::format(value, Dimension::resistance, system);
  };
  return fmt::format(
      "Harmless within {} with {} of at most {} fixed across it ({} in all, {} while charged); the "
      "worst of {} sees {} and {}, and each is good for {} and {}.",
      units::format(c.safe_time, Dimension::time, system),
      advice.count == 1 ? std::string("one resistor")
                        : fmt::format("{} resistors in series", advice.count),
      ohms(advice.resistance_each),
      ohms(advice.resistance),
      units::format(advice.power, Dimension::power, system),
      advice.count == 1 ? "it" : "them",
      volts(advice.voltage_each, system),
      units::format(advice.power_each, Dimension::power, system),
      volts(c.resistor_voltage, system),
      units::format(c.resistor_power, Dimension::power, system));
}

}  // namespace

std::span<const Caution> spark_cautions() { return table; }

bool waits_for_a_hand(const spark::Bleed& bleed) {
  const auto* const chain = std::get_if<spark::ResistorChain>(&bleed);
  return std::holds_alternative<spark::Lamp>(bleed) ||
         (chain != nullptr && chain->connection == spark::Connection::switched);
}

std::string lasting(double seconds, units::System system) {
  if (!std::isfinite(seconds)) return "never";
  const auto factor = [](std::string_view unit) {
    return units::find_unit(unit, Dimension::time)->factor;
  };
  constexpr double few = 3.0;
  const double hours = seconds / factor("h");
  constexpr double day = 24.0;  // hours
  if (hours > few * day) return fmt::format("{:.0f} days", hours / day);
  if (hours > few) return fmt::format("{:.0f} h", hours);
  return units::format(seconds, Dimension::time, system);
}

std::string headline(const casefile::Igniter& igniter, const IgniterVerdict& verdict) {
  const auto& spark = verdict.sources.front().spark;
  const auto safe = spark.charge ? fmt::format("harmless {} after {}",
                                               lasting(spark.safe_after, units::System::metric),
                                               waits_for_a_hand(igniter.sources.front().bleed)
                                                   ? "its bleeder is connected, not before"
                                                   : "switch-off")
                                 : std::string("no charge stays after switch-off");
  const auto* const can = spark.enough   ? "sparks and lights"
                          : !spark.jumps ? (spark.margin < 0.0 ? "does not spark" : "may not spark")
                          : spark.energy_ratio >= 1.0 ? "sparks, may not light"
                                                      : "sparks, does not light";
  return fmt::format("{}: {}; {}", igniter.name, can, safe);
}

std::vector<std::string> margins(const casefile::Igniter& igniter,
                                 const IgniterVerdict& verdict,
                                 units::System system) {
  const auto& judged = verdict.sources.front();
  const auto& spark = judged.spark;
  const auto& conditions = verdict.states[judged.state].conditions;
  std::vector<std::string> sentences;
  const auto reason = why_not(spark, igniter, system);
  if (!reason.empty()) sentences.push_back(fmt::format("Why: {}.", reason));
  sentences.push_back(
      fmt::format("The gap of {} breaks down at {}; the {} has {}: {}, {:.0f} % "
                  "wanted.",
                  units::format(igniter.gap.length, Dimension::length, system),
                  volts(spark.required_voltage, system),
                  igniter.sources.front().name,
                  volts(spark.output.peak_voltage, system),
                  over(spark.margin),
                  100.0 * spark.wanted_margin));
  if (std::isfinite(spark.need.energy)) {
    sentences.push_back(fmt::format(
        "A spark leaves {} in the gas; {} light the best {} mixture at {}: {}, {} wanted.",
        joules(spark.energy_in_gas, system),
        joules(spark.need.energy, system),
        fuel_word(spark, conditions),
        units::format(conditions.velocity, Dimension::speed, system),
        times(spark.energy_ratio),
        times(spark.wanted_energy_ratio)));
  }
  sentences.push_back(usable_gaps(spark, system));
  return sentences;
}

std::string usable_gaps(const spark::Assessment& spark, units::System system) {
  const auto length = [&](double value) { return units::format(value, Dimension::length, system); };
  if (spark.gaps.longest < spark.gaps.shortest) {
    return fmt::format(
        "No gap does both: the longest that jumps with the margin is {}, the "
        "shortest that does not quench the flame is {}.",
        length(spark.gaps.longest),
        length(spark.gaps.shortest));
  }
  return fmt::format("Gaps from {} to {} jump with that margin and do not quench the flame.",
                     length(spark.gaps.shortest),
                     length(spark.gaps.longest));
}

std::vector<std::string> surroundings(const IgniterVerdict& verdict, units::System system) {
  std::vector<std::string> sentences;
  for (const auto& state : verdict.states) {
    const auto& c = state.conditions;
    sentences.push_back(
        fmt::format("Judged {}: {} absolute, {}, {} past the plug.",
                    state.name,
                    units::format(c.gas.pressure, Dimension::pressure, system),
                    units::format(c.gas.temperature, Dimension::temperature, system),
                    units::format(c.velocity, Dimension::speed, system)));
  }
  if (verdict.states.size() > 1) sentences.emplace_back("The harder one counts.");
  if (!verdict.no_light_off.empty()) {
    sentences.push_back(fmt::format("Not judged at light-off: {}.", verdict.no_light_off));
  }
  return sentences;
}

std::vector<std::string> source_heads() {
  return {
      "source", "fed from", "peak", "margin", "a spark", "each s", "power", "does it", "safe in"};
}

std::vector<std::vector<std::string>> source_rows(const casefile::Igniter& igniter,
                                                  const IgniterVerdict& verdict,
                                                  units::System system) {
  std::vector<std::vector<std::string>> rows;
  for (const auto i : verdict.ranked) {
    const auto& spark = verdict.sources[i].spark;
    rows.push_back({igniter.sources[i].name + (i == 0 ? " *" : ""),
                    std::string(fed_from(spark.supply)),
                    volts(spark.output.peak_voltage, system),
                    fmt::format("{:+.0f} %", 100.0 * spark.margin),
                    joules(spark.output.spark_energy, system),
                    fmt::format("{:.3g}", spark.output.sparks_per_second),
                    units::format(spark.output.average_power, Dimension::power, system),
                    std::string(verdict_word(spark, igniter)),
                    safe_text(spark, system)});
  }
  return rows;
}

std::vector<std::string> stored_charge(const casefile::SparkSource& source,
                                       const spark::Assessment& spark,
                                       const spark::ChargeCoefficients& c,
                                       units::System system) {
  if (!spark.charge) return {};
  const auto& charge = *spark.charge;
  const bool bled = !std::holds_alternative<spark::NoBleed>(source.bleed);
  std::vector<std::string> sentences;
  sentences.push_back(
      fmt::format("{}: {} at {}, {}: {}.",
                  source.name,
                  units::format(charge.store.capacitance, Dimension::capacitance, system),
                  volts(charge.store.voltage, system),
                  joules(charge.energy, system),
                  hazard_words(charge.hazard)));
  if (bled) {
    sentences.push_back(
        fmt::format("What is fitted brings it below {} in {}{}; without, it takes {}.",
                    volts(c.safe_voltage, system),
                    lasting(charge.fitted.safe_after, system),
                    waits_for_a_hand(source.bleed) ? " once it is connected" : "",
                    lasting(charge.unaided, system)));
    if (const auto* const chain = std::get_if<spark::ResistorChain>(&source.bleed)) {
      sentences.push_back(chain_text(*chain, charge.store, c, system));
    }
  } else {
    sentences.push_back(
        fmt::format("Nothing bleeds it: by its own leakage it takes some {} to "
                    "{}.",
                    lasting(charge.unaided, system),
                    volts(c.safe_voltage, system)));
  }
  if (charge.hazard != spark::Hazard::none) {
    const double limits_after = charge.fitted.energy_limit_after;
    sentences.push_back(fmt::format(
        "{}, which permits nothing; after a short up to {} may come back.",
        limits_after > 0.0
            ? fmt::format("It is within the energy limits after {}", lasting(limits_after, system))
            : std::string("It is within the energy limits from the start"),
        volts(charge.fitted.recovery_voltage, system)));
  }
  if (charge.advice && !(bled && charge.fitted.safe_after <= c.safe_time)) {
    sentences.push_back(bleeder_text(*charge.advice, c, system));
    if (std::holds_alternative<spark::Ladder>(source.source)) {
      sentences.push_back(fmt::format(
          "It draws {} from the ladder all the time: count it as load_current, or use "
          "one that closes by itself at switch-off.",
          units::format(
              charge.store.voltage / charge.advice->resistance, Dimension::current, system)));
    }
  }
  sentences.push_back(fmt::format(
      "A charged-indicator that goes dark at {} does so {} after {} and leaves {} and {}: {}.",
      volts(source.indicator_threshold.value_or(c.neon_dark_voltage), system),
      lasting(charge.indicator.dark_after, system),
      waits_for_a_hand(source.bleed) ? "its bleeder is connected, not before," : "switch-off",
      units::format(charge.indicator.charge_left, Dimension::charge, system),
      joules(charge.indicator.energy_left, system),
      charge.indicator.truthful ? "dark then means safe, as long as it works"
                                : "dark does not mean safe"));
  return sentences;
}

std::vector<std::string> spark_warnings(const casefile::Igniter& igniter,
                                        const IgniterVerdict& verdict,
                                        units::System system) {
  std::vector<std::string> list;
  const auto& fitted = verdict.sources.front().spark;
  auto findings = fitted.findings;
  if (fitted.charge) {
    const auto& more = fitted.charge->fitted.findings;
    findings.insert(findings.end(), more.begin(), more.end());
  }
  for (const auto& finding : findings) {
    list.push_back(fmt::format("{}: {}: {}.", igniter.name, finding.key, finding.why));
  }
  if (fitted.breakdown.validity == spark::Validity::extrapolated) {
    list.push_back(igniter.name + ": gap and gas lie outside what breakdown was checked for.");
  }
  if (fitted.need.validity == spark::Validity::extrapolated) {
    list.push_back(igniter.name +
                   ": speed or fuel temperature lies outside the range of the ignition tests.");
  }
  if (fitted.supply != spark::Supply::isolated_low_voltage) {
    for (const auto i : verdict.ranked) {
      const auto& other = verdict.sources[i].spark;
      if (!other.enough || other.supply != spark::Supply::isolated_low_voltage) continue;
      list.push_back(
          fmt::format("{}: the {} lights it too, from an isolated low voltage ({}): "
                      "prefer it.",
                      igniter.name,
                      igniter.sources[i].name,
                      volts(other.output.peak_voltage, system)));
      break;
    }
  }
  return list;
}

}  // namespace windgap::report
