#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "casefile/coefficients.h"
#include "choice/coefficients.h"
#include "cooling/coefficients.h"
#include "cooling/materials.h"
#include "placement/placement.h"
#include "rig/parts.h"
#include "spark/coefficients.h"
#include "spread/coefficients.h"
#include "start/coefficients.h"
#include "start/fuel.h"
#include "trials/coefficients.h"

namespace windgap::casefile {

/// Which models an answer needs beside those of the bench; reading the others would only take time.
struct Scope {
  bool spark = false;
  bool spark_alone = false;   ///< a case that states the gas at every plug need not hold a rig
  bool spark_needed = false;  ///< a case without an igniter is refused for that alone
  bool start = false;
  bool cooling = false;
  bool trials = false;
  bool choice = false;
  bool own_fan = false;  ///< with choice: a case without fan or pack is refused even so
};

/// Every coefficient, and what its entry says of it.
struct Models {
  rig::Coefficients rig;
  placement::Coefficients placement;
  spread::Coefficients spread;
  spark::Coefficients spark;  ///< unset unless asked for, like all below
  start::Coefficients start;
  start::FuelCoefficients fuels;
  cooling::Coefficients cooling;
  cooling::Materials materials;
  trials::Coefficients trials;
  choice::Coefficients choice;
  std::vector<CoefficientInfo> infos;
  std::map<std::string, Source> sources;

  /// Why a coefficient has its value: `where (kind, source)`.
  [[nodiscard]] std::string why(std::string_view module, std::string_view key) const;
};

/// Reads models/physics and models/sources.yaml; each file from the first folder that has it.
[[nodiscard]] Models load_models(const std::vector<std::filesystem::path>& folders,
                                 Problems& problems,
                                 const Scope& scope = {});

}  // namespace windgap::casefile
