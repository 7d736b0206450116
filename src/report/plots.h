#pragma once

#include <string>
#include <vector>

#include "report/outcome.h"

namespace windgap::report {

/// A plot as the page's plotting library reads it.
struct Plot {
  std::string title;
  std::string caption;
  std::string spec;  ///< JSON, safe inside a script element
};

/// Airflow, rotor speed, fan back-pressure and running loss against the distance, then the fan's
/// point on its pressure-flow curve; those that do not apply are left out.
[[nodiscard]] std::vector<Plot> plots(const Outcome& outcome, const Survey& survey);

}  // namespace windgap::report
