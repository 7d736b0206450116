#pragma once

#include <string>
#include <vector>

#include "report/outcome.h"

namespace windgap::report {

/// What instruments on a cold engine read: fan on, no fuel, oil pump running.
struct ColdReading {
  double rotor_speed = unset;   ///< [rad/s]; unset without a rotor
  double tap_pressure = unset;  ///< gauge, static, at a wall tap in the inlet's throat [Pa]
};

struct ColdCheck {
  double stand_off = unset;  ///< [m]
  ColdReading expected;
  ColdReading low;    ///< least over everything in the band
  ColdReading high;   ///< most over the same
  ColdReading least;  ///< below it the starting airflow is not there; unset: no airflow is known
  std::vector<std::string> contains;  ///< what the band allows for
};

/// At the shown distance, by evaluating a rig for each end of what is uncertain: both bounds of an
/// unmeasured jet or the misfit of its readings, and the spread of a fan's thrust. Static pressure
/// is the total pressure ahead of the inducer less the dynamic pressure of the airflow in the
/// throat, incompressible.
[[nodiscard]] ColdCheck cold_check(const Outcome& outcome);

}  // namespace windgap::report
