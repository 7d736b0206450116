#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "casefile/coefficients.h"
#include "placement/placement.h"
#include "rig/parts.h"
#include "spark/coefficients.h"
#include "start/coefficients.h"
#include "start/fuel.h"

namespace windgap::casefile {

/// Which models an answer needs; reading the files of the others would only take time.
enum class Scope { bench, bench_and_spark };

/// Every coefficient, and what its entry says of it.
struct Models {
  rig::Coefficients rig;
  placement::Coefficients placement;
  spark::Coefficients spark;  ///< unset unless asked for
  start::Coefficients start;
  start::FuelCoefficients fuels;
  std::vector<CoefficientInfo> infos;
  std::map<std::string, Source> sources;

  /// Why a coefficient has its value: `where (kind, source)`.
  [[nodiscard]] std::string why(std::string_view module, std::string_view key) const;
};

/// Reads models/physics and models/sources.yaml; each file from the first folder that has it.
[[nodiscard]] Models load_models(const std::vector<std::filesystem::path>& folders,
                                 Problems& problems,
                                 Scope scope = Scope::bench);

}  // namespace windgap::casefile
