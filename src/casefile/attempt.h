#pragma once

#include <optional>

#include "start/need.h"
#include "start/setup.h"

/// The start that a case describes: fuel, valve, throttle, order of things, what turns the rotor.
namespace windgap::casefile {

/// What blows or turns the rotor.
enum class StarterKind {
  fan,    ///< the case's fan or stream
  motor,  ///< on the shaft, through a clutch that lets go
  blower  ///< a hand-held one, in place of the fan
};

/// A hand-held blower before the mouth.
struct Blower {
  double exit_diameter = unset;  ///< [m]
  double velocity = unset;       ///< [m/s]
  double stand_off = unset;      ///< [m]
};

struct Attempt {
  StarterKind starter = StarterKind::fan;
  Blower blower;
  start::Deriving given;      ///< as the case gave it, and the models
  start::Setup setup;         ///< with every fallback, for the fan or stream as starter
  bool derives_need = false;  ///< the case gives neither starting airflow nor rotor speed
};

/// Setup for another starter; the case's own motor, else a usual one.
[[nodiscard]] start::Setup with_starter(const Attempt& attempt,
                                        StarterKind starter,
                                        const rig::Parts& parts,
                                        const rig::Coefficients& models);

}  // namespace windgap::casefile
