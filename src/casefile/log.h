#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "casefile/case.h"
#include "trials/attempt.h"

/// The log of attempts on one bench: a YAML file that a person can read and add notes to. Its head
/// keeps the case as it was understood at the first entry. Format: models/trials.md.
namespace windgap::casefile {

struct LogEntry {
  trials::Attempt attempt;
  std::string when;  ///< day and time, as in the file
  std::string note;
  Place place;        ///< where the entry begins
  std::string aside;  ///< why it was set aside; empty: it counts
};

struct Log {
  std::string title;
  std::string units;                                        ///< `metric` or `inch`
  std::vector<std::pair<std::string, std::string>> values;  ///< of the case, by key
  std::vector<LogEntry> entries;  ///< attempts, in order; what sets one aside is none
  std::size_t records = 0;        ///< of both kinds

  [[nodiscard]] std::vector<trials::Attempt> attempts() const;
};

/// Reads a log. @throws InputError with every problem found, each with its line.
[[nodiscard]] Log read_log(const std::filesystem::path& path);
/// The same of a text that has not been written yet.
[[nodiscard]] Log read_log(const File& file);

/// The words that describe an attempt, by key of the log: `at`, `kind`, `caught`, ...
using EntryWords = std::vector<std::pair<std::string, std::string>>;

/// An entry from words typed behind options of the same names. @throws InputError
[[nodiscard]] LogEntry read_entry(const EntryWords& words);

/// The text of a log without entries, for a case.
[[nodiscard]] std::string log_head(const Case& bench);

/// One entry as it is appended: the words as they were typed.
[[nodiscard]] std::string entry_text(const EntryWords& words);

/// A value of the case that is not what it was when the log began.
struct Difference {
  std::string key;
  std::string logged;          ///< empty: not given then
  std::string now;             ///< empty: not given now
  bool another_bench = false;  ///< of fan, engine or drive: the attempts say nothing of this case
};
/// The case must have been read in the log's units.
[[nodiscard]] std::vector<Difference> differences(const Log& log, const Case& bench);

}  // namespace windgap::casefile
