#include "placement/chance.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "casefile/uncertainty.h"

namespace windgap::placement {
namespace {

/// The invented yardstick bench and everything uncertain about it.
struct Scene {
  casefile::Case bench;
  casefile::Uncertainty known;

  Scene()
      : bench(casefile::read_case(WINDGAP_SOURCE_DIR "/cases/yardstick.yaml",
                                  {.models = {WINDGAP_MODELS_DIR}})),
        known(casefile::uncertainty(bench,
                                    answer(bench.parts,
                                           bench.models.rig,
                                           bench.requirement,
                                           bench.models.placement,
                                           {.scan_points = 41}))) {}

  [[nodiscard]] Survey survey(std::size_t members, unsigned threads = 0) const {
    return {.plan = known.plan,
            .subject = known.subject,
            .requirement = bench.requirement,
            .members = members,
            .seed = 1,
            .threads = threads};
  }
};

const Scene& scene() {
  static const Scene once;
  return once;
}

std::vector<double> equal(const Outlook& outlook) {
  return std::vector<double>(outlook.members(), 1.0);
}

TEST(Outlook, BetweenNodesMembersAreInterpolatedWell) {
  const auto survey = scene().survey(64);
  const auto outlook = look_out(survey, usual_nodes(survey.requirement));
  double worst = 0.0;
  double squares = 0.0;
  int count = 0;
  for (std::size_t i = 0; i < outlook.members(); ++i) {
    for (const double s : {0.033, 0.075, 0.14, 0.23, 0.33, 0.47}) {
      const auto exact = seen(outlook.rigs[i], look(outlook.rigs[i], s, survey.requirement));
      const double between = outlook.at(Quantity::airflow, outlook.between(s), i);
      const double miss = between - exact[static_cast<std::size_t>(Quantity::airflow)];
      worst = std::max(worst, std::abs(miss));
      squares += miss * miss;
      ++count;
    }
  }
  // A hundredth of airflow is a third of what attempts scatter by. The worst is where the core of
  // a member's jet ends between two nodes.
  EXPECT_LT(std::sqrt(squares / count), 0.01);
  EXPECT_LT(worst, 0.03);
}

TEST(Outlook, NodesAreTheExactModel) {
  const auto survey = scene().survey(8);
  auto outlook = look_out(survey, usual_nodes(survey.requirement));
  add_node(outlook, survey, 0.2345);
  for (std::size_t i = 0; i < outlook.members(); ++i) {
    const auto exact = seen(outlook.rigs[i], look(outlook.rigs[i], 0.2345, survey.requirement));
    EXPECT_DOUBLE_EQ(outlook.at(Quantity::supply, outlook.between(0.2345), i), exact[0]);
  }
}

TEST(Outlook, SameNumbersWhateverTheThreads) {
  const auto nodes = usual_nodes(scene().bench.requirement);
  const auto one = look_out(scene().survey(96, 1), nodes);
  const auto two = look_out(scene().survey(96, 2), nodes);
  EXPECT_EQ(one.values, two.values);
  EXPECT_EQ(one.start_effects, two.start_effects);
}

// The chance of a start by the normal scatter of attempts against one draw of everything at once,
// counted: two ways to the same probability, within four standard errors of the count.
TEST(Chance, AgreesWithDrawingBenchAndStartTogether) {
  constexpr std::size_t draws = 2000;
  const auto survey = scene().survey(1024);
  const auto outlook = look_out(survey, usual_nodes(survey.requirement));
  const auto& asked = scene().known.asked;
  spread::Maker maker(survey.plan, survey.subject);
  std::mt19937_64 random(17);
  std::normal_distribution<double> normal;
  for (const double s : {0.12, 0.3}) {
    std::size_t caught = 0;
    std::size_t made = 0;
    for (std::size_t i = 0; i < draws; ++i) {
      std::vector<double> z(survey.plan.axes.size());
      for (double& one : z) one = normal(random);
      try {
        const auto rig = maker.make(z);
        const auto all = seen(rig, look(rig, s, survey.requirement));
        if (all[0] + asked.start_scatter * normal(random) >= 0.0) ++caught;
        ++made;
      } catch (const std::logic_error&) {
        // No bench, as in the ensemble.
      }
    }
    const double counted = static_cast<double>(caught) / static_cast<double>(made);
    const double error = std::sqrt(counted * (1.0 - counted) / static_cast<double>(made));
    EXPECT_NEAR(prospect(outlook, equal(outlook), s, asked).catches, counted, 4.0 * error + 0.005)
        << "at " << s;
  }
}

TEST(Chance, TheEdgeLeavesTheAskedShareOfBenchesReliable) {
  const auto survey = scene().survey(1024);
  auto outlook = look_out(survey, usual_nodes(survey.requirement));
  Assurance asked{.reliability = 0.9, .confidence = 0.6, .start_scatter = 0.03};
  const auto chance = place_reliably(outlook, equal(outlook), survey, asked);
  ASSERT_TRUE(chance.feasible);
  const double scatter = attempt_scatter(outlook, chance.edge, asked);
  std::size_t reliable = 0;
  for (const auto& rig : outlook.rigs) {
    const auto all = seen(rig, look(rig, chance.edge, survey.requirement));
    if (reliable_slack(all[0], scatter, asked) >= 0.0) ++reliable;
  }
  EXPECT_NEAR(static_cast<double>(reliable) / 1024.0, 0.6, 2.0 / 1024.0);
}

TEST(Chance, AskingForMoreBringsTheMountNearer) {
  const auto survey = scene().survey(512);
  auto outlook = look_out(survey, usual_nodes(survey.requirement));
  const auto edge = [&](double reliability, double confidence) {
    return place_reliably(
               outlook,
               equal(outlook),
               survey,
               {.reliability = reliability, .confidence = confidence, .start_scatter = 0.03})
        .edge;
  };
  EXPECT_GT(edge(0.6, 0.6), edge(0.95, 0.6));
  EXPECT_GT(edge(0.6, 0.5), edge(0.6, 0.7));
}

TEST(Chance, SharesOfTheVarianceDoNotExceedTheWhole) {
  const auto survey = scene().survey(1024);
  auto outlook = look_out(survey, usual_nodes(survey.requirement));
  const auto chance =
      place_reliably(outlook,
                     equal(outlook),
                     survey,
                     {.reliability = 0.9, .confidence = 0.6, .start_scatter = 0.03});
  double sum = 0.0;
  for (const auto& share : chance.shares) {
    EXPECT_GE(share.share, 0.0);
    sum += share.share;
  }
  // Of independent axes the linear shares add up to one at most; sampling adds a little.
  EXPECT_GT(sum, 0.5);
  EXPECT_LT(sum, 1.1);
}

TEST(Chance, ReachesAndSlacksTellTheSameEdge) {
  const auto survey = scene().survey(1024);
  auto outlook = look_out(survey, usual_nodes(survey.requirement));
  const Assurance asked{.reliability = 0.9, .confidence = 0.6, .start_scatter = 0.03};
  const auto chance = place_reliably(outlook, equal(outlook), survey, asked);
  const auto reach = reaches(outlook, survey.requirement, asked);
  EXPECT_NEAR(
      reached(reach, equal(outlook), asked.confidence, descending(reach)), chance.edge, 1e-3);
}

}  // namespace
}  // namespace windgap::placement
