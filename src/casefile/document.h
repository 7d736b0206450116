#pragma once

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "casefile/problems.h"

namespace windgap::casefile {

struct Entry;

/// One value of a YAML file with the place where it was written.
// NOLINTNEXTLINE(bugprone-forward-declaration-namespace): yaml-cpp's is another
struct Node {
  enum class Kind { null, scalar, map, list };
  Kind kind = Kind::null;
  Place place;
  std::string text;            ///< of a scalar
  std::vector<Entry> entries;  ///< of a map, in the order of the file
  std::vector<Node> items;     ///< of a list
  bool refused = false;        ///< a problem says why already; what it lacks is no further news

  Node();
  Node(Kind its_kind, Place its_place, std::string its_text = {});

  /// The value under `key` of a map, or nullptr.
  [[nodiscard]] const Node* find(std::string_view key) const;
  [[nodiscard]] Node* find(std::string_view key);
};

struct Entry {
  std::string key = {};
  Place place = {};  ///< of the key
  Node value = {};
};

inline Node::Node() = default;
inline Node::Node(Kind its_kind, Place its_place, std::string its_text)
    : kind(its_kind), place(std::move(its_place)), text(std::move(its_text)) {}

/// A file as it was read.
struct File {
  std::string name = {};  ///< as the user or the reference names it
  std::string text = {};
};

/// What one file may hold. Far above any case, and small enough that no file can tire the machine.
namespace limits {
inline constexpr std::size_t bytes = std::size_t{1} << 20U;
inline constexpr int depth = 32;
inline constexpr int nodes = 20000;
inline constexpr std::size_t indicators = 50000;  ///< bytes among []{},:?&*!
}  // namespace limits

/// Whether the bytes are UTF-8 without NUL.
[[nodiscard]] bool is_text(std::string_view bytes);

/// The bytes of a file or pipe, never more than `limits::bytes` of them; nullopt and a problem if
/// it cannot be read, is a directory, too large, or not text (UTF-8 without NUL).
[[nodiscard]] std::optional<File> read_file(const std::filesystem::path& path, Problems& problems);

/// The tree of one YAML document; nullopt and problems if it is not one. Anchors, aliases, tags,
/// several documents, keys that are no plain text, and an empty document are refused; a repeated
/// key is a problem and its first value stays.
[[nodiscard]] std::optional<Node> parse_document(const File& file, Problems& problems);

}  // namespace windgap::casefile
