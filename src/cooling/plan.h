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
  bool active = false;
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
  BoundStates bounds{};
  bool feasible = false;
};

/// What would make an impossible plan possible.
struct Remedy {
  bool pump = false;            ///< letting the oil pump run while purging
  double charge = unset;        ///< least charge with which it could be done [C]; unset: none would
  double cooling_rate = unset;  ///< of the gentlest purge tried [K/s]
};

struct Plan {
  bool feasible = false;
  Trial purge;      ///< the plan; infeasible: the one that misses least
  Course course;    ///< that purge, then standing
  Verdict verdict;  ///< of it
  Course standing;  ///< without any fan
  Verdict standing_verdict;
  std::vector<Trial> trade_off;  ///< constant throttles, rising: time against charge
  Remedy remedy;                 ///< of an infeasible plan
  double self_driving = unset;   ///< hottest the air may get before it carries the rotor [K]
  search::Status status = search::Status::failed;
  int trials = 0;
};

/// One purge: the steps asked for, the last open-ended (its `end` unset) until the goal is reached.
[[nodiscard]] Trial try_purge(const Scene& scene,
                              const rig::Rig& rig,
                              const PlanNeed& need,
                              const std::vector<PlannedStep>& asked,
                              const Accuracy& accuracy = {});

/// @throws std::logic_error if the stand-off or the range of throttle is out of sense.
[[nodiscard]] Plan plan(const Scene& scene, const rig::Rig& rig, const PlanNeed& need);

}  // namespace windgap::cooling
