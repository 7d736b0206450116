#include "casefile/problems.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <tuple>
#include <utility>

namespace windgap::casefile {
namespace {

constexpr std::size_t longest_shown = 80;
constexpr std::size_t most_shown = 100;

std::string all_texts(const std::vector<Problem>& problems) {
  std::string text;
  for (std::size_t i = 0; i < std::min(problems.size(), most_shown); ++i) {
    if (i > 0) text += '\n';
    text += to_text(problems[i]);
  }
  if (problems.size() > most_shown) {
    text += fmt::format("\nand {} problems more", problems.size() - most_shown);
  }
  return text;
}

bool continues_character(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

/// Control characters of ASCII, and those of Latin-1 in UTF-8 (C2 80 to C2 9F).
std::size_t control_length(std::string_view text) {
  const auto first = static_cast<unsigned char>(text[0]);
  if (first < 0x20U || first == 0x7FU) return 1;
  if (first == 0xC2U && text.size() > 1 && static_cast<unsigned char>(text[1]) < 0xA0U) return 2;
  return 0;
}

}  // namespace

std::string to_text(const Place& place) {
  const auto origin = place.origin ? printable(*place.origin) : "";
  return place.line > 0 ? fmt::format("{}:{}:{}", origin, place.line, place.column) : origin;
}

std::string single_line(std::string_view text) {
  std::string line;
  while (!text.empty()) {
    const auto control = control_length(text);
    line += control > 0 ? ' ' : text[0];
    text.remove_prefix(std::max<std::size_t>(control, 1));
  }
  return line;
}

std::string printable(std::string_view text) {
  std::size_t characters = 0;
  std::size_t end = 0;
  while (end < text.size() && (characters < longest_shown || continues_character(text[end]))) {
    if (!continues_character(text[end])) ++characters;
    ++end;
  }
  return single_line(text.substr(0, end)) + (end < text.size() ? "…" : "");
}

std::string to_text(const Problem& problem) {
  std::vector<std::string> heads;
  if (auto where = to_text(problem.place); !where.empty()) heads.push_back(std::move(where));
  // `--set a.b` names the key already.
  const bool key_is_said = problem.place.line == 0 && problem.place.origin &&
                           problem.place.origin->ends_with(" " + problem.key);
  if (!problem.key.empty() && !key_is_said) heads.push_back(printable(problem.key));
  if (!problem.read.empty()) heads.push_back(fmt::format("read \"{}\"", printable(problem.read)));
  auto text = fmt::format("{}: {}", fmt::join(heads, ": "), problem.what);
  if (!problem.allowed.empty()) text += "; allowed: " + problem.allowed;
  if (!problem.suggestion.empty()) text += "; did you mean " + problem.suggestion + "?";
  return single_line(text);  // a reason may quote the file
}

InputError::InputError(std::vector<Problem> problems)
    : std::runtime_error(all_texts(problems)), problems_(std::move(problems)) {}

// NOLINTNEXTLINE(bugprone-easily-swappable-parameters): in the order of a problem's line
void Problems::add_file(const std::string& file, std::string what, std::string allowed) {
  Problem problem;
  problem.place.origin = std::make_shared<const std::string>(file);
  problem.what = std::move(what);
  problem.allowed = std::move(allowed);
  add(std::move(problem));
}

void Problems::sort(const std::vector<std::string>& origins) {
  const auto rank = [&](const Problem& problem) {
    const auto& place = problem.place;
    const auto at = place.origin == nullptr
                        ? origins.end()
                        : std::find(origins.begin(), origins.end(), *place.origin);
    return std::tuple(at - origins.begin(), place.line, place.column);
  };
  std::stable_sort(list_.begin(), list_.end(), [&](const Problem& a, const Problem& b) {
    return rank(a) < rank(b);
  });
}

void Problems::throw_if_any() const {
  if (!list_.empty()) throw InputError(list_);
}

}  // namespace windgap::casefile
