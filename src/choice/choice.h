#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "choice/charge.h"
#include "choice/coefficients.h"
#include "choice/nozzle.h"
#include "drive/pairing.h"
#include "placement/chance.h"
#include "placement/placement.h"
#include "rig/parts.h"

/// Which fan on which pack for an engine: every pair placed by the optimizer of `placement`, then
/// put in order. Rules: models/choice.md.
namespace windgap::choice {

/// A fan of the library or of the user's own list, as its file describes it.
struct ListedFan {
  std::string name;
  std::string file;
  std::variant<fan::Fan, fan::Stream> source;
  drive::Motor motor;
  double stream_outer_diameter = unset;  ///< of a Stream's housing [m]
  rig::Sense sense = rig::Sense::unknown;
  std::vector<rig::AxisReading> axis_readings;
  double propeller_share = unset;  ///< [-]
  /// Dynamic heads at the exit, one a reading, on the pack they were taken with [Pa]; empty:
  /// unknown.
  std::vector<double> readings_heads;
  bool own = false;  ///< the fan that the case itself describes
};

struct ListedPack {
  std::string name;
  std::string file;
  drive::Pack pack;
  bool own = false;
};

/// The bench without fan, pack and motor, and the rules.
struct Question {
  rig::Parts parts;
  rig::Coefficients models;
  placement::Requirement need;
  placement::Coefficients limits;
  Coefficients rules;
  start::Purge purge;                         ///< before ignition
  const start::Deriving* deriving = nullptr;  ///< as in placement::answer; outlives the question
};

enum class Fitness {
  fits,
  no_mount,     ///< nowhere on the bracket's travel
  flat_pack,    ///< the charge does not last for one start
  wrong_pair,   ///< refused before anything is placed
  not_believed  ///< the fan's own numbers contradict each other on this pack
};

/// One fan on one pack.
struct Choice {
  std::size_t fan = 0;
  std::optional<std::size_t> pack;  ///< none: a stream that brings its own drive
  Fitness fitness = Fitness::no_mount;
  std::vector<drive::WrongPair> wrong;
  std::vector<std::string> contradictions;
  placement::Placement placement;  ///< the advised one; empty where nothing was placed
  rig::JetChoice jet = rig::JetChoice::estimated;
  bool jet_known = false;
  double margin = unset;               ///< airflow at the mount over starting airflow, less 1 [-]
  double length = unset;               ///< of the fan [m]
  double airflow_at_length = unset;    ///< delivered at one fan length [kg/s]
  double clear_stand_off = unset;      ///< beyond it the parked fan's loss is not seen [m]
  bool clear = false;                  ///< reaches that distance and the reserve
  double motor_current = unset;        ///< largest of mount and free blowing [A]
  double pack_current = unset;         ///< the same [A]
  double power = unset;                ///< out of the pack at the mount [W]
  double controller_size = unset;      ///< next that is sold [A]
  double sag = unset;                  ///< pack at rest less loaded [V]
  double cell_voltage = unset;         ///< loaded [V]
  double winding_temperature = unset;  ///< after one purge and start [K]
  double allowed_burst = unset;        ///< [s]; infinity: any
  Spending spending;
  double mass = unset;        ///< fan, pack and controller, as far as known [kg]
  double thrust = unset;      ///< that the bracket holds [N]
  double inside = unset;      ///< unfit: it would start nearer than this, whatever that costs [m]
  double loss_there = unset;  ///< running loss at that distance [-]
  /// Unfit by the nearer bound of an unmeasured jet: where a clean one would reach [m]; asked for
  /// each fan's best pair alone.
  double clean_stand_off = unset;
  std::optional<std::size_t> dominated_by;  ///< position in the ranking
};

/// What the spread of all that is not known makes of a pick.
struct Certainty {
  placement::Chance chance;   ///< the mount from which starts are reliable
  placement::Prospect mount;  ///< at the nominal mount
};

/// A pair of the short list, looked at closely.
struct Pick {
  std::size_t choice = 0;  ///< position in the ranking
  placement::Answer answer =
      {};  ///< the same placement with both bounds of its jet; where the case asks
           ///< for a reliability, its advice is the mount that has it
  placement::Placement nominal = {};  ///< with its whole slot
  std::optional<Certainty> certainty = {};
  std::optional<std::size_t> instead_of = {};  ///< ranked before it, but not reliable anywhere
  std::string refused =
      {};  ///< why a start at that mount does not catch; empty: it does, or not asked

  [[nodiscard]] bool reliable() const { return !certainty || certainty->chance.feasible; }
};

/// What a printed nozzle does for a fan on its best pack.
struct FanNozzle {
  std::size_t choice = 0;  ///< position in the ranking
  Nozzle nozzle;
};

struct Ranking {
  std::vector<Choice> choices = {};  ///< best first; unfit ones after
  /// Up to three different fans, none of them dominated unless for reliability; reliable ones
  /// first.
  std::vector<Pick> picks = {};
  std::optional<Pick> own = {};  ///< the case's own fan on its own pack, if that fits unpicked
  std::vector<FanNozzle> nozzles =
      {};                ///< one for each fan that could be placed, in the order of rank
  bool stopped = false;  ///< by `progress`; nothing else is filled in
};

struct Options {
  unsigned threads = 0;  ///< 0: all
  /// Called now and then from any thread, one at a time; false stops the work.
  std::function<bool(std::size_t done, std::size_t total)> progress = {};
  /// Charge of the purge that cools the engine after a run [C], unset if none does; asked for every
  /// pair that fits. None: not counted.
  std::function<double(const rig::Parts& parts, const rig::Rig& rig, double stand_off)> cooldown =
      {};
  /// The ensemble of a pick's bench, asked for the short list alone; `own`: the fan is the case's.
  /// None: not asked.
  std::function<Certainty(const rig::Parts& parts, const placement::Answer& answer, bool own)>
      certainty = {};
  /// Why the start at a pick's mount does not catch, run in time; empty if it does. None: not
  /// asked.
  std::function<std::string(const rig::Parts& parts, const placement::Answer& answer)> start = {};
};

/// Places every pair and ranks it: what fits first; of that, all that stand clear of the running
/// engine with reserve before all others, least power first; the others by distance, then power.
/// Ties by distance, mass and starts, so that the first is never dominated.
/// The same ranking whatever the number of threads.
[[nodiscard]] Ranking rank(const Question& question,
                           std::span<const ListedFan> fans,
                           std::span<const ListedPack> packs,
                           const Options& options);

/// The bench of one pair, every fallback filled in.
[[nodiscard]] rig::Parts bench_of(const Question& question,
                                  const ListedFan& listed,
                                  const ListedPack* pack);

/// Takes the cooling purge after a run out of the charge of a pair that fits; unfit if less than
/// one start is left.
void pay_for_cooling(Choice& choice,
                     const Question& question,
                     std::span<const ListedFan> fans,
                     std::span<const ListedPack> packs,
                     const Options& options);

/// One pair, not yet compared with others.
[[nodiscard]] Choice judge(const Question& question,
                           std::span<const ListedFan> fans,
                           std::span<const ListedPack> packs,
                           std::size_t fan,
                           std::optional<std::size_t> pack);

}  // namespace windgap::choice
