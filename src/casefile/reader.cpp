#include "casefile/reader.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <system_error>

#include "casefile/nearest.h"

namespace windgap::casefile {
namespace {

constexpr std::size_t longest_text = 200;

std::string range_text(const Measure& measure, std::string_view unit) {
  return fmt::format("{} to {}",
                     units::format_in(measure.least, measure.dimension, unit),
                     units::format_in(measure.most, measure.dimension, unit));
}

std::string wanted_text(const Measure& measure, units::System system) {
  if (!std::isfinite(measure.least) || !std::isfinite(measure.most)) {
    return units::wanted_text(measure.dimension);
  }
  return fmt::format("{}, from {} to {}",
                     units::wanted_text(measure.dimension),
                     units::format(measure.least, measure.dimension, system),
                     units::format(measure.most, measure.dimension, system));
}

bool holds_value(const Node& node) {
  const auto entry_holds = [](const Entry& entry) { return holds_value(entry.value); };
  return node.kind == Node::Kind::scalar ||
         std::any_of(node.items.begin(), node.items.end(), holds_value) ||
         std::any_of(node.entries.begin(), node.entries.end(), entry_holds);
}

}  // namespace

Reader::Reader(const Node* node, std::string path, Place outside, Findings& findings)
    : node_(node), path_(std::move(path)), place_(std::move(outside)), findings_(&findings) {
  if (node_ != nullptr && node_->kind == Node::Kind::null) node_ = nullptr;
  if (node_ == nullptr) return;
  place_ = node_->place;
  if (node_->kind == Node::Kind::map && !node_->refused) return;
  muted_ = true;
  if (!node_->refused) {
    findings.problems.add({.place = place_,
                           .key = path_,
                           .read = node_->text,
                           .what = "keys and values are wanted here"});
  }
  node_ = nullptr;
}

bool Reader::given() const { return node_ != nullptr && holds_value(*node_); }

const Node* Reader::find(std::string_view key) const {
  const Node* found = node_;
  while (found != nullptr && !key.empty()) {
    const auto point = key.find('.');
    found = found->find(key.substr(0, point));
    key = point == std::string_view::npos ? std::string_view() : key.substr(point + 1);
  }
  return found == nullptr || found->kind == Node::Kind::null ? nullptr : found;
}

Place Reader::place_of(std::string_view key) const {
  if (node_ == nullptr) return place_;
  const auto entry = std::find_if(node_->entries.begin(),
                                  node_->entries.end(),
                                  [&](const Entry& candidate) { return candidate.key == key; });
  return entry == node_->entries.end() ? place_ : entry->place;
}

void Reader::accept(std::string_view key) {
  if (muted_) return;
  auto& keys = findings_->accepted[path_];
  if (std::find(keys.begin(), keys.end(), key) == keys.end()) keys.emplace_back(key);
}

void Reader::refuse(std::string_view key, std::string what, std::string allowed) {
  if (muted_) return;
  const Node* const value = find(key);
  findings_->problems.add({.place = value == nullptr ? place_of(key) : value->place,
                           .key = join_path(path_, key),
                           .read = value == nullptr ? std::string() : value->text,
                           .what = std::move(what),
                           .allowed = std::move(allowed)});
}

void Reader::assume(std::string_view key, std::string value, std::string source) {
  if (muted_) return;
  findings_->assumed.push_back(
      {.key = join_path(path_, key), .value = std::move(value), .source = std::move(source)});
}

std::string Reader::bound_text(std::string_view key, double bound) const {
  const auto path = join_path(path_, key);
  const auto dimension = findings_->measures.at(path).dimension;
  const auto* const value = find_given(*findings_, path);
  return value == nullptr ? units::format(bound, dimension, findings_->system)
                          : units::format_in(bound, dimension, value->unit);
}

bool Reader::is_from_case(const Node& node) const {
  const auto& origin = *node.place.origin;
  return origin.starts_with("--set ") ||
         (!findings_->files.empty() && origin == findings_->files.front().name);
}

void Reader::require_order(
    std::string_view key, double value, Order order, std::string_view bound_key, double bound) {
  const bool holds = order == Order::below ? !(value >= bound) : !(value > bound);
  if (holds) return;
  const Node* const small = find(key);
  const Node* const large = find(bound_key);
  const bool large_is_wrong =
      large != nullptr && (small == nullptr || (!is_from_case(*small) && is_from_case(*large)));
  const bool strict = order == Order::below;
  const auto text = [](std::string_view start, std::string_view end) {
    return fmt::format("{} {}", start, end);
  };
  if (large_is_wrong) {
    refuse(bound_key,
           text(strict ? "this must be more than" : "this must not be less than", key),
           text(strict ? "more than" : "at least", bound_text(bound_key, value)));
  } else {
    refuse(key,
           text(strict ? "this must be less than" : "this must not be more than", bound_key),
           text(strict ? "less than" : "up to", bound_text(key, bound)));
  }
}

const Node* Reader::scalar(std::string_view key, const std::string& wanted) {
  accept(key);
  const Node* const value = find(key);
  if (value == nullptr || value->kind == Node::Kind::scalar) return value;
  refuse(key, "a single value is wanted here", wanted);
  return nullptr;
}

void Reader::note(std::string_view key, const Node& value) {
  findings_->given.push_back({.key = join_path(path_, key),
                              .written = value.text,
                              .shown = value.text,
                              .place = value.place});
}

double Reader::optional(std::string_view key, const Measure& measure) {
  const auto path = join_path(path_, key);
  findings_->measures.insert_or_assign(path, measure);
  const Node* const value = scalar(key, wanted_text(measure, findings_->system));
  return value == nullptr ? unset : read_quantity(*value, path, measure);
}

double Reader::read_quantity(const Node& value, const std::string& path, const Measure& measure) {
  const auto reading = units::parse(value.text, measure.dimension);
  Problem problem{.place = value.place, .key = path, .read = value.text};
  if (!reading.quantity) {
    problem.what = reading.problem;
    problem.suggestion = reading.suggestion;
    problem.allowed = wanted_text(measure, findings_->system);
    findings_->problems.add(std::move(problem));
    return unset;
  }
  const auto& quantity = *reading.quantity;
  // A bound typed in the person's unit must not fail by the last bit of the conversion.
  const double slack = 1e-12 * std::abs(quantity.value);
  const bool too_small = quantity.value < measure.least - slack;
  const bool too_large = quantity.value > measure.most + slack;
  const bool reaches_below =
      measure.least >= 0 && quantity.value - quantity.tolerance < measure.least - slack;
  if (too_small || too_large || reaches_below) {
    problem.what = too_small   ? "the value is too small"
                   : too_large ? "the value is too large"
                               : "the tolerance reaches below the smallest value";
    problem.allowed = range_text(measure, quantity.unit);
    findings_->problems.add(std::move(problem));
    return unset;
  }
  if (quantity.tolerance > 0) {
    findings_->tolerances.push_back(
        {.key = path, .value = quantity.value, .half_width = quantity.tolerance});
  }
  findings_->given.push_back(
      {.key = path,
       .written = value.text,
       .shown = units::format(quantity.value, measure.dimension, findings_->system),
       .unit = quantity.unit,
       .place = value.place});
  return quantity.value;
}

std::optional<std::pair<double, double>> Reader::range(std::string_view key,
                                                       const Measure& measure) {
  accept(key);
  const Node* const list = find(key);
  if (list == nullptr || list->kind != Node::Kind::list) return std::nullopt;
  const auto is_scalar = [](const Node& node) { return node.kind == Node::Kind::scalar; };
  if (list->items.size() != 2 || !std::all_of(list->items.begin(), list->items.end(), is_scalar)) {
    refuse(key, "a range is written as [least, most]", wanted_text(measure, findings_->system));
    return std::pair{unset, unset};
  }
  const auto path = join_path(path_, key);
  const double least = read_quantity(list->items[0], path, measure);
  const double most = read_quantity(list->items[1], path, measure);
  if (least >= most) {
    if (muted_) return std::pair{least, most};
    findings_->problems.add(
        {.place = list->place,
         .key = path,
         .read = fmt::format("[{}, {}]", list->items[0].text, list->items[1].text),
         .what = "the range does not rise from its first value to its second",
         .allowed = "first the least, then the most"});
  }
  return std::pair{least, most};
}

void Reader::require(std::string_view key, std::string allowed) {
  if (has(key) || findings_->may_lack) return;
  const auto measure = findings_->measures.find(join_path(path_, key));
  if (allowed.empty() && measure != findings_->measures.end()) {
    allowed = wanted_text(measure->second, findings_->system);
  }
  refuse(key, "missing", std::move(allowed));
}

double Reader::required(std::string_view key, const Measure& measure) {
  const double value = optional(key, measure);
  require(key);
  return value;
}

double Reader::assumed(std::string_view key, const Measure& measure, const Fallback& fallback) {
  const double value = optional(key, measure);
  if (has(key)) return value;
  assume(key, units::format(fallback.value, measure.dimension, findings_->system), fallback.source);
  if (fallback.spread > 0 && !muted_) {
    findings_->tolerances.push_back(
        {.key = join_path(path_, key), .value = fallback.value, .half_width = fallback.spread});
  }
  return fallback.value;
}

std::optional<int> Reader::optional_count(std::string_view key, int least, int most) {
  const auto allowed = fmt::format("a whole number from {} to {}", least, most);
  const Node* const value = scalar(key, allowed);
  if (value == nullptr) return has(key) ? std::optional<int>(least) : std::nullopt;
  int number = 0;
  const char* const end = value->text.data() + value->text.size();
  const auto result = std::from_chars(value->text.data(), end, number);
  if (result.ec == std::errc() && result.ptr == end && number >= least && number <= most) {
    note(key, *value);
    return number;
  }
  refuse(key, "this is not a count in range", allowed);
  return least;
}

std::optional<bool> Reader::optional_flag(std::string_view key) {
  return optional_choice<bool>(key,
                               {{"yes", true}, {"no", false}, {"true", true}, {"false", false}});
}

std::optional<std::string> Reader::optional_text(std::string_view key) {
  const Node* const value = scalar(key, "a line of text");
  if (value == nullptr) return std::nullopt;
  if (value->text.size() > longest_text || value->text != single_line(value->text)) {
    refuse(key, "one line of text is wanted", fmt::format("up to {} bytes", longest_text));
  }
  note(key, *value);
  return value->text;
}

std::optional<std::size_t> Reader::choice_index(std::string_view key,
                                                const std::vector<std::string>& words) {
  const auto allowed = fmt::format("{}", fmt::join(words, ", "));
  const Node* const value = scalar(key, allowed);
  if (value == nullptr) return has(key) ? std::optional<std::size_t>(0) : std::nullopt;
  const auto found = std::find(words.begin(), words.end(), value->text);
  if (found != words.end()) {
    note(key, *value);
    return static_cast<std::size_t>(found - words.begin());
  }
  findings_->problems.add({.place = value->place,
                           .key = join_path(path_, key),
                           .read = value->text,
                           .what = "unknown word",
                           .allowed = allowed,
                           .suggestion = nearest(value->text, words)});
  return 0;
}

Reader Reader::section(std::string_view key) {
  accept(key);
  Reader inner(find(key), join_path(path_, key), place_, *findings_);
  inner.muted_ = inner.muted_ || muted_;
  return inner;
}

const Node* Reader::find_list(std::string_view key) {
  accept(key);
  const Node* const value = find(key);
  if (value == nullptr || value->kind == Node::Kind::list) return value;
  refuse(key, "a list is wanted here, [a, b] or one item after each dash");
  return nullptr;
}

std::vector<std::string> Reader::texts(std::string_view key) {
  std::vector<std::string> values;
  const Node* const list = find_list(key);
  if (list == nullptr) return values;
  for (const auto& item : list->items) {
    if (item.kind != Node::Kind::scalar) {
      refuse(key, "single values are wanted in this list");
      return {};
    }
    values.push_back(item.text);
  }
  return values;
}

std::vector<Reader> Reader::list(std::string_view key) {
  std::vector<Reader> readers;
  const Node* const list = find_list(key);
  if (list == nullptr) return readers;
  for (std::size_t i = 0; i < list->items.size(); ++i) {
    const auto path = join_path(join_path(path_, key), std::to_string(i));
    readers.emplace_back(&list->items[i], path, list->items[i].place, *findings_);
  }
  return readers;
}

}  // namespace windgap::casefile
