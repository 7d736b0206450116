#include <fmt/format.h>

#include <cmath>

#include "report/cautions.h"
#include "report/choose.h"
#include "report/shown.h"

namespace windgap::report {
namespace {

using units::Dimension;

constexpr std::size_t screen = 80;
constexpr std::size_t indent = 2;
constexpr std::size_t most_rows = 24;

std::string joined(const std::vector<std::string>& sentences) {
  return fmt::format("{}", fmt::join(sentences, " "));
}

std::string short_list(const ChooseOutcome& outcome) {
  constexpr std::size_t inner = 3;
  const Shown shown(outcome.bench.system);
  std::string text;
  for (std::size_t i = 0; i < outcome.ranking.picks.size(); ++i) {
    text += fmt::format("{}. {}\n", i + 1, pick_title(outcome, i));
    text += wrapped(joined(why(outcome, i)), inner, screen);
  }
  return text;
}

std::string ladder_text(const ChooseOutcome& outcome) {
  constexpr std::size_t hang = 12;
  const Shown shown(outcome.bench.system);
  std::string text = "Who reaches how far (each fan on its farthest pack)\n";
  for (const auto& rung : ladder(outcome)) {
    const auto lead = fmt::format("{:>9}  ", shown.length(rung.distance));
    auto names = wrapped(
        fmt::format(
            "{}{}", fmt::join(rung.fans, ", "), rung.travel_ends ? ", where the bracket ends" : ""),
        hang,
        screen);
    text += lead + names.substr(std::min(hang - 1, names.size()));
  }
  for (const auto& line : nozzles_worth_it(outcome)) text += wrapped(line, indent, screen);
  const auto rest = below_the_ladder(outcome);
  for (const auto& line : rest) {
    auto words = wrapped(line, hang, screen);
    text += fmt::format("{:>9}  ", "nowhere") + words.substr(std::min(hang - 1, words.size()));
  }
  return text;
}

std::string cell(double value, int decimals) {
  if (std::isinf(value)) return "any";
  return std::isfinite(value) ? fmt::format("{:.{}f}", value, decimals) : "-";
}

std::string table_text(const ChooseOutcome& outcome) {
  const auto inch = outcome.bench.system == units::System::inch;
  const auto length = units::display_unit(0.2, Dimension::length, outcome.bench.system);
  const Shown shown(outcome.bench.system);
  std::vector<Align> columns(10, Align::right);
  columns[0] = columns[1] = Align::left;
  TextTable table(columns);
  table.add({"fan", "pack", "mount", "loss", "asks", "draws", "ctrl", "sag", "starts", "mass"});
  table.add({"", "", std::string(length.symbol), "%", "kW", "A", "A", "V", "", "kg"});
  constexpr double kilo = 1000.0;
  std::size_t rows = 0;
  std::size_t fitting = 0;
  for (const auto& choice : outcome.ranking.choices) {
    if (choice.fitness != choice::Fitness::fits) break;
    ++fitting;
    if (rows == most_rows) continue;
    ++rows;
    table.add({fan_label(outcome, choice) + (choice.dominated_by ? " -" : ""),
               pack_label(outcome, choice),
               cell(choice.placement.stand_off / length.factor, inch ? 2 : 0),
               cell(100.0 * choice.placement.mount.obstruction.running_loss, 3),
               cell(choice.power / kilo, 2),
               cell(choice.pack_current, 0),
               cell(choice.controller_size, 0),
               cell(choice.sag, 1),
               std::isfinite(choice.spending.starts) ? starts_words(choice.spending.starts) : "-",
               cell(choice.mass, 2)});
  }
  auto text = table.text();
  text += wrapped(
      fmt::format("loss: of the running engine; asks, draws: out of the pack; mass: with pack and "
                  "controller where known; -: another choice is as good in distance, power, mass "
                  "and starts, and better in one; the page, --csv and --json have margin, winding, "
                  "push and the rest{}{}",
                  fitting > rows ? fmt::format("; {} more fit", fitting - rows) : std::string(),
                  outcome.bench.choosing.has_fan ? "; *: the case's own fan" : ""),
      0,
      screen);
  return text;
}

std::string cautions_text() {
  std::string list;
  for (const auto& caution : cautions()) {
    if (!list.empty()) list += "; ";
    list += caution.brief;
  }
  return wrapped(fmt::format("Mind: {}.", list), 0, screen);
}

}  // namespace

std::string choose_text(const ChooseOutcome& outcome) {
  std::string text;
  if (!outcome.bench.title.empty()) text += outcome.bench.title + "\n\n";
  text += wrapped(headline(outcome), 0, screen);
  text += wrapped(joined(what_was_tried(outcome)), indent, screen);
  text += wrapped(what_is_needed(outcome), indent, screen);
  text += wrapped(joined(beside_the_headline(outcome)), indent, screen);
  text += "\n";
  if (fits(outcome)) {
    text += short_list(outcome) + "\n";
  }
  if (!outcome.ranking.choices.empty()) text += ladder_text(outcome) + "\n";
  if (fits(outcome)) {
    text += table_text(outcome) + "\n";
    const auto thumb = rules_of_thumb(outcome);
    if (!thumb.empty()) text += wrapped("Rule of thumb: " + joined(thumb), 0, screen);
    const auto bracket = bracket_sentences(outcome);
    if (!bracket.empty()) text += wrapped("Bracket: " + joined(bracket), 0, screen);
  }
  text += wrapped(joined(basis(outcome)), 0, screen);
  for (const auto& line : what_was_skipped(outcome)) text += wrapped(line, 0, screen);
  return text + cautions_text();
}

}  // namespace windgap::report
