#include "trials/next.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace windgap::trials {
namespace {

constexpr int lit_places = 25;
constexpr int cold_places = 6;
constexpr std::array cold_shares{0.1, 0.3, 0.5, 0.7, 0.9};

/// The ensemble as decisions need it: reaches sorted once, weights changed often.
class Beliefs {
 public:
  Beliefs(const placement::Outlook& outlook,
          std::span<const double> weights,
          const Within& within,
          const Setting& setting)
      : outlook_(outlook),
        weights_(weights),
        setting_(setting),
        reach_(placement::reaches(outlook, setting.survey.requirement, setting.asked)) {
    for (double& reach : reach_) reach = std::clamp(reach, within.nearest, within.farthest);
    order_ = placement::descending(reach_);
    whole_ = std::accumulate(weights.begin(), weights.end(), 0.0);
  }

  [[nodiscard]] double stand_off(std::span<const double> weights) const {
    return placement::reached(reach_, weights, setting_.asked.confidence, order_);
  }
  [[nodiscard]] double now() const { return stand_off(weights_); }

  /// Stand-off that a share of the benches reaches.
  [[nodiscard]] double reached_by_share(double share) const {
    return placement::reached(reach_, weights_, share, order_);
  }

  [[nodiscard]] Proposal lit(double s) {
    Evidence evidence = evidence_at(s, Kind::lit).front();
    caught_.resize(weights_.size());
    failed_.resize(weights_.size());
    double catching = 0.0;
    double starved = 0.0;
    for (std::size_t i = 0; i < weights_.size(); ++i) {
      const double supply = expected(evidence, outlook_, i);
      evidence.outcome = Outcome::caught;
      const double catches = outcome_probability(evidence, supply, setting_.c);
      caught_[i] = weights_[i] * catches;
      // What is seen of a failure is that it lights and lacks air; a lapse teaches nothing.
      const double air = spread::normal_share(supply / evidence.deviation);
      failed_[i] = weights_[i] * (1.0 - catches);
      catching += caught_[i];
      starved += weights_[i] * (1.0 - air);
    }
    const double share = catching / whole_;
    return {.kind = Kind::lit,
            .stand_off = s,
            .gain = share * won(stand_off(caught_)) + (1.0 - share) * won(stand_off(failed_)),
            .hazard = starved / whole_,
            .catches = share};
  }

  [[nodiscard]] Proposal cold(double s) {
    auto evidence = evidence_at(s, Kind::cold);
    double sum = 0.0;
    const auto& c = setting_.c;
    for (const double share : cold_shares) {
      const std::size_t example = member_at(share);
      for (auto& one : evidence) one.read = expected(one, outlook_, example);
      caught_.assign(weights_.begin(), weights_.end());
      for (std::size_t i = 0; i < caught_.size(); ++i) {
        if (caught_[i] <= 0.0) continue;
        double log = 0.0;
        for (const auto& one : evidence) {
          log += log_likelihood(one, expected(one, outlook_, i), c);
        }
        caught_[i] *= std::exp(log);
      }
      sum += won(stand_off(caught_));
    }
    return {.kind = Kind::cold,
            .stand_off = s,
            .gain = sum / static_cast<double>(cold_shares.size()),
            .hazard = 0.0};
  }

  void count(std::span<const Attempt> attempts) { attempts_ = attempts; }

 private:
  /// What a mount that is known then is farther out. One that turns out nearer is no loss by the
  /// attempt: the bench was so before.
  [[nodiscard]] double won(double stand_off) const { return std::max(0.0, stand_off - now()); }

  /// Evidence of one more attempt, its errors as if all readings were taken again.
  [[nodiscard]] std::vector<Evidence> evidence_at(double s, Kind kind) const {
    Attempt attempt{.stand_off = s, .kind = kind};
    if (kind == Kind::lit) {
      attempt.outcome = Outcome::caught;
    } else {
      attempt.speed = 1.0;
      attempt.pressure = 1.0;
    }
    std::vector<Attempt> all(attempts_.begin(), attempts_.end());
    for (auto& one : all) one.oil_temperature = unset;
    all.push_back(attempt);
    auto evidence = evidence_of(all, outlook_, setting_);
    std::erase_if(evidence, [&](const Evidence& one) { return one.attempt + 1 != all.size(); });
    return evidence;
  }

  /// The member at a share of the weight, by its reach.
  [[nodiscard]] std::size_t member_at(double share) const {
    double passed = 0.0;
    for (const std::size_t i : order_) {
      passed += weights_[i];
      if (passed >= share * whole_) return i;
    }
    return order_.back();
  }

  const placement::Outlook& outlook_;
  std::span<const double> weights_;
  const Setting& setting_;
  std::vector<double> reach_;
  std::vector<std::size_t> order_;
  std::vector<double> caught_;
  std::vector<double> failed_;
  double whole_ = unset;
  std::span<const Attempt> attempts_;
};

double cost(Kind kind, const Coefficients& c) {
  return kind == Kind::lit ? c.worth_of_start : c.worth_of_cold;
}

}  // namespace

Decision decide(const placement::Outlook& outlook,
                std::span<const double> weights,
                std::span<const Attempt> attempts,
                const Within& within,
                const Setting& setting) {
  constexpr double nearly_all = 0.98;
  constexpr double few = 0.05;
  const auto& c = setting.c;
  Beliefs beliefs(outlook, weights, within, setting);
  beliefs.count(attempts);
  Decision decision{.stand_off = beliefs.now(), .next = {}, .best_gain = 0.0};
  double best = -std::numeric_limits<double>::infinity();
  const auto consider = [&](const Proposal& proposal) {
    decision.best_gain = std::max(decision.best_gain, proposal.gain);
    const double net = proposal.gain - cost(proposal.kind, c);
    if (net <= best) return;
    best = net;
    decision.next = proposal;
  };
  const double near = beliefs.reached_by_share(nearly_all);
  const double far = beliefs.reached_by_share(few);
  for (int i = 0; i < cold_places; ++i) {
    consider(beliefs.cold(near + (far - near) * i / (cold_places - 1)));
  }
  for (int i = 0; i < lit_places; ++i) {
    const auto proposal = beliefs.lit(near + (far - near) * i / (lit_places - 1));
    if (proposal.hazard <= c.greatest_hazard) consider(proposal);
  }
  decision.stop = best <= 0.0;
  const bool caught = std::any_of(attempts.begin(), attempts.end(), [](const Attempt& attempt) {
    return attempt.counts && attempt.outcome == Outcome::caught;
  });
  if (decision.stop && !caught && decision.stand_off > within.nearest) {
    // Nothing is locked that has not caught once.
    const double mount = decision.stand_off - setting.survey.requirement.slip;
    const auto first = beliefs.lit(std::max(within.nearest, mount));
    if (first.hazard <= c.greatest_hazard) {
      decision.next = first;
      decision.stop = false;
    }
  }
  return decision;
}

}  // namespace windgap::trials
