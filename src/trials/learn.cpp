#include "trials/learn.h"

#include <algorithm>
#include <cmath>

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

namespace {

constexpr double spare = 1.3;
constexpr double most_draws = 4.0;  // over those drawn first

/// An ensemble drawn anew, weighed.
struct Anew {
  Redrawn drawn;
  std::vector<Evidence> evidence;
  std::vector<double> weights;
  double effective = unset;
};

Anew draw_anew(std::span<const Attempt> attempts,
               std::span<const double> nodes,
               const Setting& setting,
               const placement::Outlook& outlook) {
  Anew anew{.drawn = redraw(attempts, nodes, setting, outlook), .evidence = {}, .weights = {}};
  anew.evidence = evidence_of(attempts, anew.drawn.outlook, setting);
  anew.weights = weigh(anew.drawn.outlook, anew.drawn.base, anew.evidence, setting.c);
  anew.effective = effective_size(anew.weights);
  return anew;
}

}  // namespace

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
    auto again = draw_anew(attempts, nodes, setting, outlook);
    if (again.effective < enough) {
      // So many more of them that enough should count, within reason.
      auto more = setting.survey;
      const double wanted = spare * enough / again.effective;
      more.members *= static_cast<std::size_t>(std::ceil(std::min(wanted, most_draws)));
      auto larger = draw_anew(
          attempts, nodes, {.survey = more, .asked = setting.asked, .c = setting.c}, outlook);
      if (larger.effective > again.effective) again = std::move(larger);
    }
    lesson.effective_redrawn = again.effective;
    if (lesson.effective_redrawn > lesson.effective) {
      outlook = std::move(again.drawn.outlook);
      base = std::move(again.drawn.base);
      lesson.evidence = std::move(again.evidence);
      weights = std::move(again.weights);
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
