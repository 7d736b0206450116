#include "placement/chance.h"

#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <functional>
#include <limits>
#include <numeric>

#include "placement/quantile.h"

namespace windgap::placement {
namespace {

/// Steps between two nodes when slots are looked for.
constexpr int steps_between = 6;

bool in_slacks(Constraint constraint) {
  return constraint != Constraint::starting_airflow && constraint != Constraint::bracket_travel &&
         constraint != Constraint::lightoff_speed;
}

/// Weighted quantiles without sorting an index: what `reached_by` gives, faster where all weights
/// that count are equal.
class Quantiles {
 public:
  explicit Quantiles(std::span<const double> weights) : weights_(weights) {
    for (const double weight : weights) {
      if (weight <= 0.0) continue;
      if (first_ <= 0.0) first_ = weight;
      equal_ = equal_ && weight == first_;
    }
  }

  [[nodiscard]] double reached_by(std::span<const double> values, double share) {
    if (!equal_) return placement::reached_by(values, weights_, share, ranked_);
    scratch_.clear();
    for (std::size_t i = 0; i < values.size(); ++i) {
      if (weights_[i] > 0.0) scratch_.push_back(values[i]);
    }
    const auto last = static_cast<double>(scratch_.size() - 1);
    const double place = std::clamp(share * static_cast<double>(scratch_.size()) - 0.5, 0.0, last);
    const auto whole = static_cast<std::size_t>(place);
    const auto middle = scratch_.begin() + static_cast<std::ptrdiff_t>(whole);
    std::nth_element(scratch_.begin(), middle, scratch_.end(), std::greater<>());
    const double value = *middle;
    const double along = place - static_cast<double>(whole);
    if (along <= 0.0) return value;
    return value + along * (*std::max_element(middle + 1, scratch_.end()) - value);
  }

 private:
  std::span<const double> weights_;
  double first_ = 0.0;
  bool equal_ = true;
  std::vector<double> scratch_;
  std::vector<Ranked> ranked_;
};

/// Weighted quantiles of the slacks along the travel.
class Slacks {
 public:
  Slacks(const Outlook& outlook, std::span<const double> weights, const Assurance& asked)
      : outlook_(outlook), quantiles_(weights), asked_(asked) {
    for (std::size_t k = 0; k < constraint_count; ++k) {
      if (in_slacks(static_cast<Constraint>(k))) tabulate(k);
    }
  }

  struct Worst {
    double slack = unset;
    Constraint constraint = Constraint::starting_airflow;
  };

  [[nodiscard]] Worst at(double stand_off) {
    outlook_.at(Quantity::supply, stand_off, values_);
    const double scatter = attempt_scatter(outlook_, stand_off, asked_);
    Worst worst{.slack = reliable_slack(
                    quantiles_.reached_by(values_, asked_.confidence), scatter, asked_)};
    const auto other = limits_at(stand_off);
    return other.slack < worst.slack ? other : worst;
  }

  /// The worst of all but airflow.
  [[nodiscard]] Worst limits_at(double stand_off) const {
    Worst worst{.slack = std::numeric_limits<double>::infinity()};
    const auto place = outlook_.between(stand_off);
    for (const auto& limit : limits_) {
      // Straight lines between nodes: no curve that a spline might bend below zero.
      const std::size_t i = place.node[1];
      const std::size_t j = place.node[2];
      const double share = std::clamp(
          (stand_off - outlook_.nodes[i]) / (outlook_.nodes[j] - outlook_.nodes[i]), 0.0, 1.0);
      const double slack = (1.0 - share) * limit.slack[i] + share * limit.slack[j];
      if (slack < worst.slack) worst = {.slack = slack, .constraint = limit.constraint};
    }
    return worst;
  }

 private:
  struct Limit {
    Constraint constraint;
    std::vector<double> slack;  ///< at the nodes
  };

  void tabulate(std::size_t k) {
    Limit limit{.constraint = static_cast<Constraint>(k), .slack = {}};
    for (const auto& row : outlook_.slacks[k]) {
      const auto least = std::min_element(row.begin(), row.end());
      if (!std::isfinite(*least)) return;
      limit.slack.push_back(*least >= 0.0 ? *least : quantiles_.reached_by(row, asked_.confidence));
    }
    limits_.push_back(std::move(limit));
  }

  const Outlook& outlook_;
  Quantiles quantiles_;
  Assurance asked_;
  std::vector<Limit> limits_;
  std::vector<double> values_;
};

struct Scan {
  std::vector<Slot> slots;
  double best = unset;  ///< where the worst slack is largest
  Slacks::Worst at_best;
};

/// Nodes and steps between them, within the bracket's travel: nodes may lie beyond it.
std::vector<double> stations(const Outlook& outlook, const Requirement& need) {
  const auto& nodes = outlook.nodes;
  std::vector<double> list{std::max(nodes.front(), need.nearest)};
  const auto add = [&](double s) {
    if (s > list.back() && s <= need.farthest) list.push_back(s);
  };
  for (std::size_t n = 0; n + 1 < nodes.size(); ++n) {
    const double width = nodes[n + 1] - nodes[n];
    for (int step = 1; step < steps_between; ++step) add(nodes[n] + width * step / steps_between);
    add(nodes[n + 1]);
  }
  add(std::min(nodes.back(), need.farthest));
  return list;
}

Scan scan(Slacks& slacks, const Outlook& outlook, const Requirement& need) {
  const auto places = stations(outlook, need);
  Scan found;
  double last = places.front();
  auto before = slacks.at(last);
  found.best = last;
  found.at_best = before;
  if (before.slack >= 0.0) found.slots.push_back({.near = last, .far = last});
  // NOLINTNEXTLINE(bugprone-easily-swappable-parameters): ends, then their slacks
  const auto cross = [&](double a, double b, double at_a, double at_b) {
    constexpr double tolerance = 1e-6;
    std::uintmax_t evaluations = 40;
    const auto [left, right] = boost::math::tools::toms748_solve(
        [&](double s) { return slacks.at(s).slack; },
        a,
        b,
        at_a,
        at_b,
        [](double x, double y) { return std::abs(x - y) < tolerance; },
        evaluations);
    return at_a < 0.0 ? right : left;
  };
  for (std::size_t n = 1; n < places.size(); ++n) {
    const double s = places[n];
    const auto now = slacks.at(s);
    if (before.slack < 0.0 && now.slack >= 0.0) {
      const double near = cross(last, s, before.slack, now.slack);
      found.slots.push_back({.near = near, .far = s, .near_limit = before.constraint});
    } else if (before.slack >= 0.0 && now.slack < 0.0) {
      found.slots.back().far = cross(last, s, before.slack, now.slack);
      found.slots.back().far_limit = now.constraint;
    } else if (now.slack >= 0.0) {
      found.slots.back().far = s;
    }
    if (now.slack > found.at_best.slack) {
      found.best = s;
      found.at_best = now;
    }
    last = s;
    before = now;
  }
  return found;
}

/// Where most benches are reliable, of the places where the other limits hold: the quantile of the
/// slack may be largest far out, where all benches lack air alike.
void find_least_short(Chance& chance, Slacks slacks) {
  const Prospect* best = nullptr;
  for (const auto& place : chance.curve) {
    if (slacks.limits_at(place.stand_off).slack < 0.0) continue;
    if (place.reliable > (best == nullptr ? 0.0 : best->reliable)) best = &place;
  }
  if (best == nullptr) return;
  const auto there = slacks.at(best->stand_off);
  chance.short_of = there.constraint;
  chance.short_at = best->stand_off;
  chance.short_slack = there.slack;
}

/// Where an infeasible bench breaks no limit but the one in airflow.
void find_open(Chance& chance, const Slacks& slacks, const std::vector<double>& places) {
  Slacks::Worst best{.slack = -std::numeric_limits<double>::infinity()};
  bool open = false;
  for (const double s : places) {
    const auto worst = slacks.limits_at(s);
    if (worst.slack > best.slack) best = worst;
    if (worst.slack >= 0.0) {
      if (!open) chance.open_near = s;
      chance.open_far = s;
    }
    open = worst.slack >= 0.0;
  }
  chance.barred = best.slack < 0.0;
  chance.barred_by = best.constraint;
}

double weighted_mean(std::span<const double> values, std::span<const double> weights) {
  double sum = 0.0;
  double whole = 0.0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    sum += weights[i] * values[i];
    whole += weights[i];
  }
  return sum / whole;
}

/// Standard error of a weighted mean. Equal weights: from the means of the Sobol blocks, whose own
/// balance it does not credit to the whole; else from the effective number of members.
double error_of_mean(std::span<const double> values, std::span<const double> weights, double mean) {
  const bool equal =
      std::all_of(weights.begin(), weights.end(), [&](double w) { return w == weights.front(); });
  const std::size_t blocks = values.size() / spread::block;
  if (equal && blocks > 2) {
    double squares = 0.0;
    for (std::size_t b = 0; b < blocks; ++b) {
      const auto part = values.subspan(b * spread::block, spread::block);
      const double off =
          std::accumulate(part.begin(), part.end(), 0.0) / static_cast<double>(spread::block) -
          mean;
      squares += off * off;
    }
    const auto n = static_cast<double>(blocks);
    return std::sqrt(squares / (n - 1.0) / n);
  }
  double squares = 0.0;
  double whole = 0.0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    squares += std::pow(weights[i] * (values[i] - mean), 2);
    whole += weights[i];
  }
  return std::sqrt(squares) / whole;
}

std::vector<Share> variance_shares(const Outlook& outlook,
                                   std::span<const double> weights,
                                   double stand_off,
                                   const spread::Plan& plan) {
  std::vector<double> supply;
  outlook.at(Quantity::supply, stand_off, supply);
  const double mean = weighted_mean(supply, weights);
  double variance = 0.0;
  std::vector<double> slope(plan.axes.size(), 0.0);
  std::vector<double> spread(plan.axes.size(), 0.0);
  for (std::size_t i = 0; i < supply.size(); ++i) {
    variance += weights[i] * (supply[i] - mean) * (supply[i] - mean);
    const auto z = outlook.normals.row(i);
    for (std::size_t j = 0; j < slope.size(); ++j) {
      slope[j] += weights[i] * z[j] * (supply[i] - mean);
      spread[j] += weights[i] * z[j] * z[j];
    }
  }
  std::vector<Share> shares;
  for (std::size_t j = 0; j < slope.size(); ++j) {
    if (plan.axes[j].varies == spread::Varies::start || !(variance > 0.0)) continue;
    shares.push_back(
        {.axis = plan.axes[j].name, .share = slope[j] * slope[j] / (spread[j] * variance)});
  }
  std::stable_sort(shares.begin(), shares.end(), [](const Share& a, const Share& b) {
    return a.share > b.share;
  });
  return shares;
}

}  // namespace

double attempt_scatter(const Outlook& outlook, double stand_off, const Assurance& asked) {
  return std::hypot(outlook.scatter(Quantity::supply, stand_off), asked.start_scatter);
}

double reliable_slack(double supply, double scatter, const Assurance& asked) {
  return supply - scatter * spread::normal_quantile(asked.reliability);
}

std::vector<std::size_t> descending(std::span<const double> values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return values[a] > values[b] || (values[a] == values[b] && a < b);
  });
  return order;
}

std::vector<double> reaches(const Outlook& outlook,
                            const Requirement& need,
                            const Assurance& asked) {
  std::vector<double> stand_offs;
  for (std::size_t n = 0; n + 1 < outlook.nodes.size(); ++n) {
    for (int step = 0; step < steps_between; ++step) {
      stand_offs.push_back(outlook.nodes[n] +
                           (outlook.nodes[n + 1] - outlook.nodes[n]) * step / steps_between);
    }
  }
  stand_offs.push_back(outlook.nodes.back());
  std::vector<double> reach(outlook.members(), 0.0);
  std::vector<double> last(outlook.members());
  std::vector<double> now;
  for (std::size_t n = stand_offs.size(); n-- > 0;) {
    outlook.at(Quantity::supply, stand_offs[n], now);
    const double scatter = attempt_scatter(outlook, stand_offs[n], asked);
    for (std::size_t i = 0; i < now.size(); ++i) {
      now[i] = reliable_slack(now[i], scatter, asked);
      if (reach[i] > 0.0 || now[i] < 0.0) continue;
      reach[i] = n + 1 == stand_offs.size()
                     ? stand_offs[n]
                     : stand_offs[n] + (stand_offs[n + 1] - stand_offs[n]) * now[i] /
                                           (now[i] - std::min(last[i], 0.0));
    }
    last.swap(now);
  }
  for (double& one : reach) {
    if (one > 0.0) one = one < need.nearest ? 0.0 : std::min(one, need.farthest);
  }
  return reach;
}

double reached(std::span<const double> reaches,
               std::span<const double> weights,
               double confidence,
               std::span<const std::size_t> order) {
  const double whole = std::accumulate(weights.begin(), weights.end(), 0.0);
  const double wanted = confidence * whole;
  double passed = 0.0;
  double last_middle = 0.0;
  double last_value = reaches[order.front()];
  for (const std::size_t i : order) {
    if (weights[i] <= 0.0) continue;
    const double middle = passed + 0.5 * weights[i];
    if (wanted <= middle) {
      if (passed <= 0.0) return reaches[i];
      return last_value +
             (wanted - last_middle) / (middle - last_middle) * (reaches[i] - last_value);
    }
    passed += weights[i];
    last_middle = middle;
    last_value = reaches[i];
  }
  return last_value;
}

Prospect prospect(const Outlook& outlook,
                  std::span<const double> weights,
                  double stand_off,
                  const Assurance& asked) {
  constexpr double low = 0.05;
  const double scatter = attempt_scatter(outlook, stand_off, asked);
  Prospect result{.stand_off = stand_off};
  std::vector<double> values;
  std::vector<double> holds(outlook.members());
  outlook.at(Quantity::supply, stand_off, values);
  for (std::size_t i = 0; i < values.size(); ++i) {
    holds[i] = reliable_slack(values[i], scatter, asked) >= 0.0 ? 1.0 : 0.0;
    values[i] = spread::normal_share(values[i] / scatter);
  }
  result.catches = weighted_mean(values, weights);
  result.sampling_error = error_of_mean(values, weights, result.catches);
  result.reliable = weighted_mean(holds, weights);
  outlook.at(Quantity::airflow, stand_off, values);
  Quantiles quantiles(weights);
  result.airflow_low = std::exp(quantiles.reached_by(values, 1.0 - low));
  result.airflow_median = std::exp(quantiles.reached_by(values, 0.5));
  result.airflow_high = std::exp(quantiles.reached_by(values, low));
  return result;
}

std::vector<Prospect> prospects(const Outlook& outlook,
                                std::span<const double> weights,
                                const Requirement& need,
                                const Assurance& asked,
                                int points) {
  std::vector<Prospect> list;
  for (int i = 0; i < points; ++i) {
    const double share = static_cast<double>(i) / (points - 1);
    list.push_back(
        prospect(outlook, weights, need.nearest + share * (need.farthest - need.nearest), asked));
  }
  return list;
}

Chance place_reliably(Outlook& outlook,
                      std::span<const double> weights,
                      const Survey& survey,
                      const Assurance& asked) {
  constexpr int refinements = 2;
  constexpr int curve_points = 30;
  constexpr double low = 0.05;
  const auto& need = survey.requirement;
  std::vector<double> usable(weights.begin(), weights.end());
  for (std::size_t i = 0; i < usable.size(); ++i) {
    if (!outlook.sound[i]) usable[i] = 0.0;
  }
  Scan found;
  for (int round = 0; round <= refinements; ++round) {
    Slacks slacks(outlook, usable, asked);
    found = scan(slacks, outlook, need);
    if (found.slots.empty() || found.slots.back().far_limit == Constraint::bracket_travel) break;
    if (round < refinements) add_node(outlook, survey, found.slots.back().far);
  }
  Chance chance;
  chance.asked = asked;
  chance.members = outlook.members();
  chance.lost = outlook.lost;
  chance.slots = found.slots;
  chance.feasible = !found.slots.empty();
  if (chance.feasible) {
    chance.slot = found.slots.back();
    chance.edge = chance.slot.far;
    chance.stand_off =
        std::max(0.5 * (chance.slot.near + chance.slot.far), chance.edge - need.slip);
  } else {
    chance.short_of = found.at_best.constraint;
    chance.short_at = found.best;
    chance.short_slack = found.at_best.slack;
    find_open(chance, Slacks(outlook, usable, asked), stations(outlook, need));
  }
  chance.curve = prospects(outlook, usable, need, asked, curve_points);
  if (!chance.feasible) find_least_short(chance, Slacks(outlook, usable, asked));
  const double shown = chance.feasible ? chance.stand_off : chance.short_at;
  chance.mount = prospect(outlook, usable, shown, asked);
  chance.shares = variance_shares(outlook, usable, shown, survey.plan);
  chance.attempt_scatter = attempt_scatter(outlook, shown, asked);
  const auto reach = reaches(outlook, need, asked);
  const auto order = descending(reach);
  chance.reach_low = reached(reach, usable, 1.0 - low, order);
  chance.reach_median = reached(reach, usable, 0.5, order);
  chance.reach_high = reached(reach, usable, low, order);
  std::vector<double> none(reach.size());
  std::transform(
      reach.begin(), reach.end(), none.begin(), [](double one) { return one > 0.0 ? 0.0 : 1.0; });
  chance.nowhere = weighted_mean(none, usable);
  return chance;
}

Placement advised(const Answer& answer, const Chance& chance, const Requirement& need) {
  Placement placed = answer.advice;
  placed.feasible = chance.feasible;
  placed.slots = chance.slots;
  placed.shortfall.reset();
  if (!chance.feasible) {
    placed.mount = look(answer.rig, chance.short_at, need);
    placed.constraints = placed.mount.constraints;
    const auto& state = placed.constraints[static_cast<std::size_t>(chance.short_of)];
    placed.shortfall = Shortfall{.constraint = chance.short_of,
                                 .stand_off = chance.short_at,
                                 .value = state.value,
                                 .limit = state.limit};
    placed.stand_off = unset;
    placed.edge = unset;
    return placed;
  }
  placed.slot = chance.slot;
  placed.stand_off = chance.stand_off;
  placed.edge = chance.edge;
  placed.mount = look(answer.rig, chance.stand_off, need);
  placed.constraints = look(answer.rig, chance.edge, need).constraints;
  placed.constraints[static_cast<std::size_t>(chance.slot.far_limit)].active = true;
  return placed;
}

}  // namespace windgap::placement
