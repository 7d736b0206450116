#include "casefile/models.h"

#include <fmt/format.h>

#include <algorithm>

namespace windgap::casefile {
namespace {

std::string_view word(SourceKind kind) {
  switch (kind) {
    case SourceKind::measured:
      return "measured";
    case SourceKind::digitised:
      return "digitised";
    case SourceKind::derived:
      return "derived";
    case SourceKind::estimated:
      return "estimated";
    case SourceKind::standard:
      return "standard";
    case SourceKind::convention:
      break;
  }
  return "convention";
}

}  // namespace

std::string Models::why(std::string_view module, std::string_view key) const {
  const auto info = std::find_if(infos.begin(), infos.end(), [&](const CoefficientInfo& candidate) {
    return candidate.module == module && candidate.key == key;
  });
  if (info == infos.end()) return "";
  return fmt::format("{} ({}, {})", info->where, word(info->kind), info->source);
}

Models load_models(const std::vector<std::filesystem::path>& folders,
                   Problems& problems,
                   const Scope& scope) {
  CoefficientLoader loader(folders, problems);
  Models models;
  auto& rig = models.rig;
  loader.load_into(rig.bench, "bench");
  loader.load_into(rig.air, "air");
  loader.load_into(rig.drive, "drive");
  loader.load_into(rig.fan, "fan");
  loader.load_into(rig.jet, "jet");
  loader.load_into(rig.capture, "capture");
  loader.load_into(rig.blockage, "blockage");
  engine::visit_files(rig.engine, [&](const std::string& module, auto& coefficients) {
    loader.load_into(coefficients, module);
  });
  loader.load_into(models.placement, "placement");
  loader.load_into(models.spread, "spread");
  if (scope.spark) loader.load_into(models.spark, "spark");
  // Cooling and choosing count a start's purge as the start does.
  if (scope.start || scope.choice || scope.cooling) loader.load_into(models.start.purge, "purge");
  if (scope.start) {
    loader.load_into(models.start, "start");
    loader.load_into(models.fuels, "fuels");
  }
  if (scope.cooling) {
    loader.load_into(models.cooling, "cooling");
    loader.load_into(models.materials, "materials");
  }
  if (scope.trials) loader.load_into(models.trials, "trials");
  if (scope.choice) loader.load_into(models.choice, "choice");
  models.infos = loader.infos();
  models.sources = loader.sources();
  return models;
}

}  // namespace windgap::casefile
