#include "casefile/components.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <string>

#include "folder.h"

namespace windgap::casefile {
namespace {

namespace fs = std::filesystem;

/// A bench with a case's folder, a models folder, and something outside both.
class Components : public testing::Test {
 protected:
  Components() {
    folder_.write("models/fans/a.yaml", "bore: 64 mm\nmeasured: {thrust: 1 kg, voltage: 20 V}\n");
    folder_.write("models/fans/b.yaml", "bore: 70 mm\n");
    folder_.write("case/fans/b.yaml", "bore: 71 mm\n");
    folder_.write("secret.yaml", "bore: 99 mm\n");
  }

  Node resolved(const std::string& text) {
    Problems problems;
    auto node = parse_document({.name = "case.yaml", .text = "fan: " + text}, problems).value();
    problems.throw_if_any();
    const Roots roots{{folder_.path() / "case", folder_.path() / "models"}};
    auto& fan = *node.find("fan");
    resolve_component(fan, "fan", roots, findings_);
    return fan;
  }

  std::string refusal(const std::string& text) {
    findings_ = {};
    const auto node = resolved(text);
    EXPECT_TRUE(node.refused);
    EXPECT_EQ(findings_.problems.list().size(), 1U);
    return findings_.problems.empty() ? "" : to_text(findings_.problems.list()[0]);
  }

  Folder folder_;
  Findings findings_;
};

TEST_F(Components, AreReadByReference) {
  const auto fan = resolved("fans/a.yaml");
  EXPECT_EQ(fan.find("bore")->text, "64 mm");
  EXPECT_EQ(to_text(fan.find("bore")->place),
            (folder_.path() / "models/fans/a.yaml").string() + ":1:7");
  ASSERT_EQ(findings_.files.size(), 1U);
  EXPECT_NE(findings_.files[0].text.find("thrust"), std::string::npos);
}

TEST_F(Components, AreOverriddenKeyByKey) {
  const auto fan = resolved("{model: fans/a.yaml, measured: {thrust: 1.2 kg}, hub: 28 mm, bore: }");
  EXPECT_EQ(fan.find("measured")->find("thrust")->text, "1.2 kg");
  EXPECT_EQ(fan.find("measured")->find("thrust")->place.line, 1);
  EXPECT_EQ(*fan.find("measured")->find("thrust")->place.origin, "case.yaml");
  EXPECT_EQ(fan.find("measured")->find("voltage")->text, "20 V");
  EXPECT_EQ(fan.find("hub")->text, "28 mm");
  EXPECT_EQ(fan.find("bore")->text, "64 mm");
  EXPECT_EQ(fan.find("model"), nullptr);
}

TEST_F(Components, ComeFromTheCasesFolderFirst) {
  EXPECT_EQ(resolved("fans/b.yaml").find("bore")->text, "71 mm");
}

TEST_F(Components, MayBeInline) {
  EXPECT_EQ(resolved("{bore: 60 mm}").find("bore")->text, "60 mm");
  EXPECT_TRUE(findings_.problems.empty());
}

TEST_F(Components, AreFoundThroughAModelsFolderThatIsALink) {
  fs::rename(folder_.path() / "models", folder_.path() / "real");
  fs::create_directory_symlink("real", folder_.path() / "models");
  EXPECT_EQ(resolved("fans/a.yaml").find("bore")->text, "64 mm");
}

TEST_F(Components, StayInsideTheirFolders) {
  for (const std::string text :
       {"../secret.yaml", "fans/../../secret.yaml", "/etc/passwd", "\"\"", "fans/../fans/a.yaml"}) {
    EXPECT_NE(refusal(text).find("without a leading slash or .."), std::string::npos) << text;
  }
  EXPECT_NE(refusal((folder_.path() / "secret.yaml").string()).find("without a leading slash"),
            std::string::npos);
}

TEST_F(Components, DoNotFollowLinksOut) {
  fs::create_symlink(folder_.path() / "secret.yaml", folder_.path() / "case/fans/c.yaml");
  EXPECT_EQ(
      refusal("fans/c.yaml"),
      "case.yaml:1:6: fan: read \"fans/c.yaml\": this is a link that leads out of its folder");
  fs::create_directory_symlink(folder_.path(), folder_.path() / "case/up");
  EXPECT_NE(refusal("up/secret.yaml").find("leads out"), std::string::npos);
  fs::create_symlink("nowhere.yaml", folder_.path() / "case/fans/d.yaml");
  EXPECT_NE(refusal("fans/d.yaml").find("leads out"), std::string::npos);
  fs::create_symlink("/dev/zero", folder_.path() / "case/fans/e.yaml");
  EXPECT_NE(refusal("fans/e.yaml").find("leads out"), std::string::npos);
}

TEST_F(Components, MustBeFiles) {
  EXPECT_NE(refusal("fans").find("this is not a file"), std::string::npos);
}

TEST_F(Components, AreSuggestedWhenMisspelt) {
  EXPECT_EQ(refusal("fans/aa.yaml"),
            "case.yaml:1:6: fan: read \"fans/aa.yaml\": there is no such component in the case's "
            "folder or a models folder; did you mean fans/a.yaml?");
}

TEST_F(Components, DoNotReferToOthers) {
  folder_.write("models/fans/chain.yaml", "model: fans/chain.yaml\n");
  EXPECT_NE(refusal("fans/chain.yaml").find("refers to no other"), std::string::npos);
  folder_.write("models/fans/list.yaml", "[1, 2]\n");
  EXPECT_NE(refusal("fans/list.yaml").find("keys and values"), std::string::npos);
}

TEST_F(Components, AreNamedByText) {
  EXPECT_EQ(refusal("{model: [a]}"),
            "case.yaml:1:14: fan.model: the name of a component file is wanted");
}

TEST_F(Components, PassOnWhatIsWrongInTheirFile) {
  folder_.write("models/fans/bad.yaml", "a: [\n");
  EXPECT_NE(refusal("fans/bad.yaml").find("bad.yaml:2:1: not valid YAML"), std::string::npos);
  folder_.write("models/fans/binary.yaml", std::string_view("\0\1", 2));
  EXPECT_NE(refusal("fans/binary.yaml").find("this is not a text file"), std::string::npos);
}

}  // namespace
}  // namespace windgap::casefile
