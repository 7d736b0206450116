#include "trials/rehearsal.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

#include "trials/redraw.h"

namespace windgap::trials {
namespace {

/// One bench that only the simulation knows.
class Bench {
 public:
  Bench(const World& world, const Prior& prior, const Setting& setting, std::uint64_t seed)
      : world_(world),
        prior_(prior),
        setting_(setting),
        random_(seed),
        maker_(setting.survey.plan, setting.survey.subject) {
    const auto& axes = setting.survey.plan.axes;
    z_.assign(axes.size(), 0.0);
    for (std::size_t j = 0; j < axes.size(); ++j) {
      const double drawn = normal();
      if (axes[j].varies != spread::Varies::bench) continue;
      z_[j] = world.widening * drawn;
      for (const auto& shift : world.shifts) {
        if (shift.axis == axes[j].name) z_[j] += shift.deviations;
      }
    }
    speed_bias_ = setting.c.speed_bias * normal();
    pressure_bias_ = setting.c.pressure_bias * normal();
    rig_ = maker_.make(z_);
  }

  [[nodiscard]] Attempt attempt(Kind kind, double stand_off) {
    const auto& axes = setting_.survey.plan.axes;
    auto z = z_;
    for (std::size_t j = 0; j < z.size(); ++j) {
      if (axes[j].varies == spread::Varies::start) z[j] = normal();
    }
    const auto rig = maker_.make(z);
    const double off = setting_.c.distance_error * normal();
    const double there = std::max(stand_off + off, setting_.survey.requirement.nearest);
    const auto seen = placement::seen(rig, look(rig, there, setting_.survey.requirement));
    const auto value = [&](placement::Quantity q) { return seen[static_cast<std::size_t>(q)]; };
    const double speed_error = setting_.c.speed_error * normal();
    const double pressure_error = setting_.c.pressure_error * normal();
    const double voltage_error = setting_.c.voltage_error * normal();
    const double scatter = setting_.asked.start_scatter * normal();
    const double luck = uniform();
    const double look_of_failure = uniform();
    Attempt result{.stand_off = stand_off, .kind = kind};
    result.speed = std::exp(value(placement::Quantity::speed) + speed_bias_ + speed_error);
    result.pressure =
        std::exp(value(placement::Quantity::mouth_pressure) + pressure_bias_ + pressure_error);
    if (!rig.fan.holds_flow) {
      result.voltage = std::exp(value(placement::Quantity::voltage) + voltage_error);
    }
    if (kind == Kind::cold) return result;
    const double supply = value(placement::Quantity::supply) - world_.hidden_need + scatter;
    result.outcome = Outcome::failed;
    if (luck < setting_.c.lapse) {
      result.failure = Failure::no_light;
    } else if (supply >= 0.0) {
      result.outcome = Outcome::caught;
    } else {
      result.failure = look_of_failure < setting_.c.dark_share ? Failure::no_light : Failure::hung;
    }
    return result;
  }

  /// Farthest edge from which attempts are as reliable as asked, by a fine scan; unset: none.
  [[nodiscard]] double farthest() const {
    constexpr double step = 2e-3;
    const auto& within = prior_.within;
    double last = unset;
    double s = within.farthest;
    while (s > within.nearest) {
      const double now = slack(s);
      if (now >= 0.0) return std::isfinite(last) ? s + step * now / (now - last) : s;
      last = now;
      s -= step;
    }
    return slack(within.nearest) >= 0.0 ? within.nearest : unset;
  }

  [[nodiscard]] const rig::Rig& rig() const { return rig_; }

  /// What attempts at a stand-off have left over for the asked reliability.
  [[nodiscard]] double slack(double s) const {
    const auto seen = placement::seen(rig_, look(rig_, s, setting_.survey.requirement));
    const double supply =
        seen[static_cast<std::size_t>(placement::Quantity::supply)] - world_.hidden_need;
    return placement::reliable_slack(
        supply, placement::attempt_scatter(prior_.outlook, s, setting_.asked), setting_.asked);
  }

 private:
  double normal() { return normal_(random_); }
  double uniform() { return uniform_(random_); }

  const World& world_;
  const Prior& prior_;
  const Setting& setting_;
  std::mt19937_64 random_;
  std::normal_distribution<double> normal_;
  std::uniform_real_distribution<double> uniform_;
  spread::Maker maker_;
  std::vector<double> z_;
  double speed_bias_ = 0.0;
  double pressure_bias_ = 0.0;
  rig::Rig rig_;
};

void note(Rehearsal& result, const Attempt& attempt) {
  if (attempt.kind == Kind::cold) {
    ++result.cold;
    return;
  }
  ++result.lit;
  if (attempt.failure == Failure::hung) ++result.hung;
}

void learn_bench(Rehearsal& result, Bench& bench, const Prior& prior, const Setting& setting) {
  constexpr std::size_t most_attempts = 16;
  std::vector<Attempt> attempts;
  const std::vector<double> equal(prior.outlook.members(), 1.0);
  std::optional<Redrawn> own;
  for (;;) {
    const auto* outlook = own ? &own->outlook : &prior.outlook;
    auto weights = weigh(*outlook,
                         own ? std::span<const double>(own->base) : std::span<const double>(equal),
                         evidence_of(attempts, *outlook, setting),
                         setting.c);
    const double enough = setting.c.least_effective * static_cast<double>(outlook->members());
    double effective = effective_size(weights);
    if (effective < enough) {
      auto again = redraw(attempts, prior.outlook.nodes, setting, prior.outlook);
      ++result.redrawn;
      auto reweighed = weigh(
          again.outlook, again.base, evidence_of(attempts, again.outlook, setting), setting.c);
      if (effective_size(reweighed) > effective) {
        effective = effective_size(reweighed);
        weights = std::move(reweighed);
        own = std::move(again);
        outlook = &own->outlook;
      }
    }
    const auto decision = decide(*outlook, weights, attempts, prior.within, setting);
    const bool firm = effective >= enough;
    if (decision.stop && !firm && attempts.size() < most_attempts) {
      // As `learn` says then: measure again, do not lock.
      ++result.unfirm;
      attempts.push_back(bench.attempt(Kind::cold, decision.stand_off));
      note(result, attempts.back());
      continue;
    }
    if (decision.stop || attempts.size() == most_attempts) {
      if (firm && decision.stand_off > prior.within.nearest) result.locked = decision.stand_off;
      return;
    }
    attempts.push_back(bench.attempt(decision.next.kind, decision.next.stand_off));
    note(result, attempts.back());
  }
}

double fan_length(const Setting& setting) {
  const auto& parts = setting.survey.subject.parts;
  const auto* const fan = std::get_if<fan::Fan>(&parts.source);
  if (fan == nullptr) return std::get<fan::Stream>(parts.source).exit_diameter;
  return std::isfinite(fan->length) ? fan->length : fan->bore_diameter;
}

bool catches(Rehearsal& result, Bench& bench, double s) {
  const auto attempt = bench.attempt(Kind::lit, s);
  note(result, attempt);
  return attempt.outcome == Outcome::caught;
}

void slide(Rehearsal& result, Bench& bench, const Prior& prior, const Setting& setting) {
  constexpr double step = 0.02;
  constexpr int wanted = 3;
  double s = std::clamp(fan_length(setting), prior.within.nearest, prior.within.farthest);
  for (;;) {
    int caught = 0;
    while (caught < wanted && catches(result, bench, s)) ++caught;
    if (caught == wanted) {
      result.locked = s;
      return;
    }
    if (s <= prior.within.nearest) return;
    s = std::max(s - step, prior.within.nearest);
  }
}

void halve(Rehearsal& result, Bench& bench, const Prior& prior) {
  constexpr double close = 0.01;
  double near = prior.within.nearest;
  double far = prior.within.farthest;
  while (far - near > close) {
    const double middle = 0.5 * (near + far);
    if (catches(result, bench, middle)) {
      near = middle;
      result.locked = middle;
    } else {
      far = middle;
    }
  }
}

double median(std::vector<double> values) {
  if (values.empty()) return unset;
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

}  // namespace

Rehearsal rehearse(const World& world,
                   Strategy strategy,
                   const Prior& prior,
                   const Setting& setting,
                   std::uint64_t seed) {
  Bench bench(world, prior, setting, seed);
  Rehearsal result;
  result.truth = bench.farthest();
  switch (strategy) {
    case Strategy::learning:
      learn_bench(result, bench, prior, setting);
      break;
    case Strategy::sliding:
      slide(result, bench, prior, setting);
      break;
    case Strategy::halving:
      halve(result, bench, prior);
      break;
  }
  result.unreliable = std::isfinite(result.locked) && bench.slack(result.locked) < 0.0;
  return result;
}

double Simulated::supply(double stand_off) const {
  const auto all = placement::seen(rig, look(rig, stand_off, requirement));
  return all[static_cast<std::size_t>(placement::Quantity::supply)] - hidden_need;
}

Simulated simulate(const World& world,
                   const Prior& prior,
                   const Setting& setting,
                   std::uint64_t seed,
                   const std::vector<std::pair<Kind, double>>& plan) {
  Bench bench(world, prior, setting, seed);
  Simulated result;
  result.rig = bench.rig();
  result.hidden_need = world.hidden_need;
  result.requirement = setting.survey.requirement;
  for (const auto& [kind, stand_off] : plan) {
    result.attempts.push_back(bench.attempt(kind, stand_off));
  }
  return result;
}

Summary summarize(std::span<const Rehearsal> list, double near, double nearest) {
  Summary summary;
  std::vector<double> lit;
  std::vector<double> cold;
  std::vector<double> left;
  std::vector<double> locked;
  double hung = 0.0;
  double reliable_left = 0.0;
  std::size_t reliable = 0;
  std::size_t close = 0;
  std::size_t unreliable = 0;
  for (const auto& one : list) {
    if (one.unreliable) ++unreliable;
    hung += one.hung;
    if (!std::isfinite(one.truth)) {
      ++summary.hopeless;
      continue;
    }
    ++summary.benches;
    lit.push_back(one.lit);
    cold.push_back(one.cold);
    const double lock = std::isfinite(one.locked) ? one.locked : nearest;
    locked.push_back(lock);
    left.push_back(one.truth - lock);
    if (one.unreliable) continue;
    ++reliable;
    reliable_left += one.truth - lock;
    if (one.truth - lock <= near) ++close;
  }
  const auto share = [](auto part, auto whole) {
    return static_cast<double>(part) / static_cast<double>(whole);
  };
  summary.lit_median = median(lit);
  summary.cold_median = median(cold);
  summary.short_median = median(left);
  summary.locked_median = median(locked);
  summary.hung_mean = hung / static_cast<double>(list.size());
  summary.short_mean = reliable_left / static_cast<double>(std::max<std::size_t>(1, reliable));
  summary.within_share = share(close, std::max<std::size_t>(1, summary.benches));
  summary.unreliable_share = share(unreliable, list.size());
  return summary;
}

}  // namespace windgap::trials
