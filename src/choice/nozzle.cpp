#include "choice/nozzle.h"

#include <array>
#include <cmath>
#include <vector>

namespace windgap::choice {
namespace {

rig::Rig fitted(const rig::Rig& bare, double exit_diameter, double throttle) {
  rig::Rig rig = bare;
  rig.throttle = throttle;
  return rig::with_nozzle(rig, exit_diameter);
}

/// Where a climb starts: exit diameter and throttle over their largest. A narrower exit loads the
/// motor, so the throttle goes with it.
struct Start {
  double contraction;
  double throttle;
};

/// Uphill in (exit diameter, throttle, stand-off); limits hold for a print that came out narrow.
search::Result climb_from(const rig::Rig& bare,
                          const Start& from,
                          double stand_off,
                          const NozzleRange& range,
                          const placement::Requirement& need,
                          double print_error) {
  constexpr int most_evaluations = 70;
  constexpr double tolerance = 1e-3;
  const search::Bounds bounds{
      .lower = {range.exit_diameter.lower, range.throttle.lower, need.nearest},
      .upper = {range.exit_diameter.upper, range.throttle.upper, need.farthest}};
  const std::vector<double> start{from.contraction * range.exit_diameter.upper,
                                  from.throttle * range.throttle.upper,
                                  stand_off};
  return search::climb([](std::span<const double> point) { return point[2]; },
                       [&](std::span<const double> point, std::span<double> slacks) {
                         const auto row = placement::look(
                             fitted(bare, point[0] - print_error, point[1]), point[2], need);
                         for (std::size_t k = 0; k < slacks.size(); ++k) {
                           const double slack = row.constraints[k].slack;
                           slacks[k] = std::isfinite(slack) ? slack : 1.0;
                         }
                         if (!row.delivery.converged) slacks[0] = -1.0;
                       },
                       placement::constraint_count,
                       bounds,
                       start,
                       {.most_evaluations = most_evaluations, .relative_tolerance = tolerance});
}

}  // namespace

Nozzle best_nozzle(const rig::Rig& bare,
                   const placement::Placement& bare_placement,
                   const NozzleRange& range,
                   const placement::Requirement& need,
                   const placement::Coefficients& limits,
                   const Coefficients& c) {
  constexpr std::array starts{Start{0.97, 1.0}, Start{0.9, 0.95}, Start{0.8, 0.88}};
  Nozzle result;
  if (bare_placement.feasible) result.bare_stand_off = bare_placement.stand_off;
  if (bare.fan.holds_flow) return result;
  result.searched = true;
  const double start =
      bare_placement.feasible ? bare_placement.edge : bare_placement.shortfall->stand_off;
  search::Result best;
  best.status = search::Status::infeasible;
  for (const auto& from : starts) {
    auto found = climb_from(bare, from, start, range, need, c.print_error);
    result.evaluations += found.evaluations;
    if (found.usable() && (!best.usable() || found.value > best.value)) best = std::move(found);
  }
  result.status = best.status;
  if (!best.usable()) return result;
  const auto rig = fitted(bare, best.point[0], best.point[1]);
  auto fixed = need;
  fixed.throttle.reset();
  fixed.nozzle.reset();
  const auto placed = placement::place(rig, fixed, limits, {.extent = placement::Extent::advice});
  if (!placed.feasible) return result;
  result.exit_diameter = best.point[0];
  result.throttle = best.point[1];
  result.stand_off = placed.stand_off;
  result.stall_margin = placed.mount.fan.stall_margin;
  result.gain = result.stand_off - result.bare_stand_off;
  result.helps =
      !bare_placement.feasible || result.gain > c.worthwhile_gain * result.bare_stand_off;
  return result;
}

}  // namespace windgap::choice
