#include "cooling/plan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>
#include <stdexcept>

namespace windgap::cooling {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();
constexpr Accuracy rough{.relative = 1e-4};  // for trials; the plan itself is followed finely

constexpr std::size_t at(Bound bound) { return static_cast<std::size_t>(bound); }

/// Value against a limit, as a relative slack.
BoundState state(Bound bound, double value, double limit) {
  if (std::isnan(limit)) return {.bound = bound, .value = value};
  if (!(limit > 0.0)) {
    return {.bound = bound, .value = value, .limit = limit, .slack = value > 0.0 ? -1.0 : 1.0};
  }
  return {.bound = bound, .value = value, .limit = limit, .slack = 1.0 - value / limit};
}

/// Temperature against a limit: the slack is over the room that is left above the ambient air.
BoundState warmth(Bound bound, double value, double limit, double ambient) {
  return {.bound = bound,
          .value = value,
          .limit = limit,
          .slack = (limit - value) / std::max(limit - ambient, 1.0)};
}

double pack_mass(const PlanNeed& need, const drive::Prepared& drive, const Coefficients& c) {
  if (std::isfinite(need.pack_mass)) return need.pack_mass;
  return drive.capacity * drive.open_circuit_voltage / c.pack_specific_energy;
}

/// What the purge asks of the drive until it ends: every step, one after another.
void judge_drive(Trial& trial,
                 const Scene& scene,
                 const rig::Rig& rig,
                 const PlanNeed& need,
                 const std::vector<PurgeStep>& steps) {
  if (rig.fan.holds_flow) return;
  const auto& c = scene.network.coefficients;
  const auto& drive = rig.fan.drive;
  const double ambient = rig.ambient.temperature;
  double use = 0.0;
  double winding = ambient;
  double pack_heat = 0.0;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const double seconds = trial.steps[i].end - trial.steps[i].start;
    const auto& flow = steps[i].flow;
    use = std::max(use, flow.hardest_use);
    winding =
        std::max(winding, ambient + drive::burst_temperature_rise(drive, flow.drive, seconds));
    pack_heat += flow.drive.pack_loss * seconds;
  }
  const double pack = ambient + pack_heat / (pack_mass(need, drive, c) * c.pack_specific_heat);
  trial.bounds[at(Bound::charge)] = state(Bound::charge, trial.charge, need.charge);
  trial.bounds[at(Bound::current)] = state(Bound::current, use, 1.0);
  trial.bounds[at(Bound::winding)] =
      warmth(Bound::winding, winding, drive.winding_temperature_limit, ambient);
  trial.bounds[at(Bound::pack)] = warmth(Bound::pack, pack, c.pack_temperature_limit, ambient);
}

/// What it asks of the engine.
void judge_engine(
    Trial& trial, const Scene& scene, const PlanNeed& need, const Course& course, double end) {
  double rotor = 0.0;
  double rate = 0.0;
  for (const auto& knot : course.knots) {
    if (knot.time > end) break;
    rotor = std::max(rotor, knot.rotor_speed);
    rate = std::max(rate, -knot.rate[index(Part::turbine_housing)]);
  }
  const double dry = scene.pump == PumpUse::off ? scene.network.coefficients.dry_speed : unset;
  trial.bounds[at(Bound::rotor_speed)] = state(Bound::rotor_speed, rotor, dry);
  trial.bounds[at(Bound::cooling_rate)] = state(Bound::cooling_rate, rate, need.cooling_rate);
}

void conclude(Trial& trial) {
  constexpr double close = 0.02;
  constexpr double negligible = 1e-3;  // of a limit: far finer than any of them is known
  trial.feasible = true;
  for (std::size_t i = 0; i < bound_count; ++i) {
    auto& b = trial.bounds[i];
    b.bound = static_cast<Bound>(i);
    b.active = b.slack < close;
    if (b.slack < -negligible) trial.feasible = false;
  }
}

/// How far from done after the whole course, over a hundred degrees.
double missing(const Course& course, const Watch& watch) {
  constexpr double scale = 100.0;  // [K]
  const auto& last = course.knots.back();
  return std::max(0.0, excess(watch, last.at, last.bearing)) / scale;
}

/// Trials at points a search asks for, the last kept.
class Trials {
 public:
  Trials(const Scene& scene, const rig::Rig& rig, const PlanNeed& need)
      : scene_(scene), rig_(rig), need_(need) {}

  const Trial& constant(double throttle) { return run({{.throttle = throttle}}); }

  const Trial& two_steps(std::span<const double> point) {
    return run({{.throttle = point[0], .start = 0.0, .end = point[2]}, {.throttle = point[1]}});
  }

  [[nodiscard]] int count() const { return count_; }

  /// Quick and within bounds is best; larger is better.
  [[nodiscard]] double score(const Trial& trial) const {
    double score = -time(trial);
    for (const auto& b : trial.bounds) score += std::min(0.0, b.slack);
    return score;
  }

  /// Of a trial, over the longest that anything is followed.
  [[nodiscard]] double time(const Trial& trial) const {
    return std::isfinite(trial.seconds) ? trial.seconds / scene_.longest : 1.0;
  }

  static void slacks(const Trial& trial, std::span<double> out) {
    for (std::size_t i = 0; i < bound_count; ++i) out[i] = trial.bounds[i].slack;
  }

 private:
  const Trial& run(const std::vector<PlannedStep>& steps) {
    const auto same = [](const PlannedStep& a, const PlannedStep& b) {
      return a.throttle == b.throttle && (a.end == b.end || std::isnan(b.end));
    };
    if (std::equal(asked_.begin(), asked_.end(), steps.begin(), steps.end(), same)) return last_;
    ++count_;
    asked_ = steps;
    last_ = try_purge(scene_, rig_, need_, steps, rough);
    return last_;
  }

  const Scene& scene_;
  const rig::Rig& rig_;
  const PlanNeed& need_;
  std::vector<PlannedStep> asked_;
  Trial last_;
  int count_ = 0;
};

struct Found {
  Trial trial;
  search::Status status = search::Status::failed;
};

/// Best constant throttle: the whole range first, then uphill under the bounds themselves.
Found best_constant(Trials& trials, const PlanNeed& need) {
  constexpr int box_trials = 22;
  constexpr int climb_trials = 18;
  constexpr double tolerance = 2e-3;
  const search::Bounds range{.lower = {need.least_throttle}, .upper = {need.most_throttle}};
  const auto coarse = search::search_box(
      [&](std::span<const double> x) { return trials.score(trials.constant(x[0])); },
      range,
      {.most_evaluations = box_trials, .relative_tolerance = tolerance});
  const auto fine =
      search::climb([&](std::span<const double> x) { return -trials.time(trials.constant(x[0])); },
                    [&](std::span<const double> x, std::span<double> out) {
                      Trials::slacks(trials.constant(x[0]), out);
                    },
                    bound_count,
                    range,
                    coarse.point,
                    {.most_evaluations = climb_trials, .relative_tolerance = tolerance});
  const auto& best = fine.usable() ? fine : coarse;
  return {.trial = trials.constant(best.point[0]), .status = fine.status};
}

/// The best of a coarse grid of two steps, or nothing where none is allowed.
std::vector<double> best_of_grid(Trials& trials, const PlanNeed& need, double seconds) {
  constexpr int throttles = 6;
  std::vector<double> best;
  double least = never;
  const auto throttle = [&](int i) {
    return need.least_throttle + (need.most_throttle - need.least_throttle) * i / (throttles - 1);
  };
  for (int first = 0; first < throttles; ++first) {
    for (int second = 0; second < throttles; ++second) {
      if (first == second) continue;
      for (const double share : {0.25, 0.5, 0.75}) {
        const std::vector<double> point{throttle(first), throttle(second), share * seconds};
        const Trial& trial = trials.two_steps(point);
        if (!trial.feasible || !(trial.seconds < least)) continue;
        least = trial.seconds;
        best = point;
      }
    }
  }
  return best;
}

/// Whether two steps do better than the constant purge. The bounds cut the throttles' plane into
/// pieces, so a grid says where to climb from; the constant purge is a start too.
Found best_two_steps(Trials& trials, const PlanNeed& need, const Found& constant) {
  constexpr int climb_trials = 45;
  constexpr double tolerance = 2e-3;
  constexpr double worth_it = 0.98;  // of the constant purge's time: a second setting must pay
  const double throttle = constant.trial.steps.front().throttle;
  const double seconds = constant.trial.seconds;
  if (!std::isfinite(seconds) || !(seconds > 0.0)) return constant;
  Found best = constant;
  double to_beat = constant.trial.feasible ? worth_it * seconds : never;
  const auto try_point = [&](std::span<const double> point, search::Status status) {
    const Trial trial = trials.two_steps(point);
    if (!trial.feasible || !(trial.seconds < to_beat)) return;
    best = {.trial = trial, .status = status};
    to_beat = trial.seconds;
  };
  std::vector<std::vector<double>> starts{{throttle, throttle, 0.5 * seconds}};
  if (auto point = best_of_grid(trials, need, seconds); !point.empty()) {
    try_point(point, search::Status::converged);
    starts.push_back(std::move(point));
  }
  for (const auto& start : starts) {
    const auto end =
        search::climb([&](std::span<const double> x) { return -trials.time(trials.two_steps(x)); },
                      [&](std::span<const double> x, std::span<double> out) {
                        Trials::slacks(trials.two_steps(x), out);
                      },
                      bound_count,
                      {.lower = {need.least_throttle, need.least_throttle, 0.0},
                       .upper = {need.most_throttle, need.most_throttle, seconds}},
                      start,
                      {.most_evaluations = climb_trials, .relative_tolerance = tolerance});
    if (end.usable()) try_point(end.point, end.status);
  }
  return best;
}

std::vector<PurgeStep> steps_of(const Scene& scene,
                                const rig::Rig& rig,
                                double stand_off,
                                const std::vector<PlannedStep>& steps) {
  std::vector<PurgeStep> out;
  for (const auto& step : steps) {
    const bool open = std::isnan(step.end);
    out.push_back(
        {.flow = purge_of(
             scene.network, scene.start, rig::with_throttle(rig, step.throttle), stand_off),
         .seconds = open ? scene.longest : step.end - step.start});
  }
  return out;
}

/// The purge as planned, then standing; both finely.
void follow_plan(Plan& plan, const Scene& scene, const rig::Rig& rig, const PlanNeed& need) {
  auto asked = plan.purge.steps;
  asked.back().end = unset;
  plan.purge = try_purge(scene, rig, need, asked);
  const auto& planned = plan.purge.steps;
  if (!std::isfinite(plan.purge.seconds)) {
    plan.course = standing_course(scene, scene.start, 0.0);
  } else {
    const auto steps = steps_of(scene, rig, need.stand_off, planned);
    plan.course = purge_course(scene, steps);
    append(plan.course, standing_course(scene, plan.course.knots.back().at, plan.course.end()));
    for (const auto& step : steps) {
      if (!std::isnan(step.flow.self_driving)) plan.self_driving = step.flow.self_driving;
    }
  }
  plan.verdict = verdict(scene, plan.course);
  plan.standing = standing_course(scene, scene.start, 0.0);
  plan.standing_verdict = verdict(scene, plan.standing);
}

std::vector<Trial> trade_off(Trials& trials, const PlanNeed& need) {
  constexpr int points = 9;
  std::vector<Trial> curve;
  for (int i = 0; i < points; ++i) {
    const double share = static_cast<double>(i) / (points - 1.0);
    curve.push_back(
        trials.constant(need.least_throttle + share * (need.most_throttle - need.least_throttle)));
  }
  return curve;
}

/// Broken bounds other than one.
bool breaks_only(const Trial& trial, Bound only) {
  return std::all_of(trial.bounds.begin(), trial.bounds.end(), [&](const BoundState& b) {
    return b.bound == only || b.slack >= 0.0;
  });
}

/// Of purges that ask for nothing but more charge, the one that asks for least.
const Trial* cheapest_beyond_pack(const std::vector<Trial>& trials) {
  const Trial* cheapest = nullptr;
  for (const auto& trial : trials) {
    if (!breaks_only(trial, Bound::charge)) continue;
    if (cheapest == nullptr || trial.charge < cheapest->charge) cheapest = &trial;
  }
  return cheapest;
}

Remedy remedy_for(const Plan& plan, const Scene& scene, const rig::Rig& rig, const PlanNeed& need) {
  Remedy remedy{.cooling_rate = never};
  for (const auto& trial : plan.trade_off) {
    remedy.cooling_rate =
        std::min(remedy.cooling_rate, trial.bounds[at(Bound::cooling_rate)].value);
    if (breaks_only(trial, Bound::charge) && !(trial.charge >= remedy.charge)) {
      remedy.charge = trial.charge;
    }
  }
  constexpr double sure = 1.01;  // the trials are rough
  remedy.charge *= sure;
  remedy.cooling_rate *= sure;
  if (scene.pump != PumpUse::off) return remedy;
  Scene oiled = scene;
  oiled.pump = PumpUse::while_purging;
  Trials trials(oiled, rig, need);
  remedy.pump = best_constant(trials, need).trial.feasible;
  return remedy;
}

}  // namespace

std::string_view name(Bound bound) {
  constexpr std::array<std::string_view, bound_count> names{
      "goal", "charge", "current", "winding", "pack", "rotor_speed", "cooling_rate"};
  return names[at(bound)];
}

Trial try_purge(const Scene& scene,
                const rig::Rig& rig,
                const PlanNeed& need,
                const std::vector<PlannedStep>& asked,
                const Accuracy& accuracy) {
  const Watch watch = watch_for(need.goal, scene.limits);
  const auto steps = steps_of(scene, rig, need.stand_off, asked);
  Trial trial{.steps = asked, .charge = 0.0};
  const bool flows = std::all_of(
      steps.begin(), steps.end(), [](const PurgeStep& step) { return step.flow.flows(); });
  const auto course = purge_course(scene, steps, watch, accuracy);
  trial.seconds = flows ? shortest_purge(scene, course, watch, accuracy) : never;
  const double end = std::min(trial.seconds, course.end());
  for (std::size_t i = 0; i < trial.steps.size(); ++i) {
    auto& step = trial.steps[i];
    step.start = i == 0 ? 0.0 : trial.steps[i - 1].end;
    step.end = std::isnan(step.end) ? std::max(end, step.start) : std::min(step.end, end);
  }
  trial.charge = charge_until(course, end);
  trial.bounds[at(Bound::goal)] = {
      .value = trial.seconds,
      .limit = scene.longest,
      .slack = std::isfinite(trial.seconds) ? 1.0 : -std::max(missing(course, watch), 0.01)};
  judge_drive(trial, scene, rig, need, steps);
  judge_engine(trial, scene, need, course, end);
  conclude(trial);
  return trial;
}

Plan plan(const Scene& scene, const rig::Rig& rig, const PlanNeed& need) {
  if (!(need.stand_off > 0.0) || !(need.least_throttle > 0.0) ||
      !(need.most_throttle > need.least_throttle)) {
    throw std::logic_error("a plan needs a stand-off and a rising range of throttle");
  }
  Trials trials(scene, rig, need);
  Plan plan;
  if (rig.fan.holds_flow) {
    plan.purge = trials.constant(rig.throttle);
    plan.status = search::Status::converged;
    plan.trade_off = {plan.purge};
  } else {
    Found found = best_constant(trials, need);
    const bool held_back = found.trial.steps.front().throttle < need.most_throttle;
    if (held_back && need.shape == Shape::two_steps) found = best_two_steps(trials, need, found);
    plan.purge = found.trial;
    plan.status = found.status;
    plan.trade_off = trade_off(trials, need);
  }
  if (!plan.purge.feasible) {
    // What is short is told of the purge that would mend it.
    if (const auto* cheapest = cheapest_beyond_pack(plan.trade_off)) plan.purge = *cheapest;
  }
  follow_plan(plan, scene, rig, need);
  plan.feasible = plan.purge.feasible;
  if (!plan.feasible) plan.remedy = remedy_for(plan, scene, rig, need);
  plan.trials = trials.count();
  return plan;
}

}  // namespace windgap::cooling
