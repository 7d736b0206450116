#include "report/outcome.h"

#include <gtest/gtest.h>

#include <stdexcept>

#include "report/outcomes.h"

namespace windgap::report {
namespace {

TEST(Outcome, DistancesHoldBothEnds) {
  placement::Requirement need;
  need.nearest = 0.020;
  need.farthest = 0.105;
  const auto list = distances(need, 0.010);
  ASSERT_EQ(list.size(), 10U);
  EXPECT_EQ(list.front(), need.nearest);
  EXPECT_EQ(list.back(), need.farthest);
  EXPECT_NEAR(list[8], 0.100, 1e-12);
}

TEST(Outcome, StepThatDividesTheTravelLeavesNoDouble) {
  placement::Requirement need;
  need.nearest = 0.020;
  need.farthest = 0.600;
  const auto list = distances(need, 0.001);
  ASSERT_EQ(list.size(), 581U);
  EXPECT_NEAR(list[579], 0.599, 1e-12);
  EXPECT_EQ(list[580], need.farthest);
}

TEST(Outcome, StepBeyondTheTravelLeavesTheEnds) {
  placement::Requirement need;
  need.nearest = 0.020;
  need.farthest = 0.600;
  EXPECT_EQ(distances(need, 5.0), (std::vector{0.020, 0.600}));
}

TEST(Outcome, StepsWithoutSenseAreCallersErrors) {
  placement::Requirement need;
  need.nearest = 0.020;
  need.farthest = 0.600;
  EXPECT_THROW((void)distances(need, 0.0), std::logic_error);
  EXPECT_THROW((void)distances(need, unset), std::logic_error);
  EXPECT_THROW((void)distances(need, 1e-9), std::logic_error);
}

TEST(Outcome, UsualStepFillsAScreenWithRoundDistances) {
  for (const double farthest : {0.05, 0.21, 0.6, 1.9, 9.0}) {
    placement::Requirement need;
    need.nearest = 0.020;
    need.farthest = farthest;
    const double step = usual_step(need, units::System::metric);
    const auto rows = distances(need, step).size();
    EXPECT_GE(rows, 12U) << farthest;
    EXPECT_LE(rows, 34U) << farthest;
  }
  placement::Requirement need;
  need.nearest = 0.020;
  need.farthest = 0.600;
  EXPECT_NEAR(usual_step(need, units::System::metric), 0.020, 1e-12);
  EXPECT_NEAR(usual_step(need, units::System::inch), 0.0254, 1e-12);
}

TEST(Outcome, SurveyOfAnUnknownJetHoldsBothBounds) {
  const auto outcome = test::outcome_of("too-small");
  ASSERT_FALSE(outcome.answer.jet_known);
  const auto found = survey(outcome.bench, outcome.answer, {0.05, 0.2, 0.4});
  ASSERT_EQ(found.rows.size(), 3U);
  ASSERT_EQ(found.nozzle_like.size(), 3U);
  ASSERT_EQ(found.propeller_like.size(), 3U);
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_EQ(found.rows[i].delivery.airflow, found.propeller_like[i].airflow);
    // Inside the hub's wake more mixing may bring a little more air; a hundredth is allowed for it.
    EXPECT_GE(found.nozzle_like[i].airflow, found.estimated[i].airflow * 0.99);
    EXPECT_GE(found.estimated[i].airflow, found.propeller_like[i].airflow * 0.99);
  }
}

TEST(Outcome, SurveyOfAKnownJetHoldsOneJet) {
  const auto outcome = test::outcome_of("demo");
  const auto found = survey(outcome.bench, outcome.answer, {0.1});
  EXPECT_TRUE(found.nozzle_like.empty());
  EXPECT_EQ(found.rows.size(), 1U);
}

TEST(Outcome, SweepAgreesWithTheMount) {
  const auto outcome = test::outcome_of("demo");
  const auto& advice = outcome.answer.advice;
  ASSERT_TRUE(advice.feasible);
  const auto found = survey(outcome.bench, outcome.answer, {advice.stand_off, advice.edge + 1e-3});
  EXPECT_EQ(found.rows[0].delivery.airflow, advice.mount.delivery.airflow);
  EXPECT_TRUE(found.rows[0].feasible);
  EXPECT_FALSE(found.rows[1].feasible);
  for (const auto& state : advice.constraints) {
    if (!state.active) continue;
    const auto index = static_cast<std::size_t>(state.constraint);
    EXPECT_LT(found.rows[1].constraints[index].slack, 0.0) << placement::name(state.constraint);
  }
}

TEST(Outcome, PlacesAreWrittenWithoutTheWayToThem) {
  const casefile::Place place{
      .origin = std::make_shared<const std::string>("/somewhere/else/models/fans/big.yaml"),
      .line = 3,
      .column = 7};
  EXPECT_EQ(casefile::to_text(brief(place)), "fans/big.yaml:3:7");
  const casefile::Place setting{.origin = std::make_shared<const std::string>("--set fan.mass")};
  EXPECT_EQ(casefile::to_text(brief(setting)), "--set fan.mass");
}

}  // namespace
}  // namespace windgap::report
