#include "report/choose.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>

#include "choice/scene.h"
#include "report/drill_template.h"
#include "report/shown.h"

namespace windgap::report {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

/// The whole answer for a shipped engine, computed once.
const ChooseOutcome& chosen(const std::string& engine) {
  static std::map<std::string, ChooseOutcome> known;
  const auto found = known.find(engine);
  if (found != known.end()) return found->second;
  const auto& m = test::market(engine);
  ChooseOutcome outcome{
      .bench = m.bench, .catalogue = m.list, .ranking = m.ranking, .sizing = {}, .bracket = {}};
  outcome.sizing =
      choice::sizing(m.question, m.list.fans, m.list.packs, m.list.engines, m.ranking, {});
  if (fits(outcome)) outcome.bracket = bracket_of(outcome, m.question);
  return known.emplace(engine, std::move(outcome)).first->second;
}

TEST(ChooseText, KeepsToAScreenOfEightyColumns) {
  for (const auto* engine : {"shed-34", "garden-46", "field-76"}) {
    std::istringstream lines(choose_text(chosen(engine)));
    for (std::string line; std::getline(lines, line);) EXPECT_LE(width_of(line), 80U) << line;
  }
}

TEST(ChooseText, BeginsWithTheShortList) {
  const auto& outcome = chosen("garden-46");
  const auto text = choose_text(outcome);
  EXPECT_THAT(text, HasSubstr(headline(outcome)));
  EXPECT_LT(text.find("1. "), text.find("Who reaches how far"));
  EXPECT_LT(text.find("Who reaches how far"), text.find("loss: of the running engine"));
  EXPECT_THAT(text, HasSubstr("lithium packs burn"));
  EXPECT_THAT(text, HasSubstr("nobody in the rotors' plane"));
  EXPECT_THAT(text, HasSubstr("Rule of thumb"));
  EXPECT_THAT(text, HasSubstr("(assumed)"));
  EXPECT_THAT(text, Not(HasSubstr("nan")));
}

TEST(ChooseText, SaysWhyAFanIsOnNoRung) {
  const auto text = choose_text(chosen("field-76"));
  EXPECT_THAT(text, HasSubstr("nowhere"));
}

TEST(Ladder, FallsAndHoldsEveryFanThatFitsOnce) {
  const auto& outcome = chosen("garden-46");
  std::size_t on_it = 0;
  double before = 1e9;
  for (const auto& rung : ladder(outcome)) {
    EXPECT_LT(rung.distance, before);
    before = rung.distance;
    on_it += rung.fans.size();
  }
  EXPECT_EQ(on_it + below_the_ladder(outcome).size(), outcome.catalogue.fans.size());
}

TEST(ChooseJson, HoldsTheAgreedKeysBestFirst) {
  const auto document = nlohmann::json::parse(choose_json(chosen("garden-46")));
  ASSERT_TRUE(document.at("feasible"));
  const auto& choices = document.at("choices");
  ASSERT_GT(choices.size(), 20U);
  for (const auto& choice : choices) {
    for (const auto* key : {"fan",
                            "pack",
                            "feasible",
                            "stand_off_m",
                            "margin",
                            "running_loss",
                            "peak_current_a",
                            "controller_a",
                            "starts_per_charge",
                            "reasons"}) {
      EXPECT_TRUE(choice.contains(key)) << key;
    }
    EXPECT_EQ(choice.at("stand_off_m").is_null(), !choice.at("feasible").get<bool>());
    if (!choice.at("feasible")) {
      EXPECT_FALSE(choice.at("reasons").empty());
    }
  }
  EXPECT_TRUE(choices.at(0).at("feasible"));
  EXPECT_GE(choices.at(0).at("reasons").size(), 2U);
  EXPECT_GE(document.at("nozzles").size(), 3U);
}

TEST(ChooseCsv, HasOneRowForEachPairAndAsManyCellsAsNames) {
  const auto& outcome = chosen("garden-46");
  std::istringstream lines(choose_csv(outcome));
  std::string line;
  std::getline(lines, line);
  const auto names = std::count(line.begin(), line.end(), ',');
  std::size_t rows = 0;
  while (std::getline(lines, line)) {
    ++rows;
    bool inside = false;
    long cells = 0;
    for (const char c : line) {
      if (c == '"') inside = !inside;
      if (c == ',' && !inside) ++cells;
    }
    EXPECT_EQ(cells, names) << line;
  }
  EXPECT_EQ(rows, outcome.ranking.choices.size());
}

TEST(ChoosePage, IsWholeAndEscapesWhatItQuotes) {
  auto outcome = chosen("garden-46");
  outcome.bench.title = "<b>bench</b>";
  outcome.catalogue.skipped.push_back({.file = "fans/<x>.yaml", .reason = "a & b"});
  const auto page = choose_page(outcome);
  EXPECT_THAT(page, Not(HasSubstr("<b>bench")));
  EXPECT_THAT(page, HasSubstr("fans/&lt;x&gt;.yaml"));
  EXPECT_THAT(page, HasSubstr("data-sort"));
  EXPECT_THAT(page, HasSubstr("data-plot"));
  EXPECT_THAT(page, HasSubstr("id=\"cautions\""));
  EXPECT_THAT(page, Not(HasSubstr(">nan")));
  EXPECT_THAT(page, Not(HasSubstr("src=\"http")));
}

TEST(SizingPlot, ShowsALineForEachEngineAndEveryFanThatReachesAMount) {
  const auto& outcome = chosen("garden-46");
  const auto plot = nlohmann::json::parse(sizing_plot(outcome));
  std::map<std::string, long> sizes;
  for (const auto& set : plot.at("data")) {
    sizes[set.at("name").get<std::string>()] = static_cast<long>(set.at("values").size());
  }
  EXPECT_EQ(sizes.at("labels"), static_cast<long>(outcome.sizing.lines.size()));
  const auto& fans = outcome.sizing.fans;
  EXPECT_EQ(sizes.at("fans"), std::count_if(fans.begin(), fans.end(), [](const auto& fan) {
              return fan.stand_off > 0.0;
            }));
  EXPECT_GT(sizes.at("own"), 3U);
}

TEST(DrillTemplate, StartsOnARoundLineAheadOfTheSlot) {
  const auto drawing = drill_template(chosen("garden-46"));
  EXPECT_TRUE(drawing.to_holes);
  EXPECT_LT(drawing.zero, drawing.near);
  EXPECT_LE(drawing.near, drawing.drill);
  EXPECT_LE(drawing.drill, drawing.far);
  EXPECT_NEAR(std::remainder(drawing.zero, 0.05), 0.0, 1e-9);
}

TEST(DrillTemplate, LongSlotTakesSeveralSheetsThatOverlap) {
  DrillTemplate drawing{.title = "long",
                        .pair = "a on b",
                        .zero = 0.05,
                        .near = 0.08,
                        .far = 0.68,
                        .drill = 0.66,
                        .bolt = 0.006,
                        .width = 0.0066,
                        .to_holes = true};
  EXPECT_EQ(template_svg(drawing).size(), 3U);
  drawing.far = 0.25;
  drawing.drill = 0.24;
  const auto sheets = template_svg(drawing);
  ASSERT_EQ(sheets.size(), 1U);
  EXPECT_THAT(sheets.front(),
              HasSubstr("width=\"297mm\" height=\"210mm\" viewBox=\"0 0 297 210\""));
  EXPECT_THAT(sheets.front(), HasSubstr("width=\"100.000\""));
  EXPECT_THAT(template_dxf(drawing), HasSubstr("AC1015"));
}

}  // namespace
}  // namespace windgap::report
