#pragma once

#include <optional>
#include <string>
#include <vector>

#include "casefile/attempt.h"
#include "report/outcome.h"
#include "start/burner.h"
#include "start/losses.h"
#include "start/run.h"
#include "start/starting_airflow.h"

/// One start attempt with all that explains it, ready to be written down.
namespace windgap::report {

/// The same start with everything, the oil too, at another temperature.
struct Season {
  std::string name;              ///< "winter"
  double temperature = unset;    ///< of air and oil [K]
  double oil_viscosity = unset;  ///< dynamic, at the inlet [Pa s]
  start::StartingAirflow need;
  bool caught = false;
  start::Reason reason = start::Reason::solver_failed;
};

/// Net torque on the burning rotor against its speed, gas at the temperature it is held at.
struct TorqueMap {
  std::vector<double> speed;    ///< [rad/s]
  std::vector<double> with;     ///< fan on [N m]
  std::vector<double> without;  ///< fan off [N m]
};

/// What a flame needs where the run ended.
struct FlameNeed {
  start::Window window;     ///< of the primary zone's equivalence ratio [-]
  double velocity = unset;  ///< past the flame holder, at most [m/s]
  double loading = unset;   ///< at most [kg/(s m^3)]
};

struct StartStory {
  casefile::StarterKind starter = casefile::StarterKind::fan;
  double stand_off = unset;            ///< of what blows [m]
  std::optional<rig::Delivery> cold;   ///< what it delivers there; none from a shaft motor
  start::Setup setup;                  ///< as run
  std::string spark_not_judged;        ///< why the spark is taken as given; empty: it was judged
  double control_temperature = unset;  ///< that a controlled fuel holds [K]
  double breakaway_torque = unset;     ///< that takes the rotor from rest [N m]
  start::StartingAirflow need;
  double stated_airflow = unset;  ///< that placement asks for, where the case states one or a speed
                                  ///< [kg/s]
  double sustains_beyond_idle = unset;  ///< where no speed up to idle does, looked for up to design
                                        ///< speed [rad/s]; unset: none
  start::Run run;
  FlameNeed flame;
  std::vector<start::LossStep> losses;
  std::vector<Season> seasons;
  TorqueMap map;
  double stoichiometric_ratio = unset;  ///< of the fuel that is lit [-]
};

/// Cold delivered over starting airflow, less one; unset where there is no such thing.
[[nodiscard]] double margin(const StartStory& story);

/// "It catches at 187 mm", "It does not catch at 187 mm".
[[nodiscard]] std::string start_headline(const StartStory& story, const casefile::Case& bench);

/// Why it caught or did not, and what would help.
[[nodiscard]] std::vector<std::string> start_verdict(const StartStory& story,
                                                     const casefile::Case& bench);

/// One line of the timeline, in the units of the case.
struct EventLine {
  std::string what;
  std::string time, speed, airflow, gas, fuel, current;
};
[[nodiscard]] std::vector<EventLine> event_lines(const StartStory& story,
                                                 const casefile::Case& bench);

/// Where the starting airflow comes from, in sentences.
[[nodiscard]] std::vector<std::string> need_sentences(const StartStory& story,
                                                      const casefile::Case& bench);

/// How long to blow before the igniter, and what a purge does not do.
[[nodiscard]] std::vector<std::string> purge_sentences(const StartStory& story,
                                                       const casefile::Case& bench);

/// Surge, choke, mixtures beyond what burns: with numbers.
[[nodiscard]] std::vector<std::string> start_warnings(const StartStory& story,
                                                      const casefile::Case& bench);

/// What a loss adds: name, self-sustaining speed, starting airflow.
struct LossLine {
  std::string name, speed, airflow;
};
[[nodiscard]] std::vector<LossLine> loss_lines(const StartStory& story,
                                               const casefile::Case& bench);

struct SeasonLine {
  std::string name, viscosity, speed, airflow, verdict;
};
[[nodiscard]] std::vector<SeasonLine> season_lines(const StartStory& story,
                                                   const casefile::Case& bench);

/// The answer on one screen.
/// The headline, and why not.
[[nodiscard]] std::string spin_brief(const StartStory& story, const casefile::Case& bench);
[[nodiscard]] std::string spin_text(const StartStory& story, const casefile::Case& bench);
[[nodiscard]] std::string spin_json(const StartStory& story, const casefile::Case& bench);

/// The whole transient for other programs: a header row of names with SI units, then numbers, an
/// event's name in the last column of its row.
[[nodiscard]] std::string spin_csv(const StartStory& story);

}  // namespace windgap::report
