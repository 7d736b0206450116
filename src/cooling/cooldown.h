#pragma once

#include <span>
#include <vector>

#include "cooling/course.h"
#include "cooling/limits.h"
#include "cooling/network.h"
#include "cooling/purge_flow.h"
#include "rig/rig.h"

/// One engine cooling down, with a purge or without. Numbers in the comments are the equations of
/// models/cooling.md.
namespace windgap::cooling {

/// When the oil pump runs after the stop.
enum class PumpUse { off, while_purging, always };

/// The hot engine and what is wanted of it.
struct Scene {
  Network network;
  Temperatures start{};  ///< just after the stop [K]
  Limits limits;
  PumpUse pump = PumpUse::off;
  double longest = 4.0 * 3600.0;  ///< nothing is followed further [s]
};

/// The last condition before the stop.
struct Run {
  double gas_temperature = unset;  ///< ahead of the turbine [K]
  double airflow = unset;          ///< [kg/s]
  double seconds = unset;          ///< at load
};

/// Fire of an engine that runs so (Eq. 16).
[[nodiscard]] Fire fire_of(const Run& run, const rig::Rig& rig, const Coefficients& c);

/// Temperatures after a run that began with everything at the room's temperature.
[[nodiscard]] Temperatures after_running(const Network& network, const Run& run, const Fire& fire);

/// The purge that a bench delivers into this engine; the table reaches as far as its walls can warm
/// half of the cold flow.
[[nodiscard]] PurgeFlow purge_of(const Network& network,
                                 const Temperatures& start,
                                 const rig::Rig& rig,
                                 double stand_off);

/// One setting of the fan for a while.
struct PurgeStep {
  PurgeFlow flow;
  double seconds = unset;
};

/// The steps one after another, nothing behind them; the last ends early once every part is below
/// the lowest limit of `cooled`.
[[nodiscard]] Course purge_course(const Scene& scene,
                                  std::span<const PurgeStep> steps,
                                  const Watch& cooled = {},
                                  const Accuracy& accuracy = {});

/// Left standing from `start` at a time [s] until everything is below every limit.
[[nodiscard]] Course standing_course(const Scene& scene,
                                     const Temperatures& start,
                                     double time,
                                     const Accuracy& accuracy = {});

/// Earliest stop of a purge after which nothing watched exceeds its limit again, soak-back
/// included [s]; infinity if the course is too short.
[[nodiscard]] double shortest_purge(const Scene& scene,
                                    const Course& purge,
                                    const Watch& watch,
                                    const Accuracy& accuracy = {});

/// What a course means.
struct Verdict {
  double bearing_safe = unset;     ///< from here the bearing stays below coking [s]
  double warm = unset;             ///< from here gloves do [s]
  double contact = unset;          ///< from here bare hands do [s]
  Peak bearing;                    ///< hottest bearing
  double fastest_cooling = unset;  ///< of the turbine housing [K/s]
  double fastest_rotor = 0.0;      ///< [rad/s]
  Ledger spent;
};
[[nodiscard]] Verdict verdict(const Scene& scene, const Course& course);

}  // namespace windgap::cooling
