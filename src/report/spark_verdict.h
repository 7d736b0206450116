#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "casefile/case.h"
#include "report/outcome.h"
#include "spark/spark.h"

/// Every igniter of a case judged in the gas that the rig puts around it, or that the case states.
namespace windgap::report {

/// A moment at which a plug must spark.
struct PlugState {
  std::string name;  ///< "blown as far as it goes"
  spark::Conditions conditions;
};

/// One source on one plug, in the state that is harder for it.
struct SourceVerdict {
  std::size_t state = 0;  ///< in IgniterVerdict::states
  spark::Assessment spark;
};

/// The state of the gas that the weakest start brings.
inline constexpr std::string_view light_off_state = "at light-off with just the starting airflow";

struct IgniterVerdict {
  std::vector<PlugState> states;
  std::string no_light_off;  ///< why the gas at light-off is not among them; empty where none lacks
  std::string other_fuel;    ///< that the engine is lit on another fuel; empty where it is not
  std::vector<SourceVerdict> sources;  ///< in the order of the case; the first is the one fitted
  std::vector<std::size_t> ranked;     ///< of `sources`, best first
};

/// The igniters of a case that was read with the spark in its scope, at one stand-off of its rig.
[[nodiscard]] std::vector<IgniterVerdict> judge_igniters(const casefile::Case& bench,
                                                         const rig::Rig& rig,
                                                         const rig::Delivery& delivery);

/// The same where the case states the gas at every plug, without any rig.
[[nodiscard]] std::vector<IgniterVerdict> judge_stated(const casefile::Case& bench);

/// At the distance that the outcome is about.
[[nodiscard]] std::vector<IgniterVerdict> judge_igniters(const Outcome& outcome);

/// Whether the fitted source sparks and lights.
[[nodiscard]] bool lights(const IgniterVerdict& verdict);

/// Every reason why an assessed source does not light, joined; empty where it does.
[[nodiscard]] std::string why_not(const spark::Assessment& spark,
                                  const casefile::Igniter& igniter,
                                  units::System system);

/// What a start says where no igniter of the chamber is described.
inline constexpr std::string_view spark_taken_for_granted =
    "Whether it sparks is not judged: the case describes no igniter in the chamber, and a spark is "
    "taken for granted. Without one there is no light-off.";
/// Whether the case describes an igniter of the chamber.
[[nodiscard]] bool has_chamber_igniter(const casefile::Case& bench);

/// That a plug of the chamber is judged for another fuel than the engine is lit on; empty where
/// none is.
[[nodiscard]] std::string other_fuel(const casefile::Case& bench);

/// What a start needs to know: whether any plug in the chamber lights it, and why none does.
struct LightOff {
  bool stated = false;  ///< the case says what sparks
  bool lights = false;  ///< once a spark comes
  double wait = 0.0;    ///< at most for the next spark, of the plug that sparks most often [s]
  std::string why;      ///< of the first plug, where none lights; of the rare sparks, where all are
};
[[nodiscard]] LightOff light_off(const casefile::Case& bench,
                                 const rig::Rig& rig,
                                 const rig::Delivery& delivery);

}  // namespace windgap::report
