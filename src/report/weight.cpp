#include "report/weight.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "casefile/fields.h"

namespace windgap::report {
namespace {

/// Delivered over needed airflow.
double supply_ratio(const rig::Parts& parts, const Outcome& outcome) {
  const auto& bench = outcome.bench;
  const auto rig =
      start::assemble(parts, bench.models.rig, shown_jet(outcome), casefile::deriving(bench));
  return rig::deliver(rig, shown_row(outcome).stand_off).airflow / rig.starting_airflow;
}

/// Change of that ratio, over what it is; unset where the parts make no bench: an exit narrower
/// than its hub, say.
double effect_of(const rig::Parts& parts, const Outcome& outcome, double nominal) {
  try {
    return std::abs(supply_ratio(parts, outcome) / nominal - 1.0);
  } catch (const std::logic_error&) {
    return unset;
  }
}

/// A choice rather than a quantity that might differ.
bool chosen(const std::string& key) {
  constexpr std::array choices{"mount.", "start.", "running.", "drive.throttle"};
  return std::any_of(
      choices.begin(), choices.end(), [&](const auto* choice) { return key.starts_with(choice); });
}

/// How far a value may lie off.
double spread_of(const casefile::Case& bench, const std::string& key, double value) {
  constexpr double usual_share = 0.1;
  constexpr double usual_degrees = 10.0;
  const auto found = std::find_if(bench.tolerances.begin(),
                                  bench.tolerances.end(),
                                  [&](const auto& tolerance) { return tolerance.key == key; });
  if (found != bench.tolerances.end() && found->half_width > 0.0) return found->half_width;
  return key.ends_with("temperature") ? usual_degrees : usual_share * value;
}

}  // namespace

std::vector<Weighed> weigh_assumptions(const Outcome& outcome) {
  const double nominal = supply_ratio(outcome.bench.parts, outcome);
  std::vector<Weighed> list;
  for (const auto& assumed : outcome.bench.assumed) {
    Weighed weighed{.value = assumed};
    auto parts = outcome.bench.parts;
    double* const field = casefile::find_field(parts, assumed.key);
    if (field != nullptr && std::isfinite(*field) && *field != 0.0 && !chosen(assumed.key)) {
      // Downwards: a share or a full charge has no room above.
      *field -= spread_of(outcome.bench, assumed.key, *field);
      weighed.effect = effect_of(parts, outcome, nominal);
    }
    list.push_back(weighed);
  }
  std::stable_sort(list.begin(), list.end(), [](const auto& a, const auto& b) {
    return std::isfinite(a.effect) && (!std::isfinite(b.effect) || a.effect > b.effect);
  });
  return list;
}

}  // namespace windgap::report
