#include "report/weight.h"

#include <algorithm>
#include <cmath>

#include "casefile/fields.h"

namespace windgap::report {
namespace {

/// Delivered over needed airflow.
double supply_ratio(const rig::Parts& parts, const Outcome& outcome) {
  const auto& bench = outcome.bench;
  const auto rig = rig::assemble(parts, bench.models.rig, outcome.answer.choice);
  return rig::deliver(rig, shown_row(outcome).stand_off).airflow / rig.starting_airflow;
}

double spread_of(const casefile::Case& bench, const std::string& key, double value) {
  constexpr double usual_share = 0.1;
  const auto found = std::find_if(bench.tolerances.begin(),
                                  bench.tolerances.end(),
                                  [&](const auto& tolerance) { return tolerance.key == key; });
  if (found == bench.tolerances.end() || !(found->half_width > 0.0)) return usual_share * value;
  return found->half_width;
}

}  // namespace

std::vector<Weighed> weigh_assumptions(const Outcome& outcome) {
  const double nominal = supply_ratio(outcome.bench.parts, outcome);
  std::vector<Weighed> list;
  for (const auto& assumed : outcome.bench.assumed) {
    Weighed weighed{.value = assumed};
    auto parts = outcome.bench.parts;
    double* const field = casefile::find_field(parts, assumed.key);
    if (field != nullptr && std::isfinite(*field) && *field != 0.0) {
      // Inwards, so that no value leaves its range.
      *field -= spread_of(outcome.bench, assumed.key, *field);
      weighed.effect = std::abs(supply_ratio(parts, outcome) / nominal - 1.0);
    }
    list.push_back(weighed);
  }
  std::stable_sort(list.begin(), list.end(), [](const auto& a, const auto& b) {
    return std::isfinite(a.effect) && (!std::isfinite(b.effect) || a.effect > b.effect);
  });
  return list;
}

}  // namespace windgap::report
