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

/// Up by one standard deviation; a table's ordinates by a share.
void move_up(double& value, const Spread& spread) { value = moved(value, spread); }

void move_up(Table& table, const Spread& spread) {
  const double factor = moved(1.0, spread);
  for (double& y : table.y) y *= factor;
}

template <class Coefficients>
void move_field(Coefficients& coefficients, const CoefficientInfo& info) {
  visit(coefficients, [&](std::string_view key, auto& field) {
    if (key == info.key) move_up(field, info.spread);
  });
}

std::string group_of(const CoefficientInfo& info) {
  return info.spread.group == "none" ? "" : info.spread.group;
}

void move_coefficient(rig::Coefficients& models, const CoefficientInfo& info) {
  rig::visit_modules(models, [&](std::string_view module, auto& coefficients) {
    if (module == info.module) move_field(coefficients, info);
  });
}

bool of_a_rig(rig::Coefficients& models, const CoefficientInfo& info) {
  bool found = false;
  rig::visit_modules(
      models, [&](std::string_view module, auto&) { found = found || module == info.module; });
  return found;
}

}  // namespace

std::vector<placement::Variation> variations(const Case& bench) {
  std::vector<placement::Variation> list;
  auto models = bench.models.rig;
  for (const auto& info : bench.models.infos) {
    if (info.spread.distribution == Distribution::none || !of_a_rig(models, info)) continue;
    list.push_back(
        {.name = info.module + "." + info.key,
         .group = group_of(info),
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

std::vector<cooling::Variation> cooling_variations(const Case& bench) {
  std::vector<cooling::Variation> list;
  for (const auto& info : bench.models.infos) {
    if (info.spread.distribution == Distribution::none) continue;
    const bool of_materials = info.module == "materials";
    if (!of_materials && info.module != "cooling") continue;
    list.push_back({.name = info.module + "." + info.key,
                    .group = group_of(info),
                    .apply = [info, of_materials](cooling::Coefficients& c, cooling::Materials& m) {
                      if (of_materials) {
                        move_field(m, info);
                      } else {
                        move_field(c, info);
                      }
                    }});
  }
  return list;
}

}  // namespace windgap::casefile
