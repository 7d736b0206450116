#include "report/shown.h"

#include <gtest/gtest.h>

#include <numbers>

namespace windgap::report {
namespace {

TEST(Shown, UnitsFollowTheSystem) {
  EXPECT_EQ(Shown(units::System::metric).airflow(0.0264), "26.4 g/s");
  EXPECT_EQ(Shown(units::System::inch).length(0.0254), "1 in");
}

TEST(Shown, NextToNothingIsNothing) {
  const Shown shown(units::System::metric);
  EXPECT_EQ(shown.pressure(5.8e-5), "0 mbar");
  EXPECT_EQ(shown.share(-3e-12), "0 %");
  EXPECT_EQ(shown.share(1.2e-4), "0.012 %");
}

TEST(Shown, RevolutionsPerMinute) { EXPECT_NEAR(rpm(2.0 * std::numbers::pi), 60.0, 1e-12); }

TEST(Shown, WrappedLinesKeepTheWidthAndEveryWord) {
  const std::string text = "one two  three four \u00b5five six";
  EXPECT_EQ(wrapped(text, 2, 12), "  one two\n  three four\n  \u00b5five six\n");
  EXPECT_EQ(wrapped("", 2, 12), "");
  EXPECT_EQ(wrapped("unbreakable", 0, 4), "unbreakable\n");
}

TEST(Shown, TableAlignsByCharactersNotBytes) {
  TextTable table({Align::left, Align::right}, 1);
  table.add({"a", "1 \u00b0C"});
  table.add({"bcd", "10 \u00b0C"});
  EXPECT_EQ(table.text(), " a     1 \u00b0C\n bcd  10 \u00b0C\n");
}

TEST(Shown, TableLeavesNoSpacesAtLineEnds) {
  TextTable table({Align::left, Align::left});
  table.add({"a", ""});
  table.add({"b", "long"});
  EXPECT_EQ(table.text(), "a\nb  long\n");
}

}  // namespace
}  // namespace windgap::report
