#pragma once

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace windgap::test {

/// All bytes of a file; empty if it cannot be read.
inline std::string content(const std::filesystem::path& file) {
  const std::ifstream stream(file, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

}  // namespace windgap::test
