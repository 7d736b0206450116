#pragma once

#include "units/table.h"

namespace windgap::choice {

/// Rules of choosing, filled from models/physics/choice.yaml.
struct Coefficients {
  Table controller_sizes;             ///< rated currents that are sold [A], by their number
  double controller_reserve = unset;  ///< rated current over the motor's [-]
  double charge_left = unset;         ///< share of a full pack that stays in it [-]
  double loss_unseen = unset;         ///< running loss that no instrument here shows [-]
  double reach_reserve = unset;       ///< wanted reach over that distance, less 1 [-]
  double misalignment_share = unset;  ///< of the airflow margin that bending may eat [-]
  double bracket_height = unset;      ///< foot to fan axis over the fan's outer diameter [-]
  double bolt_play = unset;           ///< width of the slot over its bolt [-]
  double bolt_diameter = unset;       ///< of the bracket, no data [m]
  double narrowest_nozzle = unset;    ///< exit over the fan's [-]
  double least_throttle = unset;      ///< a search for a nozzle may choose [-]
  double worthwhile_gain = unset;     ///< of distance, below which nobody prints a nozzle [-]
  double nozzle_step = unset;         ///< of the exit diameters worth drawing [m]
  double print_error = unset;         ///< a printed diameter may come out narrower [m]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  v("controller_sizes", c.controller_sizes);
  v("controller_reserve", c.controller_reserve);
  v("charge_left", c.charge_left);
  v("loss_unseen", c.loss_unseen);
  v("reach_reserve", c.reach_reserve);
  v("misalignment_share", c.misalignment_share);
  v("bracket_height", c.bracket_height);
  v("bolt_play", c.bolt_play);
  v("bolt_diameter", c.bolt_diameter);
  v("narrowest_nozzle", c.narrowest_nozzle);
  v("least_throttle", c.least_throttle);
  v("worthwhile_gain", c.worthwhile_gain);
  v("nozzle_step", c.nozzle_step);
  v("print_error", c.print_error);
}

}  // namespace windgap::choice
