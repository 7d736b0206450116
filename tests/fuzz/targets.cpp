#include "fuzz/targets.h"

#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "casefile/case.h"
#include "casefile/document.h"
#include "casefile/igniters.h"
#include "casefile/log.h"
#include "casefile/models.h"
#include "report/spark_text.h"
#include "report/spark_verdict.h"
#include "rig/rig.h"
#include "support/nonsense.h"
#include "units/dimension.h"
#include "units/quantity.h"

namespace windgap::fuzz {
namespace {

void promise(bool kept, const char* what) {
  if (kept) return;
  (void)std::fprintf(stderr, "broken promise: %s\n", what);
  std::abort();
}

void explained(const casefile::InputError& error) {
  promise(!error.problems().empty(), "a refusal has a reason");
  for (const auto& problem : error.problems()) {
    promise(!problem.what.empty(), "a problem says what is wrong");
    for (const char c : to_text(problem)) {
      promise(static_cast<unsigned char>(c) >= ' ', "a message is one line of printable text");
    }
  }
}

/// Read once: a run's time is for the bytes.
const casefile::Models& models() {
  static const auto once = [] {
    casefile::Problems problems;
    auto all = casefile::load_models(
        {WINDGAP_MODELS_DIR}, problems, {.spark = true, .start = true, .cooling = true});
    problems.throw_if_any();
    return all;
  }();
  return once;
}

/// A file that holds the bytes for as long as the program runs; made anew by each call.
std::filesystem::path file_of(std::string_view bytes) {
  static const auto path = std::filesystem::temp_directory_path() /
                           ("windgap-fuzz-" + std::to_string(::getpid())) / "case.yaml";
  std::filesystem::create_directories(path.parent_path());
  std::ofstream(path, std::ios::binary | std::ios::trunc)
      .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  return path;
}

/// Whether the user's own words read like such a number.
bool named_like_nonsense(const casefile::Case& bench) {
  const auto named = [](const auto& part) { return test::tells_nonsense(part.name); };
  return test::tells_nonsense(bench.title) ||
         std::any_of(bench.igniters.begin(), bench.igniters.end(), [&](const auto& igniter) {
           return named(igniter) ||
                  std::any_of(igniter.sources.begin(), igniter.sources.end(), named);
         });
}

void judges(const casefile::Case& bench) {
  const auto verdicts = report::judge_stated(bench);
  promise(verdicts.size() == bench.igniters.size(), "every igniter is judged");
  if (named_like_nonsense(bench)) return;
  for (const auto& text : {report::spark_text(bench, verdicts),
                           report::spark_brief(bench, verdicts),
                           report::spark_json(bench, verdicts, unset)}) {
    promise(!test::tells_nonsense(text), "a verdict is told in finite numbers");
  }
}

void delivers(const casefile::Case& bench) {
  rig::Rig rig;
  try {
    rig = rig::assemble(bench.parts, bench.models.rig, rig::JetChoice::estimated);
  } catch (const std::logic_error&) {
    promise(false, "an accepted case assembles");
  }
  for (const double stand_off : {bench.requirement.nearest, bench.requirement.farthest}) {
    const auto delivery = rig::deliver(rig, stand_off);
    promise(std::isfinite(delivery.airflow) && std::isfinite(delivery.rotor_speed) &&
                std::isfinite(delivery.total_pressure) && std::isfinite(delivery.capture_ratio),
            "what is delivered is finite");
    promise(delivery.airflow >= 0.0, "air is not delivered backwards");
  }
}

}  // namespace

void quantity(std::string_view bytes) {
  for (int i = 0; i <= static_cast<int>(units::Dimension::frequency); ++i) {
    const auto reading = units::parse(bytes, static_cast<units::Dimension>(i));
    promise(reading.quantity.has_value() == reading.problem.empty(), "a value or a reason");
    if (!reading.quantity) continue;
    promise(std::isfinite(reading.quantity->value), "a value is finite");
    promise(std::isfinite(reading.quantity->tolerance) && reading.quantity->tolerance >= 0.0,
            "a tolerance is finite and not negative");
  }
}

void document(std::string_view bytes) {
  casefile::Problems problems;
  const auto root =
      casefile::parse_document({.name = "case.yaml", .text = std::string(bytes)}, problems);
  promise(root.has_value() || !problems.empty(), "a tree or a reason");
}

void bench(std::string_view bytes) {
  try {
    delivers(casefile::read_case(file_of(bytes),
                                 {.installed = WINDGAP_MODELS_DIR,
                                  .scope = {.spark = true, .start = true, .cooling = true},
                                  .loaded = &models()}));
  } catch (const casefile::InputError& error) {
    explained(error);
  }
}

void igniters(std::string_view bytes) {
  try {
    const auto bench =
        casefile::read_case(file_of(bytes),
                            {.installed = WINDGAP_MODELS_DIR,
                             .scope = {.spark = true, .spark_alone = true, .spark_needed = true},
                             .loaded = &models()});
    if (bench.rig_is_open) judges(bench);
  } catch (const casefile::InputError& error) {
    explained(error);
  }
}

void attempts(std::string_view bytes) {
  try {
    for (const auto& attempt :
         casefile::read_log({.name = "log.yaml", .text = std::string(bytes)}).attempts()) {
      promise(std::isfinite(attempt.stand_off), "an attempt has a stand-off");
    }
  } catch (const casefile::InputError& error) {
    explained(error);
  }
}

}  // namespace windgap::fuzz
