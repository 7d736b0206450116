#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace CLI {
class App;
}

namespace windgap::app {

/// What stood on the command line. Distances are text with a unit until a verb reads them.
struct Options {
  std::filesystem::path case_file;
  std::filesystem::path log_file;
  std::vector<std::pair<std::string, std::string>> trial;  ///< words of an attempt, by option
  bool json = false;
  bool quiet = false;
  bool confirm = false;
  std::filesystem::path csv;
  std::filesystem::path out;
  std::filesystem::path page;
  std::filesystem::path drill;
  std::string at;
  std::string step;
  std::string starter;
  std::vector<std::filesystem::path> models;
  std::vector<std::string> settings;
  std::uint64_t seed = 1;
  unsigned threads = 0;
};

/// The options that every verb on a case takes.
void add_case_options(CLI::App& verb, Options& options);
void add_at(CLI::App& verb, Options& options);
void add_step(CLI::App& verb, Options& options);
void add_csv(CLI::App& verb, Options& options);
void add_page(CLI::App& verb, Options& options);
void add_template(CLI::App& verb, Options& options);
void add_out(CLI::App& verb, Options& options, const std::string& meaning);

/// The files that will be written, by option; a drawing's two names.
[[nodiscard]] std::vector<std::pair<std::string_view, std::filesystem::path>> outputs(
    const Options& options);

/// Links followed as far as the path exists, for telling whether two names mean one file.
[[nodiscard]] std::filesystem::path settled(const std::filesystem::path& file);

/// A stand-off that an option holds, 1 mm to 10 m [m]. @throws UsageError that says what is wanted.
[[nodiscard]] double read_stand_off(const std::string& option, const std::string& text);

/// A step that an option holds, above 0 [m]. @throws UsageError
[[nodiscard]] double read_step(const std::string& option, const std::string& text);

}  // namespace windgap::app
