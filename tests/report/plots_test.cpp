#include "report/plots.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "report/examples.h"

namespace windgap::report {
namespace {

using nlohmann::json;

json spec_of(const std::vector<Plot>& list, const std::string& title) {
  for (const auto& plot : list) {
    if (plot.title == title) return json::parse(plot.spec);
  }
  return {};
}

std::set<std::string> names(const json& spec) {
  std::set<std::string> found;
  for (const auto& point : spec.at("data").at(0).at("values")) found.insert(point.at("s"));
  return found;
}

TEST(Plots, ShowTheSurveyInTheUnitsOfTheCase) {
  const auto& survey = test::surveyed("demo");
  const auto spec = spec_of(plots(test::solved("demo"), survey), "airflow");
  const auto& points = spec.at("data").at(0).at("values");
  std::size_t i = 0;
  for (const auto& point : points) {
    if (point.at("s") != "this jet") continue;
    EXPECT_NEAR(point.at("x").get<double>(), 1e3 * survey.rows.at(i).stand_off, 1e-9);
    EXPECT_NEAR(point.at("y").get<double>(), 1e3 * survey.rows.at(i).delivery.airflow, 1e-9);
    ++i;
  }
  EXPECT_EQ(i, survey.rows.size());
  EXPECT_EQ(spec.at("axes").at(1).at("title"), "airflow (g/s)");
}

TEST(Plots, ShowBothBoundsOfAnUnmeasuredJet) {
  const auto& outcome = test::solved("too-small");
  ASSERT_FALSE(outcome.answer.jet_known);
  const auto spec = spec_of(plots(outcome, test::surveyed("too-small")), "airflow");
  EXPECT_THAT(names(spec), ::testing::IsSupersetOf({"nozzle-like", "propeller-like"}));
}

TEST(Plots, KeepTheWorkingPointOnTheFansCurve) {
  const auto& outcome = test::solved("demo");
  const auto spec = spec_of(plots(outcome, test::surveyed("demo")), "the fan on its curve");
  const auto& ring = spec.at("marks").back().at("encode").at("enter");
  const double x = ring.at("x").at("value");
  const double y = ring.at("y").at("value");
  EXPECT_NEAR(x, 1e3 * shown_row(outcome).fan.mass_flow, 1e-9);
  double nearest = INFINITY;
  for (const auto& point : spec.at("data").at(0).at("values")) {
    nearest = std::min(
        nearest,
        std::hypot(point.at("x").get<double>() / x - 1.0, point.at("y").get<double>() / y - 1.0));
  }
  EXPECT_LT(nearest, 0.02);
}

TEST(Plots, LeaveOutWhatDoesNotApply) {
  const auto list = plots(test::solved("measured-inches"), test::surveyed("measured-inches"));
  EXPECT_TRUE(spec_of(list, "rotor speed").is_null());
  EXPECT_TRUE(spec_of(list, "the fan on its curve").is_null());
  EXPECT_EQ(spec_of(list, "airflow").at("axes").at(0).at("title"),
            "distance from fan to mouth (in)");
}

}  // namespace
}  // namespace windgap::report
