#include "fan/laws.h"

#include <cmath>

namespace windgap::fan {

double ideal_thrust(const IdealDuct& duct, double shaft_power) {
  return std::cbrt(4.0 * duct.exit_area_ratio * duct.density * duct.disc_area * shaft_power *
                   shaft_power);
}

AffinityPoint scale(const AffinityPoint& point, double speed_ratio, double density_ratio) {
  const double square = speed_ratio * speed_ratio;
  return {.flow = point.flow * speed_ratio,
          .pressure_rise = point.pressure_rise * density_ratio * square,
          .shaft_power = point.shaft_power * density_ratio * square * speed_ratio};
}

}  // namespace windgap::fan
