#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "report/outcome.h"
#include "report/shown.h"

/// The answer in sentences, the same on a screen as on paper.
namespace windgap::report {

/// "Drill at 187 mm", "No distance works", "187 mm works".
[[nodiscard]] std::string headline(const Outcome& outcome);

/// That a start run does not catch where the airflow stated for it is there.
[[nodiscard]] std::string stated_but_not_caught(const Outcome& outcome, const Confirmation& run);

/// What the headline's distance is, the hole it means on this bench, the slot around it.
[[nodiscard]] std::vector<std::string> where_to_drill(const Outcome& outcome);

/// What holds the mount where it is, or what is short and what would mend it.
[[nodiscard]] std::vector<std::string> what_limits(const Outcome& outcome);

/// What is known of the jet and of the need, and how far apart the answers lie.
[[nodiscard]] std::vector<std::string> how_sure(const Outcome& outcome);

/// What the parked fan costs the running engine.
[[nodiscard]] std::string running_cost(const Outcome& outcome);

/// One result at the shown distance.
struct Finding {
  std::string label;
  std::string value;
  std::string remark;
};
[[nodiscard]] std::vector<Finding> findings(const Outcome& outcome);

/// A constraint in words and in the units of the case; those that do not apply are left out.
struct ConstraintLine {
  std::string label;
  std::string value;
  std::string limit;  ///< "at least 26.4 g/s"
  std::string slack;  ///< "4.2 %"
  bool active = false;
  bool holds = true;
};
[[nodiscard]] std::vector<ConstraintLine> constraint_lines(const Outcome& outcome);

/// "starting airflow"
[[nodiscard]] std::string_view label(placement::Constraint constraint);

/// Everything to be wary of in this answer: the case's warnings and those of the models.
[[nodiscard]] std::vector<std::string> warnings(const Outcome& outcome);

/// Where the starting airflow comes from: `case`, `rotor_speed`, `derived`.
[[nodiscard]] std::string_view starting_airflow_from(const casefile::Case& bench);

/// Airflow that the mount must bring, margin included [kg/s].
[[nodiscard]] double required_airflow(const Outcome& outcome);

/// Where the hole goes for a stand-off; unset where the case does not say [m].
struct Hole {
  double to_mouth = unset;
  double to_datum = unset;
};
[[nodiscard]] Hole hole(const casefile::Case& bench, double stand_off);

}  // namespace windgap::report
