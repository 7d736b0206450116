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

TEST(ChooseText, SaysWhatAirflowIsNeededAndWhoSaysSo) {
  auto outcome = chosen("garden-46");
  EXPECT_THAT(what_is_needed(outcome), HasSubstr("24 g/s, as the case gives it"));
  EXPECT_THAT(choose_text(outcome), HasSubstr("Starting airflow: 24 g/s"));
  outcome.ranking.choices.clear();
  EXPECT_EQ(what_is_needed(outcome), "");
}

TEST(ChooseText, SaysWhyAFanIsOnNoRung) {
  const auto text = choose_text(chosen("field-76"));
  EXPECT_THAT(text, HasSubstr("nowhere"));
}

TEST(ChooseText, StartsAreNeverRoundedUp) {
  EXPECT_EQ(starts_words(1.96), "1.9");
  EXPECT_EQ(starts_words(2.0), "2.0");
  EXPECT_EQ(starts_words(0.999, 2), "0.99");
}

TEST(ChooseText, SaysWhyThereIsNothingToChooseFrom) {
  auto outcome = chosen("garden-46");
  outcome.ranking = {};
  outcome.catalogue.fans.clear();
  outcome.catalogue.skipped = {{.file = "fans/x.yaml", .reason = "no bore"}};
  EXPECT_THAT(headline(outcome), HasSubstr("no fan is usable, 1 skipped, the first fans/x.yaml"));
  outcome.catalogue.skipped.clear();
  EXPECT_THAT(headline(outcome), HasSubstr("no fan is listed"));
}

TEST(Ladder, SaysThatTheControllerKeepsTheStrongerPacksAway) {
  const auto& m = test::market("garden-46");
  auto outcome = chosen("garden-46");
  auto question = m.question;
  question.parts.drive.controller.most_cells = 4;
  outcome.ranking = choice::rank(question, m.list.fans, m.list.packs, {});
  const auto below = below_the_ladder(outcome);
  const auto line = std::find_if(below.begin(), below.end(), [](const std::string& words) {
    return words.starts_with("ducted-70 ");
  });
  ASSERT_NE(line, below.end());
  EXPECT_THAT(*line, HasSubstr("on a controller for at most 4"));
}

TEST(Ladder, SaysThatTheBracketDoesNotComeNearEnough) {
  const auto& m = test::market("garden-46");
  auto outcome = chosen("garden-46");
  auto question = m.question;
  question.need.nearest = 0.24;
  outcome.bench.requirement.nearest = question.need.nearest;
  outcome.ranking = choice::rank(question, m.list.fans, m.list.packs, {});
  EXPECT_THAT(below_the_ladder(outcome),
              ::testing::Contains(HasSubstr("the bracket comes no nearer than 240 mm")));
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
  const auto body = page.substr(page.find("<body>"), page.find("<script>\n") - page.find("<body>"));
  EXPECT_THAT(body, Not(HasSubstr("`")));
  EXPECT_THAT(body, HasSubstr("<small>dominated by "));
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

TEST(SizingPlot, FansNamesKeepClearOfEachOther) {
  const auto plot = nlohmann::json::parse(sizing_plot(chosen("garden-46")));
  const auto upper = [&](std::size_t axis) {
    const auto& domain = plot.at("scales").at(axis).at("domain");
    return std::pair{domain.at(0).get<double>(), domain.at(1).get<double>()};
  };
  const auto [left, right] = upper(0);
  const auto [bottom, top] = upper(1);
  const double width = plot.at("width");
  const double height = plot.at("height");
  // Ten points of a serif face are about five across; the line is ten high.
  struct Name {
    double from;
    double to;
    double base;
  };
  std::vector<Name> names;
  for (const auto& set : plot.at("data")) {
    if (set.at("name") != "fans") continue;
    for (const auto& fan : set.at("values")) {
      const double x =
          width * (fan.at("x").get<double>() - left) / (right - left) + fan.at("dx").get<double>();
      const double y = height * (1.0 - (fan.at("y").get<double>() - bottom) / (top - bottom)) +
                       fan.at("dy").get<double>();
      const double length = 5.0 * static_cast<double>(fan.at("s").get<std::string>().size());
      names.push_back(fan.at("align") == "right" ? Name{x - length, x, y} : Name{x, x + length, y});
    }
  }
  ASSERT_GT(names.size(), 8U);
  for (std::size_t i = 0; i < names.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      const bool level = std::abs(names[i].base - names[k].base) < 10.0;
      EXPECT_FALSE(level && names[i].from < names[k].to && names[k].from < names[i].to)
          << i << " " << k;
    }
  }
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
  EXPECT_THAT(sheets.front(), HasSubstr("@page { size: 297mm 210mm; margin: 0; }"));
  EXPECT_THAT(sheets.front(), HasSubstr("width=\"100.000\""));
  EXPECT_THAT(template_dxf(drawing), HasSubstr("AC1015"));
  // The dimension style names the text style by its handle: no stray number of the machine's.
  const auto text = template_dxf(drawing);
  const auto value_after = [&](const std::string& code, std::size_t from) {
    const auto at = text.find("\n" + code + "\n", from) + code.size() + 2;
    return text.substr(at, text.find('\n', at) - at);
  };
  const auto style = text.find("\nSTYLE\n", text.find("\nSTYLE\n") + 1);
  EXPECT_EQ(value_after("340", text.find("\nDIMSTYLE\n")), value_after("  5", style));
}

}  // namespace
}  // namespace windgap::report
