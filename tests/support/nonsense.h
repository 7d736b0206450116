#pragma once

#include <cctype>
#include <string_view>

namespace windgap::test {

/// Whether the text holds a number that is none, as a word of its own.
inline bool tells_nonsense(std::string_view text) {
  const auto part_of_word = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0; };
  for (const std::string_view word : {"nan", "inf"}) {
    for (auto at = text.find(word); at != std::string_view::npos; at = text.find(word, at + 1)) {
      const auto after = at + word.size();
      if ((at == 0 || !part_of_word(text[at - 1])) &&
          (after == text.size() || !part_of_word(text[after])))
        return true;
    }
  }
  return false;
}

}  // namespace windgap::test
