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

namespace windgap::casefile {

/// Every coefficient, and what its entry says of it.
struct Models {
  rig::Coefficients rig;
  placement::Coefficients placement;
  spark::Coefficients spark;
  std::vector<CoefficientInfo> infos;
  std::map<std::string, Source> sources;

  /// Why a coefficient has its value: `where (kind, source)`.
  [[nodiscard]] std::string why(std::string_view module, std::string_view key) const;
};

/// Reads models/physics and models/sources.yaml; each file from the first folder that has it.
[[nodiscard]] Models load_models(const std::vector<std::filesystem::path>& folders,
                                 Problems& problems);

}  // namespace windgap::casefile
