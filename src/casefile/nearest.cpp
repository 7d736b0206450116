#include "casefile/nearest.h"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <vector>

namespace windgap::casefile {
namespace {

constexpr std::size_t longest_word = 64;

std::string folded(std::string_view word) {
  std::string result(word);
  for (char& c : result) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    if (c == '-' || c == ' ') c = '_';
  }
  return result;
}

/// Insertions, deletions, changes and swaps of neighbours that turn `a` into `b`.
std::size_t letters_apart(const std::string& a, const std::string& b) {
  const std::size_t width = b.size() + 1;
  std::vector<std::size_t> table((a.size() + 1) * width);
  const auto at = [&](std::size_t i, std::size_t j) -> std::size_t& {
    return table[i * width + j];
  };
  for (std::size_t i = 0; i <= a.size(); ++i) at(i, 0) = i;
  for (std::size_t j = 0; j <= b.size(); ++j) at(0, j) = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = a[i - 1] == b[j - 1] ? 0 : 1;
      at(i, j) = std::min({at(i - 1, j) + 1, at(i, j - 1) + 1, at(i - 1, j - 1) + change});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        at(i, j) = std::min(at(i, j), at(i - 2, j - 2) + 1);
      }
    }
  }
  return table.back();
}

}  // namespace

std::string nearest(std::string_view written, std::span<const std::string> words) {
  if (written.empty() || written.size() > longest_word) return {};
  const auto target = folded(written);
  std::string best;
  std::size_t least = std::numeric_limits<std::size_t>::max();
  for (const auto& word : words) {
    const auto distance = letters_apart(target, folded(word));
    const auto tolerated = std::max<std::size_t>(1, std::max(word.size(), written.size()) / 3);
    if (distance <= tolerated && distance < least) {
      least = distance;
      best = word;
    }
  }
  return best;
}

}  // namespace windgap::casefile
