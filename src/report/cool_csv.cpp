#include <fmt/format.h>

#include <cmath>
#include <string_view>

#include "report/cool.h"
#include "report/shown.h"

namespace windgap::report {
namespace {

void add_rows(std::string& text, std::string_view name, const cooling::Course& course) {
  for (const auto& knot : course.knots) {
    text += fmt::format("{},{}", name, knot.time);
    for (const double temperature : knot.at) text += fmt::format(",{}", temperature);
    text +=
        fmt::format(",{},{},{},{},{},{},{},{},{}\n",
                    knot.bearing,
                    knot.airflow,
                    rpm(knot.rotor_speed),
                    std::isfinite(knot.exit_temperature) ? fmt::format("{}", knot.exit_temperature)
                                                         : std::string(),
                    knot.spent.charge / units::find_unit("Ah", units::Dimension::charge)->factor,
                    knot.spent.air,
                    knot.spent.room_convection,
                    knot.spent.room_radiation,
                    knot.spent.oil);
  }
}

}  // namespace

std::string cool_csv(const Cooldown& cooldown) {
  std::string text = "course,time_s";
  for (std::size_t i = 0; i < cooling::part_count; ++i) {
    text += fmt::format(",{}_k", cooling::name(static_cast<cooling::Part>(i)));
  }
  text +=
      ",bearing_k,airflow_kg_s,rotor_rpm,exit_air_k,charge_ah,heat_to_air_j,"
      "heat_to_room_by_convection_j,heat_to_room_by_radiation_j,heat_to_oil_j\n";
  const auto& plan = cooldown.plan;
  // What is no plan is not called one: the purge that misses least, where it ends at all.
  if (plan.feasible || std::isfinite(plan.purge.seconds)) {
    add_rows(text, plan.feasible ? "plan" : "tried", plan.course);
  }
  add_rows(text, "standing", cooldown.plan.standing);
  return text;
}

}  // namespace windgap::report
