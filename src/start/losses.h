#pragma once

#include <string_view>
#include <vector>

#include "start/starting_airflow.h"

/// What each loss costs: self-sustaining speed and starting airflow, adiabatic and frictionless
/// first, then one loss after the other.
namespace windgap::start {

enum class Loss { none, bearing_friction, heat_soak, reynolds, clearance };

[[nodiscard]] std::string_view name(Loss loss);

struct LossStep {
  Loss added = Loss::none;
  StartingAirflow result;
};

/// @throws std::logic_error as `prepare` and `rig::assemble`.
[[nodiscard]] std::vector<LossStep> loss_table(const rig::Parts& parts,
                                               const rig::Coefficients& models,
                                               const rig::Rig& rig,
                                               const Prepared& start);

}  // namespace windgap::start
