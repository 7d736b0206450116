#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "rig/rig.h"
#include "search/search.h"
#include "start/need.h"

/// The farthest mount from which the fan still starts the engine, for an ensemble of benches.
/// Models and rules: models/placement.md.
namespace windgap::placement {

/// Limits that hold where the case gives none, filled from models/physics/placement.yaml.
struct Coefficients {
  double airflow_margin = unset;         ///< over starting airflow [-]
  double allowed_running_loss = unset;   ///< of total pressure, over ambient pressure [-]
  double flame_holder_velocity = unset;  ///< above which a flame is blown off [m/s]
  double start_duration = unset;         ///< of one attempt at full blast [s]
  double back_pressure_felt = unset;     ///< ratio below which the gap no longer loads the fan [-]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  v("airflow_margin", c.airflow_margin);
  v("allowed_running_loss", c.allowed_running_loss);
  v("flame_holder_velocity", c.flame_holder_velocity);
  v("start_duration", c.start_duration);
  v("back_pressure_felt", c.back_pressure_felt);
}

/// What a mount must satisfy. The order is that of `constraints` in every output.
enum class Constraint {
  starting_airflow,
  lightoff_speed,
  lightoff_velocity,
  fan_stall,
  drive_current,
  burst_heating,
  running_loss,
  bracket_travel
};
inline constexpr std::size_t constraint_count = 8;

[[nodiscard]] std::string_view name(Constraint constraint);

/// A free design variable and its range.
struct Range {
  double lower = unset;
  double upper = unset;
};

struct Requirement {
  double margin = unset;                 ///< airflow over starting airflow, less 1 [-]
  double allowed_running_loss = unset;   ///< [-]
  double flame_holder_velocity = unset;  ///< [m/s]
  double start_duration = unset;         ///< [s]
  double nearest = unset;                ///< of the bracket's travel [m], > 0
  double farthest = unset;               ///< [m]
  double slip = 0.0;                     ///< play and bend of the bracket, each way [m]
  double reliability = unset;     ///< share of the members' weight to satisfy [-]; unset: all
  double confidence = unset;      ///< asked of that reliability, see chance.h [-]
  std::optional<Range> throttle;  ///< set: free [-]
  std::optional<Range> nozzle;    ///< set: free nozzle exit diameter [m]
};

/// How much of an answer is wanted.
enum class Extent {
  everything,
  /// The mount alone: its own slot only, followed inward no farther than the slip asks; neither the
  /// zones of a screen, nor what would help where nothing fits, nor a jet that is not the nearer.
  advice
};

struct Options {
  int scan_points = 121;  ///< of the global stage over the bracket's travel
  unsigned threads = 0;   ///< 0: all
  Extent extent = Extent::everything;
};

/// One constraint at a mount. Slack is relative and >= 0 where satisfied; NaN limit and slack where
/// the constraint does not apply.
struct ConstraintState {
  Constraint constraint = Constraint::starting_airflow;
  double value = unset;  ///< SI; the weighted quantile over the members
  double limit = unset;  ///< SI
  double slack = unset;  ///< [-]
  bool active = false;   ///< holds the mount where it is
};
using ConstraintStates = std::array<ConstraintState, constraint_count>;

/// A stretch of the bracket's travel on which every constraint holds.
struct Slot {
  double near = unset;                                 ///< [m]
  double far = unset;                                  ///< [m]
  Constraint near_limit = Constraint::bracket_travel;  ///< what ends it
  Constraint far_limit = Constraint::bracket_travel;
};

/// One stand-off, everything a sweep or a screen shows of it. For an ensemble: of its first member.
struct Row {
  double stand_off = unset;  ///< [m]
  rig::Delivery delivery;
  fan::Operating fan;
  blockage::Obstruction obstruction;
  ConstraintStates constraints;  ///< bracket_travel included
  bool feasible = false;         ///< every constraint but the bracket's travel
};

/// Why nothing fits, and what would.
struct Shortfall {
  Constraint constraint = Constraint::starting_airflow;  ///< the one that is short
  double stand_off = unset;                              ///< where it is least short [m]
  double value = unset;                                  ///< there
  double limit = unset;
  double thrust_factor = unset;  ///< fan thrust over today's that would do; unset: would not help
  double nearer = unset;         ///< stand-off outside the travel that would do [m]; unset: none
  double farther = unset;        ///< the same beyond it [m]
};

struct Placement {
  bool feasible = false;
  double stand_off = unset;               ///< drill here: the slot's far end less the slip [m]
  double edge = unset;                    ///< far end of that slot [m]
  Slot slot;                              ///< the one holding the mount
  std::vector<Slot> slots;                ///< all, nearest first
  double throttle = unset;                ///< chosen or given [-]
  double nozzle = unset;                  ///< chosen nozzle exit diameter [m]; unset: none chosen
  Row mount;                              ///< at `stand_off` (infeasible: at the shortfall's)
  ConstraintStates constraints;           ///< at `edge`, the worst the slip allows
  double starting_airflow = unset;        ///< of the first member [kg/s]
  double lightoff_speed = unset;          ///< the same [rad/s]
  double wake_zone_end = unset;           ///< beyond it farther never brings more air [m]
  double back_pressure_zone_end = unset;  ///< beyond it the fan no longer feels the gap [m]
  std::optional<Shortfall> shortfall;
  search::Status status = search::Status::failed;
  std::string message;
  int evaluations = 0;  ///< of one stand-off for the whole ensemble
};

/// Farthest mount for weighted benches. A constraint holds if it holds for members of at least
/// `reliability` of the weight. Weights: one for each member, not negative, not all zero.
/// @throws std::logic_error on empty or mismatched spans, or a bad range.
[[nodiscard]] Placement place(std::span<const rig::Rig> members,
                              std::span<const double> weights,
                              const Requirement& need,
                              const Coefficients& c,
                              const Options& options);

/// One bench.
[[nodiscard]] Placement place(const rig::Rig& rig,
                              const Requirement& need,
                              const Coefficients& c,
                              const Options& options);

/// Everything at one stand-off > 0 [m].
[[nodiscard]] Row look(const rig::Rig& rig, double stand_off, const Requirement& need);

/// A rig of the placed bench with the throttle and the nozzle that came out.
[[nodiscard]] rig::Rig as_placed(rig::Rig rig, const Placement& placed);

/// The nominal answer of a case. When nobody measured the jet, both bounds are placed and the
/// nearer one is the advice. `deriving`: what derives the starting airflow, nullptr for the stated.
struct Answer {
  rig::JetChoice choice = rig::JetChoice::estimated;  ///< the jet of `advice` and of a sweep
  rig::Rig rig;                                       ///< with that jet, as placed
  Placement advice;
  bool jet_known = false;  ///< by readings or by the case's word: one answer
  /// The bounds and what the fan's build suggests, where the jet is not known; of Extent::advice
  /// only what it took.
  std::optional<Placement> nozzle_like;
  std::optional<Placement> propeller_like;
  std::optional<Placement> estimated;
};
[[nodiscard]] Answer answer(const rig::Parts& parts,
                            const rig::Coefficients& models,
                            const Requirement& need,
                            const Coefficients& c,
                            const Options& options,
                            const start::Deriving* deriving = nullptr);

}  // namespace windgap::placement
