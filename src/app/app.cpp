#include "app/app.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <sstream>

#include "app/check.h"
#include "app/choose.h"
#include "app/cool.h"
#include "app/learn.h"
#include "app/place.h"
#include "app/report.h"
#include "app/spark.h"
#include "app/spin.h"
#include "app/sweep.h"
#include "app/trial.h"
#include "app/verb.h"
#include "app/version.h"
#include "casefile/nearest.h"
#include "casefile/problems.h"

namespace windgap::app {
namespace {

constexpr std::array verbs{&place_verb,
                           &sweep_verb,
                           &choose_verb,
                           &spark_verb,
                           &spin_verb,
                           &cool_verb,
                           &report_verb,
                           &trial_verb,
                           &learn_verb,
                           &check_verb};

int code(Exit exit) { return static_cast<int>(exit); }

/// The verb that was asked for, or nullptr.
const CLI::App* asked_verb(const CLI::App& program) {
  const auto list = program.get_subcommands();
  return list.empty() ? nullptr : list.front();
}

std::vector<std::string> known_words(const CLI::App* verb) {
  std::vector<std::string> words;
  if (verb == nullptr) {
    for (const auto* known : verbs) words.emplace_back(known->name);
    return words;
  }
  for (const auto* option : verb->get_options()) {
    if (!option->get_lnames().empty()) words.push_back("--" + option->get_lnames().front());
  }
  return words;
}

/// What was wrong with the command line, in our words.
std::string usage_problem(const CLI::App& program, const CLI::ParseError& error) {
  const auto* const verb = asked_verb(program);
  const auto who = verb == nullptr ? std::string("windgap") : "windgap " + verb->get_name();
  const auto help = fmt::format("; {} --help lists what there is", who);
  const auto extras = program.remaining(true);
  if (!extras.empty()) {
    const auto words = known_words(verb);
    if (std::find(words.begin(), words.end(), extras.front()) != words.end()) {
      return fmt::format("{}: {} belongs after the verb: {} CASE {} ...",
                         who,
                         extras.front(),
                         who,
                         extras.front());
    }
    const auto meant = casefile::nearest(extras.front(), words);
    return fmt::format("{}: nothing here is called \"{}\"{}{}",
                       who,
                       casefile::printable(extras.front()),
                       meant.empty() ? std::string() : fmt::format("; did you mean {}?", meant),
                       meant.empty() ? help : std::string());
  }
  if (dynamic_cast<const CLI::RequiredError*>(&error) != nullptr) {
    return verb == nullptr ? fmt::format("windgap: what is the question?{}", help)
                           : fmt::format("{}: which case file?{}", who, help);
  }
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&error) != nullptr) {
    return fmt::format("{}: an option is given too often or lacks its value ({}){}",
                       who,
                       casefile::printable(error.what()),
                       help);
  }
  return fmt::format("{}: {}{}", who, casefile::printable(error.what()), help);
}

void dress(CLI::FormatterBase& formatter) {
  constexpr std::size_t width = 24;
  formatter.column_width(width);
  formatter.label("SUBCOMMAND", "VERB");
  formatter.label("Positionals", "Reads");
  formatter.label("REQUIRED", "");
}

void declare(CLI::App& program, Options& options) {
  program.require_subcommand(1);
  program.set_version_flag("--version", fmt::format("windgap {}", version))
      ->description("which windgap this is");
  program.set_help_flag("--help", "this");
  dress(*program.get_formatter());
  program.footer("Exit codes: 0 yes, 1 no (with why), 2 bad input, 3 failure.");
  for (const auto* verb : verbs) {
    auto* const sub = program.add_subcommand(verb->name, verb->question)->group("Verbs");
    sub->set_help_flag("--help", "this");
    verb->declare(*sub, options);
  }
}

/// The second answer would replace the first, or what was read or is some case's, component's or
/// log's.
void require_own_files(const Options& options) {
  namespace fs = std::filesystem;
  std::vector<std::pair<std::string_view, fs::path>> files;
  if (!options.case_file.empty()) files.emplace_back("CASE", options.case_file);
  if (!options.log_file.empty()) files.emplace_back("LOG", options.log_file);
  const auto read = files.size();
  for (auto& output : outputs(options)) files.push_back(std::move(output));
  for (std::size_t i = 0; i < files.size(); ++i) {
    const auto path = settled(files[i].second);
    for (std::size_t k = 0; k < i; ++k) {
      if (settled(files[k].second) != path || fs::is_character_file(path)) continue;
      throw UsageError(fmt::format("{} and {} both name {}: give each its own file",
                                   files[k].first,
                                   files[i].first,
                                   files[i].second.string()));
    }
    if (i >= read && path.extension() == ".yaml" && fs::exists(path)) {
      throw UsageError(fmt::format(
          "{} would replace {}, which is there already and holds input: give it another name",
          files[i].first,
          files[i].second.string()));
    }
  }
}

Exit answer(const CLI::App& program, const Options& options, std::ostream& out) {
  const auto* const asked = asked_verb(program);
  const auto* const verb = *std::find_if(
      verbs.begin(), verbs.end(), [&](const Verb* v) { return asked->get_name() == v->name; });
  require_own_files(options);
  std::ostringstream answer_text;
  Console console{answer_text};
  const Exit exit = verb->run(options, console);
  out << answer_text.str();
  out.flush();
  if (!out) throw UsageError("the answer cannot be written to standard output");
  return exit;
}

}  // namespace

int run(int argc, const char* const* argv, std::ostream& out, std::ostream& err) {
  CLI::App program("How far from the inlet may the starter fan stand and still start the engine?",
                   "windgap");
  Options options;
  declare(program, options);
  try {
    program.parse(argc, argv);
    return code(answer(program, options, out));
  } catch (const CLI::ParseError& error) {
    if (error.get_exit_code() == 0) return program.exit(error, out, err);
    err << usage_problem(program, error) << '\n';
    return code(Exit::bad_input);
  } catch (const casefile::InputError& error) {
    err << error.what() << '\n';
    return code(Exit::bad_input);
  } catch (const UsageError& error) {
    err << error.what() << '\n';
    return code(Exit::bad_input);
  } catch (const std::exception& error) {
    err << "windgap failed: " << error.what() << '\n';
    return code(Exit::failure);
  }
}

}  // namespace windgap::app
