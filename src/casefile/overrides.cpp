#include "casefile/overrides.h"

#include <fmt/format.h>

#include <charconv>
#include <memory>
#include <optional>
#include <system_error>
#include <utility>
#include <vector>

namespace windgap::casefile {
namespace {

std::vector<std::string> split_at_points(std::string_view path) {
  std::vector<std::string> parts;
  while (true) {
    const auto point = path.find('.');
    parts.emplace_back(path.substr(0, point));
    if (point == std::string_view::npos) return parts;
    path.remove_prefix(point + 1);
  }
}

void move_to(Node& node, const Place& place) {
  node.place = place;
  for (auto& item : node.items) move_to(item, place);
  for (auto& entry : node.entries) {
    entry.place = place;
    move_to(entry.value, place);
  }
}

std::optional<Node> value_of(std::string_view text, const Place& place, Problems& problems) {
  if (text.empty()) return Node(Node::Kind::null, place);
  if (!text.starts_with('[') && !text.starts_with('{')) {
    return Node(Node::Kind::scalar, place, std::string(text));
  }
  Problems inner;
  auto value = parse_document({.name = *place.origin, .text = std::string(text)}, inner);
  for (auto problem : inner.list()) {
    problem.place = place;
    problem.read = text;
    problems.add(std::move(problem));
  }
  if (value) move_to(*value, place);
  return value;
}

/// The value under one part of the path, made where it is missing; nullptr if there can be none.
Node* step_into(Node& node, const std::string& part, const Place& place) {
  if (node.kind == Node::Kind::null) node = Node(Node::Kind::map, place);
  if (node.kind == Node::Kind::scalar) {
    if (!node.text.ends_with(".yaml")) return nullptr;
    Node map(Node::Kind::map, node.place);
    map.entries.push_back({.key = "model", .place = map.place, .value = std::move(node)});
    node = std::move(map);
  }
  if (node.kind == Node::Kind::list) {
    std::size_t index = 0;
    const char* const end = part.data() + part.size();
    const auto result = std::from_chars(part.data(), end, index);
    if (result.ec != std::errc() || result.ptr != end || index > node.items.size()) return nullptr;
    if (index == node.items.size()) node.items.emplace_back(Node::Kind::null, place);
    return &node.items[index];
  }
  if (auto* found = node.find(part)) return found;
  node.entries.push_back({.key = part, .place = place, .value = {Node::Kind::null, place}});
  return &node.entries.back().value;
}

void apply(Node& root, const std::string& setting, Problems& problems) {
  const auto equals = setting.find('=');
  const auto path = setting.substr(0, equals);
  const Place place{.origin = std::make_shared<const std::string>("--set " + path)};
  const auto refuse = [&](std::string what) {
    problems.add({.place = place, .key = path, .what = std::move(what)});
  };
  if (equals == std::string::npos || !is_text(setting)) {
    return refuse("a setting is written as key=value, such as mount.slip=\"3 mm\"");
  }
  const auto parts = split_at_points(path);
  if (static_cast<int>(parts.size()) > limits::depth) return refuse("the key has too many parts");
  for (const auto& part : parts) {
    if (part.empty()) return refuse("a part of the key is empty");
  }
  auto value = value_of(std::string_view(setting).substr(equals + 1), place, problems);
  if (!value) return;
  Node* target = &root;
  for (const auto& part : parts) {
    target = step_into(*target, part, place);
    if (target == nullptr) return refuse(fmt::format("there is no place for \"{}\"", part));
  }
  *target = std::move(*value);
}

}  // namespace

void apply_overrides(Node& root, std::span<const std::string> settings, Problems& problems) {
  for (const auto& setting : settings) apply(root, setting, problems);
}

}  // namespace windgap::casefile
