#include "app/trial.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <chrono>
#include <ctime>

#include "app/folder_lock.h"
#include "app/solve.h"
#include "app/write_file.h"
#include "casefile/log.h"
#include "report/lesson.h"

namespace windgap::app {
namespace {

namespace fs = std::filesystem;

/// `--set-aside` for `set_aside`.
std::string option_of(std::string key) {
  std::replace(key.begin(), key.end(), '_', '-');
  return "--" + key;
}

void declare(CLI::App& verb, Options& options) {
  auto& words = options.trial;
  verb.add_option("LOG", options.log_file, "the log of this bench's attempts")
      ->required()
      ->type_name("");
  verb.add_option("--case", options.case_file, "the case; needed for the first attempt")
      ->type_name("FILE");
  // NOLINTNEXTLINE(bugprone-easily-swappable-parameters): as they are read in the help
  const auto add = [&](const char* key, const char* meaning, const char* type) {
    verb.add_option_function<std::string>(
            option_of(key),
            [&words, key](const std::string& text) { words.emplace_back(key, text); },
            meaning)
        ->type_name(type);
  };
  add("at", "fan's exit to the engine's mouth", "DISTANCE");
  add("kind", "lit: with fuel; cold: the fan alone", "lit|cold");
  add("caught", "did the engine catch?", "yes|no");
  add("failure", "no_light, hung, too_hot or too_slow", "WORD");
  add("speed", "of the rotor, blown, before any flame", "SPEED");
  add("pressure", "total, gauge, a tube facing the stream", "PRESSURE");
  add("tap", "where: mouth, or inducer behind guard and lip", "WORD");
  add("voltage", "at the controller, the fan running", "VOLTAGE");
  add("oil", "temperature of the oil", "TEMPERATURE");
  add("set_aside", "attempt that counts no more: its cause was mended", "NUMBER");
  add("note", "anything worth keeping", "TEXT");
  add("when", "day and time; else now", "TEXT");
  verb.add_flag("--json", options.json, "answer with one JSON document");
  verb.add_flag("--quiet", options.quiet, "say nothing if it was written");
  verb.add_option("--models", options.models, "look components and coefficients up here first")
      ->type_name("DIR")
      ->allow_extra_args(false);
}

std::string now_text() {
  const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm local{};
  localtime_r(&now, &local);
  std::array<char, 32> text{};
  const auto size = std::strftime(text.data(), text.size(), "%Y-%m-%d %H:%M", &local);
  return {text.data(), size};
}

/// The words in the order in which a person reads an entry, `when` second.
casefile::EntryWords ordered(const Options& options) {
  casefile::EntryWords words;
  constexpr std::array keys{"set_aside",
                            "at",
                            "when",
                            "kind",
                            "caught",
                            "failure",
                            "speed",
                            "pressure",
                            "tap",
                            "voltage",
                            "oil",
                            "note"};
  for (const std::string key : keys) {
    bool given = false;
    for (const auto& [name, text] : options.trial) {
      if (name != key) continue;
      words.emplace_back(key, text);
      given = true;
    }
    if (!given && key == "when") words.emplace_back(key, now_text());
  }
  return words;
}

std::string text_so_far(const Options& options) {
  std::error_code error;
  if (fs::exists(options.log_file, error) && !fs::is_empty(options.log_file, error)) {
    casefile::Problems problems;
    auto file = casefile::read_file(options.log_file, problems);
    problems.throw_if_any();
    auto text = file->text;
    if (!text.empty() && text.back() != '\n') text += '\n';
    return text;
  }
  if (options.case_file.empty()) {
    throw UsageError(
        fmt::format("{}: there is no such log yet; its first attempt needs --case FILE",
                    options.log_file.string()));
  }
  return casefile::log_head(read(options));
}

/// What is no text would make the whole log unreadable.
void require_text(const casefile::EntryWords& words) {
  for (const auto& [key, text] : words) {
    if (casefile::is_text(text)) continue;
    throw UsageError(fmt::format("--{}: this is not text; allowed: UTF-8 without NUL", key));
  }
}

/// Whether the words set an earlier attempt aside. @throws UsageError if they describe another too.
bool sets_aside(const casefile::EntryWords& words) {
  const auto has = [&](std::string_view key) {
    return std::any_of(
        words.begin(), words.end(), [&](const auto& word) { return word.first == key; });
  };
  if (!has("set_aside")) return false;
  for (const auto& [key, text] : words) {
    if (key == "set_aside" || key == "note" || key == "when") continue;
    throw UsageError(
        fmt::format("--{} does not go with --set-aside, which is no attempt of its own", key));
  }
  const bool said = std::any_of(words.begin(), words.end(), [](const auto& word) {
    return word.first == "note" && word.second.find_first_not_of(' ') != std::string::npos;
  });
  if (!said) throw UsageError("--set-aside needs --note: why does the attempt count no more?");
  return true;
}

/// What a person left open in the file would swallow what is added.
void require_added(const casefile::Log& log, std::size_t before, const std::string& name) {
  if (log.records == before + 1) return;
  const auto where = log.entries.empty() ? name : casefile::to_text(log.entries.back().place);
  throw UsageError(fmt::format(
      "{}: this entry is not closed (a quotation mark?), so that another would lie inside it: mend "
      "it first; nothing was written",
      where));
}

Exit run(const Options& options, Console& console) {
  const auto words = ordered(options);
  require_text(words);
  const bool aside = sets_aside(words);
  if (!aside) (void)casefile::read_entry(words);
  // Behind links: two names of one log are one lock.
  std::error_code unresolved;
  auto behind = fs::weakly_canonical(options.log_file, unresolved);
  if (unresolved) behind = options.log_file;
  const FolderLock lock(behind.has_parent_path() ? behind.parent_path() : fs::path("."));
  const auto before = text_so_far(options);
  std::error_code none;
  const auto known =
      fs::exists(options.log_file, none) && !fs::is_empty(options.log_file, none)
          ? casefile::read_log(casefile::File{.name = options.log_file.string(), .text = before})
                .records
          : std::size_t{0};
  const casefile::File written{.name = options.log_file.string(),
                               .text = before + casefile::entry_text(words)};
  // Read as it will be read later: what cannot be read again is not written.
  const auto log = casefile::read_log(written);
  require_added(log, known, written.name);
  if (!options.case_file.empty()) report::refuse_other_bench(log, read(options), written.name);
  write_file(options.log_file, written.text);
  lock.sync();
  const auto number = aside ? words.front().second : std::string();
  if (options.json) {
    console.out << report::trial_json(log, written.name, number);
  } else if (!options.quiet) {
    console.out << report::trial_text(log, written.name, number);
  }
  return Exit::yes;
}

}  // namespace

const Verb trial_verb{
    .name = "trial", .question = "Write down an attempt", .declare = declare, .run = run};

}  // namespace windgap::app
