#pragma once

#include "rig/rig.h"

namespace windgap::rig {

/// Airflow of the running engine [kg/s]: the stated one, else what passes the inlet's throat at the
/// usual Mach number.
[[nodiscard]] double running_airflow(const Parts& parts, const Rig& rig, const Coefficients& c);

}  // namespace windgap::rig
