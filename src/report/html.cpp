#include "report/html.h"

#include <fmt/format.h>

#include "report/chance_page.h"
#include "report/choose.h"
#include "report/cool.h"
#include "report/html_assets.h"
#include "report/html_parts.h"
#include "report/html_text.h"
#include "report/plots.h"
#include "report/scene.h"
#include "report/shown.h"
#include "report/spark_page.h"
#include "report/start_page.h"
#include "report/verdict.h"

namespace windgap::report {
namespace {

std::string head(const Outcome& outcome) {
  const auto& title = outcome.bench.title;
  return fmt::format(
      "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<title>{}{}</title>\n<style>\n{}</style>\n</head>\n<body>\n<main>\n",
      escaped(title.empty() ? "" : title + ": "),
      escaped(headline(outcome)),
      page_style());
}

std::string masthead(const casefile::Case& bench) {
  std::string text = "<header>\n";
  text += element("h1", bench.title.empty() ? "Mount of the starter fan" : bench.title);
  std::vector<std::string> parts;
  if (!bench.fan_name.empty()) parts.push_back("Fan: " + bench.fan_name + ".");
  if (!bench.engine_name.empty()) parts.push_back("Engine: " + bench.engine_name + ".");
  return text + paragraph_of(parts) + "</header>\n";
}

std::string verdict_section(const Outcome& outcome) {
  const Shown shown(outcome.bench.system);
  std::string text = "<section class=\"verdict\">\n";
  text += element("h2", headline(outcome));
  text += paragraph_of(where_to_drill(outcome));
  text += paragraph_of(what_limits(outcome));
  if (!fits(outcome) && !outcome.asked) {
    text += element("h3", fmt::format("At {}", shown.length(shown_row(outcome).stand_off)));
  }
  text += "<dl class=\"findings\">\n";
  for (const auto& finding : findings(outcome)) {
    text += fmt::format("<div><dt>{}</dt><dd><b>{}</b> {}</dd></div>\n",
                        escaped(finding.label),
                        escaped(finding.value),
                        escaped(finding.remark));
  }
  text += "</dl>\n";
  text += paragraph_of({running_cost(outcome)});
  text += "<h3>How sure</h3>\n";
  text += paragraph_of(how_sure(outcome));
  return text +
         "<p><a href=\"#cautions\">Read the cautions</a> before anything turns.</p>\n</section>\n";
}

std::string picture_section(const Outcome& outcome) {
  const auto view = side_view(outcome);
  std::string text =
      "<section>\n<h2>Side view</h2>\n<figure>\n" + view.svg + "<figcaption>\n<ol>\n";
  for (const auto& item : view.numbered) text += element("li", item);
  return text + "</ol>\n" + paragraph_of(view.remarks) + "</figcaption>\n</figure>\n</section>\n";
}

std::string plots_section(const Outcome& outcome, const Survey& survey) {
  const Shown shown(outcome.bench.system);
  std::string text =
      "<section>\n<h2>Against the distance</h2>\n"
      "<noscript><p>The plots are drawn by a script inside this page; allow scripts to see them. "
      "Everything else is complete without.</p></noscript>\n";
  text += element(
      "p",
      fmt::format("The ring is {}.{}",
                  shown.length(shown_row(outcome).stand_off),
                  outcome.answer.advice.slots.empty() ? "" : " Shaded: where the fan may stand."));
  text += "<div class=\"plots\">\n";
  for (const auto& plot : plots(outcome, survey)) {
    text += fmt::format("<figure>\n<script type=\"application/json\" data-plot>{}</script>\n",
                        plot.spec);
    text += fmt::format("<figcaption><b>{}</b> {}</figcaption>\n</figure>\n",
                        escaped(plot.title),
                        escaped(plot.caption));
  }
  return text + "</div>\n</section>\n";
}

/// The plotting library's terms travel with it.
std::string scripts() {
  std::string terms(plot_library_terms());
  for (auto dashes = terms.find("--"); dashes != std::string::npos; dashes = terms.find("--")) {
    terms.replace(dashes, 2, "- -");
  }
  return fmt::format("<!-- Terms of the plotting library below:\n{}-->\n<script>\n{}{}</script>\n",
                     terms,
                     plot_library(),
                     plot_script());
}

}  // namespace

std::string html_page(const Outcome& outcome,
                      const Survey& survey,
                      const Cooldown* cooldown,
                      const ChooseOutcome* fans) {
  std::string page = head(outcome);
  page += masthead(outcome.bench);
  page += verdict_section(outcome);
  page += picture_section(outcome);
  page += chance_section(outcome);
  page += plots_section(outcome, survey);
  page += cold_check_section(outcome);
  page += limits_section(outcome);
  page += spark_section(outcome);
  page += start_section(outcome);
  if (cooldown != nullptr) page += cool_section(outcome, *cooldown);
  if (fans != nullptr) page += sizing_section(*fans);
  page += warnings_section(outcome);
  page += cautions_section();
  page += assumptions_section(outcome);
  page += sources_section(outcome.bench);
  page += "</main>\n";
  page += scripts();
  return page + "</body>\n</html>\n";
}

}  // namespace windgap::report
