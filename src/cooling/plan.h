#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "cooling/cooldown.h"
#include "search/search.h"

/// The shortest purge that does what is wanted within what pack, motor, bearings and housing bear.
/// Rules: models/cooling.md, section "Plan".
namespace windgap::cooling {

/// What may hold a plan back. The order is that of `limits` in every output.
enum class Bound {
  goal,         ///< within the time anything is followed
  charge,       ///< left in the pack
  current,      ///< continuous rating of pack, controller and motor
  winding,      ///< temperature of the motor's winding
  pack,         ///< temperature of the pack
  rotor_speed,  ///< with the oil pump off
  cooling_rate  ///< of the turbine housing
};
inline constexpr std::size_t bound_count = 7;

[[nodiscard]] std::string_view name(Bound bound);

enum class Shape { constant, two_steps };

struct PlanNeed {
  Goal goal = Goal::handling;
  double stand_off = unset;       ///< [m]
  double least_throttle = unset;  ///< [-]
  double most_throttle = 1.0;     ///< [-]
  Shape shape = Shape::two_steps;
  double charge = unset;        ///< left for the purge [C]; unset: no limit
  double pack_mass = unset;     ///< [kg]; unset: from the pack's energy
  double cooling_rate = unset;  ///< most the turbine housing may cool [K/s]; unset: no limit
};

struct BoundState {
  Bound bound = Bound::goal;
  double value = unset;  ///< SI; of `goal`: seconds
  double limit = unset;  ///< SI; unset: does not apply
  double slack = 1.0;    ///< relative, negative where broken
  bool active = false;   ///< holds the purge: it, or the search's best beside it, is at the limit
};
using BoundStates = std::array<BoundState, bound_count>;

struct PlannedStep {
  double throttle = unset;  ///< [-]
  double start = unset;     ///< [s]
  double end = unset;       ///< [s]
};

/// One purge tried.
struct Trial {
  std::vector<PlannedStep> steps;
  double seconds = unset;  ///< shortest that reaches the goal; infinity if none does
  double charge = unset;   ///< used until then [C]
  bool blows = false;      ///< air comes through the engine at every step
  BoundStates bounds{};
  bool feasible = false;
};

/// A purge that would do if one thing were otherwise.
struct Mend {
  bool found = false;
  double stand_off = unset;     ///< [m]
  double throttle = unset;      ///< [-]
  double seconds = unset;       ///< [s]
  double charge = unset;        ///< to have left [C]
  double cooling_rate = unset;  ///< to allow [K/s]
  double wait = 0.0;            ///< standing, before the fan blows [s]
  PumpUse pump = PumpUse::off;  ///< the oil pump that it takes
};

/// What would make an impossible plan possible, each alone.
struct Remedy {
  Mend pack;    ///< more charge; the least that does
  Mend pump;    ///< letting the oil pump run, while purging or, where that is not enough, always
  Mend gentle;  ///< letting the turbine housing cool faster; the least that does
  Mend nearer;  ///< the fan nearer for the purge; the farthest that does
  Mend range;   ///< any throttle that a controller can hold
  Mend wait;    ///< standing first, where that cokes no oil; the shortest that does
  bool waiting_cokes = false;  ///< standing, the bearing gets too hot: nothing to wait for
};

struct Plan {
  bool feasible = false;
  Trial purge;      ///< the plan; infeasible: the one that misses least
  Course course;    ///< that purge, then standing
  Verdict verdict;  ///< of it
  Course standing;  ///< without any fan
  Verdict standing_verdict;
  std::vector<Trial> trade_off;  ///< constant throttles, rising: time against charge
  /// The constant purge that takes least charge within all other bounds; no steps: there is none.
  Trial thriftiest;
  Remedy remedy;                ///< of an infeasible plan
  double self_driving = unset;  ///< hottest the air may get before it carries the rotor [K]
  search::Status status = search::Status::failed;
  int trials = 0;
};

/// When the fan of a trial stops.
enum class Ends {
  exact,    ///< once the goal is reached
  settable  ///< at the next time of a watch (src/cooling/settable.h); bounds are judged there
};

/// One purge: the steps asked for, the last open-ended (its `end` unset) until the goal is reached.
/// Steps that would begin after a settable end are left out.
[[nodiscard]] Trial try_purge(const Scene& scene,
                              const rig::Rig& rig,
                              const PlanNeed& need,
                              const std::vector<PlannedStep>& asked,
                              Ends ends,
                              const Accuracy& accuracy = {});

/// A plan, its trade-off and its remedies are what a person can set: whole percents of throttle and
/// ends that a watch shows.
/// @throws std::logic_error if the stand-off or the range of throttle is out of sense, or no whole
/// percent lies in that range.
[[nodiscard]] Plan plan(const Scene& scene, const rig::Rig& rig, const PlanNeed& need);

}  // namespace windgap::cooling
