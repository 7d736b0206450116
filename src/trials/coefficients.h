#pragma once

#include "units/table.h"

namespace windgap::trials {

/// How attempts are read and what they are worth, filled from models/physics/trials.yaml.
struct Coefficients {
  double lapse = unset;            ///< attempts that fail whatever the air [-]
  double dark_share = unset;       ///< of the failures for want of air, those that do not light [-]
  double misread_share = unset;    ///< outcomes written down wrongly [-]
  double speed_error = unset;      ///< one reading of rotor speed, relative [-]
  double pressure_error = unset;   ///< the same of pressure [-]
  double speed_bias = unset;       ///< what all speed readings of one bench share [-]
  double pressure_bias = unset;    ///< the same of pressure: tap, tube, model [-]
  double voltage_error = unset;    ///< relative [-]
  double oil_error = unset;        ///< [K]
  double distance_error = unset;   ///< [m]
  double freedom = unset;          ///< degrees of freedom of a reading's distribution [-]
  double greatest_hazard = unset;  ///< probability of a hot or hung start that is not exceeded [-]
  double worth_of_start = unset;   ///< millimetres that a lit start must promise [m]
  double worth_of_cold = unset;    ///< the same for a cold run [m]
  double least_effective = unset;  ///< share of members below which they are drawn anew [-]
  double usual_reliability = unset;  ///< asked where the case names none [-]
  double surprise = unset;           ///< probability below which an attempt contradicts [-]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  v("lapse", c.lapse);
  v("dark_share", c.dark_share);
  v("misread_share", c.misread_share);
  v("speed_error", c.speed_error);
  v("pressure_error", c.pressure_error);
  v("speed_bias", c.speed_bias);
  v("pressure_bias", c.pressure_bias);
  v("voltage_error", c.voltage_error);
  v("oil_error", c.oil_error);
  v("distance_error", c.distance_error);
  v("freedom", c.freedom);
  v("greatest_hazard", c.greatest_hazard);
  v("worth_of_start", c.worth_of_start);
  v("worth_of_cold", c.worth_of_cold);
  v("least_effective", c.least_effective);
  v("usual_reliability", c.usual_reliability);
  v("surprise", c.surprise);
}

}  // namespace windgap::trials
