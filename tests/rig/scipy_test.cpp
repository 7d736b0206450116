#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "reference/scipy/bench_json.h"
#include "reference/scipy/spin_up.h"
#include "rig/rig.h"
#include "start/bench.h"
#include "support/published.h"

// The same bench written in NumPy and SciPy from the models' pages (tests/reference/scipy): same
// equations and same tables, so the same answers but for rounding and where an iteration stops.
namespace windgap::reference {
namespace {

constexpr double agreement = 1e-6;

nlohmann::json exported() {
  std::ifstream file(WINDGAP_SOURCE_DIR "/tests/reference/scipy/bench_case.json");
  return nlohmann::json::parse(file);
}

void expect_same(const rig::Delivery& ours, const test::PublishedRow& row) {
  EXPECT_NEAR(ours.airflow, row.at("airflow"), agreement * row.at("airflow")) << row.line;
  EXPECT_NEAR(ours.rotor_speed, row.at("rotor_speed"), agreement * row.at("rotor_speed"))
      << row.line;
}

TEST(RigReference, DeliversWhatScipyDeliversAlongTheBracket) {
  const auto json = exported();
  const auto rig = rig::assemble(parts_of(json.at("parts")),
                                 coefficients_of(json.at("coefficients")),
                                 rig::JetChoice::estimated);
  const auto rows = test::published_rows("../reference/scipy/bench_sweep.csv");
  ASSERT_GT(rows.size(), 50U);
  for (const auto& row : rows) expect_same(rig::deliver(rig, row.at("stand_off")), row);
}

TEST(RigReference, DeliversWhatScipyDeliversForEveryMember) {
  const auto json = exported();
  const auto parts = parts_of(json.at("parts"));
  const auto nominal = coefficients_of(json.at("coefficients"));
  const auto names = json.at("members").at("names").get<std::vector<std::string>>();
  const auto members = json.at("members").at("rows").get<std::vector<std::vector<double>>>();
  const auto rows = test::published_rows("../reference/scipy/bench_ensemble.csv");
  ASSERT_EQ(rows.size(), members.size());
  ASSERT_GT(rows.size(), 50U);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    auto models = nominal;
    for (std::size_t k = 0; k < names.size(); ++k) replace(models, names[k], members[i].at(k));
    const auto rig = rig::assemble(parts, models, rig::JetChoice::estimated);
    expect_same(rig::deliver(rig, rows[i].at("stand_off")), rows[i]);
  }
}

TEST(RigReference, SpinsUpInTimeAsScipySays) {
  const auto json = exported();
  const auto& spin = json.at("spin_up");
  const auto parts = parts_of(json.at("parts"));
  const auto models = coefficients_of(json.at("coefficients"));
  auto rig = rig::assemble(parts, models, rig::JetChoice::estimated);
  rig.engine.inertia = spin.at("inertia_kg_m2");
  start::Prepared start;
  start.film_capacity = spin.at("film_capacity_j_k");
  start.oil_conductance = spin.at("oil_conductance_w_k");
  start.oil_temperature = spin.at("oil_temperature_k");
  start.fan.light_throttle = rig.throttle;
  start::Bench bench(parts, models, rig, start, spin.at("stand_off_m"));
  const auto rows = test::published_rows("../reference/scipy/bench_spin_up.csv");
  std::vector<double> times;
  for (const auto& row : rows) times.push_back(row.at("time"));
  ASSERT_GT(times.size(), 10U);
  const auto ours = spin_up(bench, times, spin.at("tolerance"));
  for (std::size_t i = 1; i < rows.size(); ++i) {
    EXPECT_NEAR(ours.speed[i], rows[i].at("speed"), agreement * rows[i].at("speed")) << times[i];
  }
}

}  // namespace
}  // namespace windgap::reference
