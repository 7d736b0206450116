#include "report/text.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>

#include "report/cautions.h"
#include "report/outcomes.h"
#include "report/shown.h"
#include "report/verdict.h"
#include "report/weight.h"

namespace windgap::report {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

/// The text with its line breaks undone.
std::string flowed(const std::string& text) {
  std::string flat;
  for (const auto& line : lines_of(text)) {
    const auto start = line.find_first_not_of(' ');
    if (start == std::string::npos) continue;
    if (!flat.empty()) flat += ' ';
    flat += line.substr(start);
  }
  return flat;
}

TEST(ReportText, PlaceFitsOneScreen) {
  for (const auto* name : {"demo", "measured-inches", "too-small"}) {
    const auto lines = lines_of(place_text(test::outcome_of(name)));
    EXPECT_LE(lines.size(), 40U) << name;
    for (const auto& line : lines) EXPECT_LE(width_of(line), 80U) << line;
  }
}

TEST(ReportText, SweepAndCheckFitTheWidth) {
  for (const auto* name : {"demo", "measured-inches", "too-small"}) {
    const auto outcome = test::outcome_of(name);
    const auto& bench = outcome.bench;
    const auto found = survey(bench, outcome.answer, distances(bench.requirement, 0.02));
    for (const auto& line : lines_of(sweep_text(bench, outcome.answer, found))) {
      EXPECT_LE(width_of(line), 80U) << line;
    }
    for (const auto& line : lines_of(check_text(bench))) EXPECT_LE(width_of(line), 80U) << line;
  }
}

TEST(ReportText, AnswerComesFirst) {
  const auto outcome = test::outcome_of("demo");
  const auto lines = lines_of(place_text(outcome));
  ASSERT_GE(lines.size(), 3U);
  EXPECT_EQ(lines[0], "Orchard bench");
  EXPECT_EQ(lines[2],
            "Drill at " + Shown(units::System::metric).length(outcome.answer.advice.stand_off));
}

TEST(ReportText, HoleIsGivenWhereTheCaseSaysHow) {
  const auto outcome = test::outcome_of("demo");
  const Shown shown(units::System::metric);
  const double stand_off = outcome.answer.advice.stand_off;
  EXPECT_THAT(flowed(place_text(outcome)),
              HasSubstr(fmt::format("{} from the bench datum, {} from the mouth",
                                    shown.length(stand_off + 0.041 + 0.118),
                                    shown.length(stand_off + 0.041))));
  EXPECT_THAT(place_text(test::outcome_of("measured-inches")), Not(HasSubstr("datum")));
}

TEST(ReportText, EveryNearerSlotIsTold) {
  const auto outcome = test::outcome_of("demo");
  const auto text = flowed(place_text(outcome));
  const Shown shown(units::System::metric);
  for (const auto& slot : outcome.answer.advice.slots) {
    EXPECT_THAT(text, HasSubstr(shown.length(slot.near)));
    EXPECT_THAT(text, HasSubstr(shown.length(slot.far)));
  }
}

TEST(ReportText, InchCasesReadInInches) {
  const auto text = place_text(test::outcome_of("measured-inches"));
  EXPECT_THAT(text, HasSubstr(" in\n"));
  EXPECT_THAT(text, HasSubstr("lb/min"));
  EXPECT_THAT(text, Not(HasSubstr(" mm")));
  EXPECT_THAT(text, Not(HasSubstr("mbar")));
}

TEST(ReportText, NoNumberIsUndefined) {
  for (const auto* name : {"demo", "measured-inches", "too-small"}) {
    for (const auto& text : {place_text(test::outcome_of(name)),
                             place_text(test::outcome_of(name, 0.05)),
                             check_text(test::outcome_of(name).bench)}) {
      for (const auto* word : {"nan", "n/a", " inf"}) EXPECT_THAT(text, Not(HasSubstr(word)));
    }
  }
}

TEST(ReportText, InfeasibleNamesConstraintLackAndCure) {
  const auto outcome = test::outcome_of("too-small");
  const auto text = flowed(place_text(outcome));
  const auto& shortfall = *outcome.answer.advice.shortfall;
  EXPECT_THAT(text, HasSubstr("No distance works"));
  EXPECT_THAT(text, HasSubstr("the delivered airflow is"));
  EXPECT_THAT(text, HasSubstr("What would mend it:"));
  EXPECT_THAT(text,
              HasSubstr(fmt::format("A fan of {:.3g} times the thrust would do.",
                                    shortfall.thrust_factor)));
}

TEST(ReportText, UnknownJetShowsBothBoundsAndLabelsTheFarther) {
  auto outcome = test::outcome_of("demo");
  auto parts = outcome.bench.parts;
  parts.axis_readings.clear();
  const auto& bench = outcome.bench;
  outcome.answer =
      placement::answer(parts, bench.models.rig, bench.requirement, bench.models.placement, {});
  ASSERT_FALSE(outcome.answer.jet_known);
  const Shown shown(units::System::metric);
  const auto text = flowed(place_text(outcome));
  EXPECT_THAT(text,
              HasSubstr(fmt::format("A nozzle-like jet would allow {}: only after measuring.",
                                    shown.length(outcome.answer.nozzle_like->stand_off))));
  EXPECT_THAT(text,
              HasSubstr(fmt::format("A propeller-like jet leaves {}.",
                                    shown.length(outcome.answer.propeller_like->stand_off))));
  EXPECT_LE(outcome.answer.advice.stand_off, outcome.answer.nozzle_like->stand_off);
}

TEST(ReportText, AskedDistanceOutsideTheTravelIsFlagged) {
  const auto text = flowed(place_text(test::outcome_of("demo", 0.7)));
  EXPECT_THAT(text, HasSubstr("700 mm does not work"));
  EXPECT_THAT(text, HasSubstr("The bracket does not go there: it travels from 20 mm to 600 mm."));
  EXPECT_THAT(flowed(place_text(test::outcome_of("demo", 0.25))), HasSubstr("250 mm works"));
}

TEST(ReportText, EveryCautionIsOnTheScreen) {
  const auto text = flowed(place_text(test::outcome_of("demo")));
  for (const auto& caution : cautions()) EXPECT_THAT(text, HasSubstr(std::string(caution.brief)));
}

TEST(ReportText, ActiveConstraintIsMarked) {
  const auto lines = constraint_lines(test::outcome_of("demo"));
  int active = 0;
  for (const auto& line : lines) {
    EXPECT_TRUE(line.holds) << line.label;
    if (line.active) ++active;
  }
  EXPECT_EQ(active, 1);
}

TEST(ReportText, CsvHoldsTheRowsInFullPrecision) {
  const auto outcome = test::outcome_of("measured-inches");
  const auto found =
      survey(outcome.bench, outcome.answer, distances(outcome.bench.requirement, 0.1));
  const auto lines = lines_of(sweep_csv(found));
  ASSERT_EQ(lines.size(), found.rows.size() + 1);
  EXPECT_EQ(lines[0].find("stand_off_m,airflow_kg_s,total_pressure_pa,windmill_rpm,"), 0U);
  for (std::size_t i = 0; i < found.rows.size(); ++i) {
    const auto& row = found.rows[i];
    const auto start =
        fmt::format("{},{},{},,", row.stand_off, row.delivery.airflow, row.delivery.total_pressure);
    EXPECT_EQ(lines[i + 1].find(start), 0U) << lines[i + 1];
  }
}

TEST(ReportText, HeaviestAssumptionsComeFirst) {
  const auto weighed = weigh_assumptions(test::outcome_of("too-small"));
  ASSERT_FALSE(weighed.empty());
  EXPECT_GT(weighed.front().effect, 0.0);
  for (std::size_t i = 1; i < weighed.size(); ++i) {
    if (std::isfinite(weighed[i].effect)) {
      EXPECT_LE(weighed[i].effect, weighed[i - 1].effect);
    }
  }
  for (const auto& one : weighed) {
    if (one.value.key == "drive.throttle") {
      EXPECT_TRUE(std::isnan(one.effect));
    }
  }
}

}  // namespace
}  // namespace windgap::report
