#pragma once

#include "air/air.h"
#include "drive/drive.h"
#include "fan/fan.h"
#include "support/models.h"

/// An invented 64 mm fan on six cells, and the room it stands in.
namespace windgap::fan::examples {

inline const Coefficients& fan_coefficients() { return test::models().fan; }

inline const drive::Coefficients& drive_coefficients() { return test::models().drive; }

inline air::Ambient room() {
  return air::make_ambient(test::models().air, {.temperature = 293.15});
}

inline Fan ducted_fan() {
  Fan fan;
  fan.datasheet = {.thrust = 19.0, .voltage = 22.2, .current = 62.0};
  fan.bore_diameter = 0.064;
  fan.hub_diameter = 0.027;
  fan.vanes = Vanes::yes;
  return fan;
}

inline drive::Drive six_cells() {
  drive::Drive parts;
  parts.pack = {.cells = 6, .capacity = 3.3 * 3600.0, .state_of_charge = 0.95};
  parts.controller.rated_current = 80.0;
  parts.motor = {.speed_constant = 220.0, .resistance = 0.022, .no_load_current = 2.8};
  return parts;
}

inline Prepared prepared(Fan fan, drive::Drive parts) {
  (void)fill_fallbacks(fan, parts, fan_coefficients(), drive_coefficients());
  return prepare(fan, parts, room(), fan_coefficients(), drive_coefficients());
}

}  // namespace windgap::fan::examples
