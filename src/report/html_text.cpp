#include "report/html_text.h"

#include <fmt/format.h>

namespace windgap::report {

std::string escaped(std::string_view text) {
  std::string safe;
  safe.reserve(text.size());
  for (const char c : text) {
    switch (c) {
      case '&':
        safe += "&amp;";
        break;
      case '<':
        safe += "&lt;";
        break;
      case '>':
        safe += "&gt;";
        break;
      case '"':
        safe += "&quot;";
        break;
      case '\'':
        safe += "&#39;";
        break;
      default:
        safe += c;
    }
  }
  return safe;
}

std::string element(std::string_view name, std::string_view text) {
  return fmt::format("<{0}>{1}</{0}>\n", name, escaped(text));
}

std::string paragraph_of(const std::vector<std::string>& sentences) {
  return sentences.empty() ? std::string()
                           : element("p", fmt::format("{}", fmt::join(sentences, " ")));
}

std::string list_of(const std::vector<std::string>& items) {
  if (items.empty()) return {};
  std::string text = "<ul>\n";
  for (const auto& item : items) text += element("li", item);
  return text + "</ul>\n";
}

std::string table_of(const std::vector<std::string>& head,
                     const std::vector<std::vector<std::string>>& rows) {
  std::string text = "<div class=\"table\"><table>\n<thead><tr>";
  for (const auto& name : head) text += fmt::format("<th scope=\"col\">{}</th>", escaped(name));
  text += "</tr></thead>\n<tbody>\n";
  for (const auto& row : rows) {
    text += "<tr>";
    for (std::size_t i = 0; i < row.size(); ++i) {
      // The head again in every cell, for screens too narrow for columns.
      // The head again in every cell, for screens too narrow for columns.
      text += i == 0 ? fmt::format("<th scope=\"row\">{}</th>", escaped(row[i]))
                     : fmt::format("<td data-head=\"{}\">{}</td>",
                                   escaped(i < head.size() ? head[i] : ""),
                                   escaped(row[i]));
    }
    text += "</tr>\n";
  }
  return text + "</tbody>\n</table></div>\n";
}

}  // namespace windgap::report
