#pragma once

#include "capture/capture.h"
#include "rig/rig.h"

/// What the engine's mouth is offered at one stand-off, for any flow it may swallow: jet, capture
/// and the fan's answer to back-pressure (Eqs. 1 to 3 of models/rig.md). `deliver` closes it with
/// the cold windmilling engine; a start run closes it with the burning one.
namespace windgap::rig {

struct Offered {
  double total_pressure = unset;    ///< gauge, before guard and entry [Pa]
  double inducer_pressure = unset;  ///< gauge, total, after them [Pa]
  double wheel_pressure = unset;    ///< the same with the swirl's kinetic pressure [Pa]
  double swirl = unset;             ///< radius x tangential speed, + with the rotor [m^2/s]
  double speed = unset;             ///< of the air before the mouth [m/s]
  double excess = unset;            ///< back-pressure ratio at the fan's exit [-]
  double capture_ratio = unset;     ///< swallowed over exit flow [-]
};

/// Whether the fan moves air at all: a motor that does not turn makes no jet.
[[nodiscard]] inline bool blows(const Rig& rig) { return rig.open.exit_velocity > 0.0; }

/// The back-pressure ratio of `Offered` alone [-]: what the fan needs of it, for a fraction of the
/// work.
/// @param stand_off > 0 [m]; @param mass_flow swallowed, >= 0 [kg/s]
[[nodiscard]] double back_pressure_ratio(const Rig& rig, double stand_off, double mass_flow);

/// Refers to the rig, which must outlive it and blow. No allocation. Gathers as much of the jet as
/// the flows asked for need, so one belongs to one thread.
class Supply {
 public:
  /// @param stand_off > 0 [m]
  Supply(const Rig& rig, double stand_off)
      : Supply(rig, stand_off, jet::section(rig.jet, stand_off, rig.jet_coefficients)) {}

  /// @param mass_flow swallowed, > 0 [kg/s]
  [[nodiscard]] Offered at(double mass_flow);

  /// Whether the jet passes beside the mouth's centre: the more is swallowed, the more of it is
  /// reached, and more than one flow may balance.
  [[nodiscard]] bool passes_beside() const { return passes_beside_; }

  /// Flow the fan sends into the open [kg/s]: a scale for guesses.
  [[nodiscard]] double open_flow() const { return open_flow_; }

 private:
  Supply(const Rig& rig, double stand_off, const jet::Section& section);

  /// Squared tangential speed that comes with the swirl [m^2/s^2]: a wheel at rest takes it out
  /// again as incidence loss, so it is neither credited nor charged twice (models/rig.md, Eq. 4).
  [[nodiscard]] double swirl_energy(double swirl, double capture_ratio) const;

  const Rig& rig_;
  capture::Gathering gathering_;
  capture::Spill spill_;
  double stream_radius_ = unset;
  double open_flow_ = unset;
  bool passes_beside_ = false;
};

}  // namespace windgap::rig
