#pragma once

#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

/// From the text of a case to numbers in SI. The only room that knows YAML.
namespace windgap::casefile {

/// Where a value was written.
struct Place {
  std::shared_ptr<const std::string> origin = {};  ///< file as named, or `--set a.b`
  int line = 0;                                    ///< from 1; 0 where a line means nothing
  int column = 0;                                  ///< from 1, in characters
};

/// `case.yaml:4:9`, or the origin alone.
[[nodiscard]] std::string to_text(const Place& place);

/// One thing that the writer of the case has to mend.
struct Problem {
  Place place = {};
  std::string key = {};         ///< `mount.nearest`; empty if it concerns the whole file
  std::string read = {};        ///< the value as written; empty if there is none
  std::string what = {};        ///< "the unit is missing"
  std::string allowed = {};     ///< "1 mm to 2000 mm"
  std::string suggestion = {};  ///< "20 mm or 20 in"
};

/// `case.yaml:4:9: mount.nearest: read "20": the unit is missing; allowed: ...; did you mean ...?`
[[nodiscard]] std::string to_text(const Problem& problem);

/// Text with a space in place of every line break and control character.
[[nodiscard]] std::string single_line(std::string_view text);

/// The same cut to what fits a message.
[[nodiscard]] std::string printable(std::string_view text);

/// Everything wrong with the input. Thrown once, when all of it has been read; the command line
/// prints `what()` and leaves with exit code 2.
class InputError : public std::runtime_error {
 public:
  explicit InputError(std::vector<Problem> problems);
  [[nodiscard]] const std::vector<Problem>& problems() const noexcept { return problems_; }

 private:
  std::vector<Problem> problems_;
};

/// Collects problems while reading goes on.
class Problems {
 public:
  void add(Problem problem) { list_.push_back(std::move(problem)); }
  /// A problem with a file as a whole.
  void add_file(const std::string& file, std::string what, std::string allowed = {});
  [[nodiscard]] bool empty() const noexcept { return list_.empty(); }
  [[nodiscard]] const std::vector<Problem>& list() const noexcept { return list_; }

  /// Orders them as a person goes through the files: in order of `origins` (others after), by line.
  void sort(const std::vector<std::string>& origins);

  /// @throws InputError holding all problems, if there are any.
  void throw_if_any() const;

 private:
  std::vector<Problem> list_;
};

}  // namespace windgap::casefile
