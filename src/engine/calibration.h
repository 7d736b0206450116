#pragma once

#include "air/air.h"
#include "engine/engine.h"

namespace windgap::engine {

enum class CalibrationStatus {
  done,
  implausible,  ///< a multiplier would leave its plausible band: `calibration` holds the bound
  no_root,      ///< no multiplier in the band explains the reading at all
  incomplete    ///< too little was measured
};

struct Calibrated {
  CalibrationStatus status = CalibrationStatus::incomplete;
  Calibration calibration;   ///< to be used only when done
  double mass_flow = unset;  ///< of the calibrated model in that run [kg/s]
  double speed = unset;      ///< of the calibrated model in that run [rad/s]
};

/// Mass flow [kg/s] from the throat's total and static pressure (gauge) (Eq. 32).
struct Tap {
  double total_pressure = unset;   ///< gauge [Pa]
  double static_pressure = unset;  ///< gauge [Pa]
  double throat_diameter = unset;  ///< [m]
};
[[nodiscard]] double mass_flow_from_tap(const Tap& tap, const air::Ambient& ambient);

/// Airflow scales the turbine's area, speed the bearing drag (Eqs. 33, 34); with both measured,
/// both. Multipliers outside the bands of EngineCoefficients are refused.
[[nodiscard]] Calibrated calibrate(const Engine& engine,
                                   const Coefficients& c,
                                   const air::Coefficients& air,
                                   const air::Ambient& ambient,
                                   const Measurement& reading);

/// The calibration anew by the run that `engine.measured` holds, for an engine whose sizes or
/// coefficients have changed since. @param c of the engine as it is now
/// @returns false where nothing in the bands explains the reading: the calibration stays.
bool recalibrate(Engine& engine,
                 const Coefficients& c,
                 const air::Coefficients& air,
                 const air::Ambient& ambient);

}  // namespace windgap::engine
