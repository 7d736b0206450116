#include "report/scene.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <regex>
#include <variant>

#include "report/examples.h"
#include "report/shown.h"

namespace windgap::report {
namespace {

using ::testing::HasSubstr;

/// Corners of the first polygon of a class.
std::vector<std::pair<double, double>> corners(const std::string& svg, const std::string& name) {
  std::smatch found;
  const std::regex polygon("class=\"" + name + "\" points=\"([^\"]*)\"");
  if (!std::regex_search(svg, found, polygon)) return {};
  std::vector<std::pair<double, double>> list;
  const std::string points = found[1];
  const std::regex pair("([-0-9.]+),([-0-9.]+)");
  for (auto it = std::sregex_iterator(points.begin(), points.end(), pair);
       it != std::sregex_iterator();
       ++it) {
    list.emplace_back(std::stod((*it)[1]), std::stod((*it)[2]));
  }
  return list;
}

TEST(Scene, IsToScale) {
  const auto& outcome = test::solved("demo");
  const auto svg = side_view(outcome).svg;
  // The farthest of several slots holds the mount and is drawn last.
  ASSERT_EQ(outcome.answer.advice.slots.back().far, outcome.answer.advice.slot.far);
  const auto slot = corners(svg.substr(svg.rfind("class=\"slot\"")), "slot");
  const auto jet = corners(svg, "shear");
  ASSERT_EQ(slot.size(), 4U);
  ASSERT_GT(jet.size(), 4U);
  const auto& advice = outcome.answer.advice;
  constexpr double printed = 0.1;  // coordinates have one decimal
  const double scale = (slot[1].first - slot[0].first) / (advice.slot.far - advice.slot.near);
  const double mouth = jet[jet.size() / 2].first;
  EXPECT_NEAR(mouth - jet.front().first, scale * advice.stand_off, 2.0 * printed);
  EXPECT_NEAR(mouth - slot[0].first, scale * advice.slot.far, 2.0 * printed);
  // Across as along.
  const auto hub = corners(svg.substr(svg.find("class=\"solid\"")), "part");
  ASSERT_EQ(hub.size(), 5U);
  EXPECT_NEAR(hub[0].second - hub[1].second,
              scale * std::get<fan::Fan>(outcome.bench.parts.source).hub_diameter,
              2.0 * printed);
}

TEST(Scene, NamesTheDistancesInTheUnitsOfTheCase) {
  const auto& outcome = test::solved("measured-inches");
  const auto svg = side_view(outcome).svg;
  const Shown shown(units::System::inch);
  EXPECT_THAT(svg, HasSubstr("stand-off " + shown.length(outcome.answer.advice.stand_off)));
  EXPECT_THAT(svg, HasSubstr(" in"));
}

TEST(Scene, NumbersEveryCallout) {
  for (const auto* name : {"demo", "too-small", "measured-inches"}) {
    const auto view = side_view(test::solved(name));
    EXPECT_GE(view.numbered.size(), 6U);
    for (std::size_t i = 1; i <= view.numbered.size(); ++i) {
      EXPECT_THAT(view.svg, HasSubstr(fmt::format(">{}</text>", i)));
    }
  }
}

}  // namespace
}  // namespace windgap::report
