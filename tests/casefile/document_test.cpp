#include "casefile/document.h"

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <chrono>
#include <csignal>
#include <future>
#include <string>

#include "folder.h"

namespace windgap::casefile {
namespace {

std::optional<Node> parsed(std::string text, Problems& problems) {
  return parse_document({.name = "case.yaml", .text = std::move(text)}, problems);
}

Node parsed(std::string text) {
  Problems problems;
  auto node = parsed(std::move(text), problems);
  problems.throw_if_any();
  return std::move(node).value();
}

std::string refusal(std::string text) {
  Problems problems;
  EXPECT_FALSE(parsed(std::move(text), problems));
  if (problems.list().size() != 1) return fmt::format("{} problems", problems.list().size());
  return to_text(problems.list()[0]);
}

TEST(Document, KeepsOrderTextAndPlaces) {
  const auto root = parsed("fan:\n  bore: 64 mm # tape\n  \"hub\": '28 mm'\nlist: [a, {b: c}]\n");
  ASSERT_EQ(root.kind, Node::Kind::map);
  ASSERT_EQ(root.entries.size(), 2U);
  EXPECT_EQ(root.entries[0].key, "fan");
  const auto& bore = root.entries[0].value.entries[0];
  EXPECT_EQ(bore.key, "bore");
  EXPECT_EQ(to_text(bore.place), "case.yaml:2:3");
  EXPECT_EQ(bore.value.text, "64 mm");
  EXPECT_EQ(to_text(bore.value.place), "case.yaml:2:9");
  EXPECT_EQ(root.find("fan")->find("hub")->text, "28 mm");
  EXPECT_EQ(root.find("list")->items[1].find("b")->text, "c");
  EXPECT_EQ(root.find("list")->items[1].find("d"), nullptr);
}

TEST(Document, CountsColumnsInCharacters) {
  const auto root = parsed("{größe: 3 µm, b: 1}");
  EXPECT_EQ(root.entries[1].place.column, 15);
}

TEST(Document, TakesAnEmptyValueAsNotGiven) {
  const auto root = parsed("a:\nb: ~\nc: null\nd: ''\n");
  EXPECT_EQ(root.find("a")->kind, Node::Kind::null);
  EXPECT_EQ(root.find("b")->kind, Node::Kind::null);
  EXPECT_EQ(root.find("c")->kind, Node::Kind::null);
  EXPECT_EQ(root.find("d")->kind, Node::Kind::scalar);
}

TEST(Document, ReadsWindowsLineEndsAndAByteOrderMark) {
  const auto root = parsed("\xEF\xBB\xBFtitle: Bench\r\nfan: {bore: 64 mm}\r\n");
  EXPECT_EQ(root.find("title")->text, "Bench");
  EXPECT_EQ(root.find("fan")->find("bore")->text, "64 mm");
}

TEST(Document, ReportsARepeatedKeyAndKeepsTheFirst) {
  Problems problems;
  const auto root = parsed("fan:\n  a: 1\n  b: 2\n  a: {c: 3}\nfan: 4\n", problems);
  ASSERT_TRUE(root);
  EXPECT_EQ(root->find("fan")->find("a")->text, "1");
  ASSERT_EQ(problems.list().size(), 2U);
  EXPECT_EQ(to_text(problems.list()[0]), "case.yaml:4:3: fan.a: the key is given twice");
  EXPECT_EQ(to_text(problems.list()[1]), "case.yaml:5:1: fan: the key is given twice");
}

TEST(Document, RefusesWhatIsNoCase) {
  EXPECT_EQ(refusal(""), "case.yaml: the file is empty");
  EXPECT_EQ(refusal("# only a remark\n"), "case.yaml: the file is empty");
  EXPECT_EQ(refusal("---\n...\n"), "case.yaml: the file is empty");
  EXPECT_EQ(refusal("a: 1\n---\na: 2\n"),
            "case.yaml:2:1: the file holds more than one YAML document");
  EXPECT_EQ(refusal("a: 1\nb: [2\n").substr(0, 32), "case.yaml:3:1: not valid YAML: e");
  EXPECT_EQ(refusal("a: b: c\n").substr(0, 31), "case.yaml:1:5: not valid YAML: ");
  EXPECT_EQ(refusal("? [a, b]\n: c\n"), "case.yaml:1:3: a key must be plain text");
  EXPECT_EQ(refusal("{: c}\n"), "case.yaml:1:2: a key is missing before the colon");
}

TEST(Document, RefusesAnchorsAliasesAndTags) {
  EXPECT_EQ(refusal("a: &x 1\n"), "case.yaml:1:4: anchors (&name) are not allowed");
  EXPECT_EQ(refusal("a: &x [*x]\n"), "case.yaml:1:4: anchors (&name) are not allowed");
  EXPECT_EQ(refusal("a: &x {b: *x}\n"), "case.yaml:1:4: anchors (&name) are not allowed");
  EXPECT_EQ(refusal("&x a: 1\n"), "case.yaml:1:1: anchors (&name) are not allowed");
  EXPECT_NE(refusal("a: *x\n").find("case.yaml:1:4: not valid YAML"), std::string::npos);
  EXPECT_EQ(refusal("a: !!str 1\n"), "case.yaml:1:4: tags (!name) are not allowed");
  EXPECT_EQ(refusal("a: !x {b: 1}\n"), "case.yaml:1:4: tags (!name) are not allowed");
}

TEST(Document, AllowsThirtyTwoLevelsAndNoMore) {
  const auto nested = [](int levels) {
    std::string text;
    for (int i = 0; i < levels; ++i) text += "[";
    text += "x";
    for (int i = 0; i < levels; ++i) text += "]";
    return text;
  };
  EXPECT_EQ(parsed(nested(32)).kind, Node::Kind::list);
  EXPECT_EQ(refusal(nested(33)), "case.yaml:1:33: values are nested more than 32 deep");
}

TEST(Document, AllowsTwentyThousandValuesAndNoMore) {
  const auto list = [](int items) {
    std::string text;
    for (int i = 0; i < items; ++i) text += "- x\n";
    return text;
  };
  EXPECT_EQ(parsed(list(limits::nodes - 1)).items.size(), 19999U);
  EXPECT_EQ(refusal(list(limits::nodes)),
            "case.yaml:20000:3: the file holds more than 20000 values");
}

/// A megabyte of one pattern after an opening.
std::string megabyte(std::string_view opening, std::string_view pattern) {
  std::string text(opening);
  while (text.size() + pattern.size() <= limits::bytes) text += pattern;
  return text;
}

TEST(Document, RefusesTiringTextQuickly) {
  const auto start = std::chrono::steady_clock::now();
  for (const auto& text : {megabyte("", "["),
                           megabyte("", "{"),
                           megabyte("[", ","),
                           megabyte("[", "a,"),
                           megabyte("", "- "),
                           megabyte("", "? "),
                           megabyte("", "{a: "),
                           megabyte("", "a: "),
                           megabyte("", "! "),
                           megabyte("", "&a "),
                           megabyte("", "*a "),
                           megabyte("", ": "),
                           megabyte("[", "[],"),
                           megabyte("[", "a,\n"),
                           megabyte("", "---\n"),
                           megabyte("\"", "a")}) {
    Problems problems;
    EXPECT_FALSE(parsed(text, problems)) << text.substr(0, 20);
    EXPECT_EQ(problems.list().size(), 1U) << text.substr(0, 20);
  }
  // Without the limits a single one of these takes a second and a quarter of a gigabyte.
  const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
  EXPECT_LT(taken.count(), 5.0);
}

TEST(Document, SurvivesEveryTruncationAndByteChange) {
  const std::string text =
      "title: Bench\nfan: { model: fans/a.yaml, x: [1, 2, {y: \"z\\t\"}] }\n"
      "mount:\n  nearest: 20 mm\n  list:\n    - a\n    - 'b'\n  text: |\n    more\n    lines\n";
  for (std::size_t i = 0; i <= text.size(); ++i) {
    Problems problems;
    (void)parsed(text.substr(0, i), problems);
    for (const char c : {'\t', '"', '\'', '{', '}', '[', ']', ',',  ':',  '-', '#', '&',
                         '*',  '!', '|',  '>', '%', '@', '`', '\n', '\\', '?', ' '}) {
      auto changed = text;
      changed[i == text.size() ? 0 : i] = c;
      (void)parsed(std::move(changed), problems);
    }
  }
}

std::string read_refusal(const std::filesystem::path& path) {
  Problems problems;
  EXPECT_FALSE(read_file(path, problems));
  if (problems.list().size() != 1) return fmt::format("{} problems", problems.list().size());
  return problems.list()[0].what + problems.list()[0].allowed;
}

TEST(Document, ReadsAFileAsItIs) {
  const Folder folder;
  Problems problems;
  const auto file = read_file(folder.write("a.yaml", "a: µ\r\n"), problems);
  ASSERT_TRUE(file);
  EXPECT_EQ(file->text, "a: µ\r\n");
  EXPECT_EQ(file->name, (folder.path() / "a.yaml").string());
}

TEST(Document, RefusesFilesThatAreNoText) {
  const Folder folder;
  EXPECT_EQ(read_refusal(folder.path() / "nothing.yaml"), "there is no such file");
  EXPECT_EQ(read_refusal(folder.path()), "this is a folder, not a file");
  for (const std::string_view bytes : {std::string_view("a: \0", 4),
                                       std::string_view("\x7f"
                                                        "ELF\x02\xff"),
                                       std::string_view("a: \xe9"),
                                       std::string_view("\xc0\x80"),
                                       std::string_view("\xed\xa0\x80"),
                                       std::string_view("\xe0\x80\x80"),
                                       std::string_view("\xf4\x90\x80\x80"),
                                       std::string_view("\xf0\x80\x80\x80"),
                                       std::string_view("a\xc2")}) {
    EXPECT_EQ(read_refusal(folder.write("b.yaml", bytes)), "this is not a text fileYAML in UTF-8");
  }
}

TEST(Document, RefusesAHugeFileWithoutReadingIt) {
  const Folder folder;
  const auto path = folder.write("huge.yaml", "a: 1\n");
  std::filesystem::resize_file(path, 100'000'000);
  EXPECT_EQ(read_refusal(path), "the file is too largeat most 1024 KiB");
}

TEST(Document, StopsReadingAPipeAtTheLimit) {
  const Folder folder;
  const auto path = folder.path() / "pipe";
  ASSERT_EQ(mkfifo(path.c_str(), 0600), 0);
  auto writer = std::async(std::launch::async, [&] {
    std::ofstream pipe(path);
    const std::string line(1000, '#');
    for (int i = 0; i < 100'000 && pipe; ++i) pipe << line << std::endl;
    return pipe.good();
  });
  const auto before = std::signal(SIGPIPE, SIG_IGN);
  EXPECT_EQ(read_refusal(path), "the file is too largeat most 1024 KiB");
  EXPECT_FALSE(writer.get()) << "the whole 100 MB were read";
  std::signal(SIGPIPE, before);
}

TEST(Document, RefusesAnEndlessDevice) {
  EXPECT_EQ(read_refusal("/dev/zero"), "the file is too largeat most 1024 KiB");
}

}  // namespace
}  // namespace windgap::casefile
