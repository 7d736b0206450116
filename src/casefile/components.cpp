#include "casefile/components.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <system_error>
#include <utility>

#include "casefile/nearest.h"

namespace windgap::casefile {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_names_compared = 1000;

struct Reference {
  fs::path path;
  const Node& node;
  std::string key;
};

bool is_inside(const fs::path& path, const fs::path& folder) {
  return std::mismatch(folder.begin(), folder.end(), path.begin(), path.end()).first ==
         folder.end();
}

void refuse(const Reference& reference,
            std::string what,
            Findings& findings,
            std::string suggestion = {}) {
  findings.problems.add({.place = reference.node.place,
                         .key = reference.key,
                         .read = reference.node.text,
                         .what = std::move(what),
                         .suggestion = std::move(suggestion)});
}

std::string similar_file(const Reference& reference, const Roots& roots) {
  std::vector<std::string> names;
  for (const auto& root : roots.folders) {
    std::error_code error;
    const auto folder = root / reference.path.parent_path();
    for (fs::directory_iterator file(folder, error), end; file != end && !error;
         file.increment(error)) {
      if (file->path().extension() == ".yaml" && names.size() < most_names_compared) {
        names.push_back((reference.path.parent_path() / file->path().filename()).string());
      }
    }
  }
  std::sort(names.begin(), names.end());
  return nearest(reference.path.string(), names);
}

/// The file that the reference means, if it may be opened.
std::optional<fs::path> locate(const Reference& reference, const Roots& roots, Findings& findings) {
  const bool climbs =
      std::find(reference.path.begin(), reference.path.end(), "..") != reference.path.end();
  if (reference.path.empty() || reference.path.is_absolute() || climbs) {
    refuse(reference,
           "a component is named by a path below the case's folder or a models folder, "
           "without a leading slash or ..",
           findings);
    return std::nullopt;
  }
  for (const auto& root : roots.folders) {
    std::error_code error;
    const auto folder = fs::canonical(root.empty() ? fs::path(".") : root, error);
    if (error) continue;
    const auto candidate = folder / reference.path;
    if (!fs::exists(fs::symlink_status(candidate, error))) continue;
    const auto target = fs::canonical(candidate, error);
    if (error || !is_inside(target, folder)) {
      refuse(reference, "this is a link that leads out of its folder", findings);
      return std::nullopt;
    }
    if (!fs::is_regular_file(target, error)) {
      refuse(reference, "this is not a file", findings);
      return std::nullopt;
    }
    return root / reference.path;
  }
  refuse(reference,
         "there is no such component in the case's folder or a models folder",
         findings,
         similar_file(reference, roots));
  return std::nullopt;
}

void merge(Node& base, Node overrides) {
  for (auto& entry : overrides.entries) {
    if (entry.value.kind == Node::Kind::null) continue;
    Node* const below = base.find(entry.key);
    if (below == nullptr) {
      base.entries.push_back(std::move(entry));
    } else if (below->kind == Node::Kind::map && entry.value.kind == Node::Kind::map) {
      merge(*below, std::move(entry.value));
    } else {
      *below = std::move(entry.value);
    }
  }
}

std::optional<Node> read_component(const Reference& reference,
                                   const Roots& roots,
                                   Findings& findings) {
  const auto path = locate(reference, roots, findings);
  if (!path) return std::nullopt;
  auto file = read_file(*path, findings.problems);
  if (!file) return std::nullopt;
  auto tree = parse_document(*file, findings.problems);
  findings.files.push_back(std::move(*file));
  if (!tree) return std::nullopt;
  if (tree->kind != Node::Kind::map || tree->find("model") != nullptr) {
    refuse(reference, "a component file holds keys and values, and refers to no other", findings);
    return std::nullopt;
  }
  return tree;
}

}  // namespace

void resolve_component(Node& value,
                       const std::string& key,
                       const Roots& roots,
                       Findings& findings) {
  const Node* const name = value.kind == Node::Kind::map ? value.find("model") : &value;
  if (name == nullptr || name->kind == Node::Kind::null || value.kind == Node::Kind::list) return;
  const bool is_map = value.kind == Node::Kind::map;
  const Reference reference{name->text, *name, is_map ? join_path(key, "model") : key};
  if (name->kind != Node::Kind::scalar) {
    refuse(reference, "the name of a component file is wanted", findings);
    value.refused = true;
    return;
  }
  auto component = read_component(reference, roots, findings);
  if (!component) {
    value.refused = true;
    return;
  }
  component->place = value.place;
  std::erase_if(value.entries, [](const Entry& entry) { return entry.key == "model"; });
  merge(*component, std::move(value));
  value = std::move(*component);
}

}  // namespace windgap::casefile
