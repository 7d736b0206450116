#include "choice/choice.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>
#include <mutex>
#include <numeric>
#include <set>

#include "units/parallel.h"

namespace windgap::choice {
namespace {

constexpr std::size_t most_picks = 3;
constexpr std::size_t most_looks = 12;  // pairs whose ensemble is drawn for them

/// Jobs run on all threads, each writing its own slot; whoever finishes one tells the caller.
class Work {
 public:
  Work(std::size_t total, const Options& options) : total_(total), options_(options) {}

  /// False if the caller stopped it.
  template <class Job>
  bool run(std::size_t count, Job&& job) {
    in_parallel(count, [&](std::size_t i) {
      if (stopped_) return;
      job(i);
      tell();
    });
    return !stopped_;
  }

  void add(std::size_t jobs) { total_ += jobs; }

 private:
  void tell() {
    if (!options_.progress) return;
    const std::scoped_lock lock(mutex_);
    if (!options_.progress(++done_, total_)) stopped_ = true;
  }

  std::atomic<std::size_t> total_;
  const Options& options_;
  std::size_t done_ = 0;
  std::atomic<bool> stopped_ = false;
  std::mutex mutex_;
};

struct Pair {
  std::size_t fan = 0;
  std::optional<std::size_t> pack;
};

std::vector<Pair> all_pairs(std::span<const ListedFan> fans, std::span<const ListedPack> packs) {
  std::vector<Pair> pairs;
  for (std::size_t i = 0; i < fans.size(); ++i) {
    if (std::holds_alternative<fan::Stream>(fans[i].source)) {
      pairs.push_back({.fan = i, .pack = std::nullopt});
      continue;
    }
    for (std::size_t k = 0; k < packs.size(); ++k) pairs.push_back({.fan = i, .pack = k});
  }
  return pairs;
}

/// Distances that no tape tells apart count as one.
double taped(double distance) {
  constexpr double resolution = 1e-4;  // [m]
  return std::round(distance / resolution) * resolution;
}

/// Of a stream, whose drive nobody described, the most that can be feared.
double burden(const Choice& choice) {
  return std::isfinite(choice.power) ? choice.power : std::numeric_limits<double>::infinity();
}

/// How far from a mount; for ordering what does not fit.
double lack(const Choice& choice) {
  if (choice.fitness == Fitness::flat_pack) return 0.0;
  if (choice.fitness != Fitness::no_mount) return -2.0;
  double worst = 0.0;
  for (const auto& state : choice.placement.constraints) {
    if (state.constraint == placement::Constraint::bracket_travel) continue;
    if (std::isfinite(state.slack)) worst = std::min(worst, state.slack);
  }
  return worst;
}

/// Unknown counts as nothing.
double weight(const Choice& choice) { return std::isfinite(choice.mass) ? choice.mass : 0.0; }

bool better(const Choice& a, const Choice& b) {
  if (a.fitness != b.fitness) return a.fitness < b.fitness;
  if (a.fitness == Fitness::fits) {
    if (a.clear != b.clear) return a.clear;
    if (!a.clear) {
      const double reach_a = taped(a.placement.stand_off);
      const double reach_b = taped(b.placement.stand_off);
      if (reach_a != reach_b) return reach_a > reach_b;
    }
    if (burden(a) != burden(b)) return burden(a) < burden(b);
    const double reach_a = taped(a.placement.stand_off);
    const double reach_b = taped(b.placement.stand_off);
    if (reach_a != reach_b) return reach_a > reach_b;
    if (weight(a) != weight(b)) return weight(a) < weight(b);
    if (a.pack && b.pack && a.spending.starts != b.spending.starts) {
      return a.spending.starts > b.spending.starts;
    }
  } else if (lack(a) != lack(b)) {
    return lack(a) > lack(b);
  }
  return a.fan != b.fan ? a.fan < b.fan : a.pack < b.pack;
}

/// Not worse in anything a buyer weighs, and better in something. Streams, of whose drive nothing
/// is known, are compared with nothing.
bool dominates(const Choice& a, const Choice& b) {
  if (!a.pack || !b.pack) return false;
  if (b.clear && !a.clear) return false;
  if (b.spending.cools && !a.spending.cools) return false;
  const auto starts = [](const Choice& c) { return c.spending.starts; };
  const double reach_a = taped(a.placement.stand_off);
  const double reach_b = taped(b.placement.stand_off);
  const bool no_worse = reach_a >= reach_b && burden(a) <= burden(b) && weight(a) <= weight(b) &&
                        starts(a) >= starts(b);
  const bool better_somewhere =
      reach_a > reach_b || burden(b) > burden(a) || weight(b) > weight(a) || starts(a) > starts(b);
  return no_worse && better_somewhere;
}

void mark_dominated(std::vector<Choice>& choices) {
  for (auto& choice : choices) {
    if (choice.fitness != Fitness::fits) continue;
    for (std::size_t i = 0; i < choices.size(); ++i) {
      if (choices[i].fitness != Fitness::fits || !dominates(choices[i], choice)) continue;
      choice.dominated_by = i;
      break;
    }
  }
}

/// Of every fan that was placed at all its pick, else its first choice, in the order of rank.
std::vector<std::size_t> one_of_each_fan(const std::vector<Choice>& choices,
                                         const std::vector<Pick>& picks) {
  std::vector<std::size_t> list;
  std::set<std::size_t> seen;
  for (const auto& pick : picks) {
    list.push_back(pick.choice);
    seen.insert(choices[pick.choice].fan);
  }
  for (std::size_t i = 0; i < choices.size(); ++i) {
    if (choices[i].fitness > Fitness::flat_pack) continue;
    if (seen.insert(choices[i].fan).second) list.push_back(i);
  }
  std::sort(list.begin(), list.end());
  return list;
}

/// The nozzle as a person draws and sets it, placed as any other bench; it helps only if a print
/// that came out narrow has a mount too. What does not help even at its best is left as found,
/// unless readings of the bare jet hid what it would do.
Nozzle printed(Nozzle found, const Question& question, rig::Parts parts, const Choice& choice) {
  const auto& bare = choice.placement;
  auto* const ducted = std::get_if<fan::Fan>(&parts.source);
  if (ducted == nullptr || !std::isfinite(found.stand_off)) return found;
  if (!found.helps && !choice.jet_known) return found;
  constexpr double nearly = 1e-6;
  constexpr double percents = 100.0;
  const auto& rules = question.rules;
  auto need = question.need;
  need.throttle.reset();
  need.nozzle.reset();
  found.exit_diameter =
      rules.nozzle_step * std::ceil(found.exit_diameter / rules.nozzle_step - nearly);
  found.throttle = std::floor(percents * found.throttle + nearly) / percents;
  parts.throttle = found.throttle;
  const auto placed = [&](double diameter) {
    ducted->nozzle_diameter = diameter;
    return placement::answer(parts,
                             question.models,
                             need,
                             question.limits,
                             {.extent = placement::Extent::advice},
                             question.deriving)
        .advice;
  };
  found.helps = false;
  found.stand_off = unset;
  found.gain = unset;
  found.stall_margin = unset;
  const auto made = placed(found.exit_diameter);
  if (!made.feasible) return found;
  const auto narrow = placed(found.exit_diameter - rules.print_error);
  if (!narrow.feasible) return found;
  found.stand_off = made.stand_off;
  found.gain = made.stand_off - found.bare_stand_off;
  found.stall_margin = std::min(made.mount.fan.stall_margin, narrow.mount.fan.stall_margin);
  const double least = std::min(made.stand_off, narrow.stand_off);
  found.helps = !bare.feasible || least > (1.0 + rules.worthwhile_gain) * bare.stand_off;
  return found;
}

Nozzle nozzle_of(const Question& question, const rig::Parts& parts, const Choice& choice) {
  const auto& need = question.need;
  rig::Rig bare = start::assemble(parts, question.models, choice.jet, question.deriving);
  const double widest = 2.0 * bare.fan.bore_radius;
  const NozzleRange range{
      .exit_diameter = need.nozzle.value_or(
          placement::Range{.lower = question.rules.narrowest_nozzle * widest, .upper = widest}),
      .throttle = need.throttle.value_or(
          placement::Range{.lower = std::min(question.rules.least_throttle, 0.99 * parts.throttle),
                           .upper = parts.throttle})};
  return printed(best_nozzle(bare, choice.placement, range, need, question.limits, question.rules),
                 question,
                 parts,
                 choice);
}

/// Where an unmeasured jet finds no mount by its nearer bound: the other bound's [m].
double clean_stand_off(const Question& question, const rig::Parts& parts, const Choice& choice) {
  if (choice.fitness != Fitness::no_mount || choice.jet_known) return unset;
  if (choice.jet != rig::JetChoice::propeller_like) return unset;
  const auto rig =
      start::assemble(parts, question.models, rig::JetChoice::nozzle_like, question.deriving);
  const auto placed =
      placement::place(rig, question.need, question.limits, {.extent = placement::Extent::advice});
  return placed.feasible ? placed.stand_off : unset;
}

/// The answer and the ensemble of one pair.
Pick look_closely(const Question& question,
                  std::span<const ListedFan> fans,
                  std::span<const ListedPack> packs,
                  std::span<const Choice> choices,
                  std::size_t index,
                  const Options& options) {
  const auto& choice = choices[index];
  const auto parts =
      bench_of(question, fans[choice.fan], choice.pack ? &packs[*choice.pack] : nullptr);
  Pick pick{.choice = index};
  pick.answer = placement::answer(
      parts, question.models, question.need, question.limits, {}, question.deriving);
  pick.nominal = pick.answer.advice;
  if (!options.certainty) return pick;
  pick.certainty = options.certainty(parts, pick.answer, fans[choice.fan].own);
  if (std::isfinite(question.need.reliability)) {
    pick.answer.advice = placement::advised(pick.answer, pick.certainty->chance, question.need);
  }
  return pick;
}

/// The pair that the case has, if it fits.
std::optional<std::size_t> own_pair(std::span<const Choice> choices,
                                    std::span<const ListedFan> fans,
                                    std::span<const ListedPack> packs) {
  for (std::size_t i = 0; i < choices.size() && choices[i].fitness == Fitness::fits; ++i) {
    const auto& choice = choices[i];
    if (fans[choice.fan].own && (!choice.pack || packs[*choice.pack].own)) return i;
  }
  return std::nullopt;
}

/// Pairs that nothing beats in everything, looked at closely in the order of rank, until enough
/// different fans are reliable. Empty: stopped.
std::optional<std::vector<Pick>> pick_out(const Question& question,
                                          std::span<const ListedFan> fans,
                                          std::span<const ListedPack> packs,
                                          std::span<const Choice> choices,
                                          const Options& options,
                                          Work& work) {
  std::vector<Pick> looked;
  std::set<std::size_t> reliable;
  std::size_t next = 0;
  while (reliable.size() < most_picks && looked.size() < most_looks) {
    // As many as are still lacking: none is in vain unless a fan comes twice.
    std::vector<std::size_t> batch;
    const auto lacking = std::min(most_picks - reliable.size(), most_looks - looked.size());
    for (; next < choices.size() && batch.size() < lacking; ++next) {
      const auto& choice = choices[next];
      if (choice.fitness != Fitness::fits) break;
      const bool twice = std::any_of(batch.begin(), batch.end(), [&](std::size_t other) {
        return choices[other].fan == choice.fan;
      });
      if (twice) break;
      if (!choice.dominated_by && !reliable.contains(choice.fan)) batch.push_back(next);
    }
    if (batch.empty()) break;
    const auto first = looked.size();
    looked.resize(first + batch.size());
    work.add(batch.size());
    if (!work.run(batch.size(), [&](std::size_t i) {
          looked[first + i] = look_closely(question, fans, packs, choices, batch[i], options);
        })) {
      return std::nullopt;
    }
    for (std::size_t i = first; i < looked.size(); ++i) {
      if (looked[i].reliable()) reliable.insert(choices[looked[i].choice].fan);
    }
  }
  return looked;
}

/// Of those: the first reliable ones of different fans, then, where that is not enough, others.
std::vector<Pick> short_list(std::span<const Choice> choices, std::vector<Pick> looked) {
  std::vector<Pick> list;
  std::set<std::size_t> seen;
  for (const bool reliable : {true, false}) {
    for (auto& pick : looked) {
      const auto fan = choices[pick.choice].fan;
      if (list.size() == most_picks || pick.reliable() != reliable) continue;
      if (!seen.insert(fan).second) continue;
      // What asks less and is reliable nowhere is told with what took its place.
      const auto weaker = std::find_if(looked.begin(), looked.end(), [&](const Pick& other) {
        return other.choice < pick.choice && !other.reliable() &&
               (choices[other.choice].fan == fan || list.empty());
      });
      if (reliable && weaker != looked.end()) pick.instead_of = weaker->choice;
      list.push_back(pick);
    }
  }
  return list;
}

}  // namespace

Ranking rank(const Question& question,
             std::span<const ListedFan> fans,
             std::span<const ListedPack> packs,
             const Options& options) {
  const auto limit = limited(options.threads);
  const auto pack_of = [&](const Choice& choice) {
    return choice.pack ? &packs[*choice.pack] : nullptr;
  };
  Ranking ranking;
  const auto pairs = all_pairs(fans, packs);
  Work work(pairs.size() + fans.size(), options);
  auto& choices = ranking.choices;
  choices.resize(pairs.size());
  if (!work.run(pairs.size(), [&](std::size_t i) {
        choices[i] = judge(question, fans, packs, pairs[i].fan, pairs[i].pack);
      })) {
    return {.stopped = true};
  }
  if (options.cooldown) {
    std::vector<Choice*> fitting;
    for (auto& choice : choices) {
      if (choice.fitness == Fitness::fits && choice.pack) fitting.push_back(&choice);
    }
    work.add(fitting.size());
    if (!work.run(fitting.size(), [&](std::size_t i) {
          pay_for_cooling(*fitting[i], question, fans, packs, options);
        })) {
      return {.stopped = true};
    }
  }
  std::sort(choices.begin(), choices.end(), better);
  mark_dominated(choices);
  auto looked = pick_out(question, fans, packs, choices, options, work);
  if (!looked) return {.stopped = true};
  ranking.picks = short_list(choices, std::move(*looked));
  if (const auto i = own_pair(choices, fans, packs)) {
    const auto picked = std::find_if(ranking.picks.begin(),
                                     ranking.picks.end(),
                                     [&](const Pick& pick) { return pick.choice == *i; });
    if (picked == ranking.picks.end()) {
      ranking.own = look_closely(question, fans, packs, choices, *i, options);
    }
  }
  const auto run_there = [&](Pick& pick) {
    if (!options.start || !pick.answer.advice.feasible) return;
    const auto& choice = choices[pick.choice];
    pick.refused =
        options.start(bench_of(question, fans[choice.fan], pack_of(choice)), pick.answer);
  };
  for (auto& pick : ranking.picks) run_there(pick);
  if (ranking.own) run_there(*ranking.own);

  const auto first = one_of_each_fan(choices, ranking.picks);
  ranking.nozzles.resize(first.size());
  if (!work.run(first.size(), [&](std::size_t i) {
        auto& choice = choices[first[i]];
        const auto parts = bench_of(question, fans[choice.fan], pack_of(choice));
        choice.clean_stand_off = clean_stand_off(question, parts, choice);
        ranking.nozzles[i] = {.choice = first[i], .nozzle = nozzle_of(question, parts, choice)};
      })) {
    return {.stopped = true};
  }
  return ranking;
}

}  // namespace windgap::choice
