#include "choice/sizing.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "units/parallel.h"

namespace windgap::choice {
namespace {

constexpr double reach_in_bores = 30.0;
constexpr std::size_t points_of_a_line = 15;

/// The question without an end to the bracket's travel.
placement::Requirement unbounded(placement::Requirement need, double bore) {
  need.farthest = std::max(need.farthest, reach_in_bores * bore);
  return need;
}

/// The pack that carries this fan farthest, among those that fit; else the one it was tried on.
const Choice& farthest_of(const Ranking& ranking, const Choice& tried) {
  const auto* best = &tried;
  for (const auto& choice : ranking.choices) {
    if (choice.fan != tried.fan || choice.fitness != Fitness::fits) continue;
    const bool first = best->fitness != Fitness::fits;
    if (first || choice.placement.stand_off > best->placement.stand_off) best = &choice;
  }
  return *best;
}

/// 0: none.
double reach(const rig::Parts& parts, const Question& question, double bore) {
  const auto answer = placement::answer(parts,
                                        question.models,
                                        unbounded(question.need, bore),
                                        question.limits,
                                        {.extent = placement::Extent::advice},
                                        question.deriving);
  return answer.advice.feasible ? answer.advice.stand_off : 0.0;
}

double bore_of(const ListedFan& listed) {
  const auto* ducted = std::get_if<fan::Fan>(&listed.source);
  return ducted != nullptr ? ducted->bore_diameter
                           : std::get<fan::Stream>(listed.source).exit_diameter;
}

/// The best ranked ducted fan: the family is its own scaled copies.
const Choice* family_of(std::span<const ListedFan> fans, const Ranking& ranking) {
  for (const auto& choice : ranking.choices) {
    if (choice.fitness <= Fitness::flat_pack &&
        std::holds_alternative<fan::Fan>(fans[choice.fan].source)) {
      return &choice;
    }
  }
  return nullptr;
}

rig::Parts for_engine(rig::Parts parts, const ListedEngine& listed) {
  parts.engine = listed.engine;
  parts.start = listed.start;
  if (listed.own) return parts;
  parts.running = {.nozzle_pressure_ratio = parts.running.nozzle_pressure_ratio};
  parts.guard = {};
  return parts;
}

SizingLine line_of(const Question& question,
                   const rig::Parts& family,
                   const ListedEngine& listed,
                   const placement::Range& bores) {
  SizingLine line{.engine = listed.name,
                  .inducer = listed.engine.mouth.throat_diameter,
                  .own = listed.own,
                  .points = {}};
  auto parts = for_engine(family, listed);
  const auto fan = std::get<fan::Fan>(family.source);
  for (std::size_t i = 0; i < points_of_a_line; ++i) {
    const double share = static_cast<double>(i) / static_cast<double>(points_of_a_line - 1);
    const double bore = bores.lower + share * (bores.upper - bores.lower);
    const auto changed = scaled(fan, family.drive, bore / fan.bore_diameter);
    parts.source = changed.fan;
    parts.drive = changed.drive;
    line.points.push_back({.bore = bore, .stand_off = reach(parts, question, bore)});
  }
  return line;
}

}  // namespace

ScaledFan scaled(const fan::Fan& fan, const drive::Drive& drive, double ratio) {
  ScaledFan result{.fan = fan, .drive = drive};
  const double square = ratio * ratio;
  auto& f = result.fan;
  for (double* length : {&f.bore_diameter,
                         &f.hub_diameter,
                         &f.exit_diameter,
                         &f.nozzle_diameter,
                         &f.outer_diameter,
                         &f.length}) {
    *length *= ratio;
  }
  f.mass *= square * ratio;
  for (auto* point : {&f.datasheet, &f.measured}) {
    point->thrust *= square;
    point->current *= square;
    point->electrical_power *= square;
    point->speed /= ratio;
  }
  for (auto& point : f.curve.points) point.flow *= square;
  f.curve.speed /= ratio;
  auto& [pack, leads, controller, motor] = result.drive;
  pack.capacity *= square;
  pack.cell_resistance /= square;
  pack.continuous_current *= square;
  pack.burst_current *= square;
  pack.mass *= square;
  leads.resistance /= square;
  controller.rated_current *= square;
  controller.burst_current *= square;
  controller.current_limit *= square;
  controller.resistance /= square;
  motor.speed_constant /= ratio;
  motor.resistance /= square;
  motor.no_load_current *= square;
  motor.max_current *= square;
  motor.mass *= square * ratio;
  motor.winding_heat_capacity *= square * ratio;
  motor.winding_conductance *= square;
  return result;
}

Thumb fit_line(const std::vector<SizingPoint>& points) {
  constexpr std::size_t fewest = 3;
  Thumb thumb{.fans = points.size()};
  if (points.size() < fewest) return thumb;
  const auto count = static_cast<double>(points.size());
  double mean_x = 0.0;
  double mean_y = 0.0;
  for (const auto& point : points) {
    mean_x += point.bore / count;
    mean_y += point.stand_off / count;
  }
  double square = 0.0;
  double product = 0.0;
  for (const auto& point : points) {
    square += (point.bore - mean_x) * (point.bore - mean_x);
    product += (point.bore - mean_x) * (point.stand_off - mean_y);
  }
  if (!(square > 0.0) || product == 0.0) return thumb;
  thumb.slope = product / square;
  thumb.offset = mean_x - mean_y / thumb.slope;
  double misses = 0.0;
  thumb.worst = 0.0;
  for (const auto& point : points) {
    const double miss = thumb.slope * (point.bore - thumb.offset) - point.stand_off;
    misses += miss * miss;
    thumb.worst = std::max(thumb.worst, std::abs(miss));
  }
  thumb.deviation = std::sqrt(misses / count);
  return thumb;
}

Sizing sizing(const Question& question,
              std::span<const ListedFan> fans,
              std::span<const ListedPack> packs,
              std::span<const ListedEngine> engines,
              const Ranking& ranking,
              const Options& options) {
  const auto limit = limited(options.threads);
  Sizing result;
  placement::Range bores;
  for (const auto& fan : fans) {
    bores.lower = std::fmin(bores.lower, bore_of(fan));
    bores.upper = std::fmax(bores.upper, bore_of(fan));
  }
  for (const auto& tried : ranking.nozzles) {
    const auto& choice = farthest_of(ranking, ranking.choices[tried.choice]);
    result.fans.push_back({.choice = static_cast<std::size_t>(&choice - ranking.choices.data())});
  }
  in_parallel(result.fans.size(), [&](std::size_t i) {
    auto& shown = result.fans[i];
    const auto& choice = ranking.choices[shown.choice];
    const auto parts =
        bench_of(question, fans[choice.fan], choice.pack ? &packs[*choice.pack] : nullptr);
    shown.bore = bore_of(fans[choice.fan]);
    shown.thrust = rig::assemble(parts, question.models, choice.jet).open.thrust;
    shown.stand_off = reach(parts, question, shown.bore);
  });
  std::vector<SizingPoint> by_bore;
  std::vector<SizingPoint> by_root_thrust;
  for (const auto& fan : result.fans) {
    // A measured stream has no bore to buy by.
    const bool ducted = ranking.choices[fan.choice].pack.has_value();
    if (!ducted || !(fan.stand_off > 0.0)) continue;
    by_bore.push_back({.bore = fan.bore, .stand_off = fan.stand_off});
    by_root_thrust.push_back({.bore = std::sqrt(fan.thrust), .stand_off = fan.stand_off});
  }
  result.by_bore = fit_line(by_bore);
  result.by_root_thrust = fit_line(by_root_thrust);
  const auto* const family = family_of(fans, ranking);
  if (family == nullptr || !(bores.upper > bores.lower)) return result;
  result.family = fans[family->fan].name;
  auto listed = fans[family->fan];
  listed.axis_readings.clear();
  listed.readings_heads.clear();
  const auto parts = bench_of(question, listed, &packs[*family->pack]);
  result.lines.resize(engines.size());
  in_parallel(engines.size(), [&](std::size_t i) {
    result.lines[i] = line_of(question, parts, engines[i], bores);
  });
  std::stable_sort(result.lines.begin(), result.lines.end(), [](const auto& a, const auto& b) {
    return a.inducer < b.inducer;
  });
  return result;
}

}  // namespace windgap::choice
