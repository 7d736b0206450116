// Every component that ships must be read, be complete and make sense on a bench.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "casefile/case.h"
#include "folder.h"
#include "rig/rig.h"

namespace windgap::casefile {
namespace {

namespace fs = std::filesystem;

std::vector<std::string> shipped(const std::string& kind) {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(fs::path(WINDGAP_MODELS_DIR) / kind)) {
    names.push_back(kind + "/" + entry.path().filename().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

Case read(const std::string& fan, const std::string& engine, const std::string& pack) {
  const Folder folder;
  std::string text = "fan: { model: " + fan + " }\nengine: { model: " + engine + " }\n";
  if (!pack.empty()) text += "drive: { pack: " + pack + " }\n";
  text += "mount: { nearest: 20 mm, farthest: 600 mm }\n";
  const auto path = folder.write("case.yaml", text);
  ReadOptions options;
  options.installed = WINDGAP_MODELS_DIR;
  return read_case(path, options);
}

/// The shipped pack that a shipped fan's printed cell count asks for.
std::string pack_for(const std::string& fan) {
  std::ifstream file(fs::path(WINDGAP_MODELS_DIR) / fan);
  std::string line;
  std::getline(file, line);
  if (line.find("blower") != std::string::npos) return "";
  for (const std::string cells : {"12", "3", "4", "6", "8"}) {
    if (line.find(", " + cells + " cells") == std::string::npos) continue;
    return "packs/" + cells + (cells == "3" || cells == "4" ? "s-2200.yaml" : "s-5000.yaml");
  }
  ADD_FAILURE() << fan << " does not say its cells";
  return "";
}

TEST(Library, HoldsWhatTheDesignAsksFor) {
  EXPECT_GE(shipped("fans").size(), 12U);
  EXPECT_GE(shipped("engines").size(), 6U);
  EXPECT_GE(shipped("packs").size(), 6U);
}

TEST(Library, EveryFanBlowsOnEveryEngine) {
  for (const auto& fan : shipped("fans")) {
    for (const auto& engine : shipped("engines")) {
      const auto bench = read(fan, engine, pack_for(fan));
      const auto rig = rig::assemble(bench.parts, bench.models.rig, rig::JetChoice::estimated);
      EXPECT_GT(rig.open.exit_velocity, 40.0) << fan;
      EXPECT_LT(rig.open.exit_velocity, 100.0) << fan;
      const auto delivery = rig::deliver(rig, 0.15);
      EXPECT_TRUE(delivery.converged) << fan << " on " << engine;
      EXPECT_GT(delivery.airflow, 0.0);
      EXPECT_TRUE(std::isfinite(delivery.airflow) && std::isfinite(delivery.rotor_speed) &&
                  std::isfinite(delivery.total_pressure));
    }
  }
}

TEST(Library, EveryPackTurnsAFan) {
  for (const auto& pack : shipped("packs")) {
    const auto bench = read("fans/ducted-70.yaml", "engines/garden-46.yaml", pack);
    const auto rig = rig::assemble(bench.parts, bench.models.rig, rig::JetChoice::estimated);
    EXPECT_GT(rig.open.drive.pack_current, 1.0) << pack;
    EXPECT_GT(rig.open.exit_velocity, 20.0) << pack;
  }
}

// Common practice, no source: a fan of this kind draws about 3 kW for a short burst. The middle of
// the shipped range within a factor of two.
TEST(Library, FansOfTheKindDrawSomeKilowatts) {
  for (const auto* const fan : {"fans/ducted-70.yaml", "fans/ducted-80.yaml"}) {
    const auto bench = read(fan, "engines/garden-46.yaml", pack_for(fan));
    const auto rig = rig::assemble(bench.parts, bench.models.rig, rig::JetChoice::estimated);
    const double power = rig.open.drive.pack_current * rig.open.drive.pack_voltage;
    EXPECT_GT(power, 1500.0) << fan;
    EXPECT_LT(power, 6000.0) << fan;
  }
}

TEST(Library, EverythingIsSaidToBeInvented) {
  for (const auto* const kind : {"fans", "engines", "packs"}) {
    for (const auto& name : shipped(kind)) {
      std::ifstream file(fs::path(WINDGAP_MODELS_DIR) / name);
      bool said = false;
      for (std::string line; std::getline(file, line);) {
        said = said || line.starts_with("origin: invented");
      }
      EXPECT_TRUE(said) << name;
    }
  }
}

}  // namespace
}  // namespace windgap::casefile
