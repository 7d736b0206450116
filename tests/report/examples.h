#pragma once

#include <string>

#include "report/outcome.h"

namespace windgap::test {

/// A shipped case and its answer, solved once: `demo`, `too-small`, `measured-inches`.
[[nodiscard]] const report::Outcome& solved(const std::string& name);

/// What its plots show.
[[nodiscard]] const report::Survey& surveyed(const std::string& name);

/// The case with nobody's word on the jet: no readings, both bounds.
[[nodiscard]] const report::Outcome& without_readings();

}  // namespace windgap::test
