#pragma once

#include <functional>
#include <string>
#include <vector>

#include "placement/placement.h"
#include "rig/parts.h"

/// How far the answer moves when what is uncertain moves by one standard deviation, one at a time:
/// a first look at the uncertainty, without an ensemble. Equations: models/first_order.md.
namespace windgap::placement {

/// One thing that may differ from its value.
struct Variation {
  std::string name;   ///< key of a coefficient or of a case's number
  std::string group;  ///< variations of one group move together; empty: alone
  std::function<void(rig::Parts&, rig::Coefficients&)> apply;  ///< by one standard deviation
};

/// What one variation does.
struct Influence {
  std::string name;
  double supply = unset;     ///< relative change of delivered over starting airflow [-]
  double stand_off = unset;  ///< change of the mount [m]; unset where the bracket's travel ends it
};

struct FirstOrder {
  double supply_deviation = unset;     ///< of delivered over starting airflow, relative [-]
  double stand_off_deviation = unset;  ///< of the mount [m]; unset where the travel ends it
  std::vector<Influence> influences;   ///< strongest first
};

/// Deviations about a feasible placement (Eqs. 1 to 3): at its edge, the change of the slack that
/// ends the slot over that slack's fall with distance.
/// @throws std::logic_error if the placement is not feasible.
[[nodiscard]] FirstOrder first_order(const rig::Parts& parts,
                                     const rig::Coefficients& models,
                                     const placement::Answer& answer,
                                     const placement::Requirement& requirement,
                                     const std::vector<Variation>& variations,
                                     const start::Deriving* deriving = nullptr);

}  // namespace windgap::placement
