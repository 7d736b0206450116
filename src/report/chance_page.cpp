#include "report/chance_page.h"

#include <fmt/format.h>

#include "report/chance.h"
#include "report/chance_plot.h"
#include "report/html_text.h"

namespace windgap::report {

std::string chance_section(const Outcome& outcome) {
  if (!outcome.chance) return "";
  const auto& chance = *outcome.chance;
  const ChanceDrawing drawing{.now = chance.curve,
                              .before = {},
                              .attempts = {},
                              .mount = chance.feasible ? chance.stand_off : unset,
                              .asked = chance.asked.reliability,
                              .system = outcome.bench.system};
  const auto figure = [](const std::string& svg, const std::string& caption) {
    return fmt::format(
        "<figure>\n{}<figcaption>{}</figcaption>\n</figure>\n", svg, escaped(caption));
  };
  std::string text = "<section>\n<h2>How likely it starts</h2>\n";
  text += paragraph_of(chance_sentences(outcome));
  text += figure(reliability_svg(drawing),
                 "Share of attempts that find air enough, over all plausible benches, with twice "
                 "its sampling error. Dotted: what is asked of one bench.");
  text += figure(airflow_svg(drawing),
                 "Delivered airflow: median, and the band that holds nine of ten benches.");
  const auto measure = what_to_measure(chance.shares);
  if (!measure.empty()) text += "<h3>What to measure</h3>\n" + list_of(measure);
  return text + "</section>\n";
}

}  // namespace windgap::report
