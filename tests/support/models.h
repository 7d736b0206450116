#pragma once

#include "casefile/models.h"
#include "cooling/coefficients.h"
#include "cooling/materials.h"
#include "placement/placement.h"
#include "rig/parts.h"
#include "spark/coefficients.h"
#include "start/coefficients.h"
#include "start/fuel.h"

/// The coefficients in models/physics, read once for all tests.
namespace windgap::test {

/// All of them, as a case is read with.
[[nodiscard]] const casefile::Models& case_models();
[[nodiscard]] const rig::Coefficients& models();
[[nodiscard]] const placement::Coefficients& placement_models();
[[nodiscard]] const spark::Coefficients& spark_models();
[[nodiscard]] const start::Coefficients& start_models();
[[nodiscard]] const start::FuelCoefficients& fuel_models();
[[nodiscard]] const cooling::Coefficients& cooling_models();
[[nodiscard]] const cooling::Materials& material_models();

}  // namespace windgap::test
