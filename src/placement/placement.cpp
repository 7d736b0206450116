#include "placement/placement.h"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "placement/quantile.h"
#include "units/parallel.h"
#include "units/root.h"

namespace windgap::placement {
namespace {

constexpr double share_of_all = 1.0;

/// All constraints at one stand-off, and the one that is worst (the bracket's travel apart).
struct Assessment {
  ConstraintStates states;
  double worst_slack = unset;
  Constraint worst = Constraint::starting_airflow;
};

/// An ensemble seen through one design: every member with the same throttle and nozzle.
class Bench {
 public:
  Bench(std::vector<rig::Rig> members, std::span<const double> weights, const Requirement& need)
      : members_(std::move(members)), weights_(weights), need_(need) {
    for (auto& values : values_) values.resize(members_.size());
    for (auto& slacks : slacks_) slacks.resize(members_.size());
  }

  [[nodiscard]] const rig::Rig& first() const { return members_.front(); }
  [[nodiscard]] int evaluations() const { return evaluations_; }

  /// All constraints at one stand-off: weighted quantiles over the members, in a fixed order.
  Assessment assess(double stand_off) {
    ++evaluations_;
    const auto one = [&](std::size_t i) {
      const Row row = look(members_[i], stand_off, need_);
      for (std::size_t k = 0; k < constraint_count; ++k) {
        const auto& state = row.constraints[k];
        values_[k][i] = state.value;
        slacks_[k][i] = row.delivery.converged || state.constraint != Constraint::starting_airflow
                            ? state.slack
                            : -1.0;
      }
      if (i == 0) model_ = row.constraints;
    };
    if (members_.size() == 1) {
      one(0);
    } else {
      in_parallel(members_.size(), one);
    }
    return summarize();
  }

 private:
  Assessment summarize() {
    const double share = std::isfinite(need_.reliability) ? need_.reliability : share_of_all;
    Assessment result{.states = model_};
    for (std::size_t k = 0; k < constraint_count; ++k) {
      auto& state = result.states[k];
      if (!std::isfinite(state.slack)) continue;
      state.slack = reached_by(slacks_[k], weights_, share, ranked_);
      const bool more_is_better = state.constraint == Constraint::starting_airflow ||
                                  state.constraint == Constraint::lightoff_speed ||
                                  state.constraint == Constraint::fan_stall ||
                                  state.constraint == Constraint::burst_heating;
      state.value = more_is_better ? reached_by(values_[k], weights_, share, ranked_)
                                   : reached_by(values_[k], weights_, 1.0 - share, ranked_);
      if (state.constraint == Constraint::bracket_travel) continue;
      if (!(state.slack >= result.worst_slack)) {
        result.worst_slack = state.slack;
        result.worst = state.constraint;
      }
    }
    return result;
  }

  std::vector<rig::Rig> members_;
  std::span<const double> weights_;
  Requirement need_;
  std::array<std::vector<double>, constraint_count> values_;
  std::array<std::vector<double>, constraint_count> slacks_;
  std::vector<Ranked> ranked_;
  ConstraintStates model_;
  int evaluations_ = 0;
};

struct Travel {
  double nearest = unset;
  double farthest = unset;
};

/// Of a scan [m].
double step_of(const Travel& travel, int points) {
  return (travel.farthest - travel.nearest) / static_cast<double>(points - 1);
}

/// One stand-off of a scan.
struct Mark {
  double stand_off = unset;
  double slack = unset;
  Constraint worst = Constraint::starting_airflow;
};

/// Equal steps over a travel, marked one by one, and the crossings between neighbours closed by
/// TOMS 748 to a micrometre's thousandth.
class Scan {
 public:
  Scan(Bench& bench, const Travel& travel, int points)
      : bench_(bench), travel_(travel), points_(points) {}

  [[nodiscard]] Mark mark(int i) {
    const double share = static_cast<double>(i) / static_cast<double>(points_ - 1);
    const double stand_off = travel_.nearest + share * (travel_.farthest - travel_.nearest);
    const auto found = bench_.assess(stand_off);
    return {.stand_off = stand_off, .slack = found.worst_slack, .worst = found.worst};
  }

  /// Feasible end of the crossing between two marks, and what fails on the other side.
  [[nodiscard]] Mark crossing(const Mark& near, const Mark& far) {
    constexpr double tolerance = 1e-9;
    std::uintmax_t evaluations = 60;
    const auto [left, right] = boost::math::tools::toms748_solve(
        [&](double stand_off) { return bench_.assess(stand_off).worst_slack; },
        near.stand_off,
        far.stand_off,
        near.slack,
        far.slack,
        [](double x, double y) { return std::abs(x - y) < tolerance; },
        evaluations);
    const bool opens = near.slack < 0.0;
    const double inside = opens ? right : left;
    const double outside = opens ? left : right;
    return {.stand_off = inside, .slack = 0.0, .worst = bench_.assess(outside).worst};
  }

 private:
  Bench& bench_;
  Travel travel_;
  int points_;
};

/// Every stretch of `travel` on which the worst slack is not negative.
std::vector<Slot> find_slots(Bench& bench, const Travel& travel, int points) {
  Scan scan(bench, travel, points);
  std::vector<Slot> slots;
  Mark last = scan.mark(0);
  if (last.slack >= 0.0) slots.push_back({.near = last.stand_off, .far = last.stand_off});
  for (int i = 1; i < points; ++i) {
    const Mark next = scan.mark(i);
    if (last.slack < 0.0 && next.slack >= 0.0) {
      const Mark start = scan.crossing(last, next);
      slots.push_back({.near = start.stand_off, .far = next.stand_off, .near_limit = start.worst});
    } else if (last.slack >= 0.0 && next.slack < 0.0) {
      const Mark end = scan.crossing(last, next);
      slots.back().far = end.stand_off;
      slots.back().far_limit = end.worst;
    } else if (next.slack >= 0.0) {
      slots.back().far = next.stand_off;
    }
    last = next;
  }
  return slots;
}

/// The farthest of those stretches alone, followed inward until more than `width` of it, and a step
/// of the scan, is known.
std::vector<Slot> find_farthest_slot(Bench& bench, const Travel& travel, int points, double width) {
  Scan scan(bench, travel, points);
  const double enough = std::max(width, step_of(travel, points));
  std::vector<Slot> slots;
  Mark last = scan.mark(points - 1);
  if (last.slack >= 0.0) slots.push_back({.near = last.stand_off, .far = last.stand_off});
  for (int i = points - 2; i >= 0; --i) {
    if (!slots.empty() && slots.back().far - slots.back().near > enough) break;
    const Mark next = scan.mark(i);
    if (slots.empty() && next.slack >= 0.0) {
      const Mark end = scan.crossing(next, last);
      slots.push_back({.near = next.stand_off, .far = end.stand_off, .far_limit = end.worst});
    } else if (!slots.empty() && next.slack >= 0.0) {
      slots.back().near = next.stand_off;
    } else if (!slots.empty()) {
      const Mark start = scan.crossing(next, last);
      slots.back().near = start.stand_off;
      slots.back().near_limit = start.worst;
      break;
    }
    last = next;
  }
  return slots;
}

struct Best {
  double stand_off = unset;
  Assessment assessment;
};

/// Where the worst slack is largest: best of a scan, then Brent's minimization about it.
Best least_short(Bench& bench, const Travel& travel, int points) {
  constexpr int bits = 20;
  const double step = step_of(travel, points);
  double best = travel.nearest;
  double best_slack = bench.assess(best).worst_slack;
  for (int i = 1; i < points; ++i) {
    const double stand_off = travel.nearest + step * static_cast<double>(i);
    const double slack = bench.assess(stand_off).worst_slack;
    if (slack > best_slack) {
      best = stand_off;
      best_slack = slack;
    }
  }
  const auto [refined, lack] = boost::math::tools::brent_find_minima(
      [&](double stand_off) { return -bench.assess(stand_off).worst_slack; },
      std::max(travel.nearest, best - step),
      std::min(travel.farthest, best + step),
      bits);
  if (-lack > best_slack) best = refined;
  return {.stand_off = best, .assessment = bench.assess(best)};
}

/// The stretch about a peak that lies between two marks of the scan.
Slot slot_about(Bench& bench, const Travel& travel, const Best& peak, int points) {
  Scan scan(bench, travel, points);
  const double step = step_of(travel, points);
  const auto mark_at = [&](double stand_off) {
    const auto found = bench.assess(stand_off);
    return Mark{.stand_off = stand_off, .slack = found.worst_slack, .worst = found.worst};
  };
  const Mark top = mark_at(peak.stand_off);
  const Mark near = mark_at(std::max(travel.nearest, peak.stand_off - step));
  const Mark far = mark_at(std::min(travel.farthest, peak.stand_off + step));
  Slot slot{.near = near.stand_off, .far = far.stand_off};
  if (near.slack < 0.0) {
    const auto end = scan.crossing(near, top);
    slot.near = end.stand_off;
    slot.near_limit = end.worst;
  }
  if (far.slack < 0.0) {
    const auto end = scan.crossing(top, far);
    slot.far = end.stand_off;
    slot.far_limit = end.worst;
  }
  return slot;
}

/// Fan thrust, over today's, that would meet the airflow at this stand-off; the stream's speed is
/// raised as if the fan held its flow. Unset beyond four times.
double thrust_factor(const rig::Rig& rig, double stand_off, const Requirement& need) {
  constexpr double most = 2.0;
  constexpr unsigned bits = 20;
  if (!std::isfinite(rig.starting_airflow)) return unset;
  const double wanted = (1.0 + need.margin) * rig.starting_airflow;
  const auto short_by = [&](double speed_factor) {
    rig::Rig stronger = rig;
    stronger.fan.holds_flow = true;
    stronger.open.exit_velocity *= speed_factor;
    stronger.open.dynamic_head *= speed_factor * speed_factor;
    return rig::deliver(stronger, stand_off).airflow - wanted;
  };
  const double now = short_by(1.0);
  const double then = short_by(most);
  if (now > 0.0 || then < 0.0) return unset;
  const double enough = find_root(short_by, {1.0, now}, {most, then}, bits).high;
  return enough * enough;
}

/// Reach of the search for help outside the bracket's travel, in exit diameters.
constexpr double nearest_help = 0.15;
constexpr double farthest_help = 30.0;

Shortfall explain(Bench& bench,
                  const Best& best,
                  const Travel& travel,
                  const Requirement& need,
                  int points,
                  Extent extent) {
  const auto& state = best.assessment.states[static_cast<std::size_t>(best.assessment.worst)];
  Shortfall shortfall{.constraint = best.assessment.worst,
                      .stand_off = best.stand_off,
                      .value = state.value,
                      .limit = state.limit};
  if (extent == Extent::advice) return shortfall;
  if (shortfall.constraint == Constraint::starting_airflow ||
      shortfall.constraint == Constraint::lightoff_speed) {
    shortfall.thrust_factor = thrust_factor(bench.first(), best.stand_off, need);
  }
  const double diameter = 2.0 * bench.first().jet.exit.rim_radius;
  if (nearest_help * diameter < travel.nearest) {
    const auto slots =
        find_slots(bench, {.nearest = nearest_help * diameter, .farthest = travel.nearest}, points);
    if (!slots.empty()) shortfall.nearer = slots.back().far;
  }
  if (farthest_help * diameter > travel.farthest) {
    const auto slots = find_slots(
        bench, {.nearest = travel.farthest, .farthest = farthest_help * diameter}, points);
    if (!slots.empty()) shortfall.farther = slots.front().near;
  }
  return shortfall;
}

/// Free design variables of a requirement, in the order throttle, nozzle.
struct Design {
  double throttle = unset;
  double nozzle = unset;
};

class Free {
 public:
  explicit Free(const Requirement& need) : need_(need) {}

  [[nodiscard]] std::size_t count() const {
    return (need_.throttle ? 1U : 0U) + (need_.nozzle ? 1U : 0U);
  }
  [[nodiscard]] search::Bounds bounds() const {
    search::Bounds box;
    for (const auto& range : {need_.throttle, need_.nozzle}) {
      if (!range) continue;
      box.lower.push_back(range->lower);
      box.upper.push_back(range->upper);
    }
    return box;
  }
  [[nodiscard]] Design read(std::span<const double> point) const {
    Design design;
    std::size_t i = 0;
    if (need_.throttle) design.throttle = point[i++];
    if (need_.nozzle) design.nozzle = point[i];
    return design;
  }

 private:
  const Requirement& need_;
};

std::vector<rig::Rig> with_design(std::span<const rig::Rig> members, const Design& design) {
  std::vector<rig::Rig> changed(members.begin(), members.end());
  for (auto& rig : changed) {
    if (std::isfinite(design.throttle)) rig = rig::with_throttle(rig, design.throttle);
    if (std::isfinite(design.nozzle)) rig = rig::with_nozzle(rig, design.nozzle);
  }
  return changed;
}

/// Farthest feasible stand-off of a design; where none is, how far from feasible (negative).
double reach(Bench& bench, const Travel& travel, int points) {
  const auto slots = find_slots(bench, travel, points);
  if (!slots.empty()) return slots.back().far;
  return std::min(0.0, least_short(bench, travel, points).assessment.worst_slack);
}

struct Chosen {
  Design design;
  search::Result search;
};

/// Throttle and nozzle: dividing rectangles over their box with the farthest stand-off of each
/// design, then a climb in stand-off and design together under all constraints.
Chosen choose_design(std::span<const rig::Rig> members,
                     std::span<const double> weights,
                     const Requirement& need,
                     int points) {
  constexpr int box_evaluations = 160;
  constexpr int climb_evaluations = 400;
  constexpr int coarse = 4;
  const Free free(need);
  const Travel travel{.nearest = need.nearest, .farthest = need.farthest};
  const auto box = free.bounds();
  const auto outer = search::search_box(
      [&](std::span<const double> point) {
        Bench bench(with_design(members, free.read(point)), weights, need);
        return reach(bench, travel, std::max(points / coarse, 2));
      },
      box,
      {.most_evaluations = box_evaluations});
  Chosen chosen{.design = free.read(outer.point), .search = outer};
  if (outer.value <= 0.0) return chosen;
  search::Bounds whole = box;
  whole.lower.push_back(need.nearest);
  whole.upper.push_back(need.farthest);
  auto start = outer.point;
  start.push_back(outer.value);
  auto inner = search::climb([](std::span<const double> point) { return point.back(); },
                             [&](std::span<const double> point, std::span<double> slacks) {
                               Bench bench(with_design(members, free.read(point)), weights, need);
                               const auto states = bench.assess(point.back()).states;
                               for (std::size_t k = 0; k < constraint_count; ++k) {
                                 slacks[k] = std::isfinite(states[k].slack) ? states[k].slack : 1.0;
                               }
                             },
                             constraint_count,
                             whole,
                             start,
                             {.most_evaluations = climb_evaluations});
  inner.evaluations += outer.evaluations;
  if (inner.usable() && inner.value > outer.value) {
    chosen.design = free.read(inner.point);
    chosen.search = inner;
  }
  return chosen;
}

/// The slot's far end, climbed to by NLopt from inside the slot, at most a step of the scan away:
/// agrees with the bracketed end, and is the farther of the two where they differ by the tolerance.
search::Result climb_to_edge(Bench& bench, const Slot& slot, double farthest, double step) {
  const double reach = std::min(step, slot.far - slot.near);
  if (reach <= 0.0) {
    search::Result only;
    only.point = {slot.far};
    only.value = slot.far;
    only.status = search::Status::converged;
    return only;
  }
  return search::climb(
      [](std::span<const double> point) { return point[0]; },
      [&](std::span<const double> point, std::span<double> slacks) {
        const auto states = bench.assess(point[0]).states;
        for (std::size_t k = 0; k < constraint_count; ++k) {
          slacks[k] = std::isfinite(states[k].slack) ? states[k].slack : 1.0;
        }
      },
      constraint_count,
      {.lower = {slot.far - reach}, .upper = {std::min(farthest, slot.far + reach)}},
      std::vector{slot.far},
      {.most_evaluations = 60});
}

void mark_active(ConstraintStates& states, const Placement& found, const Requirement& need) {
  constexpr double touching = 1e-6;
  for (auto& state : states) {
    state.active = std::isfinite(state.slack) && state.slack < touching;
  }
  auto& travel = states[static_cast<std::size_t>(Constraint::bracket_travel)];
  travel.active = found.feasible && found.edge >= need.farthest * (1.0 - touching);
}

/// Where the air still grows with distance, and where the gap still loads the fan (first member).
void find_zones(Placement& found,
                const rig::Rig& rig,
                const Travel& travel,
                const Coefficients& c,
                int points) {
  constexpr double rise = 1e-7;
  found.wake_zone_end = 0.0;
  found.back_pressure_zone_end = 0.0;
  const double step = step_of(travel, points);
  double before = 0.0;
  for (int i = 0; i < points; ++i) {
    const double stand_off = travel.nearest + step * static_cast<double>(i);
    const auto delivery = rig::deliver(rig, stand_off);
    // The peak behind a rise may lie in the next step.
    if (i > 0 && delivery.airflow > before * (1.0 + rise)) {
      found.wake_zone_end = std::min(travel.farthest, stand_off + step);
    }
    if (delivery.back_pressure > c.back_pressure_felt * rig.open.dynamic_head) {
      found.back_pressure_zone_end = stand_off;
    }
    before = delivery.airflow;
  }
}

void settle_mount(Placement& found, Bench& bench, const Requirement& need, double step) {
  found.slot = found.slots.back();
  const auto climbed = climb_to_edge(bench, found.slot, need.farthest, step);
  if (climbed.usable() && climbed.value > found.slot.far) {
    found.slot.far = climbed.value;
    found.slots.back().far = climbed.value;
  }
  found.status = climbed.status;
  found.message = climbed.message;
  found.edge = found.slot.far;
  const double middle = 0.5 * (found.slot.near + found.slot.far);
  found.stand_off = std::max(middle, found.edge - need.slip);
  found.constraints = bench.assess(found.edge).states;
}

/// Points of the scan: as many as asked, and steps no longer than a tenth of the exit, in which
/// neither the hub's wake nor the gap's back-pressure can open and close again.
int enough_points(const Travel& travel, const rig::Rig& rig, int asked) {
  constexpr double longest_step = 0.1;
  constexpr double most = 4000.0;
  const double steps =
      (travel.farthest - travel.nearest) / (longest_step * 2.0 * rig.jet.exit.rim_radius);
  return std::max(asked, 1 + static_cast<int>(std::ceil(std::min(steps, most))));
}

void require_sound(std::span<const rig::Rig> members,
                   std::span<const double> weights,
                   const Requirement& need) {
  const double whole = std::accumulate(weights.begin(), weights.end(), 0.0);
  if (members.empty() || members.size() != weights.size() || !(whole > 0.0)) {
    throw std::logic_error("placement needs members and one weight for each, not all zero");
  }
  if (!(need.nearest > 0.0) || !(need.farthest > need.nearest) || !(need.slip >= 0.0)) {
    throw std::logic_error(
        "placement needs 0 < nearest < farthest and a slip that is not negative");
  }
}

/// The more cautious of two answers: no mount, or the nearer one.
bool nearer(const Placement& a, const Placement& b) {
  if (a.feasible != b.feasible) return !a.feasible;
  return a.stand_off < b.stand_off;
}

/// Whether another jet on the same bench cannot be the nearer of the two: nothing is nearer than no
/// mount, and one that holds at the edge reaches at least as far. False where this is not known.
bool at_least_as_far(const rig::Rig& other, const Placement& placed, const Requirement& need) {
  if (need.throttle || need.nozzle) return false;
  if (!placed.feasible) return true;
  if (placed.stand_off > placed.edge - need.slip) return false;
  return look(other, placed.edge, need).feasible;
}

}  // namespace

Placement place(std::span<const rig::Rig> members,
                std::span<const double> weights,
                const Requirement& need,
                const Coefficients& c,
                const Options& options) {
  require_sound(members, weights, need);
  const auto limit = limited(options.threads);
  const Travel travel{.nearest = need.nearest, .farthest = need.farthest};
  const int points = enough_points(travel, members.front(), options.scan_points);
  Design design;
  Placement found;
  if (Free(need).count() > 0) {
    const auto chosen = choose_design(members, weights, need, points);
    design = chosen.design;
    found.evaluations = chosen.search.evaluations;
  }
  Bench bench(with_design(members, design), weights, need);
  const rig::Rig& first = bench.first();
  found.throttle = first.throttle;
  found.nozzle = design.nozzle;
  found.starting_airflow = first.starting_airflow;
  found.lightoff_speed = first.lightoff_speed;
  const bool whole = options.extent == Extent::everything;
  found.slots = whole ? find_slots(bench, travel, points)
                      : find_farthest_slot(bench, travel, points, 2.0 * need.slip);
  std::optional<Best> best;
  if (found.slots.empty()) {
    best = least_short(bench, travel, points);
    if (best->assessment.worst_slack >= 0.0) {
      found.slots.push_back(slot_about(bench, travel, *best, points));
    }
  }
  found.feasible = !found.slots.empty();
  if (found.feasible) {
    settle_mount(found, bench, need, step_of(travel, points));
  } else {
    found.shortfall = explain(bench, *best, travel, need, points, options.extent);
    found.status = search::Status::infeasible;
    found.constraints = bench.assess(found.shortfall->stand_off).states;
  }
  mark_active(found.constraints, found, need);
  found.mount = look(first, found.feasible ? found.stand_off : found.shortfall->stand_off, need);
  if (whole) find_zones(found, first, travel, c, points);
  found.evaluations += bench.evaluations();
  return found;
}

Placement place(const rig::Rig& rig,
                const Requirement& need,
                const Coefficients& c,
                const Options& options) {
  constexpr double weight = 1.0;
  return place(std::span(&rig, 1), std::span(&weight, 1), need, c, options);
}

rig::Rig as_placed(rig::Rig rig, const Placement& placed) {
  if (std::isfinite(placed.throttle) && placed.throttle != rig.throttle) {
    rig = rig::with_throttle(rig, placed.throttle);
  }
  return std::isfinite(placed.nozzle) ? rig::with_nozzle(rig, placed.nozzle) : rig;
}

Answer answer(const rig::Parts& parts,
              const rig::Coefficients& models,
              const Requirement& need,
              const Coefficients& c,
              const Options& options,
              const start::Deriving* deriving) {
  using rig::JetChoice;
  Answer result;
  result.rig = start::assemble(parts, models, JetChoice::estimated, deriving);
  result.jet_known = result.rig.jet_source != rig::JetSource::estimated ||
                     std::holds_alternative<fan::Stream>(parts.source);
  if (result.jet_known) {
    result.advice = place(result.rig, need, c, options);
  } else {
    const bool whole = options.extent == Extent::everything;
    const auto nozzle_like = start::assemble(parts, models, JetChoice::nozzle_like, deriving);
    const auto propeller_like = start::assemble(parts, models, JetChoice::propeller_like, deriving);
    if (whole) result.estimated = place(result.rig, need, c, options);
    result.propeller_like = place(propeller_like, need, c, options);
    if (whole || !at_least_as_far(nozzle_like, *result.propeller_like, need)) {
      result.nozzle_like = place(nozzle_like, need, c, options);
    }
    const bool reversed = result.nozzle_like && nearer(*result.nozzle_like, *result.propeller_like);
    result.choice = reversed ? JetChoice::nozzle_like : JetChoice::propeller_like;
    result.advice = reversed ? *result.nozzle_like : *result.propeller_like;
    result.rig = reversed ? nozzle_like : propeller_like;
  }
  result.rig = as_placed(result.rig, result.advice);
  return result;
}

}  // namespace windgap::placement
