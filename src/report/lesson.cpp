#include "report/lesson.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "casefile/problems.h"
#include "report/cautions.h"
#include "report/chance.h"
#include "report/json_number.h"
#include "report/shorten.h"
#include "report/shown.h"
#include "report/verdict.h"

namespace windgap::report {
namespace {

using Json = nlohmann::ordered_json;
using placement::Quantity;
using trials::Evidence;
using units::Dimension;

constexpr std::size_t screen = 80;

std::string_view word(trials::Failure failure) {
  switch (failure) {
    case trials::Failure::no_light:
      return "no light";
    case trials::Failure::hung:
      return "hung";
    case trials::Failure::too_hot:
      return "too hot";
    case trials::Failure::slow:
      return "too slow";
    case trials::Failure::unstated:
      break;
  }
  return "";
}

std::string percent(double share) { return fmt::format("{:.3g} %", 100.0 * share); }

std::string quantity_text(const Shown& shown, Quantity quantity, double logarithm) {
  const double value = std::exp(logarithm);
  switch (quantity) {
    case Quantity::speed:
      return shown.rotation(value);
    case Quantity::mouth_pressure:
    case Quantity::inducer_pressure:
      return shown.pressure(value);
    case Quantity::supply:
    case Quantity::airflow:
    case Quantity::voltage:
      break;
  }
  return fmt::format("{:.2f}", value);
}

/// What may lie behind a reading or an outcome that nearly no plausible bench would show.
std::string likely_causes(const Evidence& evidence, const trials::Agreement& agreement) {
  if (evidence.kind == Evidence::Kind::catching) {
    return evidence.outcome == trials::Outcome::caught
               ? "distance or outcome written down wrongly, or the engine needs less air than "
                 "stated"
               : "a stick or rag in the guard, the pack flat, the fan reversed, a leak between "
                 "mouth and engine, fuel or spark not as usual, or the engine needs more air than "
                 "stated";
  }
  const bool less = agreement.departure < 0.0;
  if (evidence.quantity == Quantity::speed) {
    return less
               ? "oil cold or thick, a rub, something in the guard, the pack flat, the fan reversed"
               : "the tachometer counts twice (marks or blades), or the fan is stronger than "
                 "stated";
  }
  return less ? "a leak or a kink in the tube, the tube not facing the stream, something in the "
                "guard, the pack flat, the fan reversed"
              : "the gauge's unit or zero, or the fan is stronger than stated";
}

/// The same, and what the attempt states beside it.
std::string causes(const Evidence& evidence,
                   const trials::Agreement& agreement,
                   const trials::Attempt& attempt) {
  auto text = likely_causes(evidence, agreement);
  if (std::isfinite(attempt.voltage)) text += ", the voltage written down wrongly";
  if (std::isfinite(attempt.oil_temperature)) text += ", the oil's temperature not the film's";
  return text;
}

/// As `attempt_text`, a failure by its name alone.
std::string brief_text(const trials::Attempt& attempt, units::System system) {
  const auto why = word(attempt.failure);
  if (attempt.kind == trials::Kind::cold || attempt.outcome == trials::Outcome::caught) {
    return attempt_text(attempt, system);
  }
  return fmt::format("lit at {}, {}",
                     Shown(system).length(attempt.stand_off),
                     why.empty() ? std::string_view("failed") : why);
}

double slip_of(const Lesson& lesson) { return lesson.bench.requirement.slip; }

bool has_mount(const Lesson& lesson) { return lesson.learned.after.feasible; }

/// Whether there is another attempt to compare with.
bool has_a_rest(const Lesson& lesson) {
  const auto& evidence = lesson.learned.evidence;
  return !evidence.empty() && evidence.front().attempt != evidence.back().attempt;
}

bool surprises(const Lesson& lesson, const trials::Agreement& agreement) {
  return agreement.probability < lesson.bench.models.trials.surprise;
}

/// Evidence that nearly no bench that the other attempts leave would show.
bool against_the_rest(const Lesson& lesson, std::size_t k) {
  return has_a_rest(lesson) && surprises(lesson, lesson.learned.agreements[k]);
}

/// Evidence that agrees with the other attempts, if there are any, while nearly no bench of the
/// case would show it.
bool against_the_case(const Lesson& lesson, std::size_t k) {
  if (against_the_rest(lesson, k)) return false;
  return surprises(lesson, lesson.learned.by_itself[k]) ||
         surprises(lesson, lesson.learned.agreements[k]);
}

/// No single entry stands out, but all of them hardly go together on any bench.
bool against_each_other(const Lesson& lesson) {
  return lesson.learned.together < lesson.bench.models.trials.surprise;
}

/// Numbers of the attempts with such evidence, from 1.
template <class Test>
std::vector<std::size_t> attempts_that(const Lesson& lesson, Test&& test) {
  std::vector<std::size_t> list;
  for (std::size_t k = 0; k < lesson.learned.evidence.size(); ++k) {
    const auto number = lesson.learned.evidence[k].attempt + 1;
    if (test(lesson, k) && (list.empty() || list.back() != number)) list.push_back(number);
  }
  return list;
}

std::string attempts_text(const std::vector<std::size_t>& numbers) {
  constexpr std::size_t most = 5;
  if (numbers.size() > most) return fmt::format("{} attempts", numbers.size());
  return fmt::format("attempt{} {}", numbers.size() == 1 ? "" : "s", fmt::join(numbers, ", "));
}

std::size_t count_of(const Lesson& lesson, trials::Failure failure) {
  const auto& entries = lesson.log.entries;
  return static_cast<std::size_t>(
      std::count_if(entries.begin(), entries.end(), [&](const casefile::LogEntry& entry) {
        return entry.attempt.counts && entry.attempt.failure == failure;
      }));
}

std::size_t count_of(const Lesson& lesson, trials::Outcome outcome) {
  const auto& entries = lesson.log.entries;
  return static_cast<std::size_t>(
      std::count_if(entries.begin(), entries.end(), [&](const casefile::LogEntry& entry) {
        return entry.attempt.counts && entry.attempt.outcome == outcome;
      }));
}

/// Whether attempts fail for want of a flame: no distance mends that.
bool stays_dark(const Lesson& lesson) {
  const auto dark = count_of(lesson, trials::Failure::no_light);
  return dark > 1 && 2 * dark >= count_of(lesson, trials::Outcome::failed);
}

/// Whether the next attempt would be without fuel.
bool is_cold_next(const Lesson& lesson) {
  const auto& decision = lesson.learned.decision;
  return !decision.stop && decision.next.kind == trials::Kind::cold;
}

/// Whether something contradicts, or a start would not catch, so that nothing else is advised.
bool must_look(const Lesson& lesson) {
  return (lesson.refused && !is_cold_next(lesson)) || stays_dark(lesson) ||
         against_each_other(lesson) || !attempts_that(lesson, against_the_rest).empty() ||
         !attempts_that(lesson, against_the_case).empty();
}

/// Benches that still count.
double effective(const Lesson& lesson) {
  const auto& learned = lesson.learned;
  return std::fmax(learned.effective, learned.effective_redrawn);
}

/// What the next attempt is for.
std::string worth(const Lesson& lesson) {
  const Shown shown(lesson.bench.system);
  const auto& next = lesson.learned.decision.next;
  constexpr double least = 1e-3;
  if (next.kind == trials::Kind::lit && !(next.gain > lesson.bench.models.trials.worth_of_start)) {
    return "nothing is locked that has not caught once";
  }
  if (!has_mount(lesson)) return "it tells most about where a mount might be reliable";
  return next.gain > least
             ? fmt::format("expected to move the mount out by {}", shown.length(next.gain))
             : std::string("it tells most");
}

/// The attempt that would tell most, worth its price or not.
std::string next_text(const Lesson& lesson) {
  const Shown shown(lesson.bench.system);
  const auto& next = lesson.learned.decision.next;
  return fmt::format("{} at {}",
                     next.kind == trials::Kind::lit ? "a lit attempt" : "a cold run",
                     shown.length(next.stand_off));
}

/// What several attempts without a flame say; empty for fewer.
std::string unlit(const Lesson& lesson) {
  if (!stays_dark(lesson)) return {};
  return fmt::format(
      "{} attempts did not light at all: look at spark and fuel before the distance. What is "
      "learned "
      "here takes part of them for a lack of air; those with another cause set aside.",
      count_of(lesson, trials::Failure::no_light));
}

/// A starting airflow that the case states without a tolerance, where starts have failed for want
/// of air; empty otherwise.
std::string taken_as_exact(const Lesson& lesson) {
  const double airflow = lesson.bench.parts.start.airflow;
  const auto& tolerances = lesson.bench.tolerances;
  const bool stated = std::any_of(tolerances.begin(), tolerances.end(), [](const auto& one) {
    return one.key == "start.airflow" && one.half_width > 0.0;
  });
  if (!std::isfinite(airflow) || stated || stays_dark(lesson) ||
      count_of(lesson, trials::Outcome::failed) == 0)
    return {};
  const Shown shown(lesson.bench.system);
  return fmt::format(
      "The case's starting airflow, {}, is taken as exact: where it is a guess, give it a "
      "tolerance "
      "(such as {} ± {}), or the failures are laid to everything else.",
      shown.airflow(airflow),
      shown.airflow(airflow),
      shown.airflow(0.25 * airflow));
}

}  // namespace

std::vector<casefile::Difference> refuse_other_bench(const casefile::Log& log,
                                                     const casefile::Case& bench,
                                                     const std::string& file) {
  casefile::Problems problems;
  std::vector<casefile::Difference> lesser;
  for (const auto& difference : casefile::differences(log, bench)) {
    if (!difference.another_bench) {
      lesser.push_back(difference);
      continue;
    }
    casefile::Place place;
    place.origin = std::make_shared<const std::string>(file);
    problems.add(
        {.place = place,
         .key = difference.key,
         .read = difference.logged,
         .what = fmt::format("the case says {}: another bench than the log's", difference.now),
         .allowed = "the case of this log, or a new log"});
  }
  problems.throw_if_any();
  return lesser;
}

std::string attempt_text(const trials::Attempt& attempt, units::System system) {
  const Shown shown(system);
  if (attempt.kind == trials::Kind::cold) {
    return fmt::format("cold at {}", shown.length(attempt.stand_off));
  }
  if (attempt.outcome == trials::Outcome::caught) {
    return fmt::format("lit at {}, caught", shown.length(attempt.stand_off));
  }
  const auto why = word(attempt.failure);
  return fmt::format("lit at {}, did not catch{}",
                     shown.length(attempt.stand_off),
                     why.empty() ? std::string() : fmt::format(" ({})", why));
}

std::string lesson_headline(const Lesson& lesson) {
  const Shown shown(lesson.bench.system);
  const auto& decision = lesson.learned.decision;
  if (lesson.log.entries.empty()) return "Nothing has been tried yet";
  if (lesson.learned.after.barred) {
    return fmt::format("No attempt: {} breaks its limit at every distance",
                       label(lesson.learned.after.barred_by));
  }
  const auto rest = attempts_that(lesson, against_the_rest);
  if (!rest.empty()) {
    return fmt::format("Look before the next start: {} contradict{} the others",
                       attempts_text(rest),
                       rest.size() == 1 ? "s" : "");
  }
  const auto strange = attempts_that(lesson, against_the_case);
  if (!strange.empty()) {
    return fmt::format("Look before the next start: {} contradict{} the case",
                       attempts_text(strange),
                       strange.size() == 1 ? "s" : "");
  }
  if (stays_dark(lesson)) {
    return fmt::format("Look at spark and fuel before the next start: {} attempts did not light",
                       count_of(lesson, trials::Failure::no_light));
  }
  if (against_each_other(lesson)) {
    return has_a_rest(lesson)
               ? "Look before the next start: the attempts contradict each other"
               : "Look before the next start: the readings of the attempt contradict each other";
  }
  if (lesson.refused && !is_cold_next(lesson)) {
    return fmt::format("No start yet: a start run at {} does not catch ({})",
                       shown.length(lesson.refused->stand_off),
                       lesson.refused->brief);
  }
  if (lesson.learned.exhausted) {
    return fmt::format("Nothing firm yet: only {:.0f} of the benches drawn still count",
                       effective(lesson));
  }
  if (decision.stop && has_mount(lesson)) {
    return fmt::format("Lock it at {}", shown.length(lesson.learned.after.stand_off));
  }
  if (decision.stop) return "No distance is reliable yet; measure before another start";
  return "Next: " + next_text(lesson);
}

bool locked(const Lesson& lesson) {
  const auto& learned = lesson.learned;
  return learned.decision.stop && has_mount(lesson) && !must_look(lesson) && !learned.exhausted &&
         !lesson.log.entries.empty();
}

bool goes_on(const Lesson& lesson) { return !must_look(lesson); }

double next_flame(const Lesson& lesson) {
  const auto& decision = lesson.learned.decision;
  if (!decision.stop && decision.next.kind == trials::Kind::lit) return decision.next.stand_off;
  return has_mount(lesson) ? lesson.learned.after.stand_off : unset;
}

double next_distance(const Lesson& lesson) {
  const auto& decision = lesson.learned.decision;
  return decision.stop || must_look(lesson) ? unset : decision.next.stand_off;
}

std::vector<std::string> lesson_sentences(const Lesson& lesson) {
  const Shown shown(lesson.bench.system);
  const auto& learned = lesson.learned;
  const auto& decision = learned.decision;
  const auto& after = learned.after;
  const auto& before = learned.before;
  std::vector<std::string> list;
  if (after.feasible) {
    list.push_back(
        fmt::format("Mount now: {} ({} of the attempts, with a confidence of {}); before any "
                    "attempt it was {}.",
                    shown.length(after.stand_off),
                    percent(after.asked.reliability),
                    percent(after.asked.confidence),
                    before.feasible ? shown.length(before.stand_off) : std::string("nowhere")));
  } else {
    list.push_back(
        fmt::format("No mount is reliable yet: {} of the attempts with a confidence of "
                    "{} are asked; nearest to it is {}.",
                    percent(after.asked.reliability),
                    percent(after.asked.confidence),
                    shown.length(after.short_at)));
  }
  if (lesson.refused) {
    list.push_back(fmt::format(
        "With the fuel as the case has it, a start run in time at {} does not catch: {}. No start "
        "is "
        "proposed before that is mended; `windgap spin --at` shows it second by second.",
        shown.length(lesson.refused->stand_off),
        lesson.refused->brief));
  }
  auto advice = what_to_measure(after.shares);
  // Where no start is to be made, none is what to measure.
  std::erase_if(advice, [](const std::string& one) { return one.starts_with("try a start"); });
  if (after.barred) {
    list.push_back(fmt::format(
        "Neither a start nor a run without fuel is proposed: where the others are least "
        "short, {} breaks its limit. `windgap place` has the numbers; change pack, motor "
        "or throttle first.",
        label(after.barred_by)));
  } else if (must_look(lesson)) {
    if (!lesson.refused) list.emplace_back("No attempt is proposed until that is looked at.");
  } else if (decision.stop && !has_mount(lesson)) {
    list.push_back(
        fmt::format("One more attempt alone is not expected to make a distance reliable{}.{}",
                    decision.next.kind == trials::Kind::cold
                        ? fmt::format("; {} tells most, without fuel", next_text(lesson))
                        : std::string(),
                    advice.empty() ? std::string() : " What to measure: " + advice.front() + "."));
  } else if (decision.stop) {
    constexpr double least = 1e-3;
    list.push_back(
        fmt::format("The next trial is expected to gain less than it costs: {} at best. That looks "
                    "one step ahead; each catch farther out would still move the mount.",
                    decision.best_gain > least ? shown.length(decision.best_gain)
                                               : "less than " + shown.length(least)));
  } else if (decision.next.kind == trials::Kind::cold) {
    list.push_back(fmt::format(
        "Next {}: blow it without fuel there, read rotor speed and pressure at the mouth: {}, no "
        "fuel needed.",
        next_text(lesson),
        worth(lesson)));
  } else {
    list.push_back(fmt::format(
        "Next {}: it catches there with a probability of {}, hangs or "
        "runs hot with {}; {}. Light as the case says, hand on the fuel valve, cut at the "
        "temperature limit.",
        next_text(lesson),
        percent(decision.next.catches),
        percent(decision.next.hazard),
        worth(lesson)));
  }
  list.push_back(reach_sentence(after, "the benches still plausible", lesson.bench));
  list.push_back(std::isfinite(learned.effective_redrawn)
                     ? fmt::format("Of {} benches drawn first {:.0f} still count, too few; {} were "
                                   "drawn anew around the most plausible one, and {:.0f} count.",
                                   before.members,
                                   learned.effective,
                                   after.members,
                                   learned.effective_redrawn)
                     : fmt::format("Of {} benches drawn {:.0f} still count.",
                                   before.members,
                                   learned.effective));
  if (auto said = unlit(lesson); !said.empty()) list.push_back(std::move(said));
  if (auto said = taken_as_exact(lesson); !said.empty()) list.push_back(std::move(said));
  if (learned.exhausted) {
    list.emplace_back(
        has_mount(lesson)
            ? "That is still too few for a firm tail: measure again before you trust this mount, "
              "and "
              "do not lock it."
            : "That is still too few for a firm tail: measure again before the next start.");
  }
  return list;
}

std::vector<std::string> contradictions(const Lesson& lesson) {
  const Shown shown(lesson.bench.system);
  const auto& learned = lesson.learned;
  std::vector<std::string> list;
  for (std::size_t k = 0; k < learned.evidence.size(); ++k) {
    const auto& evidence = learned.evidence[k];
    const auto& agreement = learned.agreements[k];
    if (!against_the_rest(lesson, k)) continue;
    const auto& entry = lesson.log.entries[evidence.attempt];
    const auto what =
        evidence.kind == Evidence::Kind::catching
            ? std::string(evidence.outcome == trials::Outcome::caught ? "it caught" : "it failed")
            : fmt::format("{} read, {} expected",
                          quantity_text(shown, evidence.quantity, evidence.read),
                          quantity_text(shown, evidence.quantity, agreement.expected));
    list.push_back(fmt::format(
        "{}: attempt {} ({}) contradicts the model and the other attempts: {}. Likely: {}. Look "
        "before the next start. Where a cause was found and removed, `windgap trial LOG "
        "--set-aside {} --note CAUSE` keeps it and counts it no more.",
        casefile::to_text(entry.place),
        evidence.attempt + 1,
        attempt_text(entry.attempt, lesson.bench.system),
        what,
        causes(evidence, agreement, entry.attempt),
        evidence.attempt + 1));
  }
  if (list.empty() && against_each_other(lesson)) {
    list.push_back(fmt::format(
        "{} plausible, all together they are not: even on the benches that suit them best only {} "
        "of the same would come out so. Likely: {}. Look before the next start; an attempt whose "
        "cause was found is set aside by `windgap trial LOG --set-aside NUMBER --note CAUSE`.",
        has_a_rest(lesson) ? "Each attempt alone is" : "Each of its readings alone is",
        percent(learned.together),
        has_a_rest(lesson)
            ? "something changed between them (fan, pack, oil, fuel, a leak), distances were not "
              "all taken from the same edge, or starts fail for another reason than air"
            : "one of them is misread, or the start failed for another reason than air"));
  }
  const auto strange = attempts_that(lesson, against_the_case);
  if (strange.empty()) return list;
  for (std::size_t k = 0; k < learned.evidence.size(); ++k) {
    if (!against_the_case(lesson, k)) continue;
    const auto who = attempts_text(strange);
    list.push_back(fmt::format(
        "{}hardly a bench that the case may mean would show this: the bench is not as described, "
        "or "
        "the entry is not right. Likely: {}. Look before the next start.",
        has_a_rest(lesson)
            ? fmt::format("{} agree{} with the rest, but ", who, strange.size() == 1 ? "s" : "")
            : who + ": ",
        causes(learned.evidence[k],
               learned.by_itself[k],
               lesson.log.entries[learned.evidence[k].attempt].attempt)));
    break;
  }
  return list;
}

std::vector<std::vector<std::string>> attempt_rows(const Lesson& lesson) {
  const Shown shown(lesson.bench.system);
  const auto& learned = lesson.learned;
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < lesson.log.entries.size(); ++i) {
    std::string read;
    std::string meant;
    bool contradicts = false;
    for (std::size_t k = 0; k < learned.evidence.size(); ++k) {
      const auto& evidence = learned.evidence[k];
      if (evidence.attempt != i) continue;
      contradicts = contradicts || against_the_rest(lesson, k) || against_the_case(lesson, k);
      const auto& attempt = lesson.log.entries[i].attempt;
      if (evidence.kind == Evidence::Kind::catching) continue;
      const bool speed = evidence.quantity == Quantity::speed;
      const auto* comma = read.empty() ? "" : ", ";
      const auto taken = speed ? shown.rotation(attempt.speed) : shown.pressure(attempt.pressure);
      read += fmt::format("{}{}", comma, taken);
      meant += fmt::format(
          "{}{}", comma, quantity_text(shown, evidence.quantity, learned.agreements[k].expected));
    }
    rows.push_back({fmt::format("{}", i + 1),
                    brief_text(lesson.log.entries[i].attempt, lesson.bench.system),
                    read,
                    meant,
                    !lesson.log.entries[i].aside.empty() ? "set aside"
                    : contradicts                        ? "contradicts"
                                                         : ""});
  }
  return rows;
}

namespace {

/// Changes that a start may feel: an igniter is another room's.
std::vector<casefile::Difference> of_the_start(const std::vector<casefile::Difference>& changed) {
  auto list = changed;
  std::erase_if(list, [](const auto& one) { return one.key.starts_with("igniters"); });
  return list;
}

/// The last attempts; a cell that is too long for the screen is cut.
std::string tried_text(const Lesson& lesson) {
  constexpr std::size_t most_rows = 12;
  constexpr std::array<std::size_t, 4> longest{4, 26, 22, 22};
  const auto rows = attempt_rows(lesson);
  const std::size_t first = rows.size() > most_rows ? rows.size() - most_rows : 0;
  std::string text = "\nWhat was tried, read, and expected by the rest (! contradicts):\n";
  if (first > 0) text += fmt::format("  {} earlier ones are in --json\n", first);
  TextTable table({Align::right, Align::left, Align::left, Align::left, Align::left}, 2);
  for (std::size_t i = first; i < rows.size(); ++i) {
    auto row = rows[i];
    for (std::size_t k = 0; k < longest.size(); ++k) row[k] = shortened(row[k], longest[k]);
    if (row.back() == "contradicts") row.back() = "!";
    table.add(row);
  }
  text += table.text();
  for (std::size_t i = 0; i < lesson.log.entries.size(); ++i) {
    const auto& why = lesson.log.entries[i].aside;
    if (!why.empty()) {
      text += wrapped(fmt::format("Attempt {} was set aside: {}.", i + 1, why), 2, screen);
    }
  }
  return text;
}

}  // namespace

std::string lesson_text(const Lesson& lesson) {
  std::string text;
  if (!lesson.bench.title.empty()) text += lesson.bench.title + "\n\n";
  text += lesson_headline(lesson) + "\n";
  text += wrapped(fmt::format("{}", fmt::join(lesson_sentences(lesson), " ")), 2, screen);
  const auto against = contradictions(lesson);
  constexpr std::size_t most_told = 3;
  for (std::size_t i = 0; i < against.size() && i < most_told; ++i) {
    text += wrapped("Contradiction: " + against[i], 0, screen);
  }
  if (against.size() > most_told) {
    text += fmt::format("{} more contradictions are in --json.\n", against.size() - most_told);
  }
  text += tried_text(lesson);
  text += "\nStarts with air enough, and airflow, after the attempts:\n";
  text += chance_table(lesson.learned.after.curve, lesson.bench.system);
  const auto changed = of_the_start(lesson.changed);
  if (!changed.empty()) {
    text += "\nNot as when the log began:\n";
    TextTable changes({Align::left, Align::left, Align::left}, 2);
    constexpr std::size_t most_changes = 8;
    constexpr std::size_t longest = 24;
    for (const auto& one : std::span(changed).first(std::min(changed.size(), most_changes))) {
      changes.add({shortened(one.key, longest),
                   shortened(one.logged.empty() ? "not given" : one.logged, longest),
                   shortened(one.now.empty() ? "not given now" : "now " + one.now, longest)});
    }
    text += "  Readings taken before are judged as if it had been so then, too.\n";
    text += changes.text();
    if (changed.size() > most_changes) {
      text += fmt::format("  {} more are in --json\n", changed.size() - most_changes);
    }
  }
  std::string list;
  for (const auto& caution : cautions()) {
    if (!list.empty()) list += "; ";
    list += caution.brief;
  }
  return text + "\n" + wrapped(fmt::format("Mind: {}.", list), 0, screen);
}

namespace {

std::string_view name_of(Quantity quantity) {
  switch (quantity) {
    case Quantity::speed:
      return "speed_rad_s";
    case Quantity::mouth_pressure:
      return "mouth_pressure_pa";
    case Quantity::inducer_pressure:
      return "inducer_pressure_pa";
    case Quantity::supply:
    case Quantity::airflow:
    case Quantity::voltage:
      break;
  }
  return "air_over_starting_air";
}

/// Every reading and outcome beside what the rest makes likely there.
Json evidence_json(const Lesson& lesson) {
  const auto& learned = lesson.learned;
  Json list = Json::array();
  for (std::size_t k = 0; k < learned.evidence.size(); ++k) {
    const auto& evidence = learned.evidence[k];
    const auto& agreement = learned.agreements[k];
    const bool reading = evidence.kind == Evidence::Kind::reading;
    list.push_back({{"attempt", evidence.attempt + 1},
                    {"of", name_of(evidence.quantity)},
                    {"read", reading ? number(std::exp(evidence.read)) : Json(nullptr)},
                    {"expected", number(std::exp(agreement.expected))},
                    {"agreement", number(agreement.probability)},
                    {"agreement_with_case", number(learned.by_itself[k].probability)}});
  }
  return list;
}

Json changed_json(const Lesson& lesson) {
  Json list = Json::array();
  for (const auto& one : lesson.changed) {
    list.push_back({{"key", one.key}, {"logged", one.logged}, {"now", one.now}});
  }
  return list;
}

}  // namespace

std::string lesson_json(const Lesson& lesson) {
  const auto& learned = lesson.learned;
  const auto& decision = learned.decision;
  const auto& after = learned.after;
  Json document;
  document["title"] = lesson.bench.title;
  document["stand_off_m"] = after.feasible ? number(after.stand_off) : Json(nullptr);
  document["edge_m"] = after.feasible ? number(after.edge) : Json(nullptr);
  document["slip_m"] = number(slip_of(lesson));
  document["reliability"] = number(after.asked.reliability);
  document["confidence"] = number(after.asked.confidence);
  document["catches"] = number(after.mount.catches);
  document["benches_reliable"] = number(after.mount.reliable);
  document["stop"] = decision.stop;
  const bool proposes = std::isfinite(next_distance(lesson));
  const auto proposed = [&](double value) { return proposes ? number(value) : Json(nullptr); };
  document["next_stand_off_m"] = proposed(decision.next.stand_off);
  document["next_kind"] =
      proposes ? Json(decision.next.kind == trials::Kind::lit ? "lit" : "cold") : Json(nullptr);
  document["next_gain_m"] = proposed(decision.next.gain);
  document["next_hazard"] = proposed(decision.next.hazard);
  document["next_catches"] = proposed(decision.next.catches);
  document["best_gain_m"] = number(decision.best_gain);
  document["nearest_to_reliable_m"] = after.feasible ? Json(nullptr) : number(after.short_at);
  document["refused_by_start_run"] = lesson.refused
                                         ? Json{{"stand_off_m", number(lesson.refused->stand_off)},
                                                {"reason", lesson.refused->reason}}
                                         : Json(nullptr);
  document["barred_by"] = after.barred ? Json(std::string(label(after.barred_by))) : Json(nullptr);
  document["before_stand_off_m"] =
      learned.before.feasible ? number(learned.before.stand_off) : Json(nullptr);
  document["reach_5_50_95_m"] = reach_json(after, lesson.bench);
  document["benches_reliable_nowhere"] = number(after.nowhere);
  document["members"] = after.members;
  document["effective_sample_size"] = number(effective(lesson));
  document["effective_before_resampling"] = number(learned.effective);
  document["resampled"] = std::isfinite(learned.effective_redrawn);
  document["exhausted"] = learned.exhausted;
  document["together"] = number(learned.together);
  Json list = Json::array();
  for (std::size_t i = 0; i < lesson.log.entries.size(); ++i) {
    const auto& entry = lesson.log.entries[i];
    double least = unset;
    for (std::size_t k = 0; k < learned.evidence.size(); ++k) {
      if (learned.evidence[k].attempt == i) {
        least = std::fmin(least, learned.agreements[k].probability);
      }
    }
    list.push_back({{"at_m", number(entry.attempt.stand_off)},
                    {"kind", entry.attempt.kind == trials::Kind::lit ? "lit" : "cold"},
                    {"caught",
                     entry.attempt.outcome == trials::Outcome::none
                         ? Json(nullptr)
                         : Json(entry.attempt.outcome == trials::Outcome::caught)},
                    {"failure",
                     entry.attempt.failure == trials::Failure::unstated
                         ? Json(nullptr)
                         : Json(std::string(word(entry.attempt.failure)))},
                    {"agreement", number(least)},
                    {"set_aside", entry.aside.empty() ? Json(nullptr) : Json(entry.aside)},
                    {"line", entry.place.line}});
  }
  document["attempts"] = list;
  document["evidence"] = evidence_json(lesson);
  document["changed"] = changed_json(lesson);
  document["contradictions"] = contradictions(lesson);
  document["headline"] = lesson_headline(lesson);
  document["what_to_measure"] = what_to_measure(after.shares);
  document["prospects_before"] = prospects_json(learned.before.curve);
  document["prospects"] = prospects_json(after.curve);
  Json briefs = Json::array();
  for (const auto& caution : cautions()) briefs.push_back(caution.brief);
  document["cautions"] = briefs;
  constexpr int indent = 2;
  return document.dump(indent, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string trial_text(const casefile::Log& log,
                       const std::string& file,
                       const std::string& set_aside) {
  if (!set_aside.empty()) {
    return fmt::format("Written to {}: attempt {} is kept and counts no more.\n", file, set_aside);
  }
  const auto system = log.units == "inch" ? units::System::inch : units::System::metric;
  return fmt::format("Written to {}: attempt {}, {}.\n",
                     file,
                     log.entries.size(),
                     attempt_text(log.entries.back().attempt, system));
}

std::string trial_json(const casefile::Log& log,
                       const std::string& file,
                       const std::string& set_aside) {
  constexpr int indent = 2;
  Json document{{"log", file}, {"attempts", log.entries.size()}};
  if (set_aside.empty()) {
    const auto& attempt = log.entries.back().attempt;
    document["at_m"] = number(attempt.stand_off);
    document["kind"] = attempt.kind == trials::Kind::lit ? "lit" : "cold";
  } else {
    document["set_aside"] = set_aside;
  }
  return document.dump(indent, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace windgap::report
