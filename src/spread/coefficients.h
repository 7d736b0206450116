#pragma once

#include "units/table.h"

namespace windgap::spread {

/// What differs from one attempt to the next where the case gives no tolerance, filled from
/// models/physics/spread.yaml.
struct Coefficients {
  double oil_swing = unset;          ///< of the oil's inlet temperature [K]
  double wind_swing = unset;         ///< of the wind along or across the bench [m/s]
  double charge_swing = unset;       ///< of the pack's state of charge [-]
  double start_scatter = unset;      ///< of airflow over need by all that is not modelled [-]
  double measured_pressure = unset;  ///< error of `engine.measured`, of the pressure read [-]
  double measured_flow = unset;      ///< of the airflow [-]
  double measured_speed = unset;     ///< of the rotor's speed [-]
  double confidence = unset;         ///< asked of a reliability where the case names none [-]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  v("oil_swing", c.oil_swing);
  v("wind_swing", c.wind_swing);
  v("charge_swing", c.charge_swing);
  v("start_scatter", c.start_scatter);
  v("measured_pressure", c.measured_pressure);
  v("measured_flow", c.measured_flow);
  v("measured_speed", c.measured_speed);
  v("confidence", c.confidence);
}

}  // namespace windgap::spread
