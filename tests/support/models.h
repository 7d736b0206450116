#pragma once

#include "placement/placement.h"
#include "rig/parts.h"
#include "spark/coefficients.h"

/// The coefficients in models/physics, read once for all tests.
namespace windgap::test {

[[nodiscard]] const rig::Coefficients& models();
[[nodiscard]] const placement::Coefficients& placement_models();
[[nodiscard]] const spark::Coefficients& spark_models();

}  // namespace windgap::test
