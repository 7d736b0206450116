#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/choose.h"
#include "report/html_assets.h"
#include "report/html_parts.h"
#include "report/html_text.h"
#include "report/shown.h"

namespace windgap::report {
namespace {

using units::Dimension;

/// One cell that sorts by its number and shows its text.
struct Cell {
  std::string text;
  double value = unset;
};

std::string head(const ChooseOutcome& outcome) {
  const auto& title = outcome.bench.title;
  return fmt::format(
      "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<title>{}{}</title>\n<style>\n{}{}</style>\n</head>\n<body>\n<main>\n",
      escaped(title.empty() ? "" : title + ": "),
      escaped(headline(outcome)),
      page_style(),
      choose_style());
}

std::string masthead(const casefile::Case& bench) {
  std::string text = "<header>\n";
  text += element("h1", bench.title.empty() ? "Choice of the starter fan" : bench.title);
  if (!bench.engine_name.empty()) text += element("p", "Engine: " + bench.engine_name + ".");
  return text + "</header>\n";
}

std::string short_list(const ChooseOutcome& outcome) {
  const Shown shown(outcome.bench.system);
  std::string text = "<section class=\"verdict\">\n" + element("h2", headline(outcome));
  text += paragraph_of(what_was_tried(outcome));
  text += paragraph_of(beside_the_headline(outcome));
  text += paragraph_of({what_is_needed(outcome)});
  for (std::size_t i = 0; i < outcome.ranking.picks.size(); ++i) {
    text += element("h3", fmt::format("{}. {}", i + 1, pick_title(outcome, i)));
    text += paragraph_of(why(outcome, i));
  }
  text += paragraph_of(basis(outcome));
  return text +
         "<p><a href=\"#cautions\">Read the cautions</a> before anything turns.</p>\n</section>\n";
}

/// Rungs at their distances on an upright, drawn to scale; labels keep clear of each other.
std::string ladder_section(const ChooseOutcome& outcome) {
  constexpr double height = 430.0;
  constexpr double top = 30.0;
  constexpr double post = 110.0;
  constexpr double line = 19.0;
  const Shown shown(outcome.bench.system);
  const auto rungs = ladder(outcome);
  std::string text = "<section>\n<h2>Who reaches how far</h2>\n";
  if (!rungs.empty()) {
    const double farthest = rungs.front().distance;
    std::string marks;
    double label = top - line;
    for (const auto& rung : rungs) {
      const double y = top + height * (1.0 - rung.distance / farthest);
      label = std::max(label + line, y);
      marks += fmt::format(
          "<path class=\"edge\" d=\"M{:.1f} {:.1f}H{:.1f}\"/>"
          "<path class=\"leader\" fill=\"none\" d=\"M{:.1f} {:.1f}L{:.1f} {:.1f}\"/>\n",
          post - 14.0,
          y,
          post + 14.0,
          post + 14.0,
          y,
          post + 50.0,
          label);
      marks += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\">{}: {}{}</text>\n",
                           post + 56.0,
                           label + 5.0,
                           escaped(shown.length(rung.distance)),
                           escaped(fmt::format("{}", fmt::join(rung.fans, ", "))),
                           rung.travel_ends ? " (the bracket ends)" : "");
    }
    const double bottom = std::max(top + height, label) + 24.0;
    text += fmt::format(
        "<figure><svg class=\"ladder\" viewBox=\"0 0 760 {0:.0f}\" role=\"img\" "
        "aria-label=\"Farthest mount of each fan, to scale\">\n"
        "<path class=\"edge\" d=\"M{1:.1f} {2:.1f}V{3:.1f}M{4:.1f} {2:.1f}V{3:.1f}\"/>\n"
        "<text class=\"end\" x=\"{5:.1f}\" y=\"{6:.1f}\">mouth</text>\n{7}</svg>\n"
        "<figcaption>Each fan on its farthest pack; heights to scale above the inlet's "
        "mouth.</figcaption></figure>\n",
        bottom,
        post - 14.0,
        top - 12.0,
        top + height,
        post + 14.0,
        post - 24.0,
        top + height,
        marks);
  }
  const auto below = below_the_ladder(outcome);
  if (!below.empty()) text += "<h3>On no rung</h3>\n" + list_of(below);
  return text + "</section>\n";
}

std::vector<Cell> row_of(const ChooseOutcome& outcome, const choice::Choice& choice) {
  const Shown shown(outcome.bench.system);
  const bool fits = choice.fitness == choice::Fitness::fits;
  const auto of = [&](double value, Dimension dimension) {
    if (std::isinf(value)) return Cell{"any", value};
    return std::isfinite(value) ? Cell{shown.of(value, dimension), value} : Cell{};
  };
  const auto there = [&](double value, Dimension dimension) {
    return fits ? of(value, dimension) : Cell{};
  };
  const auto starts = choice.spending.starts;
  return {{fan_label(outcome, choice)},
          {pack_label(outcome, choice)},
          there(choice.placement.stand_off, Dimension::length),
          of(choice.clear_stand_off, Dimension::length),
          there(choice.margin, Dimension::ratio),
          of(choice.airflow_at_length, Dimension::mass_flow),
          there(choice.placement.mount.obstruction.running_loss, Dimension::ratio),
          of(choice.power, Dimension::power),
          of(choice.pack_current, Dimension::current),
          of(choice.controller_size, Dimension::current),
          of(choice.sag, Dimension::voltage),
          of(choice.winding_temperature, Dimension::temperature),
          of(choice.allowed_burst, Dimension::time),
          std::isfinite(starts) ? Cell{starts_words(starts), starts} : Cell{},
          of(choice.mass, Dimension::mass),
          of(choice.thrust, Dimension::force)};
}

std::string table_section(const ChooseOutcome& outcome) {
  constexpr std::array heads{"fan",
                             "pack",
                             "mount",
                             "unseen from",
                             "over need",
                             "at one length",
                             "loss",
                             "power",
                             "from pack",
                             "controller",
                             "sag",
                             "winding",
                             "burst",
                             "starts",
                             "mass",
                             "push"};
  std::string text =
      "<section>\n<h2>Every pair</h2>\n<p>Press a heading to sort by it. Unseen from: "
      "where the parked fan's loss no longer shows in the running engine. Over need: airflow at "
      "the "
      "mount over starting airflow. At one length: airflow with the fan one of its lengths before "
      "the mouth. Loss: of the running engine, over ambient pressure. Burst: how long it may "
      "last. Mass: with pack and controller, where known. Where the window "
      "is narrow the table moves sideways.</p>\n<div class=\"table wide\"><table "
      "data-sort>\n<thead><tr>";
  for (const auto* name : heads) {
    text += fmt::format(R"(<th scope="col"><button type="button">{}</button></th>)", name);
  }
  text += "</tr></thead>\n<tbody>\n";
  for (const auto& choice : outcome.ranking.choices) {
    const bool set_back = choice.fitness != choice::Fitness::fits || choice.dominated_by;
    text += set_back ? "<tr class=\"behind\">" : "<tr>";
    const auto cells = row_of(outcome, choice);
    auto remark = note(outcome, choice);
    if (!remark.empty()) remark = fmt::format(" <small>{}</small>", escaped(remark));
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const auto value = std::isfinite(cells[i].value)
                             ? fmt::format(" data-value=\"{:.9g}\"", cells[i].value)
                         : std::isinf(cells[i].value) ? std::string(" data-value=\"1e30\"")
                                                      : std::string();
      text += i == 0
                  ? fmt::format("<th scope=\"row\">{}{}</th>", escaped(cells[i].text), remark)
                  : fmt::format(
                        "<td data-head=\"{}\"{}>{}</td>", heads[i], value, escaped(cells[i].text));
    }
    text += "</tr>\n";
  }
  return text + "</tbody>\n</table></div>\n</section>\n";
}

std::string nozzle_section(const ChooseOutcome& outcome) {
  if (outcome.ranking.nozzles.empty()) return {};
  std::string text =
      "<section>\n<h2>Would a printed nozzle help?</h2>\n<p>A converging nozzle on each fan, its "
      "tip, the throttle and the distance chosen together; the fan stays above stall.</p>\n<dl "
      "class=\"findings\">\n";
  for (const auto& tried : outcome.ranking.nozzles) {
    text += fmt::format("<div><dt>{}</dt><dd>{}</dd></div>\n",
                        escaped(fan_label(outcome, outcome.ranking.choices[tried.choice])),
                        escaped(nozzle_sentence(outcome, tried)));
  }
  return text + "</dl>\n</section>\n";
}

std::string bracket_section(const ChooseOutcome& outcome) {
  if (!outcome.bracket) return {};
  return "<section>\n<h2>Bracket</h2>\n" + paragraph_of(bracket_sentences(outcome)) +
         "</section>\n";
}

std::string scripts() {
  std::string terms(plot_library_terms());
  for (auto dashes = terms.find("--"); dashes != std::string::npos; dashes = terms.find("--")) {
    terms.replace(dashes, 2, "- -");
  }
  return fmt::format(
      "<script>\n{}</script>\n<!-- Terms of the plotting library below:\n{}-->\n<script>\n{}{}"
      "</script>\n",
      sort_script(),
      terms,
      plot_library(),
      plot_script());
}

}  // namespace

std::string sizing_section(const ChooseOutcome& outcome) {
  if (outcome.sizing.lines.empty()) return {};
  std::string text = "<section>\n<h2>How large a fan?</h2>\n";
  text += fmt::format(
      "<figure class=\"sizing\">\n<script type=\"application/json\" data-plot>{}</script>\n"
      "<figcaption>Farthest mount against the bore, whatever the bracket's travel. Lines: {} "
      "scaled with its pack, one for each inducer, each engine at {}. A larger inducer needs more "
      "air and takes in more of the jet: the lines lie close together, not in the order of size. "
      "Rings: the fans themselves, each on its farthest pack, for "
      "this engine.</figcaption>\n</figure>\n",
      sizing_plot(outcome),
      escaped(outcome.sizing.family),
      casefile::deriving(outcome.bench) != nullptr
          ? "the starting airflow derived for it (this one at its own)"
          : "the airflow that takes its rotor to light-off speed (this one at its own need)");
  return text + paragraph_of(rules_of_thumb(outcome)) + "</section>\n";
}

std::string choose_page(const ChooseOutcome& outcome) {
  std::string page = head(outcome);
  page += masthead(outcome.bench);
  page += short_list(outcome);
  page += ladder_section(outcome);
  page += sizing_section(outcome);
  page += nozzle_section(outcome);
  page += bracket_section(outcome);
  page += table_section(outcome);
  const auto skipped = what_was_skipped(outcome);
  if (!skipped.empty()) page += "<section>\n<h2>Skipped</h2>\n" + list_of(skipped) + "</section>\n";
  page += cautions_section();
  page += sources_section(outcome.bench);
  page += "</main>\n";
  page += scripts();
  return page + "</body>\n</html>\n";
}

}  // namespace windgap::report
