#include "cooling/plan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <span>
#include <stdexcept>

#include "cooling/settable.h"

namespace windgap::cooling {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();
constexpr Accuracy rough{.relative = 1e-4};  // for searches; what is set is followed finely
constexpr double worth_it = 0.98;  // of the constant purge's time: a second setting must pay

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
// NOLINTNEXTLINE(bugprone-easily-swappable-parameters): as `state`, and the air
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

void conclude(Trial& trial, Ends ends) {
  constexpr double close = 0.02;
  // A search ends on its bounds give or take its own fineness; what is set keeps them.
  const double negligible = ends == Ends::exact ? 1e-3 : 0.0;
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

/// What the fan blows at each throttle asked for so far: tabulating it costs as much as a course.
class Blown {
 public:
  Blown(const Scene& scene, const rig::Rig& rig, double stand_off)
      : scene_(scene), rig_(rig), stand_off_(stand_off) {}

  const PurgeFlow& at(double throttle) {
    const auto known = flows_.find(throttle);
    if (known != flows_.end()) return known->second;
    const auto set = rig::with_throttle(rig_, throttle);
    return flows_.emplace(throttle, purge_of(scene_.network, scene_.start, set, stand_off_))
        .first->second;
  }

  std::vector<PurgeStep> steps(const std::vector<PlannedStep>& planned) {
    std::vector<PurgeStep> out;
    for (const auto& step : planned) {
      const bool open = std::isnan(step.end);
      out.push_back(
          {.flow = at(step.throttle), .seconds = open ? scene_.longest : step.end - step.start});
    }
    return out;
  }

 private:
  const Scene& scene_;
  const rig::Rig& rig_;
  double stand_off_;
  std::map<double, PurgeFlow> flows_;
};

Trial tried(Blown& blown,
            const Scene& scene,
            const rig::Rig& rig,
            const PlanNeed& need,
            const std::vector<PlannedStep>& asked,
            Ends ends,
            const Accuracy& accuracy) {
  const Watch watch = watch_for(need.goal, scene.limits);
  auto steps = blown.steps(asked);
  Trial trial{.steps = asked, .charge = 0.0};
  trial.blows = std::all_of(
      steps.begin(), steps.end(), [](const PurgeStep& step) { return step.flow.flows(); });
  auto course = purge_course(scene, steps, watch, accuracy);
  trial.seconds = trial.blows ? shortest_purge(scene, course, watch, accuracy) : never;
  const double left = missing(course, watch);
  if (ends == Ends::settable && std::isfinite(trial.seconds)) {
    trial.seconds = settable_time(trial.seconds);
    while (steps.size() > 1 && trial.steps[steps.size() - 2].end >= trial.seconds) {
      steps.pop_back();
      trial.steps.pop_back();
    }
    const double before = steps.size() > 1 ? trial.steps[steps.size() - 2].end : 0.0;
    steps.back().seconds = trial.seconds - before;
    trial.steps.back().end = unset;
    course = purge_course(scene, steps, {}, accuracy);
  }
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
      .slack = std::isfinite(trial.seconds) ? 1.0 : -std::max(left, 0.01)};
  judge_drive(trial, scene, rig, need, steps);
  judge_engine(trial, scene, need, course, end);
  conclude(trial, ends);
  return trial;
}

/// Trials at points a search asks for, the last kept.
class Trials {
 public:
  Trials(Blown& blown, const Scene& scene, const rig::Rig& rig, const PlanNeed& need)
      : blown_(blown), scene_(scene), rig_(rig), need_(need) {}

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
    last_ = tried(blown_, scene_, rig_, need_, steps, Ends::exact, rough);
    return last_;
  }

  Blown& blown_;
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
  constexpr int throttles = 5;
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

/// Broken bounds other than one.
bool breaks_only(const Trial& trial, Bound only) {
  return std::all_of(trial.bounds.begin(), trial.bounds.end(), [&](const BoundState& b) {
    return b.bound == only || b.slack >= 0.0;
  });
}

/// Purges that a person can set. They are compared roughly; the chosen one is followed finely.
class Settings {
 public:
  Settings(Blown& blown, const Scene& scene, const rig::Rig& rig, const PlanNeed& need)
      : blown_(blown),
        scene_(scene),
        rig_(rig),
        need_(need),
        percents_(whole_percents(need.least_throttle, need.most_throttle)) {}

  [[nodiscard]] Trial set(const std::vector<PlannedStep>& steps, const Accuracy& accuracy = rough) {
    ++count_;
    return tried(blown_, scene_, rig_, need_, steps, Ends::settable, accuracy);
  }
  [[nodiscard]] Trial constant(int percent) { return set({{.throttle = throttle_of(percent)}}); }

  /// The same purge followed finely.
  [[nodiscard]] Trial finely(const Trial& trial) {
    auto steps = trial.steps;
    steps.back().end = unset;
    return set(steps, {});
  }

  [[nodiscard]] const Percents& percents() const { return percents_; }
  [[nodiscard]] int count() const { return count_; }

  /// About this throttle: the quickest, of equally quick ones that of least charge.
  [[nodiscard]] Trial best_constant_near(double throttle) {
    constexpr int reach = 2;
    const int middle = percents_.nearest(throttle);
    Trial best = constant(middle);
    for (int by = 1; by <= reach; ++by) {
      for (const int percent : {middle - by, middle + by}) keep_better(best, percent);
    }
    return best;
  }

  /// Of every whole percent, all followed finely.
  [[nodiscard]] Trial best_constant_of_all() {
    Trial best;
    for (int i = percents_.least; i <= percents_.most; ++i) {
      auto trial = set({{.throttle = throttle_of(i)}}, {});
      if (better(trial, best)) best = std::move(trial);
    }
    return best;
  }

  /// About these two steps, the same.
  [[nodiscard]] Trial best_two_near(const std::vector<PlannedStep>& steps) {
    const int first = percents_.nearest(steps[0].throttle);
    const int second = percents_.nearest(steps[1].throttle);
    const double late = settable_time(steps[0].end);
    Trial best;
    for (const double until : {late, settable_time(late - time_step(late))}) {
      if (!(until > 0.0)) continue;
      for (int i = first - 1; i <= first + 1; ++i) {
        for (int k = second - 1; k <= second + 1; ++k) {
          if (i != percents_.nearest(throttle_of(i)) || k != percents_.nearest(throttle_of(k))) {
            continue;
          }
          auto trial = set({{.throttle = throttle_of(i), .start = 0.0, .end = until},
                            {.throttle = throttle_of(k)}});
          if (better(trial, best)) best = std::move(trial);
        }
      }
    }
    return best;
  }

  static bool better(const Trial& trial, const Trial& than) {
    if (than.steps.empty() || trial.feasible != than.feasible) {
      return than.steps.empty() || trial.feasible;
    }
    if (trial.feasible && trial.seconds != than.seconds) return trial.seconds < than.seconds;
    return trial.feasible ? trial.charge < than.charge : misses(trial) < misses(than);
  }

 private:
  static double misses(const Trial& trial) {
    double sum = 0.0;
    for (const auto& b : trial.bounds) sum -= std::min(0.0, b.slack);
    return sum;
  }

  void keep_better(Trial& best, int percent) {
    if (percent < percents_.least || percent > percents_.most) return;
    auto trial = constant(percent);
    if (better(trial, best)) best = std::move(trial);
  }

  Blown& blown_;
  const Scene& scene_;
  const rig::Rig& rig_;
  const PlanNeed& need_;
  Percents percents_;
  int count_ = 0;
};

std::vector<Trial> trade_off(Settings& settings) {
  constexpr int points = 9;
  const auto& range = settings.percents();
  std::vector<Trial> curve;
  int last_tried = range.least - 1;
  for (int i = 0; i < points; ++i) {
    const int percent = range.between(i / (points - 1.0));
    if (percent != last_tried) curve.push_back(settings.constant(percent));
    last_tried = percent;
  }
  return curve;
}

/// Of purges that ask for nothing but more charge, the one that asks for least: best of the curve,
/// then in ever smaller steps about it.
Trial thriftiest(Settings& settings, const std::vector<Trial>& curve) {
  Trial best;
  const auto look_at = [&](const Trial& trial) {
    if (!breaks_only(trial, Bound::charge)) return false;
    if (!best.steps.empty() && !(trial.charge < best.charge)) return false;
    best = trial;
    return true;
  };
  for (const auto& trial : curve) look_at(trial);
  if (best.steps.empty()) return best;
  const auto& range = settings.percents();
  for (const int by : {5, 2, 1}) {
    const int here = range.nearest(best.steps.front().throttle);
    for (const int percent : {here - by, here + by}) {
      if (percent < range.least || percent > range.most) continue;
      if (look_at(settings.constant(percent))) break;
    }
  }
  return settings.finely(best);
}

/// What pressed on the search's best holds the settings beside it too, though they keep off it by
/// up to one step of throttle or time.
Trial held_as(Trial trial, const Trial& exact) {
  for (std::size_t i = 0; i < bound_count; ++i) {
    trial.bounds[i].active = trial.bounds[i].active || exact.bounds[i].active;
  }
  return trial;
}

/// What one more percent of throttle would break holds the settings too.
void hold_by_neighbours(Trial& trial, Settings& settings) {
  const auto pressed = [](const BoundState& b) { return b.active; };
  if (!trial.feasible || std::any_of(trial.bounds.begin(), trial.bounds.end(), pressed)) return;
  const auto& range = settings.percents();
  for (std::size_t i = 0; i < trial.steps.size(); ++i) {
    const int next = range.nearest(trial.steps[i].throttle) + 1;
    if (next > range.most) continue;
    auto steps = trial.steps;
    steps[i].throttle = throttle_of(next);
    steps.back().end = unset;
    const auto beyond = settings.set(steps);
    for (std::size_t k = 0; k < bound_count; ++k) {
      trial.bounds[k].active = trial.bounds[k].active || beyond.bounds[k].slack < 0.0;
    }
  }
}

/// The search's best, as it can be set. Two steps stay only where they still pay.
Trial settled(Settings& settings, const Found& constant, const Found& found) {
  Trial one = settings.finely(settings.best_constant_near(constant.trial.steps.front().throttle));
  if (!one.feasible && constant.trial.feasible) {
    one = settings.best_constant_of_all();
  }
  if (found.trial.steps.size() == 1) return held_as(one, constant.trial);
  const Trial two = settings.finely(settings.best_two_near(found.trial.steps));
  const bool pays = two.feasible && (!one.feasible || two.seconds < worth_it * one.seconds);
  return pays ? held_as(two, found.trial) : held_as(one, constant.trial);
}

/// The purge as planned, then standing; both finely.
void follow_plan(Plan& plan, const Scene& scene, Blown& blown) {
  if (!std::isfinite(plan.purge.seconds)) {
    plan.course = standing_course(scene, scene.start, 0.0);
  } else {
    const auto steps = blown.steps(plan.purge.steps);
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

Mend mend_by(const Trial& trial, double stand_off) {
  return {.found = true,
          .stand_off = stand_off,
          .throttle = trial.steps.front().throttle,
          .seconds = trial.seconds,
          .charge = trial.charge,
          .cooling_rate = trial.bounds[at(Bound::cooling_rate)].value};
}

/// The best constant purge from there, of a few throttles; of a stream, its one.
Trial quick_best(const Scene& scene, const rig::Rig& rig, const PlanNeed& need) {
  Blown blown(scene, rig, need.stand_off);
  Settings settings(blown, scene, rig, need);
  if (rig.fan.holds_flow) return settings.set({{.throttle = rig.throttle}});
  Trial best;
  for (auto& trial : trade_off(settings)) {
    if (Settings::better(trial, best)) best = std::move(trial);
  }
  return best;
}

/// Farthest distance nearer than the asked one from which a constant purge does: halved until one
/// does, then narrowed, in whole centimetres.
Mend nearer_mend(const Scene& scene, const rig::Rig& rig, PlanNeed need) {
  constexpr double nearest_share = 0.15;  // of the exit's diameter: as near as a mount is sought
  constexpr double fine = 0.01;           // [m]
  constexpr int rounds = 5;
  const double nearest = nearest_share * 2.0 * rig.jet.exit.rim_radius;
  double beyond = need.stand_off;
  Mend mend;
  const auto does = [&](double stand_off) {
    need.stand_off = stand_off;
    const auto trial = quick_best(scene, rig, need);
    if (trial.feasible) mend = mend_by(trial, stand_off);
    return trial.feasible;
  };
  double within = 0.5 * beyond;
  while (within > nearest && !does(within)) {
    beyond = within;
    within *= 0.5;
  }
  if (!mend.found) return mend;
  for (int i = 0; i < rounds; ++i) {
    const double middle = fine * std::floor(0.5 * (within + beyond) / fine);
    if (!(middle > within)) break;
    (does(middle) ? within : beyond) = middle;
  }
  return mend;
}

/// The shortest wait after which a constant purge keeps the housing's cooling rate. While it waits
/// the bearing soaks, so it must not coke standing.
void wait_first(Remedy& remedy,
                const Plan& plan,
                const Scene& scene,
                const rig::Rig& rig,
                const PlanNeed& need) {
  constexpr std::array minutes{2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 45.0, 60.0, 90.0, 120.0};
  constexpr double minute = 60.0;
  if (plan.standing_verdict.fastest_cooling > need.cooling_rate) return;
  if (!(plan.purge.bounds[at(Bound::cooling_rate)].slack < 0.0)) return;
  const auto& peak = plan.standing_verdict.bearing;
  remedy.waiting_cokes = peak.time > 0.0 && peak.temperature > scene.limits.coking;
  if (remedy.waiting_cokes) return;
  for (const double wait : minutes) {
    if (wait * minute >= plan.standing.end()) return;
    Scene later = scene;
    later.start = temperatures_at(plan.standing, wait * minute);
    const auto trial = quick_best(later, rig, need);
    if (!trial.feasible) continue;
    remedy.wait = mend_by(trial, need.stand_off);
    remedy.wait.wait = wait * minute;
    return;
  }
}

Remedy remedy_for(const Plan& plan, const Scene& scene, const rig::Rig& rig, const PlanNeed& need) {
  constexpr double sure = 1.01;  // what is printed of it, rounded, must do as well
  Remedy remedy;
  if (!plan.thriftiest.steps.empty()) {
    remedy.pack = mend_by(plan.thriftiest, need.stand_off);
    remedy.pack.charge *= sure;
  }
  for (const auto& trial : plan.trade_off) {
    const double rate = trial.bounds[at(Bound::cooling_rate)].value;
    if (!breaks_only(trial, Bound::cooling_rate) || std::isnan(need.cooling_rate)) continue;
    if (!remedy.gentle.found || rate < remedy.gentle.cooling_rate) {
      remedy.gentle = mend_by(trial, need.stand_off);
    }
  }
  remedy.gentle.cooling_rate *= sure;
  for (const auto use : {PumpUse::while_purging, PumpUse::always}) {
    if (use <= scene.pump || remedy.pump.found) continue;
    Scene oiled = scene;
    oiled.pump = use;
    const auto trial = quick_best(oiled, rig, need);
    if (!trial.feasible) continue;
    remedy.pump = mend_by(trial, need.stand_off);
    remedy.pump.pump = use;
  }
  auto wide = need;
  wide.least_throttle = std::fmin(need.least_throttle, scene.network.coefficients.least_throttle);
  wide.most_throttle = 1.0;
  const bool wider = wide.least_throttle < need.least_throttle || need.most_throttle < 1.0;
  if (wider && !rig.fan.holds_flow) {
    const auto trial = quick_best(scene, rig, wide);
    if (trial.feasible) remedy.range = mend_by(trial, need.stand_off);
  }
  wait_first(remedy, plan, scene, rig, need);
  remedy.nearer = nearer_mend(scene, rig, need);
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
                Ends ends,
                const Accuracy& accuracy) {
  Blown blown(scene, rig, need.stand_off);
  return tried(blown, scene, rig, need, asked, ends, accuracy);
}

Plan plan(const Scene& scene, const rig::Rig& rig, const PlanNeed& need) {
  if (!(need.stand_off > 0.0) || !(need.least_throttle > 0.0) ||
      !(need.most_throttle > need.least_throttle)) {
    throw std::logic_error("a plan needs a stand-off and a rising range of throttle");
  }
  Blown blown(scene, rig, need.stand_off);
  Trials trials(blown, scene, rig, need);
  Settings settings(blown, scene, rig, need);
  Plan plan;
  if (rig.fan.holds_flow) {
    plan.purge = settings.set({{.throttle = rig.throttle}}, {});
    plan.status = search::Status::converged;
    plan.trade_off = {plan.purge};
  } else {
    if (settings.percents().empty()) throw std::logic_error("no whole percent of throttle");
    const Found constant = best_constant(trials, need);
    const bool held_back = constant.trial.steps.front().throttle < need.most_throttle;
    const bool two = held_back && need.shape == Shape::two_steps;
    const Found found = two ? best_two_steps(trials, need, constant) : constant;
    plan.purge = settled(settings, constant, found);
    hold_by_neighbours(plan.purge, settings);
    plan.status = found.status;
    plan.trade_off = trade_off(settings);
    plan.thriftiest = thriftiest(settings, plan.trade_off);
    // What is short is told of the purge that would mend it.
    if (!plan.purge.feasible && !plan.thriftiest.steps.empty()) plan.purge = plan.thriftiest;
  }
  follow_plan(plan, scene, blown);
  plan.feasible = plan.purge.feasible;
  if (!plan.feasible) plan.remedy = remedy_for(plan, scene, rig, need);
  plan.trials = trials.count() + settings.count();
  return plan;
}

}  // namespace windgap::cooling
