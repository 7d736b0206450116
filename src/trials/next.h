#pragma once

#include "trials/likelihood.h"

namespace windgap::trials {

/// What an attempt at a stand-off would be worth.
struct Proposal {
  Kind kind = Kind::cold;
  double stand_off = unset;  ///< [m]
  double gain = unset;       ///< expected growth of the reliable stand-off [m]
  double hazard = unset;     ///< probability of a hung or hot start; 0 when cold [-]
  double catches = unset;    ///< probability that a lit attempt catches [-]
};

struct Decision {
  double stand_off = unset;  ///< reliable edge that the benches still plausible allow [m]
  bool stop = false;
  Proposal next;             ///< the best one; also where it is not worth its start
  double best_gain = unset;  ///< largest of all proposals [m]
};

/// Bounds within which limits other than airflow hold.
struct Within {
  double nearest = unset;   ///< [m]
  double farthest = unset;  ///< [m]
};

/// The attempt that promises the most stand-off over what it costs, one step ahead: a lit one is
/// tried against both outcomes, a cold one against the readings of five benches spread over what is
/// still plausible (models/trials.md, Eqs. 9 to 11). No lit attempt is proposed where a hung or hot
/// start is likelier than `greatest_hazard`, nor outside `within`. Stop where the best is not worth
/// its cost. `cold_runs` so far make another one weigh less.
[[nodiscard]] Decision decide(const placement::Outlook& outlook,
                              std::span<const double> weights,
                              std::span<const Attempt> attempts,
                              const Within& within,
                              const Setting& setting);

}  // namespace windgap::trials
