#include "report/start_cause.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "app/tell_start.h"
#include "casefile/case.h"
#include "support/models.h"

namespace windgap::report {
namespace {

using start::Reason;
using testing::EndsWith;
using testing::HasSubstr;
using testing::Not;

StartStory story_of(const std::vector<std::string>& settings, casefile::StarterKind starter) {
  const Outcome outcome{.bench = casefile::read_case(WINDGAP_SOURCE_DIR "/cases/demo.yaml",
                                                     {.settings = settings,
                                                      .installed = WINDGAP_MODELS_DIR,
                                                      .scope = {.start = true},
                                                      .loaded = &test::case_models()}),
                        .answer = {},
                        .asked = {}};
  return app::tell_start(outcome, starter, 0.25);
}

TEST(StartCause, EveryReasonHasANameASentenceAndWords) {
  std::set<std::string_view> names;
  for (int i = 0; i <= static_cast<int>(Reason::solver_failed); ++i) {
    const auto reason = static_cast<Reason>(i);
    EXPECT_FALSE(start::name(reason).empty()) << i;
    EXPECT_TRUE(names.insert(start::name(reason)).second) << i;
    EXPECT_FALSE(briefly(reason).empty()) << start::name(reason);
    if (reason == Reason::caught) continue;
    EXPECT_THAT(std::string(why_not(reason)), EndsWith(".")) << start::name(reason);
  }
}

// However an attempt ends, with any starter: words that a person can act on, and no number that is
// none.
TEST(StartCause, WhatHelpsFitsEveryEndAndEveryStarter) {
  const std::vector<std::vector<std::string>> benches{
      {}, {"fuel={kind: propane, valve: fixed, flow: 0.4 g/s}"}, {"start.airflow="}};
  for (const auto& settings : benches) {
    for (const auto starter : {casefile::StarterKind::fan, casefile::StarterKind::motor}) {
      auto story = story_of(settings, starter);
      for (int i = 0; i <= static_cast<int>(Reason::solver_failed); ++i) {
        story.run.reason = static_cast<Reason>(i);
        story.run.caught = story.run.reason == Reason::caught;
        const auto help = what_helps(story);
        EXPECT_THAT(help, Not(HasSubstr("nan"))) << start::name(story.run.reason);
        EXPECT_EQ(help.find("  "), std::string::npos) << help;
      }
    }
  }
}

}  // namespace
}  // namespace windgap::report
