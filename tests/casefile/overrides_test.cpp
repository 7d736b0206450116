#include "casefile/overrides.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace windgap::casefile {
namespace {

struct Result {
  Node root;
  std::string problems;
};

Result with_settings(const std::string& text, const std::vector<std::string>& settings) {
  Problems problems;
  auto root = parse_document({.name = "case.yaml", .text = text}, problems).value();
  apply_overrides(root, settings, problems);
  std::string texts;
  for (const auto& problem : problems.list()) texts += to_text(problem) + "\n";
  return {std::move(root), texts};
}

TEST(Overrides, ReplaceAValueAndItsPlace) {
  const auto result = with_settings("mount: {slip: 1 mm, tilt: 1 deg}", {"mount.slip=3 mm"});
  const auto* const slip = result.root.find("mount")->find("slip");
  EXPECT_EQ(slip->text, "3 mm");
  EXPECT_EQ(to_text(slip->place), "--set mount.slip");
  EXPECT_EQ(result.root.find("mount")->find("tilt")->text, "1 deg");
  EXPECT_EQ(result.problems, "");
}

TEST(Overrides, MakeMissingMaps) {
  const auto result = with_settings("a: 1", {"engine.oil.temperature=40 degC"});
  EXPECT_EQ(result.root.find("engine")->find("oil")->find("temperature")->text, "40 degC");
}

TEST(Overrides, KeepEqualsSignsOfTheValue) {
  EXPECT_EQ(with_settings("a: 1", {"title=x=y"}).root.find("title")->text, "x=y");
}

TEST(Overrides, LetTheLastOneWin) {
  EXPECT_EQ(with_settings("a: 1", {"a=2", "a=3"}).root.find("a")->text, "3");
}

TEST(Overrides, OpenAComponentReference) {
  const auto result = with_settings("fan: fans/a.yaml", {"fan.thrust=1.5 kg"});
  EXPECT_EQ(result.root.find("fan")->find("model")->text, "fans/a.yaml");
  EXPECT_EQ(result.root.find("fan")->find("thrust")->text, "1.5 kg");
}

TEST(Overrides, ReachIntoListsAndAddToTheirEnd) {
  const auto result = with_settings("l: [{a: 1}, {a: 2}]", {"l.1.a=3", "l.2.a=4"});
  EXPECT_EQ(result.root.find("l")->items[1].find("a")->text, "3");
  EXPECT_EQ(result.root.find("l")->items[2].find("a")->text, "4");
  EXPECT_EQ(result.problems, "");
}

TEST(Overrides, ReadListsAndMapsAsYaml) {
  const auto result = with_settings("a: 1", {"a=[{at: 250 mm}]"});
  const auto* const at = result.root.find("a")->items[0].find("at");
  EXPECT_EQ(at->text, "250 mm");
  EXPECT_EQ(to_text(at->place), "--set a");
}

TEST(Overrides, TakeAnEmptyValueAsNotGiven) {
  EXPECT_EQ(with_settings("a: 1", {"a="}).root.find("a")->kind, Node::Kind::null);
}

TEST(Overrides, RefuseWhatCannotBePlaced) {
  EXPECT_EQ(with_settings("a: 1", {"a"}).problems,
            "--set a: a setting is written as key=value, such as mount.slip=\"3 mm\"\n");
  EXPECT_EQ(with_settings("a: 1", {"=3"}).problems, "--set : a part of the key is empty\n");
  EXPECT_EQ(with_settings("a: 1", {"a..b=3"}).problems, "--set a..b: a part of the key is empty\n");
  EXPECT_EQ(with_settings("a: 1", {"a.b=3"}).problems, "--set a.b: there is no place for \"b\"\n");
  EXPECT_EQ(with_settings("l: [1]", {"l.2=3"}).problems,
            "--set l.2: there is no place for \"2\"\n");
  EXPECT_EQ(with_settings("l: [1]", {"l.x=3"}).problems,
            "--set l.x: there is no place for \"x\"\n");
  EXPECT_EQ(with_settings("l: [1]", {"l.-1=3"}).problems,
            "--set l.-1: there is no place for \"-1\"\n");
  EXPECT_TRUE(with_settings("a: 1", {"a=[1"}).problems.starts_with("--set a: read \"[1\": "));
  EXPECT_TRUE(with_settings("a: 1", {"a=[1] 2"}).problems.starts_with("--set a: read \"[1] 2\": "));
  EXPECT_EQ(with_settings("a: 1", {"a=[1"}).root.find("a")->text, "1");
  EXPECT_NE(with_settings("a: 1", {"a=\xff"}).problems, "");
  std::string deep = "a";
  for (int i = 0; i < 40; ++i) deep += ".a";
  EXPECT_NE(with_settings("b: 1", {deep + "=1"}).problems.find("too many parts"),
            std::string::npos);
}

}  // namespace
}  // namespace windgap::casefile
