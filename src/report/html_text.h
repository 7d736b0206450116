#pragma once

#include <string>
#include <string_view>
#include <vector>

/// Pieces of HTML. Everything that comes from a case passes through `escaped`.
namespace windgap::report {

/// Text as content or attribute of an element.
[[nodiscard]] std::string escaped(std::string_view text);

/// `<name>text</name>`, the text escaped.
[[nodiscard]] std::string element(std::string_view name, std::string_view text);

/// One paragraph of sentences; nothing without any.
[[nodiscard]] std::string paragraph_of(const std::vector<std::string>& sentences);

/// A list of texts; nothing without any.
[[nodiscard]] std::string list_of(const std::vector<std::string>& items);

/// A table with a head; the first cell of every row is its heading.
[[nodiscard]] std::string table_of(const std::vector<std::string>& head,
                                   const std::vector<std::vector<std::string>>& rows);

}  // namespace windgap::report
