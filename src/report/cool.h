#pragma once

#include <array>
#include <string>
#include <vector>

#include "cooling/sensitivity.h"
#include "report/outcome.h"

/// The purge after the run, for people and programs.
namespace windgap::report {

/// Blowing fuel vapour out before ignition, and again after a failed light.
struct VapourPurge {
  double changes = unset;   ///< of the volume [-]
  double volume = unset;    ///< burner case and passages [m^3]
  double airflow = unset;   ///< cold, delivered at this distance [kg/s]
  double changing = unset;  ///< until they are through [s]; infinity: no air
  double seconds = unset;   ///< to blow for, the practice's least time included [s]
  double left = unset;      ///< share of the vapour that stays [-]
};

/// What there is to tell of one engine cooling down.
struct Cooldown {
  double stand_off = unset;  ///< [m]
  rig::Rig rig;
  cooling::Scene scene;
  cooling::PlanNeed need;
  cooling::Plan plan;
  /// The shortest purge at the planned settings for each cooling::Goal.
  std::array<cooling::Trial, 3> on;
  double charge_of_starts = 0.0;  ///< taken before, each start with the purge ahead of it [C]
  double purge_of_start = 0.0;    ///< ahead of each start [s]
  bool charge_measured = false;   ///< what is left comes from the case
  VapourPurge vapour;
  double biot = 0.0;  ///< largest of a part while purging, at the stop [-]
  cooling::Sensitivity sensitivity;
};

/// Whether the answer is yes.
[[nodiscard]] bool cools(const Cooldown& cooldown);

/// The plan as three lines to tape to the bench.
[[nodiscard]] std::array<std::string, 3> bench_card(const Outcome& outcome,
                                                    const Cooldown& cooldown);

/// One line of the comparison of purging and standing; times in seconds, infinity: never.
struct LimitLine {
  std::string what;          ///< "warm to handle with gloves"
  std::string limit;         ///< "100 °C"
  double planned = unset;    ///< with the plan, standing after it
  double on = unset;         ///< shortest purge that does for this limit
  double on_charge = unset;  ///< [C]
  bool barred = false;       ///< that purge breaks a limit, such as the charge left
  double standing = unset;   ///< without fan
};
[[nodiscard]] std::array<LimitLine, 3> limit_lines(const Outcome& outcome,
                                                   const Cooldown& cooldown);

/// What the columns of those lines mean, and what holds the barred ones back.
[[nodiscard]] std::vector<std::string> limit_notes(const Outcome& outcome,
                                                   const Cooldown& cooldown);

/// What is short, and what would mend it; empty for a feasible plan.
[[nodiscard]] std::vector<std::string> what_is_short(const Outcome& outcome,
                                                     const Cooldown& cooldown);
/// What the plan is for, and what holds it where it is.
[[nodiscard]] std::string what_holds(const Outcome& outcome, const Cooldown& cooldown);

/// Whether the air around is no cooler than a goal's limit, so that nothing here reaches it.
[[nodiscard]] bool room_too_warm(const Cooldown& cooldown, cooling::Goal goal);

/// Why a purge will not do, in a few words; empty if it will.
[[nodiscard]] std::string refusal(const Cooldown& cooldown, const cooling::Trial& trial);

/// The purge that takes least from the pack, or why there is none, in a sentence; empty where
/// there is no choice.
[[nodiscard]] std::string thriftiest_purge(const Outcome& outcome, const Cooldown& cooldown);

/// Bearing, pack and motor, rotor, purge of vapour: one fact each.
struct CoolFact {
  std::string label;
  std::string value;
  std::string remark;
};
[[nodiscard]] std::vector<CoolFact> cool_facts(const Outcome& outcome, const Cooldown& cooldown);

/// How far the time may be off, and by what.
[[nodiscard]] std::string how_sure_cool(const Cooldown& cooldown);

/// What to be wary of in this answer.
[[nodiscard]] std::vector<std::string> cool_warnings(const Outcome& outcome,
                                                     const Cooldown& cooldown);

/// What hurts after a run, in a few words each.
[[nodiscard]] std::vector<std::string> cool_cautions();

/// Minutes and seconds as a person reads a watch: `6 min 30 s`, `1 h 25 min`, `at once`, `never`.
/// Rounded up as cooling::settable_time does: waiting longer is the safe side.
[[nodiscard]] std::string watch_time(double seconds);

[[nodiscard]] std::string cool_text(const Outcome& outcome, const Cooldown& cooldown);
[[nodiscard]] std::string cool_json(const Outcome& outcome, const Cooldown& cooldown);
/// Temperatures over time, purged and standing.
[[nodiscard]] std::string cool_csv(const Cooldown& cooldown);
/// A section of the page.
[[nodiscard]] std::string cool_section(const Outcome& outcome, const Cooldown& cooldown);

}  // namespace windgap::report
