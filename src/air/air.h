#pragma once

#include "units/table.h"

/// Air and combustion gas: the standard atmosphere, humid-air density, transport and caloric
/// properties. Equations and sources: models/air.md.
namespace windgap::air {

/// The still room around the bench.
struct Ambient {
  double pressure = unset;         ///< static, absolute [Pa]
  double temperature = unset;      ///< [K]
  double relative_humidity = 0.0;  ///< [-], 0 to 1
  double density = unset;          ///< of the humid air [kg/m^3]
  double viscosity = unset;        ///< dynamic [Pa s]
  double wind = 0.0;               ///< across the jet, worst direction [m/s]
};

}  // namespace windgap::air
