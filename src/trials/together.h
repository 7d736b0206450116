#pragma once

#include <cstdint>

#include "trials/likelihood.h"

namespace windgap::trials {

/// Share of repetitions of the same attempts, on benches drawn by their weights, that would come
/// out as unlikely as the attempts did or more so (models/trials.md, Eq. 12): outcomes and readings
/// that are each plausible may be impossible together. Both members and repetitions are drawn by
/// `seed`. 1 for less than two pieces of evidence.
[[nodiscard]] double together(const placement::Outlook& outlook,
                              std::span<const double> weights,
                              std::span<const Evidence> evidence,
                              const Coefficients& c,
                              std::uint64_t seed);

}  // namespace windgap::trials
