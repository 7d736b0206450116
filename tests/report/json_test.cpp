#include "report/json.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "report/outcomes.h"
#include "report/shown.h"

namespace windgap::report {
namespace {

using Json = nlohmann::json;

Json place(const Outcome& outcome) { return Json::parse(place_json(outcome)); }

TEST(ReportJson, PlaceHasEveryAgreedKeyWithItsType) {
  const auto document = place(test::outcome_of("demo"));
  for (const auto* key : {"stand_off_m",
                          "airflow_kg_s",
                          "starting_airflow_kg_s",
                          "margin",
                          "windmill_rpm",
                          "total_pressure_pa",
                          "fan_back_pressure_pa",
                          "running_loss",
                          "edge_m",
                          "slip_m",
                          "wake_zone_end_m",
                          "back_pressure_zone_end_m"}) {
    EXPECT_TRUE(document.at(key).is_number()) << key;
  }
  EXPECT_TRUE(document.at("feasible").is_boolean());
  EXPECT_TRUE(document.at("starting_airflow_from").is_string());
  EXPECT_TRUE(document.at("regimes").is_object());
  EXPECT_TRUE(document.at("warnings").is_array());
  ASSERT_EQ(document.at("slot_m").size(), 2U);
  for (const auto& slot : document.at("slots_m")) EXPECT_EQ(slot.size(), 2U);
  for (const auto& assumed : document.at("assumed")) {
    EXPECT_FALSE(assumed.at("key").get<std::string>().empty());
    EXPECT_FALSE(assumed.at("source").get<std::string>().empty());
  }
}

TEST(ReportJson, ConstraintsComeInTheAgreedOrder) {
  const auto document = place(test::outcome_of("demo"));
  std::vector<std::string> names;
  for (const auto& constraint : document.at("constraints")) {
    names.push_back(constraint.at("name"));
    EXPECT_TRUE(constraint.at("active").is_boolean());
    EXPECT_TRUE(constraint.contains("value") && constraint.contains("limit") &&
                constraint.contains("slack"));
  }
  EXPECT_EQ(names,
            (std::vector<std::string>{"starting_airflow",
                                      "lightoff_speed",
                                      "lightoff_velocity",
                                      "fan_stall",
                                      "drive_current",
                                      "burst_heating",
                                      "running_loss",
                                      "bracket_travel"}));
}

TEST(ReportJson, NumbersAreThoseOfTheAnswer) {
  const auto outcome = test::outcome_of("demo");
  const auto& advice = outcome.answer.advice;
  const auto document = place(outcome);
  EXPECT_EQ(document.at("stand_off_m"), advice.stand_off);
  EXPECT_EQ(document.at("airflow_kg_s"), advice.mount.delivery.airflow);
  EXPECT_EQ(document.at("windmill_rpm"), rpm(advice.mount.delivery.rotor_speed));
  EXPECT_NEAR(document.at("margin").get<double>(),
              advice.mount.delivery.airflow / advice.starting_airflow - 1.0,
              1e-15);
  EXPECT_EQ(document.at("slot_m")[1], document.at("edge_m"));
  EXPECT_NEAR(document.at("edge_m").get<double>() - document.at("slip_m").get<double>(),
              document.at("stand_off_m").get<double>(),
              1e-12);
  EXPECT_NEAR(
      document.at("hole_to_datum_m").get<double>(), advice.stand_off + 0.041 + 0.118, 1e-12);
}

TEST(ReportJson, KnownJetHasNoBounds) {
  const auto regimes = place(test::outcome_of("demo")).at("regimes");
  EXPECT_EQ(regimes.at("advice"), "readings");
  EXPECT_TRUE(regimes.at("nozzle_like").is_null());
  EXPECT_TRUE(regimes.at("propeller_like").is_null());
}

TEST(ReportJson, UnknownJetHasBothBounds) {
  const auto regimes = place(test::outcome_of("too-small")).at("regimes");
  EXPECT_EQ(regimes.at("advice"), "propeller_like");
  for (const auto* bound : {"nozzle_like", "propeller_like", "estimated"}) {
    EXPECT_TRUE(regimes.at(bound).at("feasible").is_boolean()) << bound;
    EXPECT_TRUE(regimes.at(bound).contains("stand_off_m")) << bound;
  }
}

TEST(ReportJson, WithoutAMountItsNumbersAreNullAndTheShortfallIsTold) {
  const auto document = place(test::outcome_of("too-small"));
  EXPECT_FALSE(document.at("feasible").get<bool>());
  for (const auto* key : {"stand_off_m",
                          "slot_m",
                          "airflow_kg_s",
                          "margin",
                          "windmill_rpm",
                          "total_pressure_pa",
                          "running_loss",
                          "edge_m"}) {
    EXPECT_TRUE(document.at(key).is_null()) << key;
  }
  EXPECT_TRUE(document.at("slots_m").empty());
  const auto& shortfall = document.at("shortfall");
  EXPECT_EQ(shortfall.at("constraint"), "starting_airflow");
  EXPECT_LT(shortfall.at("value").get<double>(), shortfall.at("limit").get<double>());
  EXPECT_GT(shortfall.at("thrust_factor").get<double>(), 1.0);
}

TEST(ReportJson, ResistanceHasNoRotor) {
  const auto document = place(test::outcome_of("measured-inches"));
  EXPECT_TRUE(document.at("windmill_rpm").is_null());
  EXPECT_TRUE(document.at("lightoff_rpm").is_null());
  EXPECT_TRUE(document.at("throttle").is_null());
  EXPECT_EQ(document.at("regimes").at("advice"), "stream");
}

TEST(ReportJson, AskedDistanceTakesThePlaceOfTheMount) {
  const auto document = place(test::outcome_of("demo", 0.7));
  EXPECT_EQ(document.at("stand_off_m"), 0.7);
  EXPECT_FALSE(document.at("feasible").get<bool>());
  EXPECT_TRUE(document.at("outside_travel").get<bool>());
  EXPECT_TRUE(document.at("slot_m").is_null());
  EXPECT_TRUE(document.at("airflow_kg_s").is_number());
  EXPECT_FALSE(document.at("slots_m").empty());
  EXPECT_TRUE(document.at("constraints")[0].at("active").get<bool>());
}

TEST(ReportJson, SweepHasEveryAgreedKeyAndBothEnds) {
  const auto outcome = test::outcome_of("too-small");
  const auto& need = outcome.bench.requirement;
  const auto found = survey(outcome.bench, outcome.answer, distances(need, 0.05));
  const auto document = Json::parse(sweep_json(outcome.bench, outcome.answer, found));
  const auto& rows = document.at("rows");
  ASSERT_EQ(rows.size(), found.rows.size());
  EXPECT_EQ(rows.front().at("stand_off_m"), need.nearest);
  EXPECT_EQ(rows.back().at("stand_off_m"), need.farthest);
  for (const auto& row : rows) {
    for (const auto* key : {"airflow_kg_s",
                            "total_pressure_pa",
                            "windmill_rpm",
                            "fan_back_pressure_pa",
                            "running_loss",
                            "airflow_nozzle_like_kg_s",
                            "airflow_propeller_like_kg_s"}) {
      EXPECT_TRUE(row.at(key).is_number()) << key;
    }
    EXPECT_TRUE(row.at("feasible").is_boolean());
  }
}

TEST(ReportJson, SameAnswerSameBytes) {
  EXPECT_EQ(place_json(test::outcome_of("too-small")), place_json(test::outcome_of("too-small")));
}

TEST(ReportJson, CheckTellsWhereAValueStands) {
  const auto document = Json::parse(check_json(test::outcome_of("demo").bench));
  bool found = false;
  for (const auto& given : document.at("given")) {
    if (given.at("key") != "fan.thrust") continue;
    found = true;
    EXPECT_EQ(given.at("place").get<std::string>().find("fans/ducted-70.yaml:"), 0U);
  }
  EXPECT_TRUE(found);
}

}  // namespace
}  // namespace windgap::report
