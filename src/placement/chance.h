#pragma once

#include <optional>
#include <string>
#include <vector>

#include "placement/outlook.h"

/// The farthest mount from which an attempt succeeds with an asked reliability, for benches that
/// are known only by their spread (models/spread.md, Eqs. 5 to 8).
namespace windgap::placement {

struct Assurance {
  double reliability = unset;    ///< share of the attempts on one bench [-]
  double confidence = unset;     ///< share of the benches that reach it [-]
  double start_scatter = unset;  ///< of log supply by what is not modelled [-]
};

/// The ensemble at one stand-off.
struct Prospect {
  double stand_off = unset;       ///< [m]
  double catches = unset;         ///< probability that an attempt has air enough [-]
  double sampling_error = unset;  ///< standard error of that by the finite number of members [-]
  double reliable = unset;        ///< share of the benches on which attempts are reliable [-]
  double airflow_low = unset;     ///< 5 % of the benches deliver less [kg/s]
  double airflow_median = unset;  ///< [kg/s]
  double airflow_high = unset;    ///< 95 % deliver less [kg/s]
};

/// Share of the variance of log supply that hangs on one axis, to first order.
struct Share {
  std::string axis;
  double share = unset;  ///< [-]
};

struct Chance {
  Assurance asked;
  bool feasible = false;
  double stand_off = unset;  ///< the edge less the slip, not nearer than the slot's middle [m]
  double edge = unset;       ///< [m]
  Slot slot;
  std::vector<Slot> slots;
  /// Infeasible: where the worst constraint is least short.
  Constraint short_of = Constraint::starting_airflow;
  double short_at = unset;     ///< [m]
  double short_slack = unset;  ///< there, of the asked share of benches [-]
  /// Infeasible: the farthest run of stand-offs where all limits but airflow hold [m]; barred if
  /// there is none, by what is least short where they are.
  bool barred = false;
  Constraint barred_by = Constraint::starting_airflow;
  double open_near = unset;
  double open_far = unset;
  Prospect mount;  ///< at `stand_off` (infeasible: at `short_at`)
  std::vector<Prospect> curve;
  std::vector<Share> shares;  ///< at the mount, largest first
  /// Farthest reliable stand-off over the benches: 5 %, 50 %, 95 % of them reach less [m]; less
  /// than the travel's nearest: nowhere.
  double reach_low = unset;
  double reach_median = unset;
  double reach_high = unset;
  double nowhere = unset;          ///< share of the benches that are reliable nowhere [-]
  double attempt_scatter = unset;  ///< of log supply from attempt to attempt at the mount [-]
  std::size_t members = 0;
  std::size_t lost = 0;  ///< draws that are no bench
};

/// Standard deviation of log supply from attempt to attempt.
[[nodiscard]] double attempt_scatter(const Outlook& outlook,
                                     double stand_off,
                                     const Assurance& asked);

/// Slack in log supply that a bench of this supply has left for reliable attempts.
[[nodiscard]] double reliable_slack(double supply, double scatter, const Assurance& asked);

/// Stand-off up to which each member is reliable in airflow [m], 0 where it is nowhere; the far end
/// of its farthest slot.
[[nodiscard]] std::vector<double> reaches(const Outlook& outlook,
                                          const Requirement& need,
                                          const Assurance& asked);

/// Largest stand-off that members holding `confidence` of the weight reach: a weighted quantile.
/// `order` sorts the reaches downwards.
[[nodiscard]] double reached(std::span<const double> reaches,
                             std::span<const double> weights,
                             double confidence,
                             std::span<const std::size_t> order);
[[nodiscard]] std::vector<std::size_t> descending(std::span<const double> values);

/// The ensemble at one stand-off, by interpolation.
[[nodiscard]] Prospect prospect(const Outlook& outlook,
                                std::span<const double> weights,
                                double stand_off,
                                const Assurance& asked);

/// Prospects along the bracket's travel.
[[nodiscard]] std::vector<Prospect> prospects(const Outlook& outlook,
                                              std::span<const double> weights,
                                              const Requirement& need,
                                              const Assurance& asked,
                                              int points);

/// Solves the constraint on every member; adds nodes to the outlook at the mount's edge until the
/// edge found by interpolation is a solved one.
[[nodiscard]] Chance place_reliably(Outlook& outlook,
                                    std::span<const double> weights,
                                    const Survey& survey,
                                    const Assurance& asked);

/// The nominal bench at the reliable mount: slots and mount of `chance`, all else as `answer` has
/// it.
[[nodiscard]] Placement advised(const Answer& answer,
                                const Chance& chance,
                                const Requirement& need);

}  // namespace windgap::placement
