#include "trials/learn.h"

#include <gtest/gtest.h>

#include <cmath>

#include "casefile/log.h"
#include "casefile/uncertainty.h"
#include "trials/redraw.h"
#include "trials/rehearsal.h"
#include "trials/together.h"

namespace windgap::trials {
namespace {

/// The invented yardstick bench; its ensemble is solved once.
struct Scene {
  casefile::Case bench;
  casefile::Uncertainty known;
  placement::Survey survey;
  Setting setting;
  Prior prior;

  static constexpr std::size_t members = 1024;

  Scene()
      : bench(casefile::read_case(WINDGAP_SOURCE_DIR "/cases/yardstick.yaml",
                                  {.models = {WINDGAP_MODELS_DIR}, .scope = {.trials = true}})),
        known(casefile::uncertainty(bench,
                                    placement::answer(bench.parts,
                                                      bench.models.rig,
                                                      bench.requirement,
                                                      bench.models.placement,
                                                      {.scan_points = 41}))),
        survey{.plan = known.plan,
               .subject = known.subject,
               .requirement = bench.requirement,
               .members = members},
        setting{.survey = survey, .asked = known.asked, .c = bench.models.trials} {
    prior.outlook = look_out(survey, placement::usual_nodes(bench.requirement));
    prior.within = {.nearest = bench.requirement.nearest, .farthest = bench.requirement.farthest};
  }

  /// What a bench of the middle would show, plus a departure in supply.
  [[nodiscard]] Attempt cold(double s, double speed_factor = 1.0) const {
    const auto& outlook = prior.outlook;
    const auto at = [&](placement::Quantity q) {
      const auto place = outlook.between(s);
      double sum = 0.0;
      for (std::size_t k = 0; k < place.node.size(); ++k) {
        sum += place.weight[k] * outlook.nominal[static_cast<std::size_t>(q)][place.node[k]];
      }
      return std::exp(sum);
    };
    return {.stand_off = s,
            .kind = Kind::cold,
            .speed = speed_factor * at(placement::Quantity::speed),
            .pressure = at(placement::Quantity::mouth_pressure)};
  }
};

const Scene& scene() {
  static const Scene once;
  return once;
}

std::vector<double> equal() { return std::vector<double>(Scene::members, 1.0); }

double spread_of(const placement::Outlook& outlook, const std::vector<double>& weights, double s) {
  double mean = 0.0;
  double square = 0.0;
  double whole = 0.0;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    const double y = outlook.at(placement::Quantity::airflow, outlook.between(s), i);
    mean += weights[i] * y;
    square += weights[i] * y * y;
    whole += weights[i];
  }
  mean /= whole;
  return std::sqrt(square / whole - mean * mean);
}

TEST(Learn, ColdRunsNarrowTheAirflow) {
  const auto& s = scene();
  const std::vector<Attempt> attempts{s.cold(0.1), s.cold(0.2)};
  const auto evidence = evidence_of(attempts, s.prior.outlook, s.setting);
  const auto weights = weigh(s.prior.outlook, equal(), evidence, s.setting.c);
  EXPECT_LT(spread_of(s.prior.outlook, weights, 0.15),
            0.8 * spread_of(s.prior.outlook, equal(), 0.15));
}

TEST(Learn, DrawingAnewKeepsThePosterior) {
  const auto& s = scene();
  const std::vector<Attempt> attempts{
      s.cold(0.1),
      s.cold(0.25),
      {.stand_off = 0.12, .kind = Kind::lit, .outcome = Outcome::caught}};
  const auto nodes = nodes_for(s.bench.requirement, attempts);
  const auto first = weigh(
      s.prior.outlook, equal(), evidence_of(attempts, s.prior.outlook, s.setting), s.setting.c);
  const auto again = redraw(attempts, nodes, s.setting, s.prior.outlook);
  const auto second = weigh(
      again.outlook, again.base, evidence_of(attempts, again.outlook, s.setting), s.setting.c);
  EXPECT_GT(effective_size(second), 0.05 * Scene::members);
  // Both estimate the same probability; the tolerance is four standard errors of the poorer one.
  const double s_at = 0.15;
  const auto a = placement::prospect(s.prior.outlook, first, s_at, s.setting.asked);
  const auto b = placement::prospect(again.outlook, second, s_at, s.setting.asked);
  EXPECT_NEAR(a.catches, b.catches, 4.0 * a.sampling_error + 4.0 * b.sampling_error);
}

// Readings and outcomes together, over which airflow is no straight line of the axes: the tail of a
// twentieth must hold enough members to be read.
TEST(Learn, DrawingAnewLeavesEnoughThatCount) {
  const auto& s = scene();
  const auto log = casefile::read_log(WINDGAP_SOURCE_DIR "/cases/yardstick-log.yaml");
  const auto attempts = log.attempts();
  const auto evidence = evidence_of(attempts, s.prior.outlook, s.setting);
  const auto first = weigh(s.prior.outlook, equal(), evidence, s.setting.c);
  const double enough = s.setting.c.least_effective * Scene::members;
  ASSERT_LT(effective_size(first), enough);
  // Not by the luck of one sequence of points.
  for (const std::uint64_t seed : {1U, 2U, 6U, 11U, 20U}) {
    auto survey = s.survey;
    survey.seed = seed;
    const Setting setting{.survey = survey, .asked = s.setting.asked, .c = s.setting.c};
    const auto again =
        redraw(attempts, nodes_for(s.bench.requirement, attempts), setting, s.prior.outlook);
    const auto second =
        weigh(again.outlook, again.base, evidence_of(attempts, again.outlook, setting), setting.c);
    EXPECT_GT(effective_size(second), enough) << seed;
  }
}

// A failed start is a bench short of air, or a bad spark on one that has enough: both count.
TEST(Learn, DrawingAnewHoldsBothReadingsOfASurprise) {
  const auto& s = scene();
  auto attempts = casefile::read_log(WINDGAP_SOURCE_DIR "/cases/yardstick-log.yaml").attempts();
  attempts.push_back({.stand_off = 0.2, .kind = Kind::lit, .outcome = Outcome::failed});
  const auto again =
      redraw(attempts, nodes_for(s.bench.requirement, attempts), s.setting, s.prior.outlook);
  const auto weights = weigh(
      again.outlook, again.base, evidence_of(attempts, again.outlook, s.setting), s.setting.c);
  EXPECT_GT(effective_size(weights), s.setting.c.least_effective * Scene::members);
}

TEST(Learn, ManyAttemptsThatCannotAllBeTrueContradictEachOther) {
  const auto& s = scene();
  const auto judged = [&](double failed_at, double caught_at) {
    std::vector<Attempt> attempts;
    for (int i = 0; i < 8; ++i) {
      attempts.push_back({.stand_off = failed_at, .kind = Kind::lit, .outcome = Outcome::failed});
      attempts.push_back({.stand_off = caught_at, .kind = Kind::lit, .outcome = Outcome::caught});
    }
    const auto evidence = evidence_of(attempts, s.prior.outlook, s.setting);
    const auto weights = weigh(s.prior.outlook, equal(), evidence, s.setting.c);
    return together(s.prior.outlook, weights, evidence, s.setting.c, 1);
  };
  EXPECT_LT(judged(0.25, 0.5), s.setting.c.surprise);
  EXPECT_GT(judged(0.5, 0.25), 0.1);
}

// A repetition of one outcome is as unlikely as the outcome itself: a coin by hand.
TEST(Learn, TogetherIsTheShareOfRepetitionsThatAreNoLikelier) {
  const auto& s = scene();
  const std::vector<Attempt> one{{.stand_off = 0.2, .kind = Kind::lit, .outcome = Outcome::failed}};
  const std::vector<Attempt> two(2, one.front());
  const auto share = [&](std::span<const Attempt> attempts) {
    const auto evidence = evidence_of(attempts, s.prior.outlook, s.setting);
    return together(s.prior.outlook, equal(), evidence, s.setting.c, 1);
  };
  EXPECT_EQ(share(one), 1.0);
  // Both fail again: over the benches, the mean square of what each fails with.
  const auto evidence = evidence_of(two, s.prior.outlook, s.setting);
  double expected_share = 0.0;
  for (std::size_t i = 0; i < Scene::members; ++i) {
    const double fails = outcome_probability(
        evidence.front(), expected(evidence.front(), s.prior.outlook, i), s.setting.c);
    // Where failing is the likelier outcome every repetition is as unlikely or more so.
    expected_share += fails < 0.5 ? fails * fails : 1.0;
  }
  expected_share /= static_cast<double>(Scene::members);
  const double error = std::sqrt(expected_share * (1.0 - expected_share) / 4096.0);
  EXPECT_NEAR(share(two), expected_share, 4.0 * error);
}

TEST(Learn, ProposesNothingWhereALimitOfTheDriveFailsEverywhere) {
  const auto bench = casefile::read_case(WINDGAP_SOURCE_DIR "/cases/yardstick.yaml",
                                         {.settings = {"fan.motor.max_current=80 A"},
                                          .models = {WINDGAP_MODELS_DIR},
                                          .scope = {.trials = true}});
  const auto known = casefile::uncertainty(bench,
                                           placement::answer(bench.parts,
                                                             bench.models.rig,
                                                             bench.requirement,
                                                             bench.models.placement,
                                                             {.scan_points = 41}));
  const placement::Survey survey{.plan = known.plan,
                                 .subject = known.subject,
                                 .requirement = bench.requirement,
                                 .members = 256};
  const Setting setting{.survey = survey, .asked = known.asked, .c = bench.models.trials};
  const std::vector<Attempt> attempts{
      {.stand_off = 0.1, .kind = Kind::lit, .outcome = Outcome::caught}};
  const auto lesson = learn(attempts, setting);
  EXPECT_TRUE(lesson.after.barred);
  EXPECT_EQ(lesson.after.barred_by, placement::Constraint::drive_current);
  EXPECT_TRUE(lesson.decision.stop);
  EXPECT_TRUE(std::isnan(lesson.decision.next.stand_off));
}

TEST(Learn, NoLitAttemptIsProposedWhereAHotStartIsLikely) {
  const auto& s = scene();
  std::vector<Attempt> attempts;
  for (int round = 0; round < 4; ++round) {
    const auto weights = weigh(
        s.prior.outlook, equal(), evidence_of(attempts, s.prior.outlook, s.setting), s.setting.c);
    const auto decision = decide(s.prior.outlook, weights, attempts, s.prior.within, s.setting);
    if (decision.stop) break;
    if (decision.next.kind == Kind::lit) {
      EXPECT_LE(decision.next.hazard, s.setting.c.greatest_hazard);
      attempts.push_back(
          {.stand_off = decision.next.stand_off, .kind = Kind::lit, .outcome = Outcome::caught});
    } else {
      attempts.push_back(s.cold(decision.next.stand_off));
    }
    EXPECT_GE(decision.next.stand_off, s.prior.within.nearest);
    EXPECT_LE(decision.next.stand_off, s.prior.within.farthest);
  }
  EXPECT_FALSE(attempts.empty());
}

TEST(Learn, ACatchFartherOutMovesTheMountOut) {
  const auto& s = scene();
  const auto mount = [&](Outcome outcome) {
    const Attempt attempt{.stand_off = 0.2, .kind = Kind::lit, .outcome = outcome};
    const auto weights = weigh(s.prior.outlook,
                               equal(),
                               evidence_of({&attempt, 1}, s.prior.outlook, s.setting),
                               s.setting.c);
    const auto reach = placement::reaches(s.prior.outlook, s.bench.requirement, s.setting.asked);
    return placement::reached(reach, weights, 0.5, placement::descending(reach));
  };
  EXPECT_GT(mount(Outcome::caught), mount(Outcome::failed) + 0.02);
}

// The band of a posterior that is right holds the truth as often as it says. Truths are drawn from
// the spread, each with two cold runs and two lit attempts; the count is binomial.
TEST(Learn, TheNinetyPercentBandHoldsTheTruthNineTimesOfTen) {
  constexpr int benches = 200;
  constexpr double at = 0.15;
  const auto& s = scene();
  const World world;
  int held = 0;
  for (int b = 0; b < benches; ++b) {
    const auto truth =
        simulate(world,
                 s.prior,
                 s.setting,
                 static_cast<std::uint64_t>(b + 1),
                 {{Kind::cold, 0.1}, {Kind::cold, 0.2}, {Kind::lit, 0.1}, {Kind::lit, 0.15}});
    const auto weights = weigh(s.prior.outlook,
                               equal(),
                               evidence_of(truth.attempts, s.prior.outlook, s.setting),
                               s.setting.c);
    std::vector<double> supply;
    s.prior.outlook.at(placement::Quantity::supply, at, supply);
    const auto order = placement::descending(supply);
    const double low = placement::reached(supply, weights, 0.95, order);
    const double high = placement::reached(supply, weights, 0.05, order);
    const double real = truth.supply(at);
    if (low <= real && real <= high) ++held;
  }
  const double error = std::sqrt(0.9 * 0.1 / benches);
  EXPECT_NEAR(static_cast<double>(held) / benches, 0.9, 3.0 * error);
}

TEST(Rehearsal, SameSeedSameBenchAndSameEnd) {
  const auto& s = scene();
  const World world;
  const auto one = rehearse(world, Strategy::halving, s.prior, s.setting, 5);
  const auto two = rehearse(world, Strategy::halving, s.prior, s.setting, 5);
  EXPECT_EQ(one.lit, two.lit);
  EXPECT_EQ(one.cold, 0);
  EXPECT_TRUE(one.truth == two.truth || (std::isnan(one.truth) && std::isnan(two.truth)));
}

TEST(Rehearsal, TheSlidingLoopNeverLooksBeyondOneFanLength) {
  const auto& s = scene();
  const auto* const fan = std::get_if<fan::Fan>(&s.bench.parts.source);
  ASSERT_NE(fan, nullptr);
  const World world;
  for (std::uint64_t seed = 1; seed < 12; ++seed) {
    const auto end = rehearse(world, Strategy::sliding, s.prior, s.setting, seed);
    EXPECT_FALSE(end.locked > fan->length + 1e-12);
  }
}

}  // namespace
}  // namespace windgap::trials
