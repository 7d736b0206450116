#include "trials/learn.h"

#include <algorithm>

#include "trials/redraw.h"
#include "trials/together.h"

namespace windgap::trials {

std::vector<double> nodes_for(const placement::Requirement& requirement,
                              std::span<const Attempt> attempts) {
  constexpr double beyond = 1e-3;
  auto nodes = placement::usual_nodes(requirement);
  const double nearest = nodes.front() - beyond;
  const double farthest = nodes.back() + beyond;
  for (const auto& attempt : attempts) {
    if (attempt.stand_off < nearest || attempt.stand_off > farthest) {
      nodes.push_back(attempt.stand_off);
    }
  }
  std::sort(nodes.begin(), nodes.end());
  nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
  return nodes;
}

Within within(const placement::Chance& chance, const placement::Requirement& requirement) {
  Within range{.nearest = requirement.nearest, .farthest = requirement.farthest};
  if (!chance.feasible) return {.nearest = chance.open_near, .farthest = chance.open_far};
  using placement::Constraint;
  const auto airflow = [](Constraint limit) {
    return limit == Constraint::starting_airflow || limit == Constraint::bracket_travel;
  };
  if (!airflow(chance.slot.near_limit)) range.nearest = chance.slot.near;
  if (!airflow(chance.slot.far_limit)) range.farthest = chance.slot.far;
  return range;
}

Lesson learn(std::span<const Attempt> attempts, const Setting& setting) {
  Lesson lesson;
  const auto nodes = nodes_for(setting.survey.requirement, attempts);
  auto outlook = look_out(setting.survey, nodes);
  std::vector<double> base(outlook.members(), 1.0);
  lesson.before = place_reliably(outlook, base, setting.survey, setting.asked);
  lesson.evidence = evidence_of(attempts, outlook, setting);
  for (const auto& one : lesson.evidence) {
    lesson.by_itself.push_back(agreements(outlook, base, std::span(&one, 1), setting.c).front());
  }
  auto weights = weigh(outlook, base, lesson.evidence, setting.c);
  lesson.effective = effective_size(weights);
  const double enough = setting.c.least_effective * static_cast<double>(outlook.members());
  if (lesson.effective < enough) {
    auto again = redraw(attempts, nodes, setting, outlook);
    auto evidence = evidence_of(attempts, again.outlook, setting);
    auto reweighed = weigh(again.outlook, again.base, evidence, setting.c);
    lesson.effective_redrawn = effective_size(reweighed);
    if (lesson.effective_redrawn > lesson.effective) {
      outlook = std::move(again.outlook);
      base = std::move(again.base);
      lesson.evidence = std::move(evidence);
      weights = std::move(reweighed);
    }
    lesson.exhausted = std::max(lesson.effective, lesson.effective_redrawn) < enough;
  }
  lesson.agreements = agreements(outlook, base, lesson.evidence, setting.c);
  lesson.together = together(outlook, weights, lesson.evidence, setting.c, setting.survey.seed);
  lesson.after = place_reliably(outlook, weights, setting.survey, setting.asked);
  if (lesson.after.barred) {
    lesson.decision = {
        .stand_off = lesson.after.short_at, .stop = true, .next = {}, .best_gain = 0.0};
    return lesson;
  }
  lesson.decision =
      decide(outlook, weights, attempts, within(lesson.after, setting.survey.requirement), setting);
  return lesson;
}

}  // namespace windgap::trials
