#include "casefile/problems.h"

#include <gtest/gtest.h>

#include <memory>

namespace windgap::casefile {
namespace {

Place at(const char* origin, int line, int column) {
  return {.origin = std::make_shared<const std::string>(origin), .line = line, .column = column};
}

TEST(Problems, NameFileLineColumnKeyValueAndRange) {
  const Problem problem{.place = at("case.yaml", 4, 9),
                        .key = "mount.nearest",
                        .read = "20",
                        .what = "the unit is missing",
                        .allowed = "1 mm to 5 m",
                        .suggestion = "20 mm or 20 in"};
  EXPECT_EQ(to_text(problem),
            "case.yaml:4:9: mount.nearest: read \"20\": the unit is missing; allowed: 1 mm to 5 m; "
            "did you mean 20 mm or 20 in?");
}

TEST(Problems, NameTheSettingInsteadOfAFile) {
  const Problem problem{
      .place = at("--set fan.bore", 0, 0), .key = "fan.bore", .read = "x", .what = "no number"};
  EXPECT_EQ(to_text(problem), "--set fan.bore: read \"x\": no number");
}

TEST(Problems, ComeOutTogether) {
  Problems problems;
  problems.throw_if_any();
  problems.add({.key = "a", .what = "wrong"});
  problems.add({.key = "b", .what = "missing"});
  try {
    problems.throw_if_any();
    FAIL() << "no error was thrown";
  } catch (const InputError& error) {
    EXPECT_STREQ(error.what(), "a: wrong\nb: missing");
    EXPECT_EQ(error.problems().size(), 2U);
  }
}

TEST(Problems, StayReadableWhenThereAreThousands) {
  Problems problems;
  for (int i = 0; i < 5000; ++i) problems.add({.key = "k", .what = "unknown key"});
  try {
    problems.throw_if_any();
    FAIL() << "no error was thrown";
  } catch (const InputError& error) {
    const std::string text = error.what();
    EXPECT_LT(text.size(), 4000U);
    EXPECT_TRUE(text.ends_with("and 4900 problems more"));
    EXPECT_EQ(error.problems().size(), 5000U);
  }
}

TEST(Problems, KeepControlCharactersFromTheTerminal) {
  EXPECT_EQ(printable("a\x1b[31mb\nc\x7f"), "a [31mb c ");
  EXPECT_EQ(printable("\xc2\x9b"), " ");
  EXPECT_EQ(printable("°µ±"), "°µ±");
}

TEST(Problems, KeepControlCharactersOfAReasonFromTheTerminal) {
  Problem problem;
  problem.key = "mount.nearest";
  problem.what = "unknown unit \"\x19\x1b[31m\"";
  problem.suggestion = "1\n m";
  EXPECT_EQ(to_text(problem), "mount.nearest: unknown unit \"  [31m\"; did you mean 1  m?");
}

TEST(Problems, CutLongValuesBetweenCharacters) {
  std::string text;
  for (int i = 0; i < 200; ++i) text += "µ";
  const auto shown = printable(text);
  EXPECT_EQ(shown.size(), 80 * 2 + 3U);
  EXPECT_TRUE(shown.ends_with("µ…"));
}

}  // namespace
}  // namespace windgap::casefile
