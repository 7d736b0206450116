#pragma once

#include <array>
#include <span>
#include <vector>

#include "placement/chance.h"
#include "trials/attempt.h"
#include "trials/coefficients.h"

namespace windgap::trials {

/// What is fixed while a bench is learned about.
struct Setting {
  const placement::Survey& survey;
  placement::Assurance asked;
  const Coefficients& c;
};

/// One number that an attempt shows, against what a member shows there (models/trials.md, Eqs. 1
/// to 4).
struct Evidence {
  enum class Kind { reading, catching };
  Kind kind = Kind::reading;
  placement::Quantity quantity = placement::Quantity::supply;
  std::size_t attempt = 0;        ///< index of the attempt
  placement::Between place = {};  ///< in the outlook's nodes
  double stand_off = unset;       ///< [m]
  double read = unset;            ///< logarithm of the reading
  double shift = 0.0;             ///< of the quantity, by what is known of the attempt
  double deviation = unset;       ///< of the reading, or of log supply from attempt to attempt [-]
  double by_voltage = 0.0;        ///< change of the quantity by that of log voltage; 0: not read
  double log_voltage = 0.0;       ///< the reading
  Outcome outcome = Outcome::none;
  Failure failure = Failure::unstated;
};

/// Evidence of all attempts, in their order. Readings of one quantity share a bias, so each counts
/// for less the more there are.
[[nodiscard]] std::vector<Evidence> evidence_of(std::span<const Attempt> attempts,
                                                const placement::Outlook& outlook,
                                                const Setting& setting);

/// What a bench of those logarithms would show where the evidence was taken.
[[nodiscard]] double expected(const Evidence& evidence, const placement::Seen& seen);

/// Logarithm of the likelihood of one piece of evidence, its constant left out.
[[nodiscard]] double log_likelihood(const Evidence& evidence,
                                    double expected,
                                    const Coefficients& c);

/// Probability of an outcome at a log supply, lapses and slips of the pen included.
[[nodiscard]] double outcome_probability(const Evidence& evidence,
                                         double supply,
                                         const Coefficients& c);

/// Logarithms of one member interpolated to where the evidence was taken.
[[nodiscard]] double expected(const Evidence& evidence,
                              const placement::Outlook& outlook,
                              std::size_t member);

/// Posterior weights: `base` times the likelihood, the largest 1. Draws that are no bench weigh 0.
[[nodiscard]] std::vector<double> weigh(const placement::Outlook& outlook,
                                        std::span<const double> base,
                                        std::span<const Evidence> evidence,
                                        const Coefficients& c);

/// How well one piece of evidence agrees with the benches that all others leave.
struct Agreement {
  double probability = unset;  ///< of something as far off or farther; of an outcome: its own [-]
  double expected = unset;     ///< mean over those benches: logarithm, or log supply
  double departure = unset;    ///< of a reading, in deviations of its prediction; signed
};
[[nodiscard]] std::vector<Agreement> agreements(const placement::Outlook& outlook,
                                                std::span<const double> base,
                                                std::span<const Evidence> evidence,
                                                const Coefficients& c);

/// (sum w)^2 / sum w^2: how many equal members would tell as much.
[[nodiscard]] double effective_size(std::span<const double> weights);

}  // namespace windgap::trials
