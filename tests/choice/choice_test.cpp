#include "choice/choice.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "choice/scene.h"

namespace windgap::choice {
namespace {

using test::market;

double bore(const test::Market& m, const Choice& choice) {
  const auto* ducted = std::get_if<fan::Fan>(&m.list.fans[choice.fan].source);
  return ducted != nullptr ? ducted->bore_diameter
                           : std::get<fan::Stream>(m.list.fans[choice.fan].source).exit_diameter;
}

/// The short way to the advice alone takes no other turn than the whole answer.
void compare_with_placement(const test::Market& m, std::size_t& with, std::size_t& without) {
  for (const auto& choice : m.ranking.choices) {
    if (choice.fitness > Fitness::flat_pack) continue;
    const auto parts = bench_of(
        m.question, m.list.fans[choice.fan], choice.pack ? &m.list.packs[*choice.pack] : nullptr);
    const auto answer =
        placement::answer(parts, m.question.models, m.question.need, m.question.limits, {});
    EXPECT_EQ(answer.choice, choice.jet);
    ASSERT_EQ(answer.advice.feasible, choice.placement.feasible);
    EXPECT_EQ(answer.advice.mount.delivery.airflow, choice.placement.mount.delivery.airflow);
    if (answer.advice.feasible) {
      EXPECT_EQ(answer.advice.stand_off, choice.placement.stand_off);
      EXPECT_EQ(answer.advice.edge, choice.placement.edge);
    } else {
      EXPECT_EQ(answer.advice.shortfall->constraint, choice.placement.shortfall->constraint);
      EXPECT_EQ(answer.advice.shortfall->value, choice.placement.shortfall->value);
    }
    ++(answer.advice.feasible ? with : without);
  }
}

TEST(Choice, MountsAreThoseOfPlacement) {
  std::size_t with = 0;
  std::size_t without = 0;
  for (const auto* engine : {"shed-34", "garden-46", "field-76"}) {
    compare_with_placement(market(engine), with, without);
  }
  EXPECT_GT(with, 50U);
  EXPECT_GT(without, 50U);
}

TEST(Choice, SameRankingWhateverTheThreads) {
  const auto& m = market("garden-46");
  const auto again = rank(m.question, m.list.fans, m.list.packs, {.threads = 1});
  ASSERT_EQ(again.choices.size(), m.ranking.choices.size());
  for (std::size_t i = 0; i < again.choices.size(); ++i) {
    EXPECT_EQ(again.choices[i].fan, m.ranking.choices[i].fan);
    EXPECT_EQ(again.choices[i].pack, m.ranking.choices[i].pack);
    if (again.choices[i].fitness == Fitness::fits) {
      EXPECT_EQ(again.choices[i].placement.stand_off, m.ranking.choices[i].placement.stand_off);
    }
  }
  ASSERT_EQ(again.nozzles.size(), m.ranking.nozzles.size());
  for (std::size_t i = 0; i < again.nozzles.size(); ++i) {
    EXPECT_EQ(again.nozzles[i].nozzle.helps, m.ranking.nozzles[i].nozzle.helps);
    if (std::isfinite(again.nozzles[i].nozzle.stand_off)) {
      EXPECT_EQ(again.nozzles[i].nozzle.stand_off, m.ranking.nozzles[i].nozzle.stand_off);
    }
  }
}

TEST(Choice, ClearOnesComeFirstByPowerAndTheOthersByDistance) {
  for (const auto* engine : {"shed-34", "garden-46", "field-76"}) {
    const auto& choices = market(engine).ranking.choices;
    for (std::size_t i = 1; i < choices.size(); ++i) {
      const auto& a = choices[i - 1];
      const auto& b = choices[i];
      EXPECT_LE(a.fitness, b.fitness);
      if (b.fitness != Fitness::fits) continue;
      EXPECT_GE(a.clear, b.clear);
      if (a.clear && b.clear && a.pack && b.pack) {
        EXPECT_LE(a.power, b.power);
      }
      if (!a.clear && !b.clear) {
        EXPECT_GE(a.placement.stand_off, b.placement.stand_off - 1e-4);
      }
    }
  }
}

TEST(Choice, ClearMeansWhatItSays) {
  const auto& m = market("garden-46");
  for (const auto& choice : m.ranking.choices) {
    if (!choice.clear) continue;
    EXPECT_LE(choice.placement.mount.obstruction.running_loss, m.question.rules.loss_unseen);
    EXPECT_GE(choice.placement.stand_off, 1.5 * choice.clear_stand_off - 1e-9);
  }
}

TEST(Choice, DominatedOnesAreBeatenInNothingTheyOffer) {
  const auto& m = market("garden-46");
  std::size_t dominated = 0;
  for (const auto& choice : m.ranking.choices) {
    if (!choice.dominated_by) continue;
    ++dominated;
    const auto& other = m.ranking.choices[*choice.dominated_by];
    EXPECT_GE(other.placement.stand_off, choice.placement.stand_off - 1e-4);
    EXPECT_TRUE(other.pack && choice.pack);
    EXPECT_LE(other.power, choice.power);
    EXPECT_LE(other.mass, choice.mass);
    EXPECT_GE(other.spending.starts, choice.spending.starts);
  }
  EXPECT_GT(dominated, 0U);
}

TEST(Choice, WrongPairsAreRefusedWithoutAMount) {
  const auto& m = market("garden-46");
  std::size_t refused = 0;
  for (const auto& choice : m.ranking.choices) {
    if (choice.fitness != Fitness::wrong_pair) continue;
    ++refused;
    EXPECT_FALSE(choice.wrong.empty());
    EXPECT_TRUE(std::isnan(choice.placement.stand_off));
  }
  EXPECT_GT(refused, 0U);
}

TEST(Choice, ControllerOfTheBenchRefusesTooManyCells) {
  const auto& m = market("garden-46");
  auto question = m.question;
  question.parts.drive.controller.most_cells = 4;
  for (std::size_t pack = 0; pack < m.list.packs.size(); ++pack) {
    if (m.list.packs[pack].pack.cells <= 4) continue;
    for (std::size_t fan = 0; fan < m.list.fans.size(); ++fan) {
      if (std::holds_alternative<fan::Stream>(m.list.fans[fan].source)) continue;
      const auto choice = judge(question, m.list.fans, m.list.packs, fan, pack);
      ASSERT_EQ(choice.fitness, Fitness::wrong_pair);
      EXPECT_EQ(choice.wrong.front().mismatch, drive::Mismatch::too_many_cells);
    }
  }
}

TEST(Choice, EveryPairAppearsOnceAndStreamsWithoutPack) {
  const auto& m = market("garden-46");
  std::set<std::pair<std::size_t, std::size_t>> seen;
  for (const auto& choice : m.ranking.choices) {
    const bool stream = std::holds_alternative<fan::Stream>(m.list.fans[choice.fan].source);
    EXPECT_EQ(stream, !choice.pack);
    EXPECT_TRUE(seen.insert({choice.fan, choice.pack.value_or(999)}).second);
  }
}

TEST(Choice, SmallEngineTakesASmallFanAndABigOneABigFan) {
  std::vector<double> bores;
  std::vector<double> powers;
  for (const auto* engine : {"shed-34", "garden-46", "field-76"}) {
    const auto& m = market(engine);
    ASSERT_EQ(m.ranking.choices.front().fitness, Fitness::fits) << engine;
    for (const auto& choice : m.ranking.choices) {
      if (!choice.pack) continue;
      bores.push_back(bore(m, choice));
      powers.push_back(choice.power);
      break;
    }
  }
  EXPECT_LT(bores[0], bores[1]);
  EXPECT_LT(bores[1], bores[2]);
  EXPECT_LT(powers[0], powers[1]);
  EXPECT_LT(powers[1], powers[2]);
}

TEST(Choice, ShortListHoldsDifferentFansWithTheirBounds) {
  const auto& m = market("garden-46");
  ASSERT_EQ(m.ranking.picks.size(), 3U);
  std::set<std::size_t> fans;
  for (const auto& pick : m.ranking.picks) {
    const auto& choice = m.ranking.choices[pick.choice];
    EXPECT_TRUE(fans.insert(choice.fan).second);
    EXPECT_EQ(pick.answer.advice.stand_off, choice.placement.stand_off);
  }
  EXPECT_EQ(m.ranking.picks.front().choice, 0U);
}

TEST(Choice, UnfitOnesSayFromWhereTheyWouldStart) {
  const auto& m = market("field-76");
  std::size_t inside = 0;
  for (const auto& choice : m.ranking.choices) {
    if (choice.fitness != Fitness::no_mount || !std::isfinite(choice.inside)) continue;
    ++inside;
    EXPECT_GT(choice.loss_there, 0.0);
    // Either the loss there is not allowed, or the bracket does not come that near.
    EXPECT_TRUE(choice.loss_there > m.question.need.allowed_running_loss ||
                choice.inside < m.question.need.nearest);
  }
  RecordProperty("fans_that_start_only_inside", static_cast<int>(inside));
}

TEST(Choice, EveryPairThatFitsPaysForItsCoolingAndIsUnfitBelowOneStart) {
  const auto& m = market("garden-46");
  constexpr double charge = 7200.0;
  Options options;
  options.cooldown = [](const rig::Parts&, const rig::Rig&, double) { return charge; };
  const auto ranking = rank(m.question, m.list.fans, m.list.packs, options);
  std::size_t paid = 0;
  std::size_t flat = 0;
  for (const auto& choice : ranking.choices) {
    const auto& spending = choice.spending;
    if (!choice.pack || choice.fitness > Fitness::flat_pack) continue;
    if (choice.fitness == Fitness::no_mount) {
      EXPECT_EQ(spending.cooldown_charge, 0.0);
      continue;
    }
    EXPECT_EQ(spending.cooldown_charge, charge);
    const double spent = spending.purge_charge + spending.start_charge + charge;
    EXPECT_NEAR(spending.starts * spent, spending.usable_charge, 1e-9 * spending.usable_charge);
    EXPECT_EQ(choice.fitness == Fitness::flat_pack, spending.usable_charge < spent);
    ++(choice.fitness == Fitness::fits ? paid : flat);
  }
  EXPECT_GT(paid, 0U);
  EXPECT_GT(flat, 0U);
}

TEST(Choice, FanThatCannotCoolIsNotHeldToBeatOneThatCan) {
  const auto& m = market("garden-46");
  const auto& first = m.ranking.choices.front();
  Options options;
  options.cooldown = [&](const rig::Parts& parts, const rig::Rig&, double) {
    return parts.drive.pack.capacity == m.list.packs[*first.pack].pack.capacity ? unset : 300.0;
  };
  const auto ranking = rank(m.question, m.list.fans, m.list.packs, options);
  std::size_t cannot = 0;
  for (const auto& choice : ranking.choices) {
    if (choice.fitness != Fitness::fits || !choice.pack) continue;
    if (!choice.spending.cools) ++cannot;
    if (!choice.dominated_by || !choice.spending.cools) continue;
    EXPECT_TRUE(ranking.choices[*choice.dominated_by].spending.cools);
  }
  EXPECT_GT(cannot, 0U);
}

TEST(Choice, ShortListHoldsNothingDominated) {
  for (const auto* engine : {"shed-34", "garden-46", "field-76"}) {
    const auto& ranking = market(engine).ranking;
    for (const auto& pick : ranking.picks) {
      EXPECT_FALSE(ranking.choices[pick.choice].dominated_by) << engine;
    }
    for (const auto& pick : ranking.picks) {
      EXPECT_TRUE(std::any_of(ranking.nozzles.begin(), ranking.nozzles.end(), [&](const auto& n) {
        return n.choice == pick.choice;
      }));
    }
  }
}

TEST(Choice, StopsWhenTheCallerSaysSo) {
  const auto& m = market("garden-46");
  std::size_t calls = 0;
  Options options;
  options.progress = [&](std::size_t, std::size_t) {
    ++calls;
    return calls < 5;
  };
  const auto ranking = rank(m.question, m.list.fans, m.list.packs, options);
  EXPECT_TRUE(ranking.stopped);
  EXPECT_TRUE(ranking.choices.empty());
  EXPECT_LT(calls, m.ranking.choices.size() / 2);
}

TEST(Choice, NothingToChooseFromIsAnEmptyRanking) {
  const auto& m = market("garden-46");
  const auto ranking = rank(m.question, {}, {}, {});
  EXPECT_TRUE(ranking.choices.empty());
  EXPECT_FALSE(ranking.stopped);
}

}  // namespace
}  // namespace windgap::choice
