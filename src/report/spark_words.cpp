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
     "X-rays and ozone are no issue at these levels, up to 30 kV in air, burns and fire are",
     "X-rays and ozone are no issue at these levels, up to 30 kV in air. Burns at the plug and its "
     "lead, and fire from hot resistors and cracked insulation, are."},
});

std::string volts(double value, units::System system) {
  return readable(value, Dimension::voltage, system);
}

std::string joules(double value, units::System system) {
  return readable(value, Dimension::energy, system);
}

/// Three digits, never an exponent.
std::string plain(double value) {
  constexpr double least = 0.0001;
  constexpr double whole = 100.0;
  if (value > 0.0 && value < least) return fmt::format("<{}", least);
  if (value < whole) return fmt::format("{:.3g}", value);
  const double unit = std::pow(10.0, std::floor(std::log10(value)) - 2.0);
  return fmt::format("{:.0f}", unit * std::round(value / unit));
}

/// "+200 %"; ">999 %" beyond what a column holds.
std::string margin_text(double margin) {
  constexpr double most = 9.99;
  if (margin > most) return fmt::format(">{:.0f} %", 100.0 * most);
  return fmt::format("{:+.0f} %", 100.0 * margin);
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

std::string_view fuel_word(const spark::Assessment& spark, const spark::Conditions& conditions) {
  if (conditions.fuel == spark::Fuel::propane) return "propane";
  const bool diesel = conditions.fuel == spark::Fuel::diesel;
  if (spark.need.route == spark::Route::mist) return diesel ? "diesel mist" : "kerosene mist";
  return diesel ? "diesel vapour" : "kerosene vapour";
}

/// "sparks and lights"
std::string what_it_does(const spark::Assessment& spark) {
  const bool cold = spark.need.route == spark::Route::none;
  if (spark.lights) return "sparks and lights";
  if (spark.jumps && cold) return "sparks, and the fuel is too cold for any";
  if (spark.jumps && spark.quenches) {
    return "sparks, but in so short a gap that the electrodes put the flame out";
  }
  if (spark.ignites) {
    return fmt::format("sparks only once in {}: unsure whether it lights",
                       lasting(1.0 / spark.output.sparks_per_second, units::System::metric));
  }
  if (spark.jumps) {
    return spark.energy_ratio >= 1.0 ? "sparks, but weakly: may not light"
                                     : "sparks, too weakly to light";
  }
  const std::string_view jump =
      spark.jump == spark::Jump::unsure ? "may not spark" : "does not spark";
  if (cold) return fmt::format("{}, and the fuel is too cold for any", jump);
  return spark.enough ? std::string(jump) : fmt::format("{}, and a spark would be too weak", jump);
}

/// ", longer than the 5 s it should take"
std::string too_long(const spark::Assessment& spark) {
  for (const auto& finding : spark.charge->fitted.findings) {
    if (finding.key != "safe_after") continue;
    return fmt::format(", longer than the {} it should take",
                       lasting(finding.allowed, units::System::metric));
  }
  return {};
}

/// "harmless 0.8 s after switch-off"
std::string when_safe(const casefile::SparkSource& source, const spark::Assessment& spark) {
  if (!spark.charge) return "no charge stays after switch-off";
  if (spark.safe_after == 0.0) return "what stays after switch-off is below the safe voltage";
  if (leaks_only(source)) {
    return fmt::format("nothing bleeds it, charged for some {} after switch-off{}",
                       rough_range(*spark.charge, units::System::metric),
                       spark.keep_shorted ? ", and harmless only once kept shorted" : "");
  }
  return fmt::format(
      "harmless {} after {}{}{}",
      lasting(spark.safe_after, units::System::metric),
      waits_for_a_hand(source.bleed) ? "its bleeder is connected, not before" : "switch-off",
      too_long(spark),
      spark.keep_shorted ? ", and only while its terminals are kept shorted" : "");
}

/// Of the source and of its charge.
std::vector<spark::Finding> findings_of(const spark::Assessment& spark) {
  auto findings = spark.findings;
  if (spark.charge) {
    const auto& more = spark.charge->fitted.findings;
    findings.insert(findings.end(), more.begin(), more.end());
  }
  return findings;
}

/// What a source's findings say before their first stop.
std::vector<std::string> brief_findings(const spark::Assessment& spark) {
  std::vector<std::string> briefs;
  for (const auto& finding : findings_of(spark)) {
    if (finding.key == "peak_voltage") continue;  // said right under the verdict
    briefs.push_back(
        fmt::format("{}: {}", finding.key, finding.why.substr(0, finding.why.find_first_of(":;"))));
  }
  return briefs;
}

/// What the mains do to whoever touches it: the fitted source in full, others in one line.
std::vector<std::string> mains_lines(const casefile::Igniter& igniter,
                                     const IgniterVerdict& verdict) {
  std::vector<std::string> lines;
  std::vector<std::string> others;
  for (std::size_t i = 0; i < igniter.sources.size(); ++i) {
    const auto supply = verdict.sources[i].spark.supply;
    if (supply == spark::Supply::isolated_low_voltage) continue;
    const bool tied = supply == spark::Supply::tied_to_mains;
    if (i > 0) {
      others.push_back(fmt::format("{}, {}",
                                   igniter.sources[i].name,
                                   tied ? "tied: every part is live" : "through a transformer"));
      continue;
    }
    lines.push_back(fmt::format(
        "The {} is fitted and {}. Give it protective earth and a residual-current device; {}. Have "
        "somebody qualified look at it first.",
        igniter.sources[i].name,
        tied ? "tied to the mains: every part is live, plug and engine included"
             : "fed from the mains through an isolating transformer",
        tied ? "touch nothing while it is plugged in"
             : "that device does not trip on what is behind the transformer"));
  }
  if (!others.empty()) {
    lines.push_back(fmt::format(
        "Not fitted, but fed from the mains: {}. Protective earth and a residual-current device "
        "belong to each.",
        fmt::join(others, "; ")));
  }
  return lines;
}

constexpr std::string_view connected_mark = "†";
constexpr std::string_view shorted_mark = "‡";
constexpr std::string_view rough_mark = "~";

/// "2.23 s†"
std::string safe_text(const casefile::SparkSource& source,
                      const spark::Assessment& spark,
                      units::System system) {
  if (!spark.charge || spark.safe_after == 0.0) return "at once";
  return fmt::format("{}{}{}{}",
                     leaks_only(source) && spark.safe_after > 0.0 ? rough_mark : "",
                     lasting(spark.safe_after, system),
                     waits_for_a_hand(source.bleed) ? connected_mark : "",
                     spark.keep_shorted ? shorted_mark : "");
}

/// Of a spark that does not jump, in brackets.
std::string spark_text(const spark::Assessment& spark, units::System system) {
  const auto energy = joules(spark.output.spark_energy, system);
  return spark.jump == spark::Jump::no ? fmt::format("({})", energy) : energy;
}

}  // namespace

std::span<const Caution> spark_cautions() { return table; }

std::vector<std::string> electric_cautions(const casefile::Case& bench) {
  if (bench.igniters.empty()) return {};
  std::vector<std::string> list;
  for (const auto& caution : table) {
    const bool grave = caution.key == "lethal" || caution.key == "isolation";
    if (grave) list.push_back(fmt::format("the igniter: {}", caution.brief));
  }
  return list;
}

std::string readable(double value, units::Dimension dimension, units::System system) {
  auto text = units::format(value, dimension, system);
  const auto end = text.find(' ');
  if (text.substr(0, end).find("e-") == std::string::npos) return text;
  return "<0.0001" + (end == std::string::npos ? std::string() : text.substr(end));
}

std::string times(double ratio) {
  constexpr double least = 0.001;
  if (ratio > 0.0 && ratio < least) return fmt::format("less than {} times", least);
  return plain(ratio) + " times";
}

std::string_view verdict_word(const spark::Assessment& spark) {
  if (spark.need.route == spark::Route::none) return "too cold";
  if (spark.jump == spark::Jump::no) return "no spark";
  if (spark.jump == spark::Jump::unsure) return "unsure";
  if (spark.quenches) return "quenches";
  if (spark.enough) return spark.rare ? "unsure" : "lights";
  return spark.energy_ratio >= 1.0 ? "weak" : "too weak";
}

std::string headline(const casefile::Igniter& igniter, const IgniterVerdict& verdict) {
  const auto& spark = verdict.sources.front().spark;
  return fmt::format(
      "{}: {}; {}", igniter.name, what_it_does(spark), when_safe(igniter.sources.front(), spark));
}

std::vector<std::string> under_headline(const casefile::Igniter& igniter,
                                        const IgniterVerdict& verdict,
                                        units::System system) {
  std::vector<std::string> lines;
  if (!verdict.other_fuel.empty()) lines.push_back(verdict.other_fuel);
  for (std::size_t i = 0; i < igniter.sources.size(); ++i) {
    const auto& spark = verdict.sources[i].spark;
    if (!spark.keep_shorted) continue;
    lines.push_back(
        fmt::format("Leave a shorting strap across the terminals of the {} until all work is done: "
                    "up to {} come back by themselves.",
                    igniter.sources[i].name,
                    volts(spark.charge->fitted.recovery_voltage, system)));
  }
  for (auto& line : mains_lines(igniter, verdict)) lines.push_back(std::move(line));
  std::vector<std::string> charged;
  for (std::size_t i = 1; i < igniter.sources.size(); ++i) {
    const auto& spark = verdict.sources[i].spark;
    if (!spark.charge || spark.charge->hazard == spark::Hazard::none) continue;
    charged.push_back(
        fmt::format("{}, {}", igniter.sources[i].name, when_safe(igniter.sources[i], spark)));
  }
  if (!charged.empty()) {
    lines.push_back(
        fmt::format("Not fitted, but charged once built: {}.", fmt::join(charged, "; ")));
  }
  for (std::size_t i = 0; i < igniter.sources.size(); ++i) {
    for (const auto& finding : verdict.sources[i].spark.findings) {
      if (finding.key != "peak_voltage") continue;
      lines.push_back(fmt::format("The {} reaches {} with its lead off, {}.",
                                  igniter.sources[i].name,
                                  volts(finding.read, system),
                                  finding.why));
    }
  }
  return lines;
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
  const auto& fitted = igniter.sources.front().name;
  const bool steep = spark.required_voltage > spark.breakdown.voltage;
  sentences.push_back(fmt::format(
      "The gap of {} breaks down at {}{}; the {} has {}: {}, {:.0f} % over wanted.",
      units::format(igniter.gap.length, Dimension::length, system),
      volts(spark.breakdown.voltage, system),
      steep ? fmt::format(" in a slow rise and asks for {} in the steep pulse of the {}",
                          volts(spark.required_voltage, system),
                          fitted)
            : std::string(),
      fitted,
      volts(spark.output.peak_voltage, system),
      over(spark.margin),
      100.0 * spark.wanted_margin));
  if (std::isfinite(spark.need.energy)) {
    sentences.push_back(fmt::format(
        "A spark{} leaves {} in the gas; {} light the best {} mixture at {}: {}, {} wanted.",
        spark.jump == spark::Jump::no ? ", if one jumped," : "",
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
  const auto length = [&](double value) { return readable(value, Dimension::length, system); };
  if (spark.gaps.longest == 0.0) {
    return "No gap does: with the margin taken off, its voltage is less than any gap asks for.";
  }
  if (spark.gaps.longest < spark.gaps.shortest) {
    return fmt::format(
        "No gap does both: the longest that jumps with the margin is {}, the "
        "shortest that does not quench the flame is {}.",
        length(spark.gaps.longest),
        length(spark.gaps.shortest));
  }
  return fmt::format("Gaps from {} to {} jump with that margin and do not quench the flame{}.",
                     length(spark.gaps.shortest),
                     length(spark.gaps.longest),
                     spark.gaps.ends_with_the_check
                         ? "; the voltage reaches farther, what breakdown was checked for does not"
                         : "");
}

std::string checked_for(const casefile::Igniter& igniter,
                        const IgniterVerdict& verdict,
                        const spark::Coefficients& c,
                        units::System system) {
  const auto& judged = verdict.sources.front();
  const auto& checked = judged.spark.checked;
  const auto length = [&](double value) { return readable(value, Dimension::length, system); };
  const double product = c.gap.reference_pressure * checked.density;
  return fmt::format(
      "Breakdown was checked, for slowly rising voltage, at {:.3g} to {:.3g} times the density of "
      "room air (here {:.3g}) and at pressure times gap, as at room temperature, of {:.3g} to "
      "{} Pa m (here {}): in this gas, gaps of {} to {}. Ignition was checked up to {} "
      "past "
      "the plug (here {}). The least energies and quench distances are figures from books, some "
      "from memory, put in and not computed.",
      c.gap.lowest_density,
      c.gap.highest_density,
      checked.density,
      c.gap.minimum_product,
      plain(c.gap.longest_gap * c.gap.reference_pressure),
      plain(product * igniter.gap.length),
      length(checked.shortest),
      length(checked.longest),
      units::format(c.ignition.highest_velocity, Dimension::speed, system),
      units::format(verdict.states[judged.state].conditions.velocity, Dimension::speed, system));
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
                    margin_text(spark.margin),
                    spark_text(spark, system),
                    plain(spark.output.sparks_per_second),
                    readable(spark.output.average_power, Dimension::power, system),
                    std::string(verdict_word(spark)),
                    safe_text(igniter.sources[i], spark, system)});
  }
  return rows;
}

std::string asked_of_each(const casefile::Igniter& igniter,
                          const IgniterVerdict& verdict,
                          units::System system) {
  struct Ask {
    std::string voltage;
    bool steep = false;
    std::vector<std::string> sources;
  };
  std::vector<Ask> asks;
  for (const auto i : verdict.ranked) {
    const auto& spark = verdict.sources[i].spark;
    const auto voltage = volts(spark.required_voltage, system);
    const bool steep = spark.required_voltage > spark.breakdown.voltage;
    auto ask = std::find_if(asks.begin(), asks.end(), [&](const Ask& other) {
      return other.voltage == voltage && other.steep == steep;
    });
    if (ask == asks.end()) {
      ask = asks.insert(asks.end(), {.voltage = voltage, .steep = steep, .sources = {}});
    }
    ask->sources.push_back(igniter.sources[i].name);
  }
  std::vector<std::string> parts;
  parts.reserve(asks.size());
  for (const auto& ask : asks) {
    parts.push_back(fmt::format("{} of the {}{}",
                                ask.voltage,
                                fmt::join(ask.sources, ", the "),
                                ask.steep ? ", as its pulse is steep" : ""));
  }
  return fmt::format("The margin is over what the gap asks: {}.", fmt::join(parts, "; "));
}

std::vector<std::string> row_notes(const casefile::Igniter& igniter,
                                   const IgniterVerdict& verdict) {
  std::vector<std::string> notes;
  if (igniter.sources.size() > 1) {
    notes.emplace_back("* is the one fitted; best first, isolated low voltage before mains.");
  }
  bool bracketed = false;
  bool connected = false;
  bool shorted = false;
  bool rough = false;
  for (std::size_t i = 0; i < igniter.sources.size(); ++i) {
    const auto& spark = verdict.sources[i].spark;
    bracketed = bracketed || spark.jump == spark::Jump::no;
    connected = connected || (spark.charge && waits_for_a_hand(igniter.sources[i].bleed));
    shorted = shorted || spark.keep_shorted;
    rough = rough || (spark.charge && spark.safe_after > 0.0 && leaks_only(igniter.sources[i]));
  }
  if (bracketed) notes.emplace_back("In brackets: what a spark would carry if one jumped.");
  notes.emplace_back("Safe in: from switch-off until what stays in it is harmless.");
  if (connected) {
    notes.push_back(fmt::format(
        "{} counted from when its lamp or bleeder is connected, not before.", connected_mark));
  }
  if (rough) {
    notes.push_back(
        fmt::format("{} by leakage alone, rough and not to be counted on.", rough_mark));
  }
  if (shorted) {
    notes.push_back(fmt::format("{} only while its terminals are kept shorted.", shorted_mark));
  }
  return notes;
}

std::vector<std::string> ladder_sentences(const casefile::Igniter& igniter,
                                          const IgniterVerdict& verdict,
                                          units::System system) {
  std::vector<std::string> sentences;
  for (std::size_t i = 0; i < igniter.sources.size(); ++i) {
    const auto& state = verdict.sources[i].spark.output.ladder;
    if (!state) continue;
    const auto open = volts(state->open_voltage, system);
    sentences.push_back(
        state->current > 0.0
            ? fmt::format("{}: {} with nothing drawn; the {} drawn cost {} and leave {} of ripple, "
                          "{} by another rule.",
                          igniter.sources[i].name,
                          open,
                          readable(state->current, Dimension::current, system),
                          volts(state->drop, system),
                          volts(state->ripple, system),
                          volts(state->other_ripple, system))
            : fmt::format("{}: {}; nothing is drawn, so nothing drops and nothing ripples.",
                          igniter.sources[i].name,
                          open));
  }
  return sentences;
}

std::string preferred(const casefile::Igniter& igniter,
                      const IgniterVerdict& verdict,
                      units::System system) {
  constexpr auto low = spark::Supply::isolated_low_voltage;
  if (verdict.sources.front().spark.supply == low) return {};
  for (const auto i : verdict.ranked) {
    const auto& other = verdict.sources[i].spark;
    if (!other.lights || other.supply != low) continue;
    return fmt::format("the {} lights it{}, from an isolated low voltage ({}): prefer it.",
                       igniter.sources[i].name,
                       verdict.sources.front().spark.lights ? " too" : "",
                       volts(other.output.peak_voltage, system));
  }
  return {};
}

std::vector<std::string> spark_warnings(const casefile::Igniter& igniter,
                                        const IgniterVerdict& verdict,
                                        units::System system) {
  std::vector<std::string> list;
  const auto& fitted = verdict.sources.front().spark;
  for (const auto& finding : findings_of(fitted)) {
    if (finding.key == "peak_voltage") continue;  // said right under the verdict
    list.push_back(fmt::format("{}: {}: {}.", igniter.name, finding.key, finding.why));
  }
  for (std::size_t i = 1; i < igniter.sources.size(); ++i) {
    const auto briefs = brief_findings(verdict.sources[i].spark);
    if (briefs.empty()) continue;
    list.push_back(fmt::format(
        "{}, not fitted, {}: {}.", igniter.name, igniter.sources[i].name, fmt::join(briefs, "; ")));
  }
  if (fitted.breakdown.validity == spark::Validity::extrapolated) {
    list.push_back(igniter.name + ": gap and gas lie outside what breakdown was checked for.");
  }
  if (fitted.need.validity == spark::Validity::extrapolated) {
    list.push_back(igniter.name +
                   ": speed or fuel temperature lies outside the range of the ignition tests.");
  }
  if (auto better = preferred(igniter, verdict, system); !better.empty()) {
    list.push_back(fmt::format("{}: {}", igniter.name, better));
  }
  return list;
}

}  // namespace windgap::report
