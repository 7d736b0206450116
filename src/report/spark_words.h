#pragma once

#include <span>
#include <string>
#include <vector>

#include "report/cautions.h"
#include "report/spark_verdict.h"

/// A verdict on igniters in sentences, the same on a screen as on paper.
namespace windgap::report {

/// What goes before every answer about sparks, the gravest first.
[[nodiscard]] std::span<const Caution> spark_cautions();

/// What a start says of an igniter beside its own cautions; empty where the case has none.
[[nodiscard]] std::vector<std::string> electric_cautions(const casefile::Case& bench);

/// `1.2 s`, `7 min`, `47 h`, `5 days`; `never` where it is infinite.
[[nodiscard]] std::string lasting(double seconds, units::System system);

/// As results are written, but never with an exponent: "<0.0001 mJ".
[[nodiscard]] std::string readable(double value, units::Dimension dimension, units::System system);

/// "87.4 times", "3000 times": three digits, never an exponent.
[[nodiscard]] std::string times(double ratio);

/// "main: sparks and lights; harmless 0.8 s after switch-off"
[[nodiscard]] std::string headline(const casefile::Igniter& igniter, const IgniterVerdict& verdict);

/// What belongs right under it: boxes that are charged though not fitted, and which terminals must
/// be kept shorted.
[[nodiscard]] std::vector<std::string> under_headline(const casefile::Igniter& igniter,
                                                      const IgniterVerdict& verdict,
                                                      units::System system);

/// "lights", "unsure", "no spark", "too cold", "quenches", "weak", "too weak"
[[nodiscard]] std::string_view verdict_word(const spark::Assessment& spark);

/// Voltage and energy asked and there, for the fitted source.
[[nodiscard]] std::vector<std::string> margins(const casefile::Igniter& igniter,
                                               const IgniterVerdict& verdict,
                                               units::System system);

/// Which gaps would do, or that none does.
[[nodiscard]] std::string usable_gaps(const spark::Assessment& spark, units::System system);

/// Ranges that breakdown and ignition were checked for, and where the fitted source's case lies.
[[nodiscard]] std::string checked_for(const casefile::Igniter& igniter,
                                      const IgniterVerdict& verdict,
                                      const spark::Coefficients& c,
                                      units::System system);

/// The gas that each state of the plug was judged in.
[[nodiscard]] std::vector<std::string> surroundings(const IgniterVerdict& verdict,
                                                    units::System system);

/// Heads and rows of the table of sources, best first; the fitted one is marked.
[[nodiscard]] std::vector<std::string> source_heads();
[[nodiscard]] std::vector<std::vector<std::string>> source_rows(const casefile::Igniter& igniter,
                                                                const IgniterVerdict& verdict,
                                                                units::System system);

/// The voltage that the gap asks of each source, over which its margin is counted.
[[nodiscard]] std::string asked_of_each(const casefile::Igniter& igniter,
                                        const IgniterVerdict& verdict,
                                        units::System system);

/// What the stars and daggers of the rows mean; only of those that occur.
[[nodiscard]] std::vector<std::string> row_notes(const casefile::Igniter& igniter,
                                                 const IgniterVerdict& verdict);

/// Open voltage, drop and ripple of each ladder.
[[nodiscard]] std::vector<std::string> ladder_sentences(const casefile::Igniter& igniter,
                                                        const IgniterVerdict& verdict,
                                                        units::System system);

/// How the stored charge of one source leaves, what to fit, what its indicator means; nothing for a
/// source that keeps none.
[[nodiscard]] std::vector<std::string> stored_charge(const casefile::SparkSource& source,
                                                     const spark::Assessment& spark,
                                                     const spark::ChargeCoefficients& c,
                                                     units::System system);

/// Parts near their limits, mains, numbers outside their range.
[[nodiscard]] std::vector<std::string> spark_warnings(const casefile::Igniter& igniter,
                                                      const IgniterVerdict& verdict,
                                                      units::System system);

/// Which isolated low-voltage source does what a fitted mains-fed one does; empty where none does
/// or none is to be replaced.
[[nodiscard]] std::string preferred(const casefile::Igniter& igniter,
                                    const IgniterVerdict& verdict,
                                    units::System system);

/// "a shock", "enough to kill"
[[nodiscard]] std::string_view hazard_words(spark::Hazard hazard);

/// That a bleeder takes what the source needs, and which one would not.
[[nodiscard]] std::string starving_words(const spark::StarvingBleeder& bleeder,
                                         units::System system);

/// Whether nothing but its own leakage empties it.
[[nodiscard]] bool leaks_only(const casefile::SparkSource& source);

/// "7 days, between 3 days and 15 days": by leakage alone, no better known than that.
[[nodiscard]] std::string rough_range(const spark::ChargeVerdict& charge, units::System system);

/// Whether somebody or something must connect what is fitted before it bleeds.
[[nodiscard]] bool waits_for_a_hand(const spark::Bleed& bleed);

}  // namespace windgap::report
