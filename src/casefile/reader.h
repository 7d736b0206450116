#pragma once

#include <initializer_list>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "casefile/findings.h"
#include "units/quantity.h"

namespace windgap::casefile {

/// What a key measures and how far its value may go, both ends included, in SI.
struct Measure {
  units::Dimension dimension;
  double least = -std::numeric_limits<double>::infinity();
  double most = std::numeric_limits<double>::infinity();
};

/// What serves when nobody gave the value.
struct Fallback {
  double value = unset;  ///< SI
  double spread = 0.0;   ///< half width, SI; 0 where the value is a plain choice
  std::string source{};  ///< "handbook ..., Table 3"
};

/// Reads one map of the case key by key. Every getter notes the key as accepted; what is wrong goes
/// to the findings and the getter returns NaN (or the first choice), so that reading goes on and
/// all problems come out together. An empty value (`key:`) counts as not given.
class Reader {
 public:
  /// @param node    the map; nullptr or an empty value where the case has none
  /// @param path    key path of the map, empty at the root
  /// @param outside place to name for missing keys when there is no map
  Reader(const Node* node, std::string path, const Place& outside, Findings& findings);

  [[nodiscard]] bool given() const noexcept { return node_ != nullptr; }
  [[nodiscard]] bool has(std::string_view key) const { return find(key) != nullptr; }
  [[nodiscard]] const std::string& path() const noexcept { return path_; }

  /// A value that the case must give; NaN and a problem otherwise.
  [[nodiscard]] double required(std::string_view key, const Measure& measure);
  /// A value that may be left out; NaN then.
  [[nodiscard]] double optional(std::string_view key, const Measure& measure);
  /// A value that is assumed when left out, and then listed as such.
  [[nodiscard]] double assumed(std::string_view key,
                               const Measure& measure,
                               const Fallback& fallback);

  [[nodiscard]] std::optional<int> optional_count(std::string_view key, int least, int most);
  [[nodiscard]] std::optional<bool> optional_flag(std::string_view key);
  [[nodiscard]] std::optional<std::string> optional_text(std::string_view key);

  template <class Enum>
  using Names = std::initializer_list<std::pair<std::string_view, Enum>>;
  /// One of a few words.
  template <class Enum>
  [[nodiscard]] std::optional<Enum> optional_choice(std::string_view key, Names<Enum> names) {
    std::vector<std::string> words;
    for (const auto& [word, value] : names) words.emplace_back(word);
    const auto index = choice_index(key, words);
    if (!index) return std::nullopt;
    return (names.begin() + *index)->second;
  }

  /// The map under a key, which may be absent.
  [[nodiscard]] Reader section(std::string_view key);
  /// The single values of a list under a key.
  [[nodiscard]] std::vector<std::string> texts(std::string_view key);
  /// The maps of a list under a key.
  [[nodiscard]] std::vector<Reader> list(std::string_view key);

  /// Lists a default that the calling code derived.
  void assume(std::string_view key, std::string value, std::string source);
  /// A problem with the value under `key`, or with its absence.
  void refuse(std::string_view key, std::string what, std::string allowed = {});
  [[nodiscard]] Findings& findings() noexcept { return *findings_; }

 private:
  [[nodiscard]] const Node* find(std::string_view key) const;
  [[nodiscard]] const Node* find_list(std::string_view key);
  /// The scalar under a key, if given; a problem if it is a map or list.
  [[nodiscard]] const Node* scalar(std::string_view key, const std::string& wanted);
  void accept(std::string_view key);
  [[nodiscard]] std::optional<std::size_t> choice_index(std::string_view key,
                                                        const std::vector<std::string>& words);

  const Node* node_;
  std::string path_;
  Place place_;
  Findings* findings_;
  bool muted_ = false;  ///< the map itself was refused: what it lacks is no further news
};

}  // namespace windgap::casefile
