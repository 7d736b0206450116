#pragma once

#include "trials/next.h"

namespace windgap::trials {

/// What a log of attempts says about one bench.
struct Lesson {
  std::vector<Evidence> evidence;
  std::vector<Agreement> agreements;  ///< one for each evidence
  /// Of each evidence alone, against the benches drawn first: what all attempts say alike may
  /// still be far from anything that the case may mean.
  std::vector<Agreement> by_itself;
  double together = 1.0;     ///< how likely all of them are on the benches that they leave [-]
  placement::Chance before;  ///< without the attempts
  placement::Chance after;
  Decision decision;
  double effective = unset;          ///< members that still count, of those drawn first
  double effective_redrawn = unset;  ///< of those drawn anew; unset: not needed
  bool exhausted = false;            ///< too few count even then: read everything with doubt
};

/// Weighs the ensemble by the attempts, draws it anew where too few members still count, and says
/// what to do next. Attempts outside the bracket's travel count too.
[[nodiscard]] Lesson learn(std::span<const Attempt> attempts, const Setting& setting);

/// Stand-offs at which an ensemble is solved: those of a placement, and as far as attempts went.
[[nodiscard]] std::vector<double> nodes_for(const placement::Requirement& requirement,
                                            std::span<const Attempt> attempts);

/// Where limits other than airflow hold: the slot of the placement, else the whole travel.
[[nodiscard]] Within within(const placement::Chance& chance,
                            const placement::Requirement& requirement);

}  // namespace windgap::trials
