#pragma once

#include <string>
#include <vector>

#include "cooling/cooldown.h"
#include "cooling/plan.h"
#include "rig/parts.h"
#include "units/assumed.h"

/// From what a person says of the hot engine to a scene and a plan's need, and what a cooldown
/// takes from the pack in short. Meaning: models/cooling.md, sections "Start" and "Plan".
namespace windgap::cooling {

/// The hot engine as a person describes it; what is unset comes from the engine's dimensions, the
/// run and the coefficients.
struct HotEngine {
  Build build;
  double gas_temperature = unset;  ///< ahead of the turbine at load [K]
  double run = unset;              ///< at load before the stop [s]
  Temperatures temperature{unset, unset, unset, unset, unset, unset, unset};  ///< at the stop [K]
  Wishes wishes;
  PumpUse pump = PumpUse::off;
  double dry_speed = unset;  ///< rotor speed allowed without oil [rad/s]
};

/// Fills everything but the temperatures and says so. The engine's own fallbacks must be filled.
/// @throws std::logic_error if the engine has no dimensions (only a resistance).
std::vector<Assumed> fill_fallbacks(HotEngine& hot,
                                    const rig::Parts& parts,
                                    const rig::Coefficients& models,
                                    const Coefficients& c,
                                    const Materials& materials);

/// The filled engine just after the stop on its bench. A temperature that nobody gave is that after
/// the run, at the airflow of `running_speed_share` of full speed.
[[nodiscard]] Scene make_scene(const HotEngine& hot,
                               const rig::Parts& parts,
                               const rig::Rig& rig,
                               const rig::Coefficients& models,
                               const Coefficients& c,
                               const Materials& materials);

/// Starts made before the engine is cooled.
struct StartsMade {
  double count = unset;      ///< [-]
  double seconds = unset;    ///< of each, at full blast [s]
  double stand_off = unset;  ///< [m]
};

/// Charge that those starts took [C]; 0 for a measured stream.
[[nodiscard]] double charge_of_starts(const rig::Rig& rig, const StartsMade& starts);

/// Charge that a purge may still draw: what the pack held, less the starts and the reserve [C],
/// never below 0.
[[nodiscard]] double charge_left(const drive::Pack& pack,
                                 double charge_of_starts,
                                 const Coefficients& c);

/// What a recommended cooldown takes at one throttle.
struct Demand {
  bool feasible = false;
  double throttle = unset;  ///< [-]
  double seconds = unset;   ///< [s]
  double charge = unset;    ///< [C]
};

/// For other rooms: the constant purge that reaches the need's goal with the least charge within
/// all its bounds, from a few throttles, as it can be set. About a tenth of the work of a plan,
/// which looks for the shortest one. For a measured stream: its one purge, without charge.
[[nodiscard]] Demand cooldown_demand(const Scene& scene, const rig::Rig& rig, const PlanNeed& need);

}  // namespace windgap::cooling
