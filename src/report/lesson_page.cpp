#include "report/lesson_page.h"

#include <fmt/format.h>

#include "report/chance.h"
#include "report/chance_plot.h"
#include "report/html_assets.h"
#include "report/html_parts.h"
#include "report/html_text.h"

namespace windgap::report {
namespace {

std::string figure(const std::string& svg, const std::string& caption) {
  return fmt::format("<figure>\n{}<figcaption>{}</figcaption>\n</figure>\n", svg, escaped(caption));
}

std::vector<trials::Attempt> counted(const casefile::Log& log) {
  auto list = log.attempts();
  std::erase_if(list, [](const trials::Attempt& attempt) { return !attempt.counts; });
  return list;
}

std::string pictures(const Lesson& lesson) {
  const auto& after = lesson.learned.after;
  ChanceDrawing drawing{.now = after.curve,
                        .before = lesson.learned.before.curve,
                        .attempts = counted(lesson.log),
                        .mount = after.feasible ? after.stand_off : unset,
                        .mount_word = locked(lesson) ? "lock here" : "mount now",
                        .next = next_distance(lesson),
                        .asked = after.asked.reliability,
                        .system = lesson.bench.system};
  return "<section>\n<h2>Before and after the attempts</h2>\n" +
         figure(reliability_svg(drawing),
                "Share of attempts that find air enough, over all benches still plausible. Full "
                "with its sampling error: now. Dashed: before any attempt. Dotted: what is asked "
                "of one bench. Dots: caught. Crosses: did not. Triangles: cold runs.") +
         figure(airflow_svg(drawing),
                "Delivered airflow: median, and the band that holds nine of ten benches. Dashed: "
                "median before any attempt.") +
         "</section>\n";
}

}  // namespace

std::string lesson_page(const Lesson& lesson) {
  const auto headline = lesson_headline(lesson);
  std::string page = fmt::format(
      "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<title>{}</title>\n<style>\n{}</style>\n</head>\n<body>\n<main>\n<header>\n",
      escaped(headline),
      page_style());
  page += element("h1", lesson.bench.title.empty() ? "Attempts" : lesson.bench.title);
  page += "</header>\n<section class=\"verdict\">\n" + element("h2", headline);
  page += paragraph_of(lesson_sentences(lesson));
  page += "</section>\n";
  const auto against = contradictions(lesson);
  if (!against.empty()) {
    page += "<section>\n<h2>Contradictions</h2>\n" + list_of(against) + "</section>\n";
  }
  page += pictures(lesson);
  page +=
      "<section>\n<h2>Attempts</h2>\n" +
      table_of({"", "what was tried", "read", "expected by the rest", ""}, attempt_rows(lesson)) +
      "</section>\n";
  const auto measure = what_to_measure(lesson.learned.after.shares);
  if (!measure.empty()) {
    page += "<section>\n<h2>What to measure</h2>\n" + list_of(measure) + "</section>\n";
  }
  return page + cautions_section() + "</main>\n</body>\n</html>\n";
}

}  // namespace windgap::report
