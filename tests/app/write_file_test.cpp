#include "app/write_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <thread>

#include "app/program.h"
#include "casefile/folder.h"

namespace windgap::app {
namespace {

using test::content;

std::size_t files_in(const std::filesystem::path& folder) {
  std::size_t count = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    (void)entry;
    ++count;
  }
  return count;
}

TEST(WriteFile, ReplacesTheWholeFileAndLeavesNothingBeside) {
  const casefile::Folder folder;
  const auto file = folder.write("page.html", "something longer than what comes");
  write_file(file, "new");
  EXPECT_EQ(content(file), "new");
  EXPECT_EQ(files_in(folder.path()), 1U);
}

TEST(WriteFile, RightsAreThoseOfANewFile) {
  const casefile::Folder folder;
  const auto mask = ::umask(022);
  write_file(folder.path() / "page.html", "text");
  ::umask(mask);
  EXPECT_EQ(std::filesystem::status(folder.path() / "page.html").permissions(),
            static_cast<std::filesystem::perms>(0644));
}

TEST(WriteFile, RightsOfWhatIsReplacedStay) {
  const casefile::Folder folder;
  const auto file = folder.write("log.yaml", "old");
  std::filesystem::permissions(file, static_cast<std::filesystem::perms>(0600));
  write_file(file, "new");
  EXPECT_EQ(content(file), "new");
  EXPECT_EQ(std::filesystem::status(file).permissions(), static_cast<std::filesystem::perms>(0600));
}

TEST(WriteFile, MissingFolderNamesTheFile) {
  const casefile::Folder folder;
  const auto file = folder.path() / "nowhere" / "page.html";
  try {
    write_file(file, "text");
    FAIL() << "written into a folder that is not there";
  } catch (const UsageError& error) {
    EXPECT_THAT(error.what(), testing::HasSubstr(file.string()));
  }
}

TEST(WriteFile, FolderIsNoFile) {
  const casefile::Folder folder;
  EXPECT_THROW(write_file(folder.path(), "text"), UsageError);
  EXPECT_EQ(files_in(folder.path()), 0U);
}

TEST(WriteFile, LinkStaysALink) {
  const casefile::Folder folder;
  const auto target = folder.write("target.html", "old");
  const auto link = folder.path() / "link.html";
  std::filesystem::create_symlink("target.html", link);
  write_file(link, "new");
  EXPECT_TRUE(std::filesystem::is_symlink(link));
  EXPECT_EQ(content(target), "new");
}

// A text too long for one write, so that a kill falls into the middle of it.
TEST(WriteFile, AKillAtAnyMomentLeavesTheOldOrTheNewTextWhole) {
  constexpr int kills = 60;
  constexpr std::size_t length = 4U << 20U;
  const std::string first(length, 'a');
  const std::string second(length, 'b');
  const casefile::Folder folder;
  const auto file = folder.path() / "page.html";
  write_file(file, first);
  bool seen_second = false;
  for (int i = 0; i < kills; ++i) {
    const pid_t writer = ::fork();
    ASSERT_GE(writer, 0);
    if (writer == 0) {
      for (;;) {
        write_file(file, second);
        write_file(file, first);
      }
    }
    // Moments over some writes, from the first to the last of them.
    std::this_thread::sleep_for(std::chrono::microseconds(700 * i));
    ASSERT_EQ(::kill(writer, SIGKILL), 0);
    int status = 0;
    ASSERT_EQ(::waitpid(writer, &status, 0), writer);
    ASSERT_TRUE(WIFSIGNALED(status)) << "the writer ended by itself";
    const auto now = content(file);
    ASSERT_TRUE(now == first || now == second)
        << now.size() << " characters after " << 700 * i << " us";
    seen_second = seen_second || now == second;
  }
  EXPECT_TRUE(seen_second) << "no write ever ended: nothing was tested";
}

// A program that was killed leaves its temporary file; one that happens to get its number, as in a
// container started again, must not trip over it.
TEST(WriteFile, WhatAKilledProgramLeftIsNoObstacle) {
  const casefile::Folder folder;
  const auto file = folder.path() / "page.html";
  folder.write("page.html." + std::to_string(::getpid()) + ".part", "half");
  write_file(file, "new");
  EXPECT_EQ(content(file), "new");
}

TEST(WriteFile, FullDeviceIsAnError) { EXPECT_THROW(write_file("/dev/full", "text"), UsageError); }

}  // namespace
}  // namespace windgap::app
