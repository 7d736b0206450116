#pragma once

#include <functional>
#include <string>
#include <vector>

#include "cooling/plan.h"
#include "cooling/setup.h"

/// How far a planned purge's time may be off, or that of standing without one (models/cooling.md,
/// section "Sensitivities").
namespace windgap::cooling {

/// One coefficient that may differ from its value.
struct Variation {
  std::string name;   ///< `cooling.scroll_enhancement`
  std::string group;  ///< variations of one group move together; empty: alone
  std::function<void(Coefficients&, Materials&)> apply;  ///< by one standard deviation
};

/// The engine as it was described, before anything was filled in: a coefficient moves what stands
/// in for what nobody said.
struct Described {
  HotEngine stated;
  const rig::Parts& parts;
  const rig::Coefficients& models;
  const Coefficients& own;
  const Materials& materials;
};

/// What one variation adds to the time until the goal under the planned settings.
struct Influence {
  std::string name;
  double seconds = unset;  ///< [s]
};

struct Sensitivity {
  double deviation = unset;  ///< of that time, over it [-]; unset: it takes none, or for ever
  std::vector<Influence> influences;  ///< heaviest first
};

/// Without a purge the time is that of standing until gloves do, or bare hands where gloves always
/// do. One variation at a time, and `supply_deviation` less throttle for the air that a bench may
/// bring less (unset: not known).
[[nodiscard]] Sensitivity sensitivity(const Plan& plan,
                                      const Scene& scene,
                                      const rig::Rig& rig,
                                      const PlanNeed& need,
                                      const Described& described,
                                      const std::vector<Variation>& variations,
                                      double supply_deviation);

}  // namespace windgap::cooling
