#include "report/examples.h"

#include <map>

#include "report/outcomes.h"

namespace windgap::test {

const report::Outcome& solved(const std::string& name) {
  static std::map<std::string, report::Outcome> known;
  const auto found = known.find(name);
  return found != known.end() ? found->second : known.emplace(name, outcome_of(name)).first->second;
}

const report::Survey& surveyed(const std::string& name) {
  constexpr double steps = 100.0;
  static std::map<std::string, report::Survey> known;
  const auto found = known.find(name);
  if (found != known.end()) return found->second;
  const auto& outcome = solved(name);
  const auto& need = outcome.bench.requirement;
  const auto list = report::distances(need, (need.farthest - need.nearest) / steps);
  return known.emplace(name, report::survey(outcome.bench, outcome.answer, list)).first->second;
}

const report::Outcome& without_readings() {
  static const auto outcome = [] {
    auto changed = outcome_of("demo");
    const auto& bench = changed.bench;
    changed.bench.parts.axis_readings.clear();
    changed.answer = placement::answer(
        bench.parts, bench.models.rig, bench.requirement, bench.models.placement, {});
    return changed;
  }();
  return outcome;
}

}  // namespace windgap::test
