#pragma once

#include <fmt/format.h>
#include <sys/wait.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

/// The built program run as a person runs it.
namespace windgap::test {

struct Ran {
  int exit = -1;
  std::string out;
  std::string err;
};

inline std::string content(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

/// What it says goes through files of that name in `folder`; two runs at once need two names.
inline Ran run_program(const std::filesystem::path& folder,
                       const std::string& arguments,
                       const std::string& name = "out") {
  const auto out = folder / (name + ".stdout");
  const auto err = folder / (name + ".stderr");
  const auto command = fmt::format(
      "{} {} > '{}' 2> '{}' < /dev/null", WINDGAP_PROGRAM, arguments, out.string(), err.string());
  const int status = std::system(command.c_str());
  return {.exit = WIFEXITED(status) ? WEXITSTATUS(status) : -1,
          .out = content(out),
          .err = content(err)};
}

}  // namespace windgap::test
