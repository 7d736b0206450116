#include "app/cool_spread.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "casefile/variations.h"

namespace windgap::app {
namespace {

constexpr cooling::Accuracy rough{.relative = 1e-4};

/// Seconds until the goal under the planned settings.
class Purges {
 public:
  Purges(const report::Cooldown& cooldown, const report::Outcome& outcome)
      : cooldown_(cooldown), outcome_(outcome), steps_(cooldown.plan.purge.steps) {
    steps_.back().end = unset;
  }

  [[nodiscard]] double with(const cooling::Coefficients& c, const cooling::Materials& m) const {
    const auto& bench = outcome_.bench;
    auto hot = bench.cool.stated;
    (void)cooling::fill_fallbacks(hot, bench.parts, bench.models.rig, c, m);
    return of(cooling::make_scene(hot, bench.parts, cooldown_.rig, bench.models.rig, c, m), steps_);
  }

  [[nodiscard]] double as_planned() const { return of(cooldown_.scene, steps_); }

  [[nodiscard]] double with_less_air(double share) const {
    auto steps = steps_;
    for (auto& step : steps) step.throttle *= 1.0 - share;
    return of(cooldown_.scene, steps);
  }

 private:
  [[nodiscard]] double of(const cooling::Scene& scene,
                          const std::vector<cooling::PlannedStep>& steps) const {
    return cooling::try_purge(scene, cooldown_.rig, cooldown_.need, steps, rough).seconds;
  }

  const report::Cooldown& cooldown_;
  const report::Outcome& outcome_;
  std::vector<cooling::PlannedStep> steps_;
};

/// Sums within a group, squares across groups.
class Total {
 public:
  void add(const std::string& group, double change) {
    if (group.empty() || group == "none") {
      squares_ += change * change;
    } else {
      groups_[group] += change;
    }
  }
  [[nodiscard]] double deviation() const {
    double squares = squares_;
    for (const auto& [group, change] : groups_) squares += change * change;
    return std::sqrt(squares);
  }

 private:
  std::map<std::string, double> groups_;
  double squares_ = 0.0;
};

template <class Coefficients>
void move_one(Coefficients& coefficients, const casefile::CoefficientInfo& info) {
  visit(coefficients, [&](std::string_view key, auto& field) {
    if (key == info.key) casefile::move_up(field, info.spread);
  });
}

}  // namespace

void add_spread(report::Cooldown& cooldown, const report::Outcome& outcome) {
  if (!cooldown.plan.feasible || !(cooldown.plan.purge.seconds > 0.0)) return;
  const auto& models = outcome.bench.models;
  const Purges purges(cooldown, outcome);
  const double planned = purges.as_planned();
  Total total;
  const auto note = [&](const std::string& name, const std::string& group, double seconds) {
    const double change = seconds - planned;
    if (!std::isfinite(change)) return;
    total.add(group, change);
    cooldown.influences.push_back({.name = name, .seconds = change});
  };
  for (const auto& info : models.infos) {
    const bool of_materials = info.module == "materials";
    if (info.spread.distribution == casefile::Distribution::none) continue;
    if (info.module != "cooling" && !of_materials) continue;
    auto c = models.cooling;
    auto m = models.materials;
    if (of_materials) {
      move_one(m, info);
    } else {
      move_one(c, info);
    }
    note(info.module + "." + info.key, info.spread.group, purges.with(c, m));
  }
  if (outcome.spread && !cooldown.rig.fan.holds_flow) {
    const double less = outcome.spread->supply_deviation;
    note("delivered airflow", "", purges.with_less_air(less));
  }
  std::stable_sort(
      cooldown.influences.begin(), cooldown.influences.end(), [](const auto& a, const auto& b) {
        return std::abs(a.seconds) > std::abs(b.seconds);
      });
  cooldown.deviation = total.deviation() / planned;
}

}  // namespace windgap::app
