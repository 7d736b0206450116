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

/// What serves when nobody gave the value.
struct Fallback {
  double value = unset;  ///< SI
  double spread = 0.0;   ///< half width, SI; 0 where the value is a plain choice
  std::string source{};  ///< "handbook ..., Table 3"
};

enum class Order { below, at_most };

/// Reads one map of the case key by key. Every getter notes the key as accepted; what is wrong goes
/// to the findings and the getter returns NaN (or the first choice), so that reading goes on and
/// all problems come out together. An empty value (`key:`) counts as not given.
class Reader {
 public:
  /// @param node    the map; nullptr or an empty value where the case has none
  /// @param path    key path of the map, empty at the root
  /// @param outside place to name for missing keys when there is no map
  Reader(const Node* node, std::string path, Place outside, Findings& findings);

  /// Whether the map holds any value at all; one with nothing but empty values holds none.
  [[nodiscard]] bool given() const;
  /// Whether a problem says already why nothing can be read here.
  [[nodiscard]] bool refused() const noexcept { return muted_; }
  [[nodiscard]] bool has(std::string_view key) const { return find(key) != nullptr; }
  [[nodiscard]] const std::string& path() const noexcept { return path_; }

  /// A value that the case must give; NaN and a problem otherwise.
  [[nodiscard]] double required(std::string_view key, const Measure& measure);
  /// A problem if the value under a key that was read as optional is not there.
  void require(std::string_view key, std::string allowed = {});
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

  /// `[least, most]` under a key, where a search may choose; nullopt for anything but a list.
  [[nodiscard]] std::optional<std::pair<double, double>> range(std::string_view key,
                                                               const Measure& measure);

  /// Lists a default that the calling code derived.
  void assume(std::string_view key, std::string value, std::string source);
  /// A problem with the value under `key`, or with its absence.
  void refuse(std::string_view key, std::string what, std::string allowed = {});
  /// A problem unless the value under `key` stays below (or at most at) the one under `bound_key`;
  /// NaN passes. Of the two, the one that the case itself gives is named.
  void require_order(
      std::string_view key, double value, Order order, std::string_view bound_key, double bound);
  [[nodiscard]] Findings& findings() noexcept { return *findings_; }

 private:
  [[nodiscard]] const Node* find(std::string_view key) const;
  /// Where the key of an empty value is written; the map where there is no such key.
  [[nodiscard]] Place place_of(std::string_view key) const;
  [[nodiscard]] const Node* find_list(std::string_view key);
  /// The scalar under a key, if given; a problem if it is a map or list.
  [[nodiscard]] const Node* scalar(std::string_view key, const std::string& wanted);
  void accept(std::string_view key);
  void note(std::string_view key, const Node& value);
  [[nodiscard]] double read_quantity(const Node& value,
                                     const std::string& path,
                                     const Measure& measure);
  /// `bound` in the unit that the value under `key` is written in.
  [[nodiscard]] std::string bound_text(std::string_view key, double bound) const;
  [[nodiscard]] bool is_from_case(const Node& node) const;
  [[nodiscard]] std::optional<std::size_t> choice_index(std::string_view key,
                                                        const std::vector<std::string>& words);

  const Node* node_;
  std::string path_;
  Place place_;
  Findings* findings_;
  bool muted_ = false;  ///< the map itself was refused: what it lacks is no further news
};

}  // namespace windgap::casefile
