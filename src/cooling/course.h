#pragma once

#include <limits>
#include <string>
#include <vector>

#include "cooling/heat_flow.h"
#include "cooling/network.h"

/// Temperatures followed in time. Numbers in the comments are the equations of models/cooling.md.
namespace windgap::cooling {

/// Where the heat of a course went, since its start.
struct Ledger {
  double air = 0.0;              ///< [J]
  double room_convection = 0.0;  ///< [J]
  double room_radiation = 0.0;   ///< [J]
  double oil = 0.0;              ///< [J]
  double charge = 0.0;           ///< taken from the pack [C]
  [[nodiscard]] double heat() const { return air + room_convection + room_radiation + oil; }
};

/// One accepted step of the integration.
struct Knot {
  double time = unset;              ///< [s]
  Temperatures at{};                ///< [K]
  PerPart<double> rate{};           ///< [K/s], just after the knot
  double bearing = unset;           ///< [K]
  double airflow = 0.0;             ///< [kg/s]
  double rotor_speed = 0.0;         ///< [rad/s]
  double exit_temperature = unset;  ///< of the purge air behind the turbine [K]
  Ledger spent;
};

enum class Ending {
  time_up,  ///< the whole span was followed
  cooled,   ///< every watched temperature fell below its limit and every part below the lowest
  failed    ///< the step size collapsed; the knots so far hold
};

/// Limits on some temperatures, infinity where there is none.
struct Watch {
  static constexpr double none = std::numeric_limits<double>::infinity();
  PerPart<double> part{none, none, none, none, none, none, none};  ///< [K]
  double bearing = none;                                           ///< [K]
  [[nodiscard]] double lowest() const;
};

/// Largest excess over a watched limit [K]; negative below all.
[[nodiscard]] double excess(const Watch& watch, const Temperatures& at, double bearing);

struct Course {
  std::vector<Knot> knots;  ///< at least the start; two at one time where the condition changes
  Ending ending = Ending::time_up;
  [[nodiscard]] double end() const { return knots.back().time; }
};

struct Span {
  double start = 0.0;     ///< [s]
  double length = unset;  ///< [s]
};

struct Accuracy {
  double relative = 1e-5;  ///< of the temperatures [-]
};

/// Follows the parts from `start` under one condition (Eq. 19): Rosenbrock's method of fourth order
/// with error control, since the thin sheet cools in seconds and the castings in an hour. `cooled`
/// ends it early: once every part is below the lowest limit of `cooled`, nothing can exceed it
/// again.
[[nodiscard]] Course follow(const Network& network,
                            const Condition& condition,
                            const Temperatures& start,
                            const Span& span,
                            const Watch& cooled = {},
                            const Accuracy& accuracy = {});

/// Puts one course behind another; ledgers go on.
void append(Course& course, const Course& next);

/// Temperatures at a time within the course: cubic between knots.
[[nodiscard]] Temperatures temperatures_at(const Course& course, double time);

/// Charge taken until then [C]: straight between knots.
[[nodiscard]] double charge_until(const Course& course, double time);

/// Last time at which a watched limit is exceeded [s]: 0 if none ever is, infinity if one still is
/// at the end.
[[nodiscard]] double below_for_good(const Network& network,
                                    const Course& course,
                                    const Watch& watch);

struct Peak {
  double temperature = unset;  ///< [K]
  double time = unset;         ///< [s]
};
[[nodiscard]] Peak bearing_peak(const Course& course);

}  // namespace windgap::cooling
