#include "casefile/reader.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

namespace windgap::casefile {
namespace {

using units::Dimension;

constexpr Measure bore{.dimension = Dimension::length, .least = 0.001, .most = 2.0};
constexpr Measure share{.dimension = Dimension::ratio, .least = 0.0, .most = 1.0};

class ReaderTest : public testing::Test {
 protected:
  Reader reader(const std::string& text) {
    findings_ = {};
    root_ = parse_document({.name = "case.yaml", .text = text}, findings_.problems).value();
    return {&root_, "", root_.place, findings_};
  }
  std::string problems() const {
    std::string text;
    for (const auto& problem : findings_.problems.list()) text += to_text(problem) + "\n";
    return text;
  }

  Node root_;
  Findings findings_;
};

TEST_F(ReaderTest, GivesValuesInSi) {
  auto r = reader("bore: 2.5 in\n");
  EXPECT_DOUBLE_EQ(r.required("bore", bore), 0.0635);
  EXPECT_EQ(problems(), "");
  EXPECT_TRUE(findings_.tolerances.empty());
}

TEST_F(ReaderTest, SaysWhereWhatAndTheAllowedRangeInThePersonsUnit) {
  auto r = reader("fan:\n  bore: 90 in\n").section("fan");
  EXPECT_TRUE(std::isnan(r.required("bore", bore)));
  EXPECT_EQ(problems(),
            "case.yaml:2:9: fan.bore: read \"90 in\": the value is too large; allowed: 0.03937 in "
            "to 78.74 in\n");
}

TEST_F(ReaderTest, AcceptsTheEndsOfTheRangeInEveryUnit) {
  auto r = reader("a: 0.03937007874015748 in\nb: 1 mm\nc: 2 m\nd: 100 %\n");
  EXPECT_GT(r.required("a", bore), 0.0);
  EXPECT_EQ(r.required("b", bore), 0.001);
  EXPECT_EQ(r.required("c", bore), 2.0);
  EXPECT_EQ(r.required("d", share), 1.0);
  EXPECT_EQ(problems(), "");
}

TEST_F(ReaderTest, SaysWhatUnitIsWanted) {
  auto r = reader("bore: 64\n");
  EXPECT_TRUE(std::isnan(r.optional("bore", bore)));
  EXPECT_EQ(problems(),
            "case.yaml:1:7: bore: read \"64\": the unit is missing; allowed: a length with its "
            "unit, such as 46 mm or 1.8 in, from 1 mm to 2000 mm; did you mean 64 mm or 64 in?\n");
}

TEST_F(ReaderTest, RefusesListsAndMapsInPlaceOfAValue) {
  auto r = reader("a: [1 mm]\nb: {c: 1 mm}\n");
  (void)r.optional("a", bore);
  (void)r.optional("b", bore);
  EXPECT_NE(problems().find("case.yaml:1:4: a: a single value is wanted here"), std::string::npos);
  EXPECT_NE(problems().find("case.yaml:2:4: b: a single value is wanted here"), std::string::npos);
}

TEST_F(ReaderTest, ReportsAMissingKeyOnItsMap) {
  auto r = reader("fan: {}\n");
  (void)r.section("fan").required("bore", bore);
  (void)r.section("engine").required("bore", bore);
  EXPECT_NE(problems().find("case.yaml:1:6: fan.bore: missing; allowed: a length"),
            std::string::npos);
  EXPECT_NE(problems().find("case.yaml:1:1: engine.bore: missing"), std::string::npos);
}

TEST_F(ReaderTest, StaysQuietBelowAMapThatIsNone) {
  auto r = reader("fan: 5\n").section("fan");
  (void)r.required("bore", bore);
  EXPECT_EQ(problems(), "case.yaml:1:6: fan: read \"5\": keys and values are wanted here\n");
}

TEST_F(ReaderTest, ListsWhatItAssumes) {
  auto r = reader("mount: {a: 5 mm, b: }\n").section("mount");
  EXPECT_EQ(r.assumed("a", bore, {.value = 0.003, .source = "rule"}), 0.005);
  EXPECT_EQ(r.assumed("b", bore, {.value = 0.003, .source = "rule"}), 0.003);
  EXPECT_EQ(r.assumed("c", bore, {.value = 0.004, .spread = 0.001, .source = "habit"}), 0.004);
  ASSERT_EQ(findings_.assumed.size(), 2U);
  EXPECT_EQ(findings_.assumed[0].key, "mount.b");
  EXPECT_EQ(findings_.assumed[0].value, "3 mm");
  EXPECT_EQ(findings_.assumed[0].source, "rule");
  ASSERT_EQ(findings_.tolerances.size(), 1U);
  EXPECT_EQ(findings_.tolerances[0].key, "mount.c");
  EXPECT_EQ(findings_.tolerances[0].half_width, 0.001);
}

TEST_F(ReaderTest, RecordsTolerances) {
  auto r = reader("bore: 46 ± 0.2 mm\n");
  EXPECT_DOUBLE_EQ(r.required("bore", bore), 0.046);
  ASSERT_EQ(findings_.tolerances.size(), 1U);
  EXPECT_EQ(findings_.tolerances[0].key, "bore");
  EXPECT_DOUBLE_EQ(findings_.tolerances[0].half_width, 0.0002);
}

TEST_F(ReaderTest, RefusesATolerancePastTheSmallestValue) {
  (void)reader("bore: 46 ± 50 mm\n").required("bore", bore);
  EXPECT_NE(problems().find("the tolerance reaches below the smallest value"), std::string::npos);
}

TEST_F(ReaderTest, ReadsCountsWordsAndText) {
  auto r = reader("cells: 6\nbad: 6.5\nkind: brakd\nparked: free\nyes: yes\ntitle: \"a\\nb\"\n");
  EXPECT_EQ(r.optional_count("cells", 1, 14), 6);
  EXPECT_EQ(r.optional_count("none", 1, 14), std::nullopt);
  (void)r.optional_count("bad", 1, 14);
  EXPECT_EQ(r.optional_choice<int>("parked", {{"braked", 1}, {"free", 2}}), 2);
  (void)r.optional_choice<int>("kind", {{"braked", 1}, {"free", 2}});
  EXPECT_EQ(r.optional_flag("yes"), true);
  (void)r.optional_text("title");
  EXPECT_EQ(
      problems(),
      "case.yaml:2:6: bad: read \"6.5\": this is not a count in range; allowed: a whole "
      "number from 1 to 14\n"
      "case.yaml:3:7: kind: read \"brakd\": unknown word; allowed: braked, free; did you mean "
      "braked?\n"
      "case.yaml:6:8: title: read \"a b\": one line of text is wanted; allowed: up to 200 "
      "bytes\n");
}

TEST_F(ReaderTest, ReadsListsOfMapsAndValues) {
  auto r = reader("l: [{at: 1 mm}, {at: 2}]\nv: [1, 2]\nw: [[1]]\nx: 3\n");
  auto items = r.list("l");
  ASSERT_EQ(items.size(), 2U);
  EXPECT_EQ(items[0].required("at", bore), 0.001);
  (void)items[1].required("at", bore);
  EXPECT_EQ(r.texts("v"), (std::vector<std::string>{"1", "2"}));
  EXPECT_TRUE(r.texts("w").empty());
  EXPECT_TRUE(r.list("x").empty());
  EXPECT_NE(problems().find("l.1.at: read \"2\""), std::string::npos);
  EXPECT_NE(problems().find("case.yaml:4:4: x: read \"3\": a list is wanted"), std::string::npos);
}

TEST_F(ReaderTest, ReportsUnknownKeysWithTheNearestOne) {
  auto r = reader("fan: {bord: 1 mm, wild: 2}\nlist: [{at: 1 mm, on: 2}]\nengin: 4\n");
  (void)r.section("fan").optional("bore", bore);
  for (auto& item : r.list("list")) (void)item.optional("at", bore);
  (void)r.section("engine");
  report_unknown_keys(root_, "", findings_);
  EXPECT_EQ(problems(),
            "case.yaml:1:7: fan.bord: unknown key; did you mean bore?\n"
            "case.yaml:1:19: fan.wild: unknown key; allowed: bore\n"
            "case.yaml:2:19: list.0.on: unknown key; allowed: at\n"
            "case.yaml:3:1: engin: unknown key; did you mean engine?\n");
}

}  // namespace
}  // namespace windgap::casefile
