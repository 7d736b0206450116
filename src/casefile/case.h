#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "casefile/attempt.h"
#include "casefile/cool.h"
#include "casefile/findings.h"
#include "casefile/igniters.h"
#include "casefile/models.h"
#include "casefile/models_dir.h"
#include "engine/calibration.h"
#include "placement/placement.h"
#include "rig/parts.h"
#include "units/format.h"

namespace windgap::casefile {

/// From the model's stand-off to what a person measures on the bench; both may be unset.
struct Drilling {
  double holes_to_exit = unset;         ///< bracket holes to the exit plane, towards the mouth [m]
  double mouth_to_bench_datum = unset;  ///< mouth plane to the bench's datum, away from the fan [m]
};

/// What a case says of choosing a fan.
struct Choosing {
  bool with_library = true;                 ///< fans and packs of the models folders are candidates
  std::vector<std::string> fans;            ///< files of the user's own list
  std::vector<std::string> packs;           ///< the same
  double bracket_height = unset;            ///< foot to fan axis [m]
  double bolt = unset;                      ///< of the bracket, diameter [m]
  bool has_fan = false;                     ///< the case itself describes a fan
  bool has_pack = false;                    ///< the same of a pack
  std::string fan_file;                     ///< as the case names it; empty: described inline
  std::string pack_file;                    ///< the same
  std::string engine_file;                  ///< the same
  std::string pack_name;                    ///< as its file says
  std::variant<fan::Fan, fan::Stream> fan;  ///< as described, nothing filled in
  drive::Drive drive;                       ///< the same
  fan::Rotation engine_rotation = fan::Rotation::unknown;
  start::Purge purge;  ///< before ignition, as described
};

/// A case as it was understood, complete and free of contradictions.
struct Case {
  std::filesystem::path path;
  std::string title;
  units::System system = units::System::metric;
  std::string fan_name;     ///< as its file says; empty if it does not
  std::string engine_name;  ///< the same
  rig::Parts parts;         ///< with every fallback filled in; ready for rig::assemble
  placement::Requirement requirement;
  Drilling drilling;
  Cool cool;
  Choosing choosing;
  std::optional<engine::Calibrated> calibration;  ///< from engine.measured
  std::vector<Igniter> igniters;                  ///< none unless the scope holds the spark
  bool rig_is_open = false;                       ///< only what the igniters need was completed
  std::optional<spark::Fuel> lit_fuel;  ///< what the engine is lit on, where stated or a start is
                                        ///< asked for
  std::optional<Attempt> attempt;       ///< read if asked for or needed; none for a resistance
  Models models;
  std::vector<GivenValue> given;      ///< in reading order
  std::vector<AssumedValue> assumed;  ///< every default used
  std::vector<Tolerance> tolerances;  ///< keys that find_field knows or knew to be no field
  std::vector<std::string> warnings;
  std::vector<File> files;  ///< every file read, the case first
  std::map<std::string, std::vector<std::string>, std::less<>> accepted;  ///< keys, by map
};

struct ReadOptions {
  std::vector<std::string> settings = {};          ///< of `--set`, in order
  std::vector<std::filesystem::path> models = {};  ///< of `--models`, in order
  std::filesystem::path installed = installed_models();
  Scope scope = {};
  const Models* loaded = nullptr;  ///< read before, with all that the scope asks for; else read now
};

/// What deriving the starting airflow needs; nullptr where the case gives a number of its own.
[[nodiscard]] inline const start::Deriving* deriving(const Case& bench) {
  return bench.attempt && bench.attempt->derives_need ? &bench.attempt->given : nullptr;
}

/// Reads a case, its components and the coefficients, checks all of it and fills what is open.
/// @throws InputError with every problem found.
[[nodiscard]] Case read_case(const std::filesystem::path& path, const ReadOptions& options = {});

}  // namespace windgap::casefile
