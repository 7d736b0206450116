#pragma once

#include <array>
#include <cstddef>

#include "start/run.h"
#include "start/walk.h"

/// What a start attempt is made of: the integrated vector, the mode between two events, and the
/// order of things. Internal to start/.
namespace windgap::start {

/// A quantity on a straight line in time.
struct Line {
  double from = 0.0;   ///< value at `begin`
  double slope = 0.0;  ///< [1/s]
  double begin = 0.0;  ///< [s]
  double end = 0.0;    ///< [s]; after it, a new line is due

  [[nodiscard]] double at(double time) const { return from + slope * (time - begin); }
};

/// The integrated vector: states, then quadratures, each over its scale.
enum Place : std::size_t {
  place_speed,
  place_tube,
  place_vaporizer,
  place_housing,
  place_film,
  place_winding,
  place_charge,
  place_volume,
  place_fuel,
  place_unburnt,
  place_heat,
  place_air,
  place_starter,
  place_exhaust,
  place_oil,
  place_discs,
  place_room,
  place_count
};
using Vector = Walk<place_count>::Point;

struct Program {
  Valve::Kind kind = Valve::Kind::shut;
  Line flow;
};

/// What holds between two events.
struct Mode {
  Line throttle;
  bool clutch = false;
  bool resting = true;
  bool lit = false;
  Program preheat;
  Program main;

  [[nodiscard]] Controls controls(double time) const;
};

/// Things that end a mode. Each is watched as a number that is negative before it happens.
enum class Watch : std::size_t {
  throttle_line,
  fuel_line,
  breaks_away,
  changed_air,
  purged,
  settled,
  flame_turns,
  ignites,
  gives_up,
  too_hot,  ///< before the flame: of what is due at once the first counts, and heat is graver
  flame_lost,
  overspeed,
  sagged,
  empty,
  winding,
  stands,
  preheated,
  changed_over,
  sustains,
  off_allowed,
  carried,
  off,
  clutch_out,
  idle,
  slow,
  quick,
  hung,
  stops,
  time_up,
  count
};
inline constexpr std::size_t watch_count = static_cast<std::size_t>(Watch::count);
using Watched = std::array<double, watch_count>;

class Attempt {
 public:
  Attempt(Bench& bench, const RunOptions& options);

  [[nodiscard]] Run execute();

  /// The right-hand side in the present mode.
  void rates(const Vector& y, Vector& dy, double time);
  /// Starts as `execute` does, for a look at the equations.
  void begin();
  [[nodiscard]] const Vector& vector() const { return y_; }
  [[nodiscard]] Mode& mode() { return mode_; }
  [[nodiscard]] State state(const Vector& y) const;

 private:
  enum class Stage { cold, fuelled, burning, alone };

  [[nodiscard]] Watched watch(const Vector& y, double time);
  [[nodiscard]] double loose(const State& rest, const Instant& now, double time);
  void watch_cold(Watched& w, const Vector& y, const Instant& now, double time) const;
  void watch_burning(Watched& w, const Vector& y, const Instant& now, double time);
  [[nodiscard]] Sample sample(const Vector& y, double time);
  bool advance();
  /// Earliest watch that fires on the last step; its time, or the step's end.
  struct Fired {
    Watch watch = Watch::count;
    double time = unset;
    Watched at_end = {};  ///< of the whole step
  };
  [[nodiscard]] Fired find(const Watched& before, double from, double to);
  void settle_events();
  void handle(Watch watch);
  void note(EventKind kind);
  void finish(Reason reason);
  void fuel_on();
  void light();
  void starter_off();
  void change_over();
  void open_main(double time);
  void set_throttle(double target, double seconds);
  void follow_samples(double until);
  void follow_hottest(double from, double to);
  /// Acceleration below which a run hangs [rad/s^2]: alone, a rotor that still gains speed will do.
  [[nodiscard]] double least_rate() const;
  [[nodiscard]] double runs_up_alone(const State& state, double time);
  [[nodiscard]] double torque_alone(const State& state, double time);
  [[nodiscard]] bool stays_at_idle();
  void balance();

  Bench& bench_;
  const Prepared& start_;
  RunOptions options_;
  Walk<place_count> walk_;
  Run run_;
  Vector scale_{};
  Vector y_{};
  Vector first_{};
  double time_ = 0.0;
  double next_sample_ = 0.0;
  Mode mode_;
  Stage stage_ = Stage::cold;
  bool done_ = false;
  bool kept_ = false;  ///< `watched_` belongs to the present state and mode
  Watched watched_ = {};
  bool changed_air_ = false;
  bool purged_ = false;
  bool flame_ok_ = false;
  bool slow_ = false;
  bool changing_ = false;
  bool changed_ = false;
  bool sustains_ = false;
  bool off_allowed_ = false;
  double ignite_at_ = unset;
  double fuel_on_at_ = unset;
  double lit_at_ = unset;
  double hang_at_ = unset;
  Sample hottest_;
};

}  // namespace windgap::start
