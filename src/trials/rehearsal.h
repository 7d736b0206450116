#pragma once

#include <random>
#include <string>
#include <utility>
#include <vector>

#include "trials/next.h"

/// Simulated benches, to see what advice is worth before anybody burns fuel (models/trials.md).
namespace windgap::trials {

/// How far the truth lies from what the models believe.
struct World {
  /// Change of one axis' true values, in its deviations.
  struct Shift {
    std::string axis;
    double deviations = unset;
  };
  double widening = 1.0;  ///< of every axis
  std::vector<Shift> shifts;
  double hidden_need = 0.0;  ///< more airflow needed than any member knows, log [-]
};

enum class Strategy {
  learning,  ///< what `decide` proposes, until it says stop
  sliding,   ///< from one fan length away, 20 mm closer until it catches three times
  halving    ///< lit attempts at the middle of what is left of the travel
};

struct Rehearsal {
  int lit = 0;              ///< attempts with fuel
  int cold = 0;             ///< runs without
  int hung = 0;             ///< hung or hot starts among the lit
  double locked = unset;    ///< edge that the strategy settled on [m]; unset: none
  double truth = unset;     ///< farthest reliable edge [m]; unset: this bench has none
  bool unreliable = false;  ///< locked where attempts are less reliable than asked
  int redrawn = 0;
  int unfirm = 0;  ///< times that too few members counted for a lock
};

/// The ensemble everybody starts from, solved once.
struct Prior {
  placement::Outlook outlook;
  Within within;
};

/// One simulated bench under one strategy; everything random follows from `seed`.
[[nodiscard]] Rehearsal rehearse(const World& world,
                                 Strategy strategy,
                                 const Prior& prior,
                                 const Setting& setting,
                                 std::uint64_t seed);

/// One simulated bench tried where a plan says, whatever comes of it.
struct Simulated {
  std::vector<Attempt> attempts;
  rig::Rig rig;
  double hidden_need = 0.0;
  placement::Requirement requirement;

  /// Logarithm of the true airflow over the true need, attempt scatter apart.
  [[nodiscard]] double supply(double stand_off) const;
};
[[nodiscard]] Simulated simulate(const World& world,
                                 const Prior& prior,
                                 const Setting& setting,
                                 std::uint64_t seed,
                                 const std::vector<std::pair<Kind, double>>& plan);

/// What many rehearsals came to.
struct Summary {
  std::size_t benches = 0;   ///< that have a reliable mount
  std::size_t hopeless = 0;  ///< that have none
  double lit_median = unset;
  double cold_median = unset;
  double hung_mean = unset;
  double short_median = unset;      ///< of the true reliable edge; negative beyond it [m]
  double short_mean = unset;        ///< of the locks that are reliable [m]
  double within_share = unset;      ///< reliable and within `near` of the true edge [-]
  double unreliable_share = unset;  ///< of all benches [-]
  double locked_median = unset;     ///< stand-off, none counted as the nearest [m]
};
[[nodiscard]] Summary summarize(std::span<const Rehearsal> list, double near, double nearest);

}  // namespace windgap::trials
