#include "app/check.h"

#include "app/solve.h"
#include "app/write_file.h"
#include "report/json.h"
#include "report/text.h"

namespace windgap::app {
namespace {

void declare(CLI::App& verb, Options& options) {
  add_case_options(verb, options);
  add_out(verb, options, "write it here instead of showing it");
}

Exit run(const Options& options, Console& console) {
  const auto bench = read(options, {.spark = true, .cooling = true});
  if (options.json) {
    show(report::check_json(bench), options.out, console);
  } else if (!options.quiet) {
    show(report::check_text(bench), options.out, console);
  }
  return Exit::yes;
}

}  // namespace

const Verb check_verb{.name = "check",
                      .question = "The case as understood: what was given, what was assumed",
                      .declare = declare,
                      .run = run};

}  // namespace windgap::app
