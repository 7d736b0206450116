#include <fmt/format.h>

#include <cmath>

#include "report/spark_words.h"

namespace windgap::report {
namespace {

using units::Dimension;

std::string volts(double value, units::System system) {
  return readable(value, Dimension::voltage, system);
}

std::string joules(double value, units::System system) {
  return readable(value, Dimension::energy, system);
}

/// "The worst of 2 resistors sees 171 V of its 350 V and 0.03 W of its 0.6 W."
std::string chain_text(const spark::ResistorChain& chain,
                       const spark::Store& store,
                       const spark::ChargeCoefficients& c,
                       units::System system) {
  const auto share = spark::chain_share(chain, store, c);
  const auto watts = [&](double value) { return readable(value, Dimension::power, system); };
  const bool stays = chain.connection == spark::Connection::permanent;
  return fmt::format("{} sees {} of its {} and {} of its {}{}.",
                     chain.count == 1 ? std::string("Its resistor")
                                      : fmt::format("The worst of its {} resistors", chain.count),
                     volts(share.voltage, system),
                     volts(chain.rated_voltage, system),
                     watts(share.power),
                     watts(chain.rated_power),
                     stays ? std::string()
                           : fmt::format(" at first, {} in all; such a pulse asks for {} or more",
                                         joules(share.energy, system),
                                         watts(share.asked_power)));
}

/// "3 resistors in series of at most 473 kohm each (...)"
std::string chain_advice(const spark::BleederAdvice& chain, units::System system) {
  const auto ohms = [&](double value) { return readable(value, Dimension::resistance, system); };
  const auto watts = [&](double value) { return readable(value, Dimension::power, system); };
  return fmt::format(
      "{} of at most {}{} ({} in all; the worst bears {} and, while charged, {}: take resistors "
      "good "
      "for {} and {})",
      chain.count == 1 ? std::string("one resistor")
                       : fmt::format("{} resistors in series", chain.count),
      ohms(chain.resistance_each),
      chain.count == 1 ? "" : " each",
      ohms(chain.resistance),
      volts(chain.voltage_each, system),
      watts(chain.power_each),
      volts(chain.rating.voltage, system),
      watts(chain.rating.power));
}

/// "14.5 kV, 35 % over what the gap asks for"
std::string left_with(const spark::AdvisedBleeder& advised, units::System system) {
  const double percent = std::round(100.0 * std::abs(advised.margin));
  const auto share =
      percent == 0.0
          ? std::string("no more than")
          : fmt::format("{:.0f} % {}", percent, advised.margin < 0.0 ? "short of" : "over");
  return fmt::format("{}, {} what the gap asks for", volts(advised.peak_voltage, system), share);
}

std::string bleeder_text(const spark::AdvisedBleeder& advised,
                         const spark::Assessment& spark,
                         const spark::ChargeCoefficients& c,
                         units::System system) {
  const double peak = spark.output.peak_voltage;
  const auto& store = spark.charge->store;
  const auto within = readable(c.safe_time, Dimension::time, system);
  const auto chain = chain_advice(advised.chain, system);
  if (!(peak > 0.0)) {
    return fmt::format(
        "Harmless within {} with {} across it through a contact that rests closed; as it stands it "
        "has no voltage left to lose to one that stays.",
        within,
        chain);
  }
  if (advised.connection == spark::Connection::permanent) {
    return fmt::format("Harmless within {} with {} fixed across it; with them it still has {}.",
                       within,
                       chain,
                       left_with(advised, system));
  }
  return fmt::format(
      "Harmless within {} with {} across it through a contact that rests closed, opens only while "
      "the source runs and bears {} when open. Do not fix them across it for good: {}.",
      within,
      chain,
      volts(store.voltage, system),
      std::isfinite(advised.peak_voltage)
          ? fmt::format(
                "of {} that would leave {}", volts(peak, system), left_with(advised, system))
          : std::string("they would draw more than its supply gives"));
}

std::string no_bleeder_text(const spark::ChargeCoefficients& c, units::System system) {
  return fmt::format(
      "No chain of up to {:.0f} resistors as commonly sold makes it harmless within {} and bears "
      "it "
      "for good, as it must where a contact sticks while the source runs; one that bears the "
      "single "
      "pulse alone is no advice of ours. Leave it alone, or have somebody qualified design its "
      "discharge.",
      c.resistor_most,
      readable(c.safe_time, Dimension::time, system));
}

std::string small_text() {
  return "It is so small that no bleeder need be fitted, and none could be built: it is within "
         "both "
         "limits from the start. Short it before touching all the same.";
}

/// "after 2.3 s", "from the start"
std::string after(double seconds, units::System system) {
  return seconds > 0.0 ? fmt::format("after {}", lasting(seconds, system))
                       : std::string("from the start");
}

std::string indicator_words(const spark::Assessment& spark) {
  const auto& charge = *spark.charge;
  if (charge.indicator->truthful) return "dark then means safe, as long as it works";
  if (spark.keep_shorted) {
    return "dark does not mean safe, for what comes back needs no more than the short taken off";
  }
  return "dark does not mean safe";
}

}  // namespace

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

std::string starving_words(const spark::StarvingBleeder& bleeder, units::System system) {
  const auto without = volts(bleeder.peak_without, system);
  if (!std::isfinite(bleeder.resistance)) {
    return fmt::format(
        "the bleeder fitted for good takes what is missing: {} without it, and no sensible one "
        "would "
        "leave enough: put it behind a contact that rests closed",
        without);
  }
  return fmt::format(
      "the bleeder fitted for good takes what is missing: {} without it; {} or more in all would "
      "leave enough, harmless {} after switch-off, or put it behind a contact that rests closed",
      without,
      readable(bleeder.resistance, Dimension::resistance, system),
      lasting(bleeder.safe_after, system));
}

bool leaks_only(const casefile::SparkSource& source) {
  return std::holds_alternative<spark::NoBleed>(source.bleed);
}

std::string rough_range(const spark::ChargeVerdict& charge, units::System system) {
  return fmt::format("{}, roughly {} to {},",
                     lasting(charge.unaided, system),
                     lasting(charge.unaided_least, system),
                     lasting(charge.unaided_most, system));
}

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
  return readable(seconds, Dimension::time, system);
}

std::vector<std::string> stored_charge(const casefile::SparkSource& source,
                                       const spark::Assessment& spark,
                                       const spark::ChargeCoefficients& c,
                                       units::System system) {
  if (!spark.charge) return {};
  const auto& charge = *spark.charge;
  const bool bled = !leaks_only(source);
  std::vector<std::string> sentences;
  sentences.push_back(
      fmt::format("{}: {} at {}, {}: {}.",
                  source.name,
                  readable(charge.store.capacitance, Dimension::capacitance, system),
                  volts(charge.store.voltage, system),
                  joules(charge.energy, system),
                  hazard_words(charge.hazard)));
  if (charge.hazard == spark::Hazard::none) return sentences;
  if (spark.starving) {
    sentences.push_back(
        fmt::format("It does not light as {}.", starving_words(*spark.starving, system)));
  }
  if (bled) {
    sentences.push_back(
        fmt::format("What is fitted brings it below {} in {}{}; without, it takes some {} as it "
                    "leaks.",
                    volts(c.safe_voltage, system),
                    lasting(charge.fitted.safe_after, system),
                    waits_for_a_hand(source.bleed) ? " once it is connected" : "",
                    rough_range(charge, system)));
    if (const auto* const chain = std::get_if<spark::ResistorChain>(&source.bleed)) {
      sentences.push_back(chain_text(*chain, charge.store, c, system));
      if (chain->connection == spark::Connection::self_closing) {
        sentences.push_back(fmt::format(
            "Its contact must bear {} when open, which nobody checked here: look for a rating of "
            "more, for direct voltage.",
            volts(charge.store.voltage, system)));
      }
    }
  } else {
    sentences.push_back(
        fmt::format("Nothing bleeds it: by its own leakage it takes some {} to "
                    "{}.",
                    rough_range(charge, system),
                    volts(c.safe_voltage, system)));
  }
  sentences.push_back(
      fmt::format("It is within the energy limits {}, within the charge limit of parts that can "
                  "be touched {}: "
                  "neither permits anything. After a short up to {} may come back{}.",
                  after(charge.fitted.energy_limit_after, system),
                  after(charge.fitted.charge_limit_after, system),
                  volts(charge.fitted.recovery_voltage, system),
                  spark.keep_shorted ? ": harmless only while shorted" : ""));
  const bool in_time = bled && charge.fitted.safe_after <= c.safe_time;
  if (charge.small && !in_time) {
    sentences.push_back(small_text());
  } else if (!in_time || waits_for_a_hand(source.bleed)) {
    sentences.push_back(charge.advice ? bleeder_text(*charge.advice, spark, c, system)
                                      : no_bleeder_text(c, system));
  }
  if (!charge.indicator) return sentences;
  if (charge.indicator->dark_after == 0.0) {
    sentences.push_back(
        fmt::format("A charged-indicator that goes dark at {} never lights on {}: it says nothing.",
                    volts(source.indicator_threshold.value_or(c.neon_dark_voltage), system),
                    volts(charge.store.voltage, system)));
    return sentences;
  }
  sentences.push_back(fmt::format(
      "A charged-indicator that goes dark at {} does so {} after {} and leaves {} and {}: {}.",
      volts(source.indicator_threshold.value_or(c.neon_dark_voltage), system),
      lasting(charge.indicator->dark_after, system),
      waits_for_a_hand(source.bleed) ? "its bleeder is connected, not before," : "switch-off",
      readable(charge.indicator->charge_left, Dimension::charge, system),
      joules(charge.indicator->energy_left, system),
      indicator_words(spark)));
  return sentences;
}

}  // namespace windgap::report
