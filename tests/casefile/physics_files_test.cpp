#include <gtest/gtest.h>

#include <filesystem>
#include <set>
#include <string>

#include "casefile/models.h"

namespace windgap::casefile {
namespace {

TEST(PhysicsFiles, HoldEveryCoefficientWithItsSource) {
  Problems problems;
  const auto models =
      load_models({WINDGAP_MODELS_DIR}, problems, {.spark = true, .start = true, .cooling = true});
  for (const auto& problem : problems.list()) ADD_FAILURE() << to_text(problem);
  EXPECT_FALSE(models.infos.empty());
  for (const auto& [key, source] : models.sources) {
    EXPECT_FALSE(source.authors.empty() || source.title.empty()) << key;
  }
}

TEST(PhysicsFiles, SayWhyACoefficientHasItsValue) {
  Problems problems;
  const auto models = load_models({WINDGAP_MODELS_DIR}, problems);
  EXPECT_EQ(models.why("jet", "core_length_nozzle"),
            "length of the zone of flow establishment (measured, albertson1950)");
  EXPECT_EQ(models.why("jet", "no_such_key"), "");
}

TEST(PhysicsFiles, AreLookedUpInEachFolderInTurn) {
  Problems problems;
  const auto models = load_models({"/nowhere", WINDGAP_MODELS_DIR}, problems);
  EXPECT_TRUE(problems.empty());
  Problems missing;
  (void)load_models({"/nowhere"}, missing);
  EXPECT_FALSE(missing.empty());
}

}  // namespace
}  // namespace windgap::casefile
