#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "casefile/case.h"

/// Every tests/bad_cases/*.yaml says in its first lines, behind `# expect: `, all messages it must
/// be refused with, in their order. Only the empty file cannot.
namespace windgap::casefile {
namespace {

namespace fs = std::filesystem;

const fs::path folder = fs::path(WINDGAP_SOURCE_DIR) / "tests" / "bad_cases";

std::vector<std::string> bad_cases() {
  std::vector<std::string> names;
  for (const auto& file : fs::directory_iterator(folder)) {
    const auto stem = file.path().stem().string();
    if (file.path().extension() == ".yaml" && stem != "good") names.push_back(stem);
  }
  std::sort(names.begin(), names.end());
  return names;
}

std::vector<std::string> expected_messages(const fs::path& path) {
  constexpr std::string_view mark = "# expect: ";
  std::vector<std::string> messages;
  std::ifstream file(path);
  for (std::string line; std::getline(file, line) && line.starts_with(mark);) {
    messages.push_back(line.substr(mark.size()));
  }
  if (path.stem() == "empty") messages.emplace_back("empty.yaml: the file is empty");
  return messages;
}

/// Messages name files from the folder of the bad cases.
std::string without_folder(std::string text) {
  const auto prefix = folder.string() + "/";
  for (auto at = text.find(prefix); at != std::string::npos; at = text.find(prefix)) {
    text.erase(at, prefix.size());
  }
  return text;
}

class BadCase : public testing::TestWithParam<std::string> {};

TEST_P(BadCase, IsRefusedWithTheseMessages) {
  const auto path = folder / (GetParam() + ".yaml");
  const auto expected = expected_messages(path);
  ASSERT_FALSE(expected.empty());
  ReadOptions options;
  options.installed = WINDGAP_MODELS_DIR;
  options.scope = {.spark = true};
  try {
    (void)read_case(path, options);
    FAIL() << "the case was accepted";
  } catch (const InputError& error) {
    std::vector<std::string> messages;
    for (const auto& problem : error.problems())
      messages.push_back(without_folder(to_text(problem)));
    EXPECT_EQ(fmt::format("{}", fmt::join(messages, "\n")),
              fmt::format("{}", fmt::join(expected, "\n")));
  }
}

INSTANTIATE_TEST_SUITE_P(Files, BadCase, testing::ValuesIn(bad_cases()), [](const auto& test) {
  return test.param;
});

TEST(BadCases, DifferFromACaseThatIsAccepted) {
  ReadOptions options;
  options.installed = WINDGAP_MODELS_DIR;
  options.scope = {.spark = true};
  EXPECT_NO_THROW((void)read_case(folder / "good.yaml", options));
}

}  // namespace
}  // namespace windgap::casefile
