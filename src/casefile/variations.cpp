#include "casefile/variations.h"

#include <cmath>
#include <numbers>
#include <string_view>
#include <type_traits>

#include "casefile/fields.h"

namespace windgap::casefile {
namespace {

/// Standard deviation over half width of a uniform distribution.
constexpr double uniform_deviation = std::numbers::inv_sqrt3;

/// A value moved up by one standard deviation.
double moved(double value, const Spread& spread) {
  switch (spread.distribution) {
    case Distribution::normal:
      return value + spread.width;
    case Distribution::lognormal:
      return value * std::exp(spread.width);
    case Distribution::uniform:
      return value + uniform_deviation * spread.width;
    case Distribution::none:
      break;
  }
  return value;
}

void move_coefficient(rig::Coefficients& models, const CoefficientInfo& info) {
  rig::visit_modules(models, [&](std::string_view module, auto& coefficients) {
    if (module != info.module) return;
    visit(coefficients, [&](std::string_view key, auto& field) {
      if (key == info.key) move_up(field, info.spread);
    });
  });
}

bool of_a_rig(rig::Coefficients& models, const CoefficientInfo& info) {
  bool found = false;
  rig::visit_modules(
      models, [&](std::string_view module, auto&) { found = found || module == info.module; });
  return found;
}

}  // namespace

void move_up(double& value, const Spread& spread) { value = moved(value, spread); }

void move_up(Table& table, const Spread& spread) {
  const double factor = moved(1.0, spread);
  for (double& y : table.y) y *= factor;
}

std::vector<placement::Variation> variations(const Case& bench) {
  std::vector<placement::Variation> list;
  auto models = bench.models.rig;
  for (const auto& info : bench.models.infos) {
    if (info.spread.distribution == Distribution::none || !of_a_rig(models, info)) continue;
    list.push_back(
        {.name = info.module + "." + info.key,
         .group = info.spread.group == "none" ? "" : info.spread.group,
         .apply = [info](rig::Parts&, rig::Coefficients& c) { move_coefficient(c, info); }});
  }
  auto parts = bench.parts;
  for (const auto& tolerance : bench.tolerances) {
    if (!(tolerance.half_width > 0.0) || find_field(parts, tolerance.key) == nullptr) continue;
    list.push_back({.name = tolerance.key,
                    .group = "",
                    .apply = [tolerance](rig::Parts& p, rig::Coefficients&) {
                      *find_field(p, tolerance.key) += uniform_deviation * tolerance.half_width;
                    }});
  }
  return list;
}

}  // namespace windgap::casefile
