#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "report/choose.h"
#include "report/shown.h"
#include "report/verdict.h"

namespace windgap::report {
namespace {

using choice::Choice;
using choice::Fitness;
using units::Dimension;

std::string label_of(const std::string& file, const std::string& name) {
  return file.empty() ? name : std::filesystem::path(file).stem().string();
}

/// A pick's standard deviation of the reach over the benches it may mean [m].
double deviation(const choice::Pick& pick) {
  constexpr double band = 3.29;  // standard deviations between 5 and 95 %
  if (!pick.certainty) return unset;
  const auto& chance = pick.certainty->chance;
  return (chance.reach_high - chance.reach_low) / band;
}

const Choice& chosen(const ChooseOutcome& outcome, const choice::Pick& pick) {
  return outcome.ranking.choices[pick.choice];
}

std::size_t count_of(const ChooseOutcome& outcome, Fitness fitness) {
  const auto& choices = outcome.ranking.choices;
  return static_cast<std::size_t>(std::count_if(
      choices.begin(), choices.end(), [&](const Choice& c) { return c.fitness == fitness; }));
}

std::string wrong_words(const drive::WrongPair& wrong, const Shown& shown) {
  const auto amps = [&](double value) { return shown.of(value, Dimension::current); };
  const auto volts = [&](double value) { return shown.of(value, Dimension::voltage); };
  switch (wrong.mismatch) {
    case drive::Mismatch::too_many_cells:
      return fmt::format(
          "{:.0f} cells on a controller for at most {:.0f}", wrong.value, wrong.limit);
    case drive::Mismatch::pack_current:
      return fmt::format(
          "draws {}, the pack gives {} at most", amps(wrong.value), amps(wrong.limit));
    case drive::Mismatch::controller_current:
      return fmt::format(
          "the motor takes {}, the controller stands {}", amps(wrong.value), amps(wrong.limit));
    case drive::Mismatch::motor_current:
      return fmt::format(
          "the motor would take {} and stands {}", amps(wrong.value), amps(wrong.limit));
    case drive::Mismatch::sags:
      return fmt::format(
          "a cell sags to {}, below {} it is hurt", volts(wrong.value), volts(wrong.limit));
    case drive::Mismatch::does_not_turn:
      break;
  }
  return "the motor does not turn";
}

std::string no_mount_words(const ChooseOutcome& outcome, const Choice& choice) {
  const Shown shown(outcome.bench.system);
  const double nearest = outcome.bench.requirement.nearest;
  if (choice.inside < nearest) {
    const auto words = fmt::format("starts only inside {}, the bracket comes no nearer than {}",
                                   shown.length(choice.inside),
                                   shown.length(nearest));
    return choice.loss_there > outcome.bench.requirement.allowed_running_loss
               ? fmt::format(
                     "{}, and the running loss there is {}", words, shown.share(choice.loss_there))
               : words;
  }
  if (std::isfinite(choice.inside)) {
    return fmt::format("starts only inside {}, where the running loss is {}",
                       shown.length(choice.inside),
                       shown.share(choice.loss_there));
  }
  const auto& placed = choice.placement;
  const auto& shortfall = *placed.shortfall;
  if (shortfall.constraint == placement::Constraint::starting_airflow &&
      !std::isfinite(shortfall.limit)) {
    return "placement finds no starting airflow for this engine (`windgap place` says why)";
  }
  if (shortfall.constraint == placement::Constraint::starting_airflow) {
    return fmt::format("brings {} of {} at best{}",
                       shown.airflow(placed.mount.delivery.airflow),
                       shown.airflow(shortfall.limit),
                       std::isfinite(choice.clean_stand_off)
                           ? fmt::format(" by the nearer bound of its unmeasured jet; a clean jet "
                                         "would reach {}",
                                         shown.length(choice.clean_stand_off))
                           : std::string());
  }
  return fmt::format("held back everywhere by {}", label(shortfall.constraint));
}

std::string asks_of_pack(const Choice& choice, const Shown& shown) {
  return choice.pack ? fmt::format("asks {} of its pack", shown.of(choice.power, Dimension::power))
                     : std::string("brings a drive of its own");
}

/// Where a pick goes [m]: the mount of the asked reliability, the nominal one where there is none.
double goes_to(const ChooseOutcome& outcome, const choice::Pick& pick) {
  const auto& advice = pick.answer.advice;
  return advice.feasible ? advice.stand_off : chosen(outcome, pick).placement.stand_off;
}

/// Whether a pick stands beyond where the parked fan shows, with the asked reserve.
bool stands_clear(const ChooseOutcome& outcome, const choice::Pick& pick) {
  return goes_to(outcome, pick) >=
         (1.0 + outcome.bench.models.choice.reach_reserve) * chosen(outcome, pick).clear_stand_off;
}

/// How a pick that stands clear of the running engine compares.
std::string clear_standing(const ChooseOutcome& outcome, std::size_t index) {
  const Shown shown(outcome.bench.system);
  const auto& picks = outcome.ranking.picks;
  const auto& choice = chosen(outcome, picks[index]);
  const auto& all = outcome.ranking.choices;
  const auto clear = std::count_if(all.begin(), all.end(), [](const Choice& c) {
    return c.clear && c.fitness == Fitness::fits;
  });
  const auto enough = fmt::format(
      "From {} on nothing of the parked fan shows in the running engine, and it reaches past "
      "that with more than {} in reserve",
      shown.length(choice.clear_stand_off),
      shown.share(outcome.bench.models.choice.reach_reserve));
  const auto asked = asks_of_pack(choice, shown);
  const auto& first = chosen(outcome, picks.front());
  const bool dearer = !choice.pack || !(choice.power <= first.power);
  if (index > 0 && stands_clear(outcome, picks.front()) && dearer) {
    return fmt::format("{}: a tie with the first in what counts, but it {}.", enough, asked);
  }
  // The ranking's first asks least; a reliable one may have come before it, or stand nearer.
  const bool least = index == 0 && picks[index].choice == 0 &&
                     !std::isfinite(outcome.bench.requirement.reliability);
  if (!least) return fmt::format("{}. It {}.", enough, asked);
  if (clear == 1) return fmt::format("{}; no other choice does. It {}.", enough, asked);
  return fmt::format(
      "{}; so {}, farther buys nothing, and of all these this one asks least: it {}.",
      enough,
      clear == 2 ? std::string("does one other choice")
                 : fmt::format("do {} other choices", clear - 1),
      asked);
}

/// How a pick compares with those before it.
std::string standing(const ChooseOutcome& outcome, std::size_t index) {
  const Shown shown(outcome.bench.system);
  const auto& pick = outcome.ranking.picks[index];
  const auto& choice = chosen(outcome, pick);
  if (stands_clear(outcome, pick)) return clear_standing(outcome, index);
  if (choice.clear) {
    // Nominally only: its reliable mount is nearer.
    return fmt::format(
        "From {} on nothing of the parked fan shows in the running engine; its mount {}. It {}.",
        shown.length(choice.clear_stand_off),
        goes_to(outcome, pick) >= choice.clear_stand_off
            ? fmt::format("lies beyond that by {}",
                          shown.share(goes_to(outcome, pick) / choice.clear_stand_off - 1.0))
            : std::string("is nearer"),
        asks_of_pack(choice, shown));
  }
  if (index == 0) {
    if (pick.choice != 0) return fmt::format("It {}.", asks_of_pack(choice, shown));
    return choice.placement.edge >= outcome.bench.requirement.farthest
               ? "It reaches the end of the bracket's travel, and asks least of its pack of all "
                 "that do."
               : "Of all that fit it reaches farthest.";
  }
  const auto& before = outcome.ranking.picks[index - 1];
  const double gap = goes_to(outcome, before) - goes_to(outcome, pick);
  const double sure = std::hypot(deviation(before), deviation(pick));
  if (stands_clear(outcome, before)) {
    return fmt::format(
        "It falls short of {}, from where on nothing of it would show with reserve.",
        shown.length((1.0 + outcome.bench.models.choice.reach_reserve) * choice.clear_stand_off));
  }
  if (shown.length(gap) == shown.length(0.0)) {
    return fmt::format("It reaches as far as the one before, but {}.", asks_of_pack(choice, shown));
  }
  const auto stands = fmt::format("It stands {} {} than the one before",
                                  shown.length(std::abs(gap)),
                                  gap < 0.0 ? "farther" : "nearer");
  if (std::abs(gap) < sure) {
    return fmt::format(
        "{}, less than the two are sure to ({}): a tie.", stands, shown.length(sure));
  }
  return stands + ".";
}

/// Why a pick took the place of one that was ranked before it.
std::string replaces(const ChooseOutcome& outcome, const choice::Pick& pick) {
  if (!pick.instead_of) return {};
  const Shown shown(outcome.bench.system);
  const auto& weaker = outcome.ranking.choices[*pick.instead_of];
  const bool same_fan = weaker.fan == chosen(outcome, pick).fan;
  return fmt::format(
      "{} asks less, but nowhere on this travel do {} of its starts find air enough.",
      same_fan ? fmt::format("On {} it", pack_label(outcome, weaker)) : pair_label(outcome, weaker),
      shown.share(pick.certainty->chance.asked.reliability));
}

std::string sureness(const ChooseOutcome& outcome, const choice::Pick& pick) {
  const Shown shown(outcome.bench.system);
  std::string text;
  if (pick.certainty) {
    const auto& chance = pick.certainty->chance;
    const auto starts = shown.share(chance.asked.reliability);
    const auto benches = shown.share(chance.asked.confidence);
    text =
        chance.feasible
            ? fmt::format("{} of starts find air enough from {} to {} on {} of plausible benches;",
                          starts,
                          shown.length(chance.slot.near),
                          shown.length(chance.stand_off),
                          benches)
            : fmt::format(
                  "Nowhere on this travel do {} of starts find air enough on {} of plausible "
                  "benches, "
                  "held back by {};",
                  starts,
                  benches,
                  label(chance.short_of));
    text += fmt::format(" at {} {} do.",
                        shown.length(chosen(outcome, pick).placement.stand_off),
                        shown.share(pick.certainty->mount.catches));
  }
  const auto& bound = pick.answer.nozzle_like;
  if (bound && bound->feasible && bound->stand_off > goes_to(outcome, pick)) {
    text += fmt::format(" Its jet is unmeasured: a clean one would reach {}.",
                        shown.length(bound->stand_off));
  } else if (!chosen(outcome, pick).pack) {
    text += " A measured stream: its jet is known, which favours it.";
  } else if (pick.answer.jet_known) {
    text += " Judged by its own measured jet, which the others lack.";
  }
  return text;
}

/// Whether the controller that the case describes would do for the next size up.
std::string own_controller(const ChooseOutcome& outcome, const Choice& choice) {
  const double rated = outcome.bench.choosing.drive.controller.rated_current;
  if (!std::isfinite(rated) || !(choice.controller_size > rated)) return {};
  const auto shown = Shown(outcome.bench.system).of(rated, Dimension::current);
  return choice.motor_current > rated
             ? fmt::format(" (yours, of {}, carries it as a burst alone)", shown)
             : fmt::format(" (yours, of {}, carries it without that reserve)", shown);
}

std::string electric(const ChooseOutcome& outcome, const Choice& choice) {
  if (!choice.pack) return {};
  const Shown shown(outcome.bench.system);
  const auto burst =
      std::isinf(choice.allowed_burst)
          ? std::string("may run on")
          : fmt::format("may run {}{}",
                        shown.of(choice.allowed_burst, Dimension::time),
                        choice.allowed_burst < choice.spending.purge_seconds +
                                                   outcome.bench.requirement.start_duration
                            ? " at full blast, so purge on low throttle"
                            : "");
  const auto& spending = choice.spending;
  return fmt::format(
      "{} from the pack, which sags by {}; controller of {}{}. Winding at {} after one start; it "
      "{}. "
      "{} starts per charge, each with {} of purge before ignition{}.",
      shown.of(choice.pack_current, Dimension::current),
      shown.of(choice.sag, Dimension::voltage),
      std::isfinite(choice.controller_size) ? shown.of(choice.controller_size, Dimension::current)
                                            : std::string("a size that is not usual"),
      own_controller(outcome, choice),
      shown.of(choice.winding_temperature, Dimension::temperature),
      burst,
      starts_words(spending.starts),
      shown.of(spending.purge_seconds, Dimension::time),
      !spending.cools                  ? "; from there it cannot cool the engine after the run"
      : spending.cooldown_charge > 0.0 ? " and the cooling after it"
                                       : "");
}

double cells_of(const ChooseOutcome& outcome, const Choice& choice) {
  return static_cast<double>(outcome.catalogue.packs[*choice.pack].pack.cells);
}

/// Why there is not one pair.
std::string nothing_listed(const ChooseOutcome& outcome) {
  const auto& catalogue = outcome.catalogue;
  const auto* missing = catalogue.fans.empty() ? "no fan" : "no pack";
  const auto& skipped = catalogue.skipped;
  if (skipped.empty()) return fmt::format("{} is listed", missing);
  return fmt::format("{} is usable, {} skipped, the first {}: {}",
                     missing,
                     skipped.size(),
                     skipped.front().file,
                     skipped.front().reason);
}

const choice::FanNozzle* nozzle_of(const ChooseOutcome& outcome, std::size_t choice) {
  for (const auto& tried : outcome.ranking.nozzles) {
    if (tried.choice == choice) return &tried;
  }
  return nullptr;
}

std::string counted(std::size_t count, std::string_view what) {
  return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
}

/// Empty where the first choice has a reliable mount, or nobody asked.
std::string unreliable(const ChooseOutcome& outcome) {
  const Shown shown(outcome.bench.system);
  const auto& picks = outcome.ranking.picks;
  const auto& first = picks.front().certainty;
  if (!first || first->chance.feasible) return {};
  auto text =
      fmt::format("The distance holds for the nominal bench; {} of starts find air enough there.",
                  shown.share(first->mount.catches));
  // Reliable picks come first, and other packs and farther fans were tried.
  return text + " Nothing that was tried starts reliably from this bracket.";
}

/// Where the reliable distance is not the nominal one; empty where it is farther, or nobody asked.
std::string how_reliably(const Choice& choice,
                         const std::optional<choice::Certainty>& certainty,
                         const Shown& shown) {
  if (!certainty) return {};
  const auto& chance = certainty->chance;
  if (!chance.feasible) return ", but not reliably";
  if (chance.stand_off >= choice.placement.stand_off) return {};
  return fmt::format(", reliably as far as {}", shown.length(chance.stand_off));
}

/// Whether the fan that the case describes would do, where another one is advised.
std::string fan_at_hand(const ChooseOutcome& outcome) {
  const Shown shown(outcome.bench.system);
  const auto& choices = outcome.ranking.choices;
  const auto owned = [&](const Choice& c) { return outcome.catalogue.fans[c.fan].own; };
  // On the pack at hand, if there is one; else on the best that is sold.
  auto own = std::find_if(choices.begin(), choices.end(), [&](const Choice& c) {
    return owned(c) && (!c.pack || outcome.catalogue.packs[*c.pack].own);
  });
  if (own == choices.end()) own = std::find_if(choices.begin(), choices.end(), owned);
  if (own == choices.end() || &*own == &best_choice(outcome)) return {};
  if (own->fitness != Fitness::fits) {
    return fmt::format("The fan you have, {}, will not do: {}.",
                       pair_label(outcome, *own),
                       unfit_reason(outcome, *own));
  }
  const auto& ranking = outcome.ranking;
  const auto index = static_cast<std::size_t>(own - choices.begin());
  const choice::Pick* looked = nullptr;
  for (const auto& pick : ranking.picks) {
    if (pick.choice == index) looked = &pick;
  }
  if (ranking.own && ranking.own->choice == index) looked = &*ranking.own;
  const auto has = fmt::format("The fan you have, {}, ", pair_label(outcome, *own));
  const double nominal = own->placement.stand_off;
  if (looked == nullptr)
    return fmt::format("{}fits too, as far as {}.", has, shown.length(nominal));
  if (!looked->refused.empty()) {
    return fmt::format("{}brings air enough as far as {}, but a start there does not catch: {}.",
                       has,
                       shown.length(goes_to(outcome, *looked)),
                       looked->refused);
  }
  if (!looked->reliable()) {
    return fmt::format("{}reaches {} nominally, but starts reliably nowhere on this travel.",
                       has,
                       shown.length(nominal));
  }
  if (std::isfinite(outcome.bench.requirement.reliability)) {
    return fmt::format("{}fits too, reliably as far as {}: no other need be bought.",
                       has,
                       shown.length(looked->answer.advice.stand_off));
  }
  return fmt::format("{}fits too, as far as {}{}: no other need be bought.",
                     has,
                     shown.length(nominal),
                     how_reliably(*own, looked->certainty, shown));
}

}  // namespace

bool fits(const ChooseOutcome& outcome) {
  const auto& choices = outcome.ranking.choices;
  return !choices.empty() && choices.front().fitness == Fitness::fits;
}

std::string fan_label(const ChooseOutcome& outcome, const Choice& choice) {
  const auto& fan = outcome.catalogue.fans[choice.fan];
  return label_of(fan.file, fan.name) + (fan.own ? "*" : "");
}

std::string pack_label(const ChooseOutcome& outcome, const Choice& choice) {
  if (!choice.pack) return "its own";
  const auto& pack = outcome.catalogue.packs[*choice.pack];
  return label_of(pack.file, pack.name);
}

std::string pair_label(const ChooseOutcome& outcome, const Choice& choice) {
  return choice.pack ? fan_label(outcome, choice) + " on " + pack_label(outcome, choice)
                     : fan_label(outcome, choice);
}

std::string starts_words(double starts, int decimals) {
  constexpr double nearly = 1e-9;
  const double steps = std::pow(10.0, decimals);
  return fmt::format("{:.{}f}", std::floor(steps * starts + nearly) / steps, decimals);
}

bool has_mount(const ChooseOutcome& outcome) {
  const auto& picks = outcome.ranking.picks;
  return fits(outcome) && (picks.empty() || picks.front().answer.advice.feasible);
}

bool starts(const ChooseOutcome& outcome) {
  const auto& picks = outcome.ranking.picks;
  return has_mount(outcome) && (picks.empty() || picks.front().refused.empty());
}

const Choice& best_choice(const ChooseOutcome& outcome) {
  const auto& ranking = outcome.ranking;
  return ranking.picks.empty() ? ranking.choices.front()
                               : ranking.choices[ranking.picks.front().choice];
}

std::string pick_title(const ChooseOutcome& outcome, std::size_t index) {
  const Shown shown(outcome.bench.system);
  const auto& pick = outcome.ranking.picks[index];
  return fmt::format("{}, {}{}",
                     pair_label(outcome, chosen(outcome, pick)),
                     shown.length(goes_to(outcome, pick)),
                     pick.answer.advice.feasible ? "" : " nominally");
}

std::string headline(const ChooseOutcome& outcome) {
  const Shown shown(outcome.bench.system);
  if (outcome.ranking.choices.empty()) return "Nothing to choose from: " + nothing_listed(outcome);
  if (!fits(outcome)) return "Nothing here starts this engine from this bracket";
  const auto& best = best_choice(outcome);
  const auto label = pair_label(outcome, best);
  const auto& pick = outcome.ranking.picks.front();
  const auto distance = shown.length(goes_to(outcome, pick));
  const double asked = outcome.bench.requirement.reliability;
  if (!has_mount(outcome)) {
    return fmt::format("Nothing here starts this engine {} of the time; nominally {} reaches {}",
                       shown.share(asked),
                       label,
                       distance);
  }
  if (!pick.refused.empty()) {
    return fmt::format("{} may stand as far as {}, but a start there does not catch: {}",
                       label,
                       distance,
                       pick.refused);
  }
  return fmt::format("Take {}: it may stand as far as {}{}",
                     label,
                     distance,
                     std::isfinite(asked)
                         ? fmt::format(" for {} of starts to catch", shown.share(asked))
                         : how_reliably(best, pick.certainty, shown));
}

std::string choose_brief(const ChooseOutcome& outcome) {
  auto text = headline(outcome) + "\n";
  const auto skipped = outcome.catalogue.skipped.size();
  if (skipped > 0) {
    text += fmt::format("{} skipped, the first {}: {}\n",
                        counted(skipped, "file"),
                        outcome.catalogue.skipped.front().file,
                        outcome.catalogue.skipped.front().reason);
  }
  return text;
}

std::vector<std::string> beside_the_headline(const ChooseOutcome& outcome) {
  std::vector<std::string> said;
  if (!fits(outcome)) return said;
  if (auto text = unreliable(outcome); !text.empty()) said.push_back(std::move(text));
  if (auto text = fan_at_hand(outcome); !text.empty()) said.push_back(std::move(text));
  return said;
}

std::string what_is_needed(const ChooseOutcome& outcome) {
  const auto& choices = outcome.ranking.choices;
  const auto placed = std::find_if(choices.begin(), choices.end(), [](const Choice& c) {
    return std::isfinite(c.placement.starting_airflow);
  });
  if (placed == choices.end()) return {};
  const Shown shown(outcome.bench.system);
  const bool derived = casefile::deriving(outcome.bench) != nullptr;
  const bool given = std::isfinite(outcome.bench.parts.start.airflow);
  const double need = placed->placement.starting_airflow;
  return fmt::format("Starting airflow: {}, {}; the fan must bring {} more.",
                     shown.airflow(need),
                     derived ? "derived from the engine, good to some thirty per cent: find it by "
                               "a start before you buy"
                     : given ? "as the case gives it"
                             : "for the rotor's speed that the case gives",
                     shown.share(outcome.bench.requirement.margin));
}

std::vector<std::string> what_was_tried(const ChooseOutcome& outcome) {
  std::vector<std::string> said;
  const auto& catalogue = outcome.catalogue;
  const auto of_them = [&](Fitness fitness, std::string_view one, std::string_view more) {
    const auto count = count_of(outcome, fitness);
    return fmt::format("{} {}", count, count == 1 ? one : more);
  };
  const auto also = [&](Fitness fitness, std::string_view one, std::string_view more) {
    return count_of(outcome, fitness) > 0 ? ", " + of_them(fitness, one, more) : std::string();
  };
  said.push_back(
      fmt::format("{} and {} make {}: {}, {}, {}{}.",
                  counted(catalogue.fans.size(), "fan"),
                  counted(catalogue.packs.size(), "pack"),
                  counted(outcome.ranking.choices.size(), "pair"),
                  of_them(Fitness::fits, "fits", "fit"),
                  of_them(Fitness::wrong_pair, "is a wrong pair", "are wrong pairs"),
                  of_them(Fitness::no_mount, "finds no mount", "find no mount"),
                  also(Fitness::flat_pack,
                       "has too little charge for one start",
                       "have too little charge for one start") +
                      also(Fitness::not_believed, "is not believed", "are not believed")));
  return said;
}

std::vector<std::string> what_was_skipped(const ChooseOutcome& outcome) {
  std::vector<std::string> list;
  for (const auto& skipped : outcome.catalogue.skipped) {
    list.push_back(fmt::format("Skipped {}: {}", skipped.file, skipped.reason));
  }
  return list;
}

std::vector<std::string> why(const ChooseOutcome& outcome, std::size_t index) {
  const auto& pick = outcome.ranking.picks[index];
  const auto& choice = chosen(outcome, pick);
  const Shown shown(outcome.bench.system);
  const auto& advice = pick.answer.advice;
  const auto near = shown.length(advice.feasible ? advice.slot.near : pick.nominal.slot.near);
  std::vector<std::string> said;
  if (!pick.refused.empty()) {
    said.push_back(fmt::format(
        "There is air enough from {} on to there, but a start there does not catch: {}.",
        near,
        pick.refused));
  } else {
    said.push_back(fmt::format("It starts this engine from {} on to there{}.",
                               near,
                               advice.feasible ? "" : ", nominally"));
  }
  said.push_back(standing(outcome, index));
  if (auto text = replaces(outcome, pick); !text.empty()) said.push_back(std::move(text));
  if (auto text = sureness(outcome, pick); !text.empty()) said.push_back(std::move(text));
  if (auto text = electric(outcome, choice); !text.empty()) said.push_back(std::move(text));
  if (const auto* nozzle = nozzle_of(outcome, pick.choice)) {
    said.push_back(nozzle_sentence(outcome, *nozzle));
  }
  return said;
}

std::string unfit_reason(const ChooseOutcome& outcome, const Choice& choice) {
  const Shown shown(outcome.bench.system);
  switch (choice.fitness) {
    case Fitness::fits:
      return {};
    case Fitness::no_mount:
      return no_mount_words(outcome, choice);
    case Fitness::flat_pack:
      return fmt::format("the charge lasts for {} starts{}",
                         starts_words(choice.spending.starts, 2),
                         choice.spending.cooldown_charge > 0.0 ? ", cooling included" : "");
    case Fitness::wrong_pair: {
      std::vector<std::string> words;
      for (const auto& wrong : choice.wrong) words.push_back(wrong_words(wrong, shown));
      return fmt::format("wrong pair: {}", fmt::join(words, "; "));
    }
    case Fitness::not_believed:
      break;
  }
  return fmt::format("not believed: {}", fmt::join(choice.contradictions, "; "));
}

std::string note(const ChooseOutcome& outcome, const Choice& choice) {
  if (choice.fitness != Fitness::fits) return unfit_reason(outcome, choice);
  if (!choice.dominated_by) return {};
  return "dominated by " + pair_label(outcome, outcome.ranking.choices[*choice.dominated_by]);
}

std::string nozzle_sentence(const ChooseOutcome& outcome, const choice::FanNozzle& tried) {
  constexpr double told_gain = 1e-3;  // [m]
  const Shown shown(outcome.bench.system);
  const auto& nozzle = tried.nozzle;
  if (!nozzle.searched) return "A nozzle cannot be judged for a measured stream.";
  if (!nozzle.helps && std::isfinite(nozzle.bare_stand_off)) {
    return nozzle.gain > told_gain
               ? fmt::format("A printed nozzle brings it at most {} farther, not worth the print.",
                             shown.length(nozzle.gain))
               : std::string("A printed nozzle brings it no farther.");
  }
  if (!std::isfinite(nozzle.stand_off)) return "No printed nozzle gives it a mount.";
  const auto design = fmt::format("{} wide at the tip, {} throttle",
                                  shown.length(nozzle.exit_diameter),
                                  shown.share(nozzle.throttle));
  if (!std::isfinite(nozzle.bare_stand_off)) {
    return fmt::format(
        "With a nozzle {} it could stand at {}.", design, shown.length(nozzle.stand_off));
  }
  return fmt::format("A nozzle {} would bring it to {}, {} farther, with {} of flow above stall.",
                     design,
                     shown.length(nozzle.stand_off),
                     shown.length(nozzle.gain),
                     shown.share(nozzle.stall_margin));
}

std::vector<std::string> nozzles_worth_it(const ChooseOutcome& outcome) {
  std::vector<std::string> said;
  const auto& ranking = outcome.ranking;
  for (const auto& tried : ranking.nozzles) {
    const auto& choice = ranking.choices[tried.choice];
    const bool picked =
        std::any_of(ranking.picks.begin(), ranking.picks.end(), [&](const choice::Pick& pick) {
          return pick.choice == tried.choice;
        });
    if (!tried.nozzle.helps || picked || choice.fitness != Fitness::fits) continue;
    said.push_back(pair_label(outcome, choice) + ": " + nozzle_sentence(outcome, tried));
  }
  return said;
}

std::vector<Rung> ladder(const ChooseOutcome& outcome) {
  constexpr double same_rung = 5e-4;  // [m]
  std::vector<Rung> rungs;
  struct Entry {
    double distance;
    std::string fan;
    bool travel_ends;
  };
  std::vector<Entry> entries;
  std::vector<std::size_t> seen;
  for (const auto& choice : outcome.ranking.choices) {
    if (choice.fitness != Fitness::fits) break;
    const auto known = std::find(seen.begin(), seen.end(), choice.fan);
    const bool ends = choice.placement.edge >= outcome.bench.requirement.farthest - same_rung;
    if (known == seen.end()) {
      seen.push_back(choice.fan);
      entries.push_back({choice.placement.stand_off, fan_label(outcome, choice), ends});
      continue;
    }
    auto& entry = entries[static_cast<std::size_t>(known - seen.begin())];
    if (choice.placement.stand_off > entry.distance) {
      entry.distance = choice.placement.stand_off;
      entry.travel_ends = ends;
    }
  }
  std::stable_sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) {
    return a.distance > b.distance;
  });
  for (const auto& entry : entries) {
    if (rungs.empty() || rungs.back().distance - entry.distance > same_rung) {
      rungs.push_back({.distance = entry.distance, .fans = {}, .travel_ends = entry.travel_ends});
    }
    rungs.back().fans.push_back(entry.fan);
  }
  return rungs;
}

std::vector<std::string> below_the_ladder(const ChooseOutcome& outcome) {
  std::vector<std::string> list;
  std::vector<bool> seen(outcome.catalogue.fans.size(), false);
  const auto& choices = outcome.ranking.choices;
  for (const auto& choice : choices) {
    if (seen[choice.fan]) continue;
    seen[choice.fan] = true;
    if (choice.fitness == Fitness::fits) continue;
    auto words = pair_label(outcome, choice) + ": " + unfit_reason(outcome, choice);
    const auto index = static_cast<std::size_t>(&choice - choices.data());
    if (const auto* nozzle = nozzle_of(outcome, index); nozzle != nullptr && nozzle->nozzle.helps) {
      words += ". " + nozzle_sentence(outcome, *nozzle);
    }
    // The pack that comes nearest hides what keeps the stronger ones away.
    std::size_t refused = 0;
    const Choice* smallest = nullptr;
    for (const auto& other : choices) {
      if (other.fan != choice.fan || other.fitness != Fitness::wrong_pair) continue;
      if (&other == &choice) continue;
      ++refused;
      if (smallest == nullptr || cells_of(outcome, other) < cells_of(outcome, *smallest)) {
        smallest = &other;
      }
    }
    if (smallest != nullptr) {
      words += fmt::format("{}{} refused, {}: {}",
                           words.ends_with('.') ? " Besides, " : "; ",
                           refused == 1 ? "one pack is" : fmt::format("{} packs are", refused),
                           pack_label(outcome, *smallest),
                           wrong_words(smallest->wrong.front(), Shown(outcome.bench.system)));
    }
    list.push_back(std::move(words));
  }
  return list;
}

std::vector<std::string> rules_of_thumb(const ChooseOutcome& outcome) {
  const Shown shown(outcome.bench.system);
  std::vector<std::string> said;
  const auto& bore = outcome.sizing.by_bore;
  if (std::isfinite(bore.slope) && bore.slope > 0.0) {
    said.push_back(
        fmt::format("Farthest mount = {:.1f} × bore {} {}, off by {} (root mean square "
                    "of {} fans, at worst {}).",
                    bore.slope,
                    bore.offset < 0.0 ? "+" : "-",
                    shown.length(std::abs(bore.slope * bore.offset)),
                    shown.length(bore.deviation),
                    bore.fans,
                    shown.length(bore.worst)));
  }
  const auto& thrust = outcome.sizing.by_root_thrust;
  if (std::isfinite(thrust.slope) && thrust.slope > 0.0) {
    said.push_back(
        fmt::format("By thrust: {} × √(thrust in newtons) {} {}, off by {} (at worst {}).",
                    shown.length(thrust.slope),
                    thrust.offset < 0.0 ? "+" : "-",
                    shown.length(std::abs(thrust.slope * thrust.offset)),
                    shown.length(thrust.deviation),
                    shown.length(thrust.worst)));
  }
  return said;
}

std::vector<std::string> bracket_sentences(const ChooseOutcome& outcome) {
  if (!outcome.bracket) return {};
  const Shown shown(outcome.bench.system);
  const auto& b = *outcome.bracket;
  std::vector<std::string> said;
  said.push_back(fmt::format(
      "The fan pushes back with {}; at {} above the bench that is a moment of {} at the foot.",
      shown.of(b.thrust, Dimension::force),
      shown.length(b.height),
      shown.of(b.moment, Dimension::torque)));
  said.push_back(fmt::format(
      "It may tilt by {} more under load before half of the airflow margin is gone{}: the bracket "
      "must not give more than {} at the fan's axis under that push ({}; pull with a scale and "
      "measure).",
      shown.of(b.tolerated_tilt, Dimension::angle),
      b.held_by_slip ? ", but the slip asks for more" : "",
      shown.length(b.bend),
      shown.of(b.stiffness, Dimension::stiffness)));
  return said;
}

std::vector<std::string> basis(const ChooseOutcome& outcome) {
  const Shown shown(outcome.bench.system);
  const auto& rules = outcome.bench.models.choice;
  const auto purge = casefile::purge_before_ignition(outcome.bench);
  const auto assumed = std::any_of(outcome.bench.assumed.begin(),
                                   outcome.bench.assumed.end(),
                                   [](const auto& value) { return value.key == "start.duration"; });
  const bool cooled = std::any_of(outcome.ranking.choices.begin(),
                                  outcome.ranking.choices.end(),
                                  [](const Choice& c) { return c.spending.cooldown_charge > 0.0; });
  return {fmt::format(
      "Mounts are those that place finds{}, the nearer bound where a jet is unmeasured. A start is "
      "{} at "
      "the throttle chosen{}; before it {} volume changes of burner and ducts or {}, the longer, "
      "blow "
      "vapour "
      "out; "
      "{} of a full pack stays in it{}. Controllers carry {} more than the motor takes.",
      std::isfinite(outcome.bench.requirement.reliability)
          ? ", for the nominal bench but on the short list"
          : "",
      shown.of(outcome.bench.requirement.start_duration, Dimension::time),
      assumed ? " (assumed)" : "",
      purge.changes,
      shown.of(purge.least, Dimension::time),
      shown.share(rules.charge_left),
      cooled
          ? "; what fits pays for the purge that cools the engine after the run, too, by the plan "
            "that takes the least charge"
          : "; the purge that cools the engine after the run is not counted",
      shown.share(rules.controller_reserve - 1.0))};
}

}  // namespace windgap::report
