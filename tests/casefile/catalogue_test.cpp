#include "casefile/catalogue.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "folder.h"

namespace windgap::casefile {
namespace {

constexpr auto engine_and_mount =
    "engine: { model: engines/garden-46.yaml }\nmount: { nearest: 20 mm, farthest: 400 mm }\n";

struct Listed {
  Case bench;
  Catalogue list;
};

Listed listed(const Folder& folder, const std::string& text) {
  const ReadOptions options{.installed = WINDGAP_MODELS_DIR, .scope = {.choice = true}};
  Listed made{.bench = read_case(folder.write("case.yaml", text), options), .list = {}};
  made.list = catalogue(made.bench, options);
  return made;
}

std::size_t shipped(const std::string& kind) {
  std::size_t count = 0;
  for (const auto& file :
       std::filesystem::directory_iterator(std::filesystem::path(WINDGAP_MODELS_DIR) / kind)) {
    if (file.path().extension() == ".yaml") ++count;
  }
  return count;
}

TEST(Catalogue, HoldsTheShippedLibraryWithoutAMistake) {
  const Folder folder;
  const auto [bench, list] = listed(folder, engine_and_mount);
  EXPECT_EQ(list.fans.size(), shipped("fans"));
  EXPECT_EQ(list.packs.size(), shipped("packs"));
  EXPECT_EQ(list.engines.size(), shipped("engines"));
  EXPECT_TRUE(list.skipped.empty()) << list.skipped.front().reason;
  EXPECT_TRUE(list.engines.front().own);
}

TEST(Catalogue, CaseNeedsNeitherFanNorPackWhereTheyAreChosen) {
  const Folder folder;
  const auto path = folder.write("case.yaml", engine_and_mount);
  const ReadOptions place{.installed = WINDGAP_MODELS_DIR};
  EXPECT_THROW((void)read_case(path, place), InputError);
  const auto [bench, list] = listed(folder, engine_and_mount);
  EXPECT_FALSE(bench.choosing.has_fan);
  for (const auto& value : bench.assumed)
    EXPECT_FALSE(value.key.starts_with("fan.hub")) << value.key;
}

TEST(Catalogue, OwnFanComesFirstAndItsFileOnlyOnce) {
  const Folder folder;
  const auto [bench, list] = listed(
      folder,
      std::string(engine_and_mount) +
          "fan: { model: fans/ducted-64.yaml, axis_readings: [ { at: 300 mm, pressure: 20 mbar } ] "
          "}\ndrive: { pack: packs/6s-3300.yaml }\n");
  ASSERT_TRUE(list.fans.front().own);
  EXPECT_EQ(list.fans.front().axis_readings.size(), 1U);
  EXPECT_EQ(list.fans.front().file, "fans/ducted-64.yaml");
  EXPECT_EQ(std::count_if(list.fans.begin(),
                          list.fans.end(),
                          [](const auto& fan) { return fan.file == "fans/ducted-64.yaml"; }),
            1);
  EXPECT_TRUE(list.packs.front().own);
  // Nothing of the case's own pack is filled in before the pairs are.
  EXPECT_EQ(list.fans.size(), shipped("fans"));
}

TEST(Catalogue, TheCasesFolderHidesTheLibrarysFileOfTheSameName) {
  const Folder folder;
  folder.write("fans/ducted-64.yaml", "name: mine\nbore_diameter: 63 mm\nthrust: 21 N\n");
  const auto [bench, list] = listed(folder, engine_and_mount);
  const auto found = std::find_if(list.fans.begin(), list.fans.end(), [](const auto& fan) {
    return fan.file == "fans/ducted-64.yaml";
  });
  ASSERT_NE(found, list.fans.end());
  EXPECT_EQ(found->name, "mine");
  EXPECT_EQ(list.fans.size(), shipped("fans"));
}

TEST(Catalogue, BrokenFilesAreSkippedWithTheReasonAndTheRestStays) {
  const Folder folder;
  folder.write("fans/no-unit.yaml", "bore_diameter: 64\nthrust: 21 N\n");
  folder.write("fans/odd-key.yaml", "bore_diameter: 64 mm\nthrust: 21 N\nwings: 2\n");
  folder.write("fans/no-yaml.yaml", "{ [\n");
  folder.write("fans/empty.yaml", "");
  folder.write("packs/no-cells.yaml", "capacity: 3300 mAh\n");
  const auto [bench, list] = listed(folder, engine_and_mount);
  EXPECT_EQ(list.skipped.size(), 5U);
  EXPECT_EQ(list.fans.size(), shipped("fans"));
  EXPECT_EQ(list.packs.size(), shipped("packs"));
  for (const auto& skipped : list.skipped) EXPECT_FALSE(skipped.reason.empty()) << skipped.file;
}

TEST(Catalogue, WhatALeadingDotHidesIsNoCandidate) {
  const Folder folder;
  folder.write("fans/.ducted-64.yaml", "bore_diameter: 64 mm\nthrust: 21 N\n");
  const auto [bench, list] = listed(folder, engine_and_mount);
  EXPECT_EQ(list.fans.size(), shipped("fans"));
  EXPECT_TRUE(list.skipped.empty());
}

TEST(Catalogue, WithoutTheLibraryOnlyTheOwnListCounts) {
  const Folder folder;
  const auto [bench, list] = listed(folder,
                                    std::string(engine_and_mount) +
                                        "choose: { library: no, fans: [fans/ducted-64.yaml, "
                                        "fans/ducted-70.yaml], packs: [packs/6s-3300.yaml] }\n");
  EXPECT_EQ(list.fans.size(), 2U);
  EXPECT_EQ(list.packs.size(), 1U);
}

}  // namespace
}  // namespace windgap::casefile
