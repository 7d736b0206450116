#include "report/plots.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "report/plot_frame.h"
#include "report/shown.h"
#include "report/verdict.h"

namespace windgap::report {
namespace {

using units::Dimension;

/// What a plot against the distance shows of a delivery.
using Quantity = double (*)(const rig::Delivery&);

std::vector<Point> against_distance(const Survey& survey,
                                    const std::vector<rig::Delivery>& deliveries,
                                    Quantity quantity) {
  std::vector<Point> points;
  for (std::size_t i = 0; i < deliveries.size(); ++i) {
    const double value = quantity(deliveries[i]);
    if (std::isfinite(value)) points.push_back({survey.rows[i].stand_off, value});
  }
  return points;
}

/// The jet of the answer, or both bounds and what the fan's build suggests.
std::vector<Line> jet_lines(const Survey& survey, const Outcome& outcome, Quantity quantity) {
  std::vector<Line> lines;
  if (outcome.answer.jet_known) {
    Line line{.name = "this jet", .colour = blue, .width = 2.2, .points = {}};
    for (const auto& row : survey.rows) {
      line.points.push_back({row.stand_off, quantity(row.delivery)});
    }
    lines.push_back(line);
    return lines;
  }
  const auto add = [&](std::string name,
                       std::string colour,
                       std::vector<int> dash,
                       const std::vector<rig::Delivery>& deliveries) {
    lines.push_back({.name = std::move(name),
                     .colour = std::move(colour),
                     .dash = std::move(dash),
                     .points = against_distance(survey, deliveries, quantity)});
  };
  add("nozzle-like", blue, {1, 0}, survey.nozzle_like);
  add("propeller-like", brown, {7, 3}, survey.propeller_like);
  add("as built", ink, {2, 2}, survey.estimated);
  return lines;
}

/// Plots against the distance share everything but the quantity.
class DistancePlots {
 public:
  DistancePlots(const Outcome& outcome, const Survey& survey)
      : outcome_(outcome), survey_(survey), system_(outcome.bench.system) {}

  [[nodiscard]] Plot of(const std::string& title,
                        std::string_view axis_name,
                        Dimension dimension,
                        std::vector<Line> lines,
                        const std::string& level_name,
                        double level) const {
    Frame frame;
    frame.left = survey_.rows.front().stand_off;
    frame.right = survey_.rows.back().stand_off;
    frame.lines = std::move(lines);
    const double most = greatest(frame.lines);
    add_level(frame, level_name, level);
    // A limit far above everything would squeeze the lines flat.
    constexpr double roomy = 4.0;
    frame.top = std::isfinite(level) && level < roomy * most ? std::max(most, level) : most;
    if (frame.top < level) frame.lines.pop_back();
    if (!(frame.top > 0.0)) frame.top = units::display_unit(0.0, dimension, system_).factor;
    frame.x = axis("distance from fan to mouth", frame.right, Dimension::length, system_);
    frame.y = axis(axis_name, frame.top, dimension, system_);
    frame.slots = outcome_.answer.advice.slots;
    const auto& row = shown_row(outcome_);
    frame.mark = Point{row.stand_off, at_mount(dimension, row)};
    Plot plot{.title = title, .caption = {}, .spec = {}};
    if (std::isfinite(level) && frame.top < level) {
      plot.caption = fmt::format("The limit, {}, lies above the plot.",
                                 units::format(level, dimension, system_));
    }
    plot.spec = spec(frame, fmt::format("{} against the distance from fan to mouth", title));
    return plot;
  }

 private:
  static double at_mount(Dimension dimension, const placement::Row& row) {
    switch (dimension) {
      case Dimension::mass_flow:
        return row.delivery.airflow;
      case Dimension::angular_speed:
        return row.delivery.rotor_speed;
      case Dimension::pressure:
        return row.delivery.back_pressure;
      default:
        return row.obstruction.running_loss;
    }
  }

  const Outcome& outcome_;
  const Survey& survey_;
  units::System system_;
};

Plot fan_plot(const Outcome& outcome) {
  constexpr int steps = 60;
  constexpr double farthest = 1.25;  // of the static flow
  const auto& fan = outcome.answer.rig.fan;
  const auto& operating = shown_row(outcome).fan;
  const double velocity = fan.exit_velocity_per_speed * operating.speed;
  const double static_flow = fan.density * velocity * fan.stream_area;
  const double static_pressure = 0.5 * fan.density * velocity * velocity;
  const auto at = [&](double flow) {
    return Point{flow * static_flow, fan::pressure_at(fan.curve, flow).value * static_pressure};
  };
  Line stalled{.name = "stalled, rough", .colour = brown, .dash = {2, 3}, .points = {}};
  Line sound{.name = "fan at this speed", .colour = blue, .width = 2.2, .points = {}};
  const double stall = fan.curve.stall_flow;
  for (int i = 0; i <= steps; ++i) {
    const double share = static_cast<double>(i) / steps;
    stalled.points.push_back(at(share * stall));
    const auto point = at(stall + share * (farthest - stall));
    if (point.y >= 0.0) sound.points.push_back(point);
  }
  Frame frame;
  frame.left = 0.0;
  frame.right = sound.points.back().x;
  frame.mark = at(operating.mass_flow / static_flow);
  frame.lines = {sound, stalled};
  frame.top = greatest(frame.lines);
  frame.x =
      axis("airflow through the fan", frame.right, Dimension::mass_flow, outcome.bench.system);
  frame.y = axis("pressure rise", frame.top, Dimension::pressure, outcome.bench.system);
  const Shown shown(outcome.bench.system);
  return {.title = "the fan on its curve",
          .caption = fmt::format("Total pressure rise at {}; the ring is where it works at the "
                                 "distance shown.",
                                 shown.rotation(operating.speed)),
          .spec = spec(frame, "pressure rise of the fan against its airflow")};
}

}  // namespace

std::vector<Plot> plots(const Outcome& outcome, const Survey& survey) {
  std::vector<Plot> list;
  const DistancePlots against(outcome, survey);
  const auto& advice = outcome.answer.advice;
  const auto lines = [&](Quantity quantity) { return jet_lines(survey, outcome, quantity); };
  list.push_back(against.of("airflow",
                            "airflow",
                            Dimension::mass_flow,
                            lines([](const rig::Delivery& d) { return d.airflow; }),
                            "needed with margin",
                            required_airflow(outcome)));
  if (shown_row(outcome).delivery.settling != rig::Settling::no_rotor) {
    list.push_back(against.of("rotor speed",
                              "rotor speed",
                              Dimension::angular_speed,
                              lines([](const rig::Delivery& d) { return d.rotor_speed; }),
                              "needed to light",
                              advice.lightoff_speed));
  }
  list.push_back(against.of("back-pressure on the fan",
                            "back-pressure",
                            Dimension::pressure,
                            lines([](const rig::Delivery& d) { return d.back_pressure; }),
                            "",
                            unset));
  Line loss{.name = "parked fan", .colour = blue, .width = 2.2, .points = {}};
  for (const auto& row : survey.rows) {
    loss.points.push_back({row.stand_off, row.obstruction.running_loss});
  }
  list.push_back(against.of("loss of the running engine",
                            "loss",
                            Dimension::ratio,
                            {loss},
                            "allowed",
                            outcome.bench.requirement.allowed_running_loss));
  if (!outcome.answer.rig.fan.holds_flow) list.push_back(fan_plot(outcome));
  return list;
}

}  // namespace windgap::report
