#include "casefile/document.h"

#include <fmt/format.h>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/mark.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <memory>
#include <sstream>
#include <system_error>
#include <unordered_set>
#include <utility>

namespace windgap::casefile {
namespace {

/// Ends the parsing of a file that is refused as a whole.
struct Refusal {
  YAML::Mark mark;
  std::string what;
};

/// Length of the UTF-8 character that `text` starts with, 0 if it is none.
std::size_t character_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const auto first = byte(0);
  if (first < 0x80U) return 1;
  const std::size_t length = first >= 0xF0U ? 4 : first >= 0xE0U ? 3 : 2;
  if (first < 0xC2U || first > 0xF4U || text.size() < length) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) return 0;
  }
  const bool overlong = (first == 0xE0U && byte(1) < 0xA0U) || (first == 0xF0U && byte(1) < 0x90U);
  const bool surrogate = first == 0xEDU && byte(1) > 0x9FU;
  const bool beyond = first == 0xF4U && byte(1) > 0x8FU;
  return overlong || surrogate || beyond ? 0 : length;
}

bool is_indicator(char c) {
  return std::string_view("[]{},:?&*!").find(c) != std::string_view::npos;
}

/// Builds the tree from the parser's events.
class TreeBuilder final : public YAML::EventHandler {
 public:
  TreeBuilder(const File& file, Problems& problems)
      : origin_(std::make_shared<const std::string>(file.name)),
        text_(file.text),
        problems_(problems) {
    for (std::size_t i = 0; i < text_.size(); ++i) {
      if (i == 0 || text_[i - 1] == '\n') line_starts_.push_back(i);
    }
  }

  [[nodiscard]] Node take_root() { return std::move(root_); }

  [[nodiscard]] Place place(const YAML::Mark& mark) const {
    if (mark.line < 0) return {.origin = origin_};
    return {.origin = origin_, .line = mark.line + 1, .column = column(mark) + 1};
  }

  void OnDocumentStart(const YAML::Mark& mark) override {
    if (++documents_ > 1) throw Refusal{mark, "the file holds more than one YAML document"};
  }
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    refuse_anchor(mark, anchor);
    if (expects_key()) throw Refusal{mark, "a key is missing before the colon"};
    add(node(Node::Kind::null, mark));
  }
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t /*anchor*/) override {
    throw Refusal{mark, "aliases (*name) are not allowed"};
  }
  void OnScalar(const YAML::Mark& mark,
                const std::string& tag,
                YAML::anchor_t anchor,
                const std::string& value) override {
    refuse_anchor(mark, anchor);
    refuse_tag(mark, tag);
    auto scalar = node(Node::Kind::scalar, mark);
    scalar.text = value;
    if (expects_key()) {
      take_key(std::move(scalar));
    } else {
      add(std::move(scalar));
    }
  }
  void OnSequenceStart(const YAML::Mark& mark,
                       const std::string& tag,
                       YAML::anchor_t anchor,
                       YAML::EmitterStyle::value /*style*/) override {
    open(Node::Kind::list, mark, tag, anchor);
  }
  void OnSequenceEnd() override { close(); }
  void OnMapStart(const YAML::Mark& mark,
                  const std::string& tag,
                  YAML::anchor_t anchor,
                  YAML::EmitterStyle::value /*style*/) override {
    open(Node::Kind::map, mark, tag, anchor);
  }
  void OnMapEnd() override { close(); }

 private:
  /// A map or list that is not complete yet.
  struct Level {
    Node node;
    std::optional<Entry> pending = {};
    bool pending_is_repeated = false;
    std::unordered_set<std::string> keys = {};
  };

  /// The parser counts bytes; people count characters.
  [[nodiscard]] int column(const YAML::Mark& mark) const {
    const auto line = static_cast<std::size_t>(mark.line);
    if (line >= line_starts_.size()) return mark.column;
    const auto before = text_.substr(line_starts_[line], static_cast<std::size_t>(mark.column));
    return static_cast<int>(std::count_if(before.begin(), before.end(), [](char c) {
      return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    }));
  }

  [[nodiscard]] Node node(Node::Kind kind, const YAML::Mark& mark) {
    if (++nodes_ > limits::nodes) {
      throw Refusal{mark, fmt::format("the file holds more than {} values", limits::nodes)};
    }
    return {kind, place(mark)};
  }

  static void refuse_anchor(const YAML::Mark& mark, YAML::anchor_t anchor) {
    if (anchor != 0) throw Refusal{mark, "anchors (&name) are not allowed"};
  }
  /// The parser marks plain text with "?" and quoted text with "!".
  static void refuse_tag(const YAML::Mark& mark, const std::string& tag) {
    if (!tag.empty() && tag != "?" && tag != "!") {
      throw Refusal{mark, "tags (!name) are not allowed"};
    }
  }

  [[nodiscard]] bool expects_key() const {
    return !levels_.empty() && levels_.back().node.kind == Node::Kind::map &&
           !levels_.back().pending;
  }

  void take_key(Node scalar) {
    auto& level = levels_.back();
    level.pending_is_repeated = !level.keys.insert(scalar.text).second;
    if (level.pending_is_repeated) {
      problems_.add(
          {.place = scalar.place, .key = path_to(scalar.text), .what = "the key is given twice"});
    }
    level.pending = Entry{.key = std::move(scalar.text), .place = scalar.place};
  }

  [[nodiscard]] std::string path_to(const std::string& key) const {
    std::string path;
    for (const auto& level : levels_) {
      if (level.pending) path += level.pending->key + ".";
      if (level.node.kind == Node::Kind::list) path += fmt::format("{}.", level.node.items.size());
    }
    return path + key;
  }

  void open(Node::Kind kind,
            const YAML::Mark& mark,
            const std::string& tag,
            YAML::anchor_t anchor) {
    refuse_anchor(mark, anchor);
    refuse_tag(mark, tag);
    if (expects_key()) throw Refusal{mark, "a key must be plain text"};
    if (static_cast<int>(levels_.size()) >= limits::depth) {
      throw Refusal{mark, fmt::format("values are nested more than {} deep", limits::depth)};
    }
    levels_.push_back({.node = node(kind, mark)});
  }

  void close() {
    auto done = std::move(levels_.back().node);
    levels_.pop_back();
    add(std::move(done));
  }

  void add(Node value) {
    if (levels_.empty()) {
      root_ = std::move(value);
      return;
    }
    auto& level = levels_.back();
    if (level.node.kind == Node::Kind::list) {
      level.node.items.push_back(std::move(value));
      return;
    }
    auto entry = std::exchange(level.pending, std::nullopt);
    if (!entry || level.pending_is_repeated) return;
    entry->value = std::move(value);
    level.node.entries.push_back(std::move(*entry));
  }

  std::shared_ptr<const std::string> origin_;
  std::string_view text_;
  std::vector<std::size_t> line_starts_;
  Problems& problems_;
  std::vector<Level> levels_;
  Node root_;
  int nodes_ = 0;
  int documents_ = 0;
};

std::string size_allowed() { return fmt::format("at most {} KiB", limits::bytes / 1024); }

}  // namespace

bool is_text(std::string_view bytes) {
  while (!bytes.empty()) {
    const auto length = bytes[0] == '\0' ? 0 : character_length(bytes);
    if (length == 0) return false;
    bytes.remove_prefix(length);
  }
  return true;
}

const Node* Node::find(std::string_view key) const {
  const auto found = std::find_if(
      entries.begin(), entries.end(), [&](const Entry& entry) { return entry.key == key; });
  return found == entries.end() ? nullptr : &found->value;
}

Node* Node::find(std::string_view key) {
  const auto found = std::find_if(
      entries.begin(), entries.end(), [&](const Entry& entry) { return entry.key == key; });
  return found == entries.end() ? nullptr : &found->value;
}

std::optional<File> read_file(const std::filesystem::path& path, Problems& problems) {
  File file{.name = path.string()};
  const auto refuse = [&](std::string what, std::string allowed = {}) {
    problems.add_file(file.name, std::move(what), std::move(allowed));
    return std::nullopt;
  };
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (error || !std::filesystem::exists(status)) return refuse("there is no such file");
  if (std::filesystem::is_directory(status)) return refuse("this is a folder, not a file");
  if (std::filesystem::is_regular_file(status) &&
      std::filesystem::file_size(path, error) > limits::bytes) {
    return refuse("the file is too large", size_allowed());
  }
  std::ifstream stream(path, std::ios::binary);
  if (!stream) return refuse("the file cannot be opened");
  std::array<char, 16384> chunk{};
  do {
    stream.read(chunk.data(), chunk.size());
    file.text.append(chunk.data(), static_cast<std::size_t>(stream.gcount()));
    if (file.text.size() > limits::bytes) return refuse("the file is too large", size_allowed());
  } while (stream);
  if (stream.bad()) return refuse("the file cannot be read");
  if (!is_text(file.text)) return refuse("this is not a text file", "YAML in UTF-8");
  return file;
}

std::optional<Node> parse_document(const File& file, Problems& problems) {
  const auto indicators = std::count_if(file.text.begin(), file.text.end(), is_indicator);
  if (static_cast<std::size_t>(indicators) > limits::indicators) {
    problems.add_file(file.name, "the file holds too many brackets, commas and colons");
    return std::nullopt;
  }
  TreeBuilder builder(file, problems);
  try {
    std::istringstream stream(file.text);
    YAML::Parser parser(stream);
    while (parser.HandleNextDocument(builder)) {
    }
  } catch (const Refusal& refusal) {
    problems.add({.place = builder.place(refusal.mark), .what = refusal.what});
    return std::nullopt;
  } catch (const YAML::Exception& error) {
    problems.add({.place = builder.place(error.mark), .what = "not valid YAML: " + error.msg});
    return std::nullopt;
  }
  auto root = builder.take_root();
  if (root.kind == Node::Kind::null) {
    problems.add_file(file.name, "the file is empty");
    return std::nullopt;
  }
  return root;
}

}  // namespace windgap::casefile
