#pragma once

#include "choice/coefficients.h"
#include "placement/placement.h"
#include "search/search.h"

/// Whether a printed converging nozzle brings the fan farther away. Rules: models/choice.md.
namespace windgap::choice {

struct Nozzle {
  bool searched = false;          ///< false: a measured stream, which holds its flow
  bool helps = false;             ///< by more than is worth printing
  double exit_diameter = unset;   ///< [m]
  double throttle = unset;        ///< [-]
  double stand_off = unset;       ///< placed with it [m]; unset: no mount even so
  double bare_stand_off = unset;  ///< without [m]; unset: no mount
  double gain = unset;            ///< of distance [m]; unset unless both have a mount
  double stall_margin = unset;    ///< fan flow over stall flow at that mount, less 1 [-]
  search::Status status = search::Status::failed;
  int evaluations = 0;
};

struct NozzleRange {
  placement::Range exit_diameter;  ///< [m]
  placement::Range throttle;       ///< [-]
};

/// Best exit diameter, stand-off and throttle together: climbs of NLopt's linear models from
/// several contractions under all constraints of a placement, stall among them; the best is then
/// placed as any other bench.
/// @param bare the bench without nozzle, with the jet of its advice
[[nodiscard]] Nozzle best_nozzle(const rig::Rig& bare,
                                 const placement::Placement& bare_placement,
                                 const NozzleRange& range,
                                 const placement::Requirement& need,
                                 const placement::Coefficients& limits,
                                 const Coefficients& c);

}  // namespace windgap::choice
