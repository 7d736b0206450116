#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "fuzz/targets.h"

/// Every input that taught a fuzzer something, run once more. A broken promise ends the program.
namespace windgap::fuzz {
namespace {

namespace fs = std::filesystem;

/// Returns how many inputs were run.
std::size_t replay(const std::string& target, void (*run)(std::string_view)) {
  std::vector<fs::path> files;
  for (const auto& file :
       fs::directory_iterator(fs::path(WINDGAP_SOURCE_DIR) / "tests" / "fuzz" / "corpus" / target))
    files.push_back(file.path());
  std::sort(files.begin(), files.end());
  for (const auto& path : files) {
    std::ostringstream bytes;
    bytes << std::ifstream(path, std::ios::binary).rdbuf();
    SCOPED_TRACE(path.filename());
    run(bytes.str());
  }
  return files.size();
}

TEST(FuzzCorpus, Quantities) { EXPECT_GT(replay("quantity", quantity), 100U); }
TEST(FuzzCorpus, Documents) { EXPECT_GT(replay("document", document), 100U); }
TEST(FuzzCorpus, Cases) { EXPECT_GT(replay("bench", bench), 20U); }
TEST(FuzzCorpus, Igniters) { EXPECT_GT(replay("igniters", igniters), 20U); }
TEST(FuzzCorpus, Logs) { EXPECT_GT(replay("attempts", attempts), 20U); }

}  // namespace
}  // namespace windgap::fuzz
