#pragma once

#include <string_view>

#include "casefile/findings.h"
#include "rig/parts.h"

/// Every number of a bench under its key, with what it measures and its allowed range. Said once,
/// in fan_fields.h, engine_fields.h and bench_fields.h: reading a case and finding a field for a
/// draw of an ensemble walk the same lists. A visitor has operator()(key, double& field, const
/// Allowed&) and in(key, function(visitor)).
namespace windgap::casefile {

/// A range in a unit that people think in.
struct Allowed {
  units::Dimension dimension;
  double least = 0.0;
  double most = 0.0;
  std::string_view unit = {};
};

/// The same in SI. @throws std::logic_error if the unit is none of the dimension.
[[nodiscard]] Measure measure(const Allowed& allowed);

/// The field of a bench that a key path names, or nullptr; for draws around a tolerance.
[[nodiscard]] double* find_field(rig::Parts& parts, std::string_view key);

using D = units::Dimension;

}  // namespace windgap::casefile
