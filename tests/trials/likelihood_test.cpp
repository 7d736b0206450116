#include "trials/likelihood.h"

#include <gtest/gtest.h>

#include <cmath>

#include "casefile/models.h"
#include "support/published.h"
#include "trials/learn.h"

namespace windgap::trials {
namespace {

using placement::Quantity;

/// Coefficients of models/physics/trials.yaml.
Coefficients usual() {
  casefile::Problems problems;
  return casefile::load_models({WINDGAP_MODELS_DIR}, problems, {.trials = true}).trials;
}

/// An ensemble whose logarithms are straight in its normals and in the distance.
struct Straight {
  spread::Plan plan;
  spread::Subject subject;
  placement::Requirement requirement;
  placement::Outlook outlook;
  Coefficients c = usual();

  explicit Straight(std::size_t members) {
    for (const char* name : {"a", "b"}) (void)plan.axis(name, spread::Varies::bench);
    outlook.nodes = {0.05, 0.2, 0.4};
    outlook.normals = spread::normal_points({.count = members, .dimensions = 2, .seed = 1});
    outlook.rigs.resize(members);
    outlook.sound.assign(members, true);
    for (std::size_t q = 0; q < placement::quantity_count; ++q) {
      for (std::size_t n = 0; n < outlook.nodes.size(); ++n) {
        outlook.values[q].emplace_back(members, 0.0);
        outlook.start_effects[q].emplace_back(2, 0.0);
        outlook.nominal[q].push_back(0.0);
      }
    }
  }

  /// value = middle + by_distance s + by_a a + by_b b
  struct Law {
    double middle = 0.0;
    double by_distance = 0.0;
    double by_a = 0.0;
    double by_b = 0.0;
  };
  void set(Quantity quantity, const Law& law) {
    const auto q = static_cast<std::size_t>(quantity);
    for (std::size_t n = 0; n < outlook.nodes.size(); ++n) {
      const double middle = law.middle + law.by_distance * outlook.nodes[n];
      outlook.nominal[q][n] = middle;
      for (std::size_t i = 0; i < outlook.members(); ++i) {
        const auto z = outlook.normals.row(i);
        outlook.values[q][n][i] = middle + law.by_a * z[0] + law.by_b * z[1];
      }
    }
  }

  [[nodiscard]] placement::Survey survey() const {
    return {.plan = plan, .subject = subject, .requirement = requirement};
  }
};

struct Moments {
  double mean_a = 0.0, mean_b = 0.0, sd_a = 0.0, sd_b = 0.0, covariance = 0.0;
};

Moments moments(const placement::Outlook& outlook, const std::vector<double>& weights) {
  Moments m;
  double whole = 0.0;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    whole += weights[i];
    m.mean_a += weights[i] * outlook.normals.row(i)[0];
    m.mean_b += weights[i] * outlook.normals.row(i)[1];
  }
  m.mean_a /= whole;
  m.mean_b /= whole;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    const double a = outlook.normals.row(i)[0] - m.mean_a;
    const double b = outlook.normals.row(i)[1] - m.mean_b;
    m.sd_a += weights[i] * a * a / whole;
    m.sd_b += weights[i] * b * b / whole;
    m.covariance += weights[i] * a * b / whole;
  }
  m.sd_a = std::sqrt(m.sd_a);
  m.sd_b = std::sqrt(m.sd_b);
  return m;
}

// A normal prior and normal readings are conjugate: with prior N(0, 1), slope h and n readings of
// variance v, the posterior is normal with precision 1 + n h^2/v and mean (h/v) sum(y)/precision
// (Gelman et al., Bayesian Data Analysis, section 2.5; from memory).
TEST(Likelihood, NormalReadingsGiveTheConjugatePosterior) {
  Straight straight(65536);
  straight.set(Quantity::speed, {.middle = 5.0, .by_a = 0.1});
  straight.c.freedom = 1e9;
  straight.c.speed_bias = 0.0;
  straight.c.speed_error = 0.05;
  straight.c.distance_error = 0.0;
  std::vector<Attempt> attempts;
  double sum = 0.0;
  for (const double off : {0.08, 0.15, 0.02}) {
    attempts.push_back({.stand_off = 0.2, .kind = Kind::cold, .speed = std::exp(5.0 + off)});
    sum += off;
  }
  const auto survey = straight.survey();
  const Setting setting{.survey = survey, .asked = {.start_scatter = 0.03}, .c = straight.c};
  const auto weights = weigh(straight.outlook,
                             std::vector<double>(straight.outlook.members(), 1.0),
                             evidence_of(attempts, straight.outlook, setting),
                             straight.c);
  const double precision = 1.0 + 3.0 * 0.01 / 0.0025;
  const auto m = moments(straight.outlook, weights);
  EXPECT_NEAR(m.mean_a, 0.1 / 0.0025 * sum / precision, 2e-3);
  EXPECT_NEAR(m.sd_a, 1.0 / std::sqrt(precision), 2e-3);
  EXPECT_NEAR(m.mean_b, 0.0, 5e-3);
}

// The bias that all readings of one quantity share is not averaged away by reading often: the
// posterior of many equal readings is that of one reading with the bias alone.
TEST(Likelihood, ASharedBiasIsNotReadAway) {
  Straight straight(16384);
  straight.set(Quantity::speed, {.middle = 5.0, .by_a = 0.1});
  straight.c.freedom = 1e9;
  straight.c.speed_bias = 0.05;
  straight.c.speed_error = 0.01;
  straight.c.distance_error = 0.0;
  const std::vector<Attempt> attempts(
      400, {.stand_off = 0.2, .kind = Kind::cold, .speed = std::exp(5.1)});
  const auto survey = straight.survey();
  const Setting setting{.survey = survey, .asked = {.start_scatter = 0.03}, .c = straight.c};
  const auto weights = weigh(straight.outlook,
                             std::vector<double>(straight.outlook.members(), 1.0),
                             evidence_of(attempts, straight.outlook, setting),
                             straight.c);
  EXPECT_NEAR(moments(straight.outlook, weights).sd_a,
              1.0 / std::sqrt(1.0 + 0.01 / (0.0025 + 0.0001 / 400.0)),
              5e-3);
}

// tests/reference/scipy/trials_posterior.py integrates the same two-parameter posterior on a dense
// grid. Tolerance: sampling of 65536 Sobol points, of which some 10 000 count.
TEST(Likelihood, PosteriorAgreesWithADenseGridOfSciPy) {
  Straight straight(65536);
  straight.set(Quantity::speed,
               {.middle = std::log(2000.0), .by_distance = -0.8, .by_a = 0.08, .by_b = 0.03});
  straight.set(Quantity::supply, {.middle = 0.5, .by_distance = -1.8, .by_a = 0.08, .by_b = -0.12});
  const std::vector<Attempt> attempts{
      {.stand_off = 0.10, .kind = Kind::cold, .speed = 1990.0},
      {.stand_off = 0.25, .kind = Kind::cold, .speed = 1700.0},
      {.stand_off = 0.15, .kind = Kind::lit, .outcome = Outcome::caught},
      {.stand_off = 0.25, .kind = Kind::lit, .outcome = Outcome::failed, .failure = Failure::hung},
      {.stand_off = 0.22, .kind = Kind::lit, .outcome = Outcome::failed}};
  const auto survey = straight.survey();
  const Setting setting{.survey = survey, .asked = {.start_scatter = 0.03}, .c = straight.c};
  const auto weights = weigh(straight.outlook,
                             std::vector<double>(straight.outlook.members(), 1.0),
                             evidence_of(attempts, straight.outlook, setting),
                             straight.c);
  const auto m = moments(straight.outlook, weights);
  const auto row = test::published_rows("../reference/scipy/trials_posterior.csv").front();
  EXPECT_NEAR(m.mean_a, row.at("mean_a"), 0.01);
  EXPECT_NEAR(m.mean_b, row.at("mean_b"), 0.01);
  EXPECT_NEAR(m.sd_a, row.at("sd_a"), 0.01);
  EXPECT_NEAR(m.sd_b, row.at("sd_b"), 0.01);
  EXPECT_NEAR(m.covariance, row.at("covariance"), 0.01);
}

TEST(Likelihood, OutcomesOfOneAttemptAddUpToOne) {
  const auto c = usual();
  Evidence evidence{.kind = Evidence::Kind::catching, .deviation = 0.03};
  for (const double supply : {-0.2, -0.01, 0.0, 0.05}) {
    double sum = 0.0;
    evidence.outcome = Outcome::caught;
    sum += outcome_probability(evidence, supply, c);
    evidence.outcome = Outcome::failed;
    evidence.failure = Failure::unstated;
    sum += outcome_probability(evidence, supply, c);
    EXPECT_NEAR(sum, 1.0, 1e-12);
  }
}

TEST(Likelihood, AFailureToLightTellsLittleOfTheAir) {
  const auto c = usual();
  Evidence evidence{
      .kind = Evidence::Kind::catching, .deviation = 0.03, .outcome = Outcome::failed};
  const auto odds = [&](Failure failure) {
    evidence.failure = failure;
    return outcome_probability(evidence, -0.1, c) / outcome_probability(evidence, 0.1, c);
  };
  EXPECT_GT(odds(Failure::hung), 10.0 * odds(Failure::no_light));
}

TEST(Likelihood, OneWildReadingDoesNotDragEverything) {
  Straight straight(4096);
  straight.set(Quantity::speed, {.middle = 5.0, .by_a = 0.1});
  std::vector<Attempt> attempts(4, {.stand_off = 0.2, .kind = Kind::cold, .speed = std::exp(5.0)});
  attempts.push_back({.stand_off = 0.2, .kind = Kind::cold, .speed = 2.0 * std::exp(5.0)});
  const auto survey = straight.survey();
  const Setting setting{.survey = survey, .asked = {.start_scatter = 0.03}, .c = straight.c};
  const auto evidence = evidence_of(attempts, straight.outlook, setting);
  const std::vector<double> base(straight.outlook.members(), 1.0);
  const auto weights = weigh(straight.outlook, base, evidence, straight.c);
  // A normal likelihood would move by a fifth of ln 2 / 0.1, 1.4 deviations.
  EXPECT_LT(moments(straight.outlook, weights).mean_a, 0.5);
  const auto agreement = agreements(straight.outlook, base, evidence, straight.c);
  EXPECT_LT(agreement.back().probability, straight.c.surprise);
  EXPECT_GT(agreement.front().probability, 0.2);
}

TEST(Likelihood, AKnownVoltageTakesThePackOutOfTheScatter) {
  Straight straight(512);
  straight.set(Quantity::speed, {.middle = 5.0, .by_a = 0.1});
  straight.set(Quantity::voltage, {.middle = 3.0});
  for (auto& row : straight.outlook.start_effects[static_cast<std::size_t>(Quantity::speed)]) {
    row[1] = 0.05;
  }
  for (auto& row : straight.outlook.start_effects[static_cast<std::size_t>(Quantity::voltage)]) {
    row[1] = 0.04;
  }
  Attempt attempt{.stand_off = 0.2, .kind = Kind::cold, .speed = std::exp(4.9)};
  const auto survey = straight.survey();
  const Setting setting{.survey = survey, .asked = {.start_scatter = 0.03}, .c = straight.c};
  const auto blind = evidence_of({&attempt, 1}, straight.outlook, setting).front();
  attempt.voltage = std::exp(2.92);
  const auto known = evidence_of({&attempt, 1}, straight.outlook, setting).front();
  EXPECT_LT(known.deviation, blind.deviation);
  // A pack 8 % low explains a speed 10 % low.
  EXPECT_NEAR(expected(known, straight.outlook, 0) - expected(blind, straight.outlook, 0),
              -0.08 * 0.05 / 0.04,
              1e-12);
}

}  // namespace
}  // namespace windgap::trials
