#include <gtest/gtest.h>

#include <map>
#include <string>
#include <utility>

#include "cooling/course.h"
#include "cooling/scene.h"
#include "support/bench.h"
#include "support/published.h"

namespace windgap::cooling {
namespace {

// tests/reference/scipy/cooling_network.py: the same equations in a second program, integrated by
// SciPy. Both are exact but for the tables of losses and properties here: 0.1 % of the largest
// temperature above the room.
TEST(CoolingReference, WholeNetworkAgreesWithSciPy) {
  constexpr double tolerance = 0.001 * (930.0 - 284.15);
  const auto n = test::network_of(test::garden_parts());
  std::map<std::pair<double, double>, Course> courses;
  Temperatures start{};
  int compared = 0;
  for (const auto& row : test::published_rows("../reference/scipy/cooling_network.csv")) {
    Temperatures expected{};
    for (std::size_t i = 0; i < part_count; ++i) {
      expected[i] = row.at(std::string(name(static_cast<Part>(i))));
    }
    const std::pair key{row.at("airflow"), row.at("oil")};
    if (row.at("time") == 0.0) {
      start = expected;
      const Pump pump = key.second > 0.0 ? Pump::on : Pump::off;
      const auto condition = key.first > 0.0
                                 ? purging(n,
                                           steady_purge({.airflow = key.first,
                                                         .coldest = n.ambient.temperature,
                                                         .hottest = 1000.0}),
                                           pump)
                                 : standing(n, pump);
      courses[key] = follow(n, condition, start, {.length = 7200.0});
    }
    const auto at = temperatures_at(courses.at(key), row.at("time"));
    for (std::size_t i = 0; i < part_count; ++i) {
      EXPECT_NEAR(at[i], expected[i], tolerance)
          << name(static_cast<Part>(i)) << ", line " << row.line;
      ++compared;
    }
  }
  EXPECT_EQ(compared, 4 * 11 * 7);
}

}  // namespace
}  // namespace windgap::cooling
