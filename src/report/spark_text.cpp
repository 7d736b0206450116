#include "report/spark_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

#include "report/shorten.h"
#include "report/shown.h"
#include "report/spark_words.h"

namespace windgap::report {
namespace {

constexpr std::size_t screen = 80;
constexpr std::size_t indent = 2;

std::string paragraph(const std::vector<std::string>& sentences) {
  return wrapped(fmt::format("{}", fmt::join(sentences, " ")), indent, screen);
}

std::string cautions_text() {
  std::string list;
  for (const auto& caution : spark_cautions()) {
    if (!list.empty()) list += "; ";
    list += caution.brief;
  }
  return wrapped(fmt::format("Before anything else: {}.", list), 0, screen);
}

/// A source's name cut to a width; the mark of the one fitted stays.
std::string short_name(const std::string& name, std::size_t width) {
  constexpr std::string_view mark = " *";
  if (!name.ends_with(mark)) return shortened(name, width);
  return shortened(name.substr(0, name.size() - mark.size()), width - mark.size()) +
         std::string(mark);
}

std::size_t widest_line(const std::string& text) {
  std::size_t widest = 0;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) widest = std::max(widest, width_of(line));
  return widest;
}

std::string sources_text(const casefile::Igniter& igniter,
                         const IgniterVerdict& verdict,
                         units::System system) {
  // The feed has a line of its own: nine columns do not fit a screen.
  constexpr std::size_t feed = 1;
  const auto without_feed = [](std::vector<std::string> cells) {
    cells.erase(cells.begin() + feed);
    return cells;
  };
  const auto rows = source_rows(igniter, verdict, system);
  const auto with_names_of = [&](std::size_t width) {
    TextTable table({Align::left,
                     Align::right,
                     Align::right,
                     Align::right,
                     Align::right,
                     Align::right,
                     Align::left,
                     Align::right},
                    indent);
    table.add(without_feed(source_heads()));
    for (const auto& row : rows) {
      auto cells = without_feed(row);
      cells.front() = short_name(cells.front(), width);
      table.add(cells);
    }
    return table.text();
  };
  std::vector<std::string> feeds;
  feeds.reserve(rows.size());
  for (const auto& row : rows) feeds.push_back(fmt::format("{}: {}", row.front(), row[feed]));
  constexpr std::size_t longest_name = 40;
  constexpr std::size_t shortest_name = 6;
  std::size_t width = longest_name;
  std::string text = with_names_of(width);
  while (widest_line(text) > screen && width > shortest_name) text = with_names_of(--width);
  text += paragraph(row_notes(igniter, verdict));
  text += paragraph({asked_of_each(igniter, verdict, system)});
  const auto ladders = ladder_sentences(igniter, verdict, system);
  if (!ladders.empty()) text += paragraph(ladders);
  return text + wrapped(fmt::format("Fed from: {}.", fmt::join(feeds, "; ")), indent, screen);
}

std::string verdict_text(const casefile::Igniter& igniter,
                         const IgniterVerdict& verdict,
                         units::System system) {
  std::string text = wrapped(headline(igniter, verdict), 0, screen);
  for (const auto& line : under_headline(igniter, verdict, system)) {
    text += wrapped(line, 0, screen);
  }
  return text;
}

std::string headlines_text(const casefile::Case& bench,
                           const std::vector<IgniterVerdict>& verdicts) {
  std::string text;
  for (std::size_t i = 0; i < verdicts.size(); ++i) {
    text += verdict_text(bench.igniters[i], verdicts[i], bench.system);
  }
  return text;
}

std::string igniter_text(const casefile::Igniter& igniter,
                         const IgniterVerdict& verdict,
                         const casefile::Case& bench) {
  std::string text = verdict_text(igniter, verdict, bench.system);
  text += paragraph(margins(igniter, verdict, bench.system));
  text += paragraph(surroundings(verdict, bench.system));
  text += paragraph({checked_for(igniter, verdict, bench.models.spark, bench.system)});
  text += "\n";
  text += sources_text(igniter, verdict, bench.system);
  std::string charge;
  for (std::size_t i = 0; i < igniter.sources.size(); ++i) {
    const auto sentences = stored_charge(
        igniter.sources[i], verdict.sources[i].spark, bench.models.spark.charge, bench.system);
    if (!sentences.empty()) charge += paragraph(sentences);
  }
  if (!charge.empty()) {
    text += "\nStored charge:\n";
    text += charge;
  }
  for (const auto& warning : spark_warnings(igniter, verdict, bench.system)) {
    text += wrapped("Warning: " + warning, 0, screen);
  }
  return text;
}

}  // namespace

std::string spark_text(const casefile::Case& bench, const std::vector<IgniterVerdict>& verdicts) {
  std::string text = cautions_text();
  if (verdicts.size() > 1) {
    text += "\n";
    text += headlines_text(bench, verdicts);
  }
  for (std::size_t i = 0; i < verdicts.size(); ++i) {
    text += "\n";
    text += igniter_text(bench.igniters[i], verdicts[i], bench);
  }
  std::vector<std::string> unknowns(spark::ignition_unknowns.begin(),
                                    spark::ignition_unknowns.end());
  text += "\n";
  return text + wrapped(fmt::format("Not known here: {}.", fmt::join(unknowns, "; ")), 0, screen);
}

std::string spark_brief(const casefile::Case& bench, const std::vector<IgniterVerdict>& verdicts) {
  std::string list;
  for (const auto& caution : spark_cautions()) {
    const bool grave = caution.key == "lethal" || caution.key == "one_hand" ||
                       caution.key == "isolation" || caution.key == "codes_first";
    if (!grave) continue;
    if (!list.empty()) list += "; ";
    list += caution.brief;
  }
  return wrapped(fmt::format("Before anything else: {}.", list), 0, screen) +
         headlines_text(bench, verdicts);
}

}  // namespace windgap::report
