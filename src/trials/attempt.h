#pragma once

#include "units/table.h"

/// Real attempts on a bench, and what they teach (models/trials.md).
namespace windgap::trials {

enum class Kind {
  lit,  ///< with fuel: it catches or it does not
  cold  ///< the fan alone: readings
};
enum class Outcome { caught, failed, none };

/// Why a lit attempt failed, as a person can tell.
enum class Failure {
  unstated,
  no_light,  ///< no flame
  hung,      ///< lit, but the rotor did not get on
  too_hot,   ///< cut because of the gas temperature
  slow       ///< lit, the rotor stayed too slow from the beginning
};

/// Where a pressure was read, total, gauge, the tube facing the stream.
enum class Tap {
  mouth,   ///< in the middle of the mouth, before any guard
  inducer  ///< behind guard and entry, before the wheel
};

struct Attempt {
  double stand_off = unset;  ///< [m]
  Kind kind = Kind::lit;
  Outcome outcome = Outcome::none;
  Failure failure = Failure::unstated;
  double speed = unset;     ///< of the rotor, blown, before any flame [rad/s]; unset: not read
  double pressure = unset;  ///< [Pa]; the same
  Tap tap = Tap::mouth;
  double voltage = unset;          ///< at the controller while the fan runs [V]; the same
  double oil_temperature = unset;  ///< [K]; the same
  bool counts = true;              ///< false: set aside by a person, who found its cause
};

}  // namespace windgap::trials
