#pragma once

#include "placement/placement.h"
#include "rig/rig.h"

/// Invented benches that many tests share.
namespace windgap::test {

/// Turbocharger with a 46 mm inducer, journal bearings, warm thin oil; fallbacks filled.
[[nodiscard]] engine::Engine garden_engine();

/// The same with a 64 mm ducted fan on six cells, a little off axis; fallbacks filled.
[[nodiscard]] rig::Parts garden_parts();

/// Travel of 20 to 600 mm, every other limit as in models/physics/placement.yaml.
[[nodiscard]] placement::Requirement usual_requirement();

}  // namespace windgap::test
