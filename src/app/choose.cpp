#include "app/choose.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>

#include "app/interrupt.h"
#include "app/solve.h"
#include "app/tell_start.h"
#include "app/write_file.h"
#include "casefile/catalogue.h"
#include "cooling/setup.h"
#include "report/choose.h"
#include "report/drill_template.h"

namespace windgap::app {
namespace {

void declare(CLI::App& verb, Options& options) {
  add_case_options(verb, options);
  add_csv(verb, options);
  add_page(verb, options);
  add_template(verb, options);
  add_out(verb, options, "write the answer here instead of showing it");
}

/// A line on the terminal that is redrawn and wiped at the end; nothing where there is none.
class Progress {
 public:
  explicit Progress(bool quiet) : shown_(!quiet && ::isatty(STDERR_FILENO) == 1) {}
  ~Progress() {
    if (drawn_) fmt::print(stderr, "\r{:{}}\r", "", width);
  }
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  void show(std::size_t done, std::size_t total) {
    if (!shown_ || total == 0) return;
    const auto share = 100 * done / total;
    if (drawn_ && share == last_) return;
    last_ = share;
    drawn_ = true;
    fmt::print(stderr, "\r{:{}}", fmt::format("placed {} of {}", done, total), width);
    (void)std::fflush(stderr);
  }

 private:
  static constexpr int width = 40;
  bool shown_;
  bool drawn_ = false;
  std::size_t last_ = 0;
};

/// The case with another pair in it. Tolerances of its own fan and drive say nothing of another.
casefile::Case with_pair(const casefile::Case& bench, const rig::Parts& parts, bool own) {
  auto other = bench;
  other.parts = parts;
  if (!own) {
    std::erase_if(other.tolerances, [](const auto& tolerance) {
      return tolerance.key.starts_with("fan.") || tolerance.key.starts_with("drive.");
    });
  }
  return other;
}

/// The ensemble of one pick: as large as `place` draws where the case asks for a reliability.
choice::Certainty certainty_of(const casefile::Case& bench,
                               const rig::Parts& parts,
                               const placement::Answer& answer,
                               bool own,
                               const Options& options) {
  constexpr std::size_t few = 1024;
  auto picked = with_pair(bench, parts, own);
  const bool asked = std::isfinite(bench.requirement.reliability);
  if (!asked) picked.requirement.reliability = bench.models.trials.usual_reliability;
  auto surveyed = survey_about(picked, answer, asked ? usual_members : few, options);
  return {.chance = std::move(surveyed.chance), .mount = surveyed.mount};
}

/// Why a start at the pick's mount does not catch; empty if it does.
std::string refusal_of(const casefile::Case& bench,
                       const rig::Parts& parts,
                       const placement::Answer& answer) {
  report::Outcome outcome{.bench = with_pair(bench, parts, true), .answer = answer, .asked = {}};
  // Run with the jet of the ensemble, if that chose the mount.
  if (std::isfinite(bench.requirement.reliability)) outcome.chance.emplace();
  const auto run = start_at(outcome, answer.advice.stand_off);
  return run.caught ? std::string() : run.brief;
}

/// Charge of the least purge that cools the engine [C], whether or not a pack has it left.
double cooldown_charge(const casefile::Case& bench,
                       const rig::Parts& parts,
                       const rig::Rig& rig,
                       double stand_off) {
  const auto& models = bench.models;
  const auto scene = cooling::make_scene(
      bench.cool.engine, parts, rig, models.rig, models.cooling, models.materials);
  auto need = bench.cool.need;
  need.stand_off = stand_off;
  need.pack_mass = parts.drive.pack.mass;
  need.charge = unset;
  const auto demand = cooling::cooldown_demand(scene, rig, need);
  return demand.feasible ? demand.charge : unset;
}

report::ChooseOutcome choose(const Options& options, Interrupt& interrupt) {
  const casefile::Scope scope{.cooling = true, .trials = true, .choice = true};
  report::ChooseOutcome outcome{
      .bench = read(options, scope), .catalogue = {}, .ranking = {}, .sizing = {}, .bracket = {}};
  auto& bench = outcome.bench;
  outcome.catalogue = casefile::catalogue(
      bench, {.settings = options.settings, .models = options.models, .scope = scope});
  const auto& list = outcome.catalogue;
  const auto question = casefile::question(bench);
  Progress progress(options.quiet);
  choice::Options how{.threads = options.threads,
                      .progress =
                          [&](std::size_t done, std::size_t total) {
                            progress.show(done, total);
                            return !Interrupt::asked();
                          },
                      .cooldown = {},
                      .certainty =
                          [&](const rig::Parts& parts, const placement::Answer& answer, bool own) {
                            return certainty_of(bench, parts, answer, own, options);
                          },
                      .start = {}};
  std::optional<casefile::Case> judged;  // with its igniters
  if (casefile::deriving(bench) != nullptr) {
    judged = read(options, {.spark = true, .start = true, .choice = true});
    how.start = [&](const rig::Parts& parts, const placement::Answer& answer) {
      return refusal_of(*judged, parts, answer);
    };
  }
  if (bench.cool.possible) {
    how.cooldown = [&](const rig::Parts& parts, const rig::Rig& rig, double stand_off) {
      return cooldown_charge(bench, parts, rig, stand_off);
    };
  }
  outcome.ranking = choice::rank(question, list.fans, list.packs, how);
  if (outcome.ranking.stopped) {
    interrupt.pass_on();
    throw std::runtime_error("stopped; nothing was written");
  }
  if (outcome.ranking.nozzles.empty()) return outcome;
  const auto engines = options.page.empty() ? std::vector<choice::ListedEngine>() : list.engines;
  outcome.sizing = choice::sizing(question, list.fans, list.packs, engines, outcome.ranking, how);
  if (report::has_mount(outcome)) outcome.bracket = report::bracket_of(outcome, question);
  return outcome;
}

}  // namespace

report::ChooseOutcome survey_of_fans(const casefile::Case& bench, const Options& options) {
  report::ChooseOutcome outcome{
      .bench = bench, .catalogue = {}, .ranking = {}, .sizing = {}, .bracket = {}};
  outcome.catalogue = casefile::catalogue(
      bench, {.settings = options.settings, .models = options.models, .scope = {.choice = true}});
  const auto& list = outcome.catalogue;
  const auto question = casefile::question(bench);
  const choice::Options how{
      .threads = options.threads, .progress = {}, .cooldown = {}, .certainty = {}, .start = {}};
  outcome.ranking = choice::rank(question, list.fans, list.packs, how);
  if (outcome.ranking.nozzles.empty()) return outcome;
  outcome.sizing =
      choice::sizing(question, list.fans, list.packs, list.engines, outcome.ranking, how);
  return outcome;
}

namespace {

void write_template(const report::ChooseOutcome& outcome, const Options& options) {
  const auto drawing = report::drill_template(outcome);
  auto file = options.drill;
  if (file.extension() == ".svg" || file.extension() == ".dxf") file.replace_extension();
  const auto sheets = report::template_svg(drawing);
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    auto sheet = file;
    sheet += sheets.size() == 1 ? ".svg" : fmt::format("-{}.svg", i + 1);
    write_file(sheet, sheets[i]);
  }
  auto drawing_file = file;
  drawing_file += ".dxf";
  write_file(drawing_file, report::template_dxf(drawing));
}

Exit run(const Options& options, Console& console) {
  Interrupt interrupt;
  const auto outcome = choose(options, interrupt);
  if (!options.csv.empty()) write_file(options.csv, report::choose_csv(outcome));
  if (!options.page.empty()) write_file(options.page, report::choose_page(outcome));
  const bool drawn = report::has_mount(outcome);
  if (!options.drill.empty() && drawn) write_template(outcome, options);
  const auto text = options.json    ? report::choose_json(outcome)
                    : options.quiet ? report::choose_brief(outcome)
                                    : report::choose_text(outcome);
  show(text, options.out, console);
  if (Interrupt::asked()) interrupt.pass_on();
  if (!options.drill.empty() && !drawn && !options.json) {
    console.out << "No template was written: nothing fits, so there is no slot to drill.\n";
  }
  return report::starts(outcome) ? Exit::yes : Exit::no;
}

}  // namespace

const Verb choose_verb{.name = "choose",
                       .question = "Which fan, pack, controller and nozzle for this engine?",
                       .declare = declare,
                       .run = run};

}  // namespace windgap::app
