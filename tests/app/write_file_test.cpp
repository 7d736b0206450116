#include "app/write_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <fstream>
#include <iterator>
#include <sstream>

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

TEST(WriteFile, FullDeviceIsAnError) { EXPECT_THROW(write_file("/dev/full", "text"), UsageError); }

}  // namespace
}  // namespace windgap::app
