#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "casefile/case.h"
#include "placement/chance.h"
#include "placement/first_order.h"
#include "placement/placement.h"
#include "start/starting_airflow.h"

/// Writing answers down for people and programs. Nothing here computes physics of its own.
namespace windgap::report {

/// What the start's transient says at one stand-off.
struct Confirmed {
  double stand_off = unset;  ///< [m]
  bool caught = false;
  std::string reason = {};  ///< as `spin` names it
  std::string brief = {};   ///< the same in words
  double spin_up = unset;   ///< light-off to fan off [s]
};

/// The advised mount by the transient, and just beyond the slot; one of them without a slot.
struct Confirmation {
  std::vector<Confirmed> runs;
  double stops_at = unset;  ///< stand-off beyond which it no longer catches [m]; unset: not found
};

/// What a season's start needs and gets at the mount, the air and the oil as cold or warm as then.
struct SeasonNeed {
  std::string name = {};            ///< "winter"
  double temperature = unset;       ///< of air and oil [K]
  double airflow = unset;           ///< delivered cold [kg/s]
  double starting_airflow = unset;  ///< derived for that oil [kg/s]; unset: it cannot start
};

struct StartStory;

/// What there is to tell of one case.
struct Outcome {
  casefile::Case bench;
  placement::Answer answer;
  /// The stand-off a person asked about, in place of the advised one.
  std::optional<placement::Row> asked;
  /// How far the advised mount may be off; none without one.
  std::optional<placement::FirstOrder> spread = std::nullopt;
  std::optional<Confirmation> confirmation = std::nullopt;    ///< where asked for, or where
                                                              ///< a run does not catch
  std::optional<start::StartingAirflow> need = std::nullopt;  ///< where it is derived
  std::vector<SeasonNeed> seasons = {};  ///< none unless the starting airflow is derived
  std::shared_ptr<const StartStory> start = nullptr;  ///< for a page; none without a rotor
  /// With an asked reliability: its mount, which is then the advice of `answer`, and the nominal
  /// bench's own.
  std::optional<placement::Chance> chance = std::nullopt;
  std::optional<placement::Placement> nominal = std::nullopt;
  /// The same ensemble at the asked distance.
  std::optional<placement::Prospect> prospect = std::nullopt;
};

/// Whether a start run in time was asked for and does not catch there.
[[nodiscard]] bool refuted(const Outcome& outcome);

/// The row that a screen is about: the asked one, else the mount (infeasible: where it is least
/// short).
[[nodiscard]] const placement::Row& shown_row(const Outcome& outcome);

/// The constraints that a screen lists: at the asked distance, else at the slot's far end. What is
/// short there is marked active.
[[nodiscard]] placement::ConstraintStates shown_constraints(const Outcome& outcome);

/// Whether the answer is yes.
[[nodiscard]] bool fits(const Outcome& outcome);

/// The jet of the bench that is shown and run: of an unmeasured one the bound of the advice, or the
/// likeliest where an ensemble chose the mount.
[[nodiscard]] rig::JetChoice shown_jet(const Outcome& outcome);

/// Whether the stand-off asked for lies where starts are as reliable as asked; true where neither
/// is.
[[nodiscard]] bool reliable_where_asked(const Outcome& outcome);

/// Whether the asked distance lies outside the bracket's travel.
[[nodiscard]] bool outside_travel(const Outcome& outcome);

/// Whether one of a placement's slots holds a stand-off.
[[nodiscard]] bool within_slots(const placement::Placement& placement, double stand_off);

/// Every stand-off of a sweep with the jet that the answer advises, and what other jets would do.
struct Survey {
  std::vector<placement::Row> rows;
  /// One entry for each row; all empty where the jet is known.
  std::vector<rig::Delivery> nozzle_like;
  std::vector<rig::Delivery> propeller_like;
  std::vector<rig::Delivery> estimated;
};

/// From `nearest` to `farthest` by `step`, both ends included. @throws std::logic_error if the step
/// is not positive or makes more than `most_distances`.
[[nodiscard]] std::vector<double> distances(const placement::Requirement& requirement, double step);
inline constexpr std::size_t most_distances = 200000;

/// A round step that makes a sweep of about one screen.
[[nodiscard]] double usual_step(const placement::Requirement& requirement, units::System system);

[[nodiscard]] Survey survey(const casefile::Case& bench,
                            const placement::Answer& answer,
                            const std::vector<double>& stand_offs);

/// A place with its file's folder and name alone, so that what is written does not depend on where
/// the models are installed.
[[nodiscard]] casefile::Place brief(const casefile::Place& place);

}  // namespace windgap::report
