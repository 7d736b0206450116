#include "app/options.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <charconv>
#include <limits>
#include <system_error>

#include "app/verb.h"
#include "casefile/problems.h"
#include "units/quantity.h"

namespace windgap::app {
namespace {

namespace fs = std::filesystem;

/// The same range as the bracket's travel in a case.
constexpr double least_distance = 1e-3;
constexpr double most_distance = 10.0;
constexpr std::uint64_t most_threads = 1024;

double read_length(const std::string& option, const std::string& text) {
  const auto reading = units::parse(text, units::Dimension::length);
  if (reading.quantity) return reading.quantity->value;
  const auto hint =
      reading.suggestion.empty() ? std::string() : fmt::format("; perhaps {}", reading.suggestion);
  throw UsageError(fmt::format("{}: read \"{}\": {}; wanted: {}{}",
                               option,
                               casefile::printable(text),
                               reading.problem,
                               units::wanted_text(units::Dimension::length),
                               hint));
}

/// What is wrong with a whole number from 0 to `most`, or nothing.
std::string whole_number(const std::string& text, std::uint64_t most) {
  std::uint64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error == std::errc() && end == text.data() + text.size() && number <= most) return {};
  return fmt::format(
      "read \"{}\"; wanted: a whole number from 0 to {}", casefile::printable(text), most);
}

std::string names_a_file(const std::string& text) {
  if (text.empty()) return "read \"\"; wanted: the name of a file";
  if (text == "-") return "read \"-\"; wanted: the name of a file (./- for one of that name)";
  return {};
}

std::string says_something(const std::string& text) {
  return text.empty() ? "read \"\"; wanted: a value" : std::string();
}

fs::path with_end(fs::path drawing, const char* end) {
  if (drawing.extension() == ".svg" || drawing.extension() == ".dxf") drawing.replace_extension();
  drawing += end;
  return drawing;
}

}  // namespace

void add_case_options(CLI::App& verb, Options& options) {
  verb.add_option("CASE", options.case_file, "the case file")->required()->type_name("");
  verb.add_flag("--json", options.json, "answer with one JSON document, in SI units");
  verb.add_flag("--quiet", options.quiet, "the answer in as few lines as it takes");
  verb.add_option("--models", options.models, "look components and coefficients up here first")
      ->type_name("DIR")
      ->allow_extra_args(false);
  verb.add_option("--set", options.settings, "change one value of the case, as if written there")
      ->type_name("KEY=VALUE")
      ->allow_extra_args(false);
  verb.add_option("--seed", options.seed, "of whatever is drawn; a nominal answer draws nothing")
      ->type_name("NUMBER")
      ->check([](const std::string& text) {
        return whole_number(text, std::numeric_limits<std::uint64_t>::max());
      });
  verb.add_option("--threads", options.threads, "how many to use; 0 is all, the answer is the same")
      ->type_name("NUMBER")
      ->check([](const std::string& text) { return whole_number(text, most_threads); });
}

void add_at(CLI::App& verb, Options& options) {
  verb.add_option("--at", options.at, "show this stand-off instead of the best one")
      ->type_name("DISTANCE")
      ->check(says_something);
}

void add_step(CLI::App& verb, Options& options) {
  verb.add_option("--step", options.step, "from one distance to the next")
      ->type_name("DISTANCE")
      ->check(says_something);
}

void add_csv(CLI::App& verb, Options& options) {
  verb.add_option("--csv", options.csv, "write the rows to this file, in SI units")
      ->type_name("FILE")
      ->check(names_a_file);
}

void add_page(CLI::App& verb, Options& options) {
  verb.add_option("--page", options.page, "write a page with ladder, plot and a table to sort")
      ->type_name("FILE")
      ->check(names_a_file);
}

void add_template(CLI::App& verb, Options& options) {
  verb.add_option("--template", options.drill, "the slot to drill: NAME.dxf, and NAME.svg for A4")
      ->type_name("NAME")
      ->check(names_a_file);
}

void add_out(CLI::App& verb, Options& options, const std::string& meaning) {
  verb.add_option("--out", options.out, meaning)->type_name("FILE")->check(names_a_file);
}

std::vector<std::pair<std::string_view, fs::path>> outputs(const Options& options) {
  std::vector<std::pair<std::string_view, fs::path>> files;
  for (const auto& [option, file] : {std::pair{"--csv", &options.csv},
                                     std::pair{"--out", &options.out},
                                     std::pair{"--page", &options.page}}) {
    if (!file->empty()) files.emplace_back(option, *file);
  }
  if (!options.drill.empty()) {
    files.emplace_back("--template", with_end(options.drill, ".svg"));
    files.emplace_back("--template", with_end(options.drill, ".dxf"));
  }
  return files;
}

fs::path settled(const fs::path& file) {
  std::error_code unreachable;
  auto path = fs::weakly_canonical(fs::absolute(file), unreachable);
  return unreachable ? fs::absolute(file).lexically_normal() : path;
}

double read_stand_off(const std::string& option, const std::string& text) {
  const double distance = read_length(option, text);
  if (!(distance >= least_distance && distance <= most_distance)) {
    throw UsageError(
        fmt::format("{}: read \"{}\": out of range; allowed: 1 mm to 10000 mm", option, text));
  }
  return distance;
}

double read_step(const std::string& option, const std::string& text) {
  const double step = read_length(option, text);
  if (!(step > 0.0)) {
    throw UsageError(fmt::format("{}: read \"{}\": a step must be above 0", option, text));
  }
  return step;
}

}  // namespace windgap::app
