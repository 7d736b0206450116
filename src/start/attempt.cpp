#include "start/attempt.h"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>

namespace windgap::start {
namespace {

constexpr double pending = -1.0;
constexpr double never = 1e9;             // [s]
constexpr double event_tolerance = 1e-9;  // [s]
constexpr double quickening = 0.05;
constexpr double notable_rise = 0.1;  // [K]
constexpr double standing = 1e-3;     // of the design speed

std::size_t index(Watch watch) { return static_cast<std::size_t>(watch); }

double yes(bool happened) { return happened ? 1.0 : pending; }

Line constant(double value) { return {.from = value, .end = never}; }

Line between(double from, double to, double begin, double seconds) {
  if (!(seconds > 0.0)) return {.from = to, .begin = begin, .end = never};
  return {.from = from, .slope = (to - from) / seconds, .begin = begin, .end = begin + seconds};
}

Reason unlit_reason(Flame flame) {
  switch (flame) {
    case Flame::too_rich:
      return Reason::no_light_too_rich;
    case Flame::too_fast:
      return Reason::no_light_too_fast;
    case Flame::overloaded:
      return Reason::no_light_overloaded;
    case Flame::too_lean:
    case Flame::holds:
      break;
  }
  return Reason::no_light_too_lean;
}

Reason lost_reason(Flame flame) {
  switch (flame) {
    case Flame::too_rich:
      return Reason::too_rich;
    case Flame::too_fast:
      return Reason::blew_out_fast;
    case Flame::overloaded:
      return Reason::blew_out_overloaded;
    case Flame::too_lean:
    case Flame::holds:
      break;
  }
  return Reason::blew_out_lean;
}

Program open_line(const FuelLine& line, double time) {
  if (line.metering == Metering::controlled) return {.kind = Valve::Kind::controlled, .flow = {}};
  if (line.metering == Metering::fixed) {
    return {.kind = Valve::Kind::set, .flow = constant(line.flow)};
  }
  return {.kind = Valve::Kind::set,
          .flow = between(line.flow, line.final_flow, time, line.ramp_time)};
}

/// Before light-off a ramp stands at its beginning.
Program waiting_line(const FuelLine& line) {
  if (line.metering == Metering::controlled) return {.kind = Valve::Kind::controlled, .flow = {}};
  return {.kind = Valve::Kind::set, .flow = constant(line.flow)};
}

Valve valve(const Program& program, double time) {
  return {.kind = program.kind,
          .flow = program.kind == Valve::Kind::set ? std::max(0.0, program.flow.at(time)) : 0.0};
}

}  // namespace

Controls Mode::controls(double time) const {
  return {.throttle = std::clamp(throttle.at(time), 0.0, 1.0),
          .clutch = clutch,
          .resting = resting,
          .lit = lit,
          .preheat = valve(preheat, time),
          .main = valve(main, time)};
}

Attempt::Attempt(Bench& bench, const RunOptions& options)
    : bench_(bench),
      start_(bench.start()),
      options_(options),
      walk_({.tolerance = options.tolerance, .longest_step = options.longest_step}) {
  const auto& rig = bench.rig();
  const double room = rig.ambient.temperature;
  const double energy = start_.tube_capacity * start_.limit;
  scale_.fill(energy);
  scale_[place_speed] = rig.engine.design_speed;
  scale_[place_tube] = scale_[place_vaporizer] = scale_[place_housing] = room;
  scale_[place_film] = scale_[place_winding] = room;
  scale_[place_charge] = rig.fan.holds_flow ? 1.0 : rig.fan.drive.capacity;
  scale_[place_volume] = start_.sequence.purge.volume;
  scale_[place_fuel] = scale_[place_unburnt] = energy / start_.main.mixture.heating_value;
}

State Attempt::state(const Vector& y) const {
  return {.speed = std::max(0.0, y[place_speed] * scale_[place_speed]),
          .tube_temperature = y[place_tube] * scale_[place_tube],
          .vaporizer_temperature = y[place_vaporizer] * scale_[place_vaporizer],
          .housing_temperature = y[place_housing] * scale_[place_housing],
          .film_temperature = y[place_film] * scale_[place_film],
          .winding_temperature = y[place_winding] * scale_[place_winding],
          .charge_used = y[place_charge] * scale_[place_charge]};
}

void Attempt::rates(const Vector& y, Vector& dy, double time) {
  const auto now = bench_.at(state(y), mode_.controls(time));
  const auto& powers = now.reading.powers;
  dy[place_speed] = now.rates.speed;
  dy[place_tube] = now.rates.tube_temperature;
  dy[place_vaporizer] = now.rates.vaporizer_temperature;
  dy[place_housing] = now.rates.housing_temperature;
  dy[place_film] = now.rates.film_temperature;
  dy[place_winding] = now.rates.winding_temperature;
  dy[place_charge] = now.rates.charge_used;
  dy[place_volume] = now.reading.airflow / bench_.rig().ambient.density;
  dy[place_fuel] = now.reading.fuel_flow;
  dy[place_unburnt] = mode_.lit ? 0.0 : now.reading.fuel_flow;
  dy[place_heat] = powers.fuel;
  dy[place_air] = powers.air;
  dy[place_starter] = powers.starter;
  dy[place_exhaust] = powers.exhaust;
  dy[place_oil] = powers.oil;
  dy[place_discs] = powers.discs;
  dy[place_room] = powers.room;
  for (std::size_t i = 0; i < place_count; ++i) dy[i] /= scale_[i];
}

void Attempt::begin() {
  const State rest = bench_.at_rest();
  y_.fill(0.0);
  y_[place_tube] = rest.tube_temperature / scale_[place_tube];
  y_[place_vaporizer] = rest.vaporizer_temperature / scale_[place_vaporizer];
  y_[place_housing] = rest.housing_temperature / scale_[place_housing];
  y_[place_film] = rest.film_temperature / scale_[place_film];
  y_[place_winding] = rest.winding_temperature / scale_[place_winding];
  first_ = y_;
  time_ = 0.0;
  mode_ = {};
  if (start_.starter == Starter::fan) {
    set_throttle(start_.fan.light_throttle, start_.fan.spool_time);
  } else {
    mode_.throttle = constant(0.0);
    mode_.clutch = true;
  }
}

Run Attempt::execute() {
  run_.stand_off = bench_.stand_off();
  begin();
  note(EventKind::fan_on);
  follow_samples(time_);
  settle_events();
  walk_.start(y_, time_);
  while (!done_ && run_.steps < options_.most_steps) {
    try {
      if (!advance()) finish(Reason::solver_failed);
    } catch (const boost::numeric::odeint::odeint_error&) {
      finish(Reason::solver_failed);
    }
  }
  if (!done_) finish(Reason::solver_failed);
  balance();
  run_.evaluations = bench_.evaluations();
  return std::move(run_);
}

/// One step, cut at the first event. False when the airflow no longer closes.
bool Attempt::advance() {
  const Watched before = kept_ ? watched_ : watch(y_, time_);
  const auto [from, to] =
      walk_.step([&](const Vector& y, Vector& dy, double time) { rates(y, dy, time); });
  ++run_.steps;
  const Fired fired = find(before, from, to);
  if (mode_.lit) follow_hottest(from, fired.time);
  follow_samples(fired.time);
  y_ = walk_.at(fired.time);
  time_ = fired.time;
  if (!std::isfinite(y_[place_speed])) return false;
  const auto last = sample(y_, time_);
  run_.surged = run_.surged || (mode_.lit && last.reading.surge);
  run_.choked = run_.choked || last.reading.choked;
  if (!last.reading.converged) return false;
  kept_ = fired.watch == Watch::count;
  watched_ = fired.at_end;
  if (!kept_) {
    handle(fired.watch);
    settle_events();
    if (!done_) walk_.start(y_, time_);
  }
  return true;
}

Attempt::Fired Attempt::find(const Watched& before, double from, double to) {
  const Watched after = watch(walk_.at(to), to);
  Fired fired{.time = to, .at_end = after};
  for (std::size_t i = 0; i < watch_count; ++i) {
    if (!(before[i] < 0.0) || !(after[i] >= 0.0)) continue;
    std::uintmax_t evaluations = 100;
    const auto [a, b] = boost::math::tools::toms748_solve(
        [&](double time) { return watch(walk_.at(time), time)[i]; },
        from,
        to,
        before[i],
        after[i],
        [](double x, double y) { return y - x < event_tolerance; },
        evaluations);
    if (b < fired.time || fired.watch == Watch::count) {
      fired.watch = static_cast<Watch>(i);
      fired.time = std::min(b, fired.time);
    }
  }
  return fired;
}

/// What is already due in a new mode happens at once.
void Attempt::settle_events() {
  for (std::size_t round = 0; round < watch_count && !done_; ++round) {
    const Watched now = watch(y_, time_);
    const auto* due = std::find_if(now.begin(), now.end(), [](double v) { return v >= 0.0; });
    if (due == now.end()) return;
    handle(static_cast<Watch>(due - now.begin()));
  }
}

Watched Attempt::watch(const Vector& y, double time) {
  Watched w;
  w.fill(pending);
  const auto at = [&](Watch watch) -> double& { return w[index(watch)]; };
  const State s = state(y);
  const Instant now = bench_.at(s, mode_.controls(time));
  at(Watch::time_up) = time - start_.sequence.time_limit;
  at(Watch::throttle_line) = time - mode_.throttle.end;
  at(Watch::fuel_line) =
      std::max(mode_.main.kind == Valve::Kind::set ? time - mode_.main.flow.end : pending,
               mode_.preheat.kind == Valve::Kind::set && !changing_ ? time - mode_.preheat.flow.end
                                                                    : pending);
  if (mode_.resting) {
    at(Watch::breaks_away) = loose(s, now, time);
    at(Watch::stands) = time - start_.fan.spool_time - start_.hang_time;
  }
  if (mode_.lit) at(Watch::overspeed) = s.speed - bench_.rig().engine.design_speed;
  if (mode_.throttle.at(time) > 0.0) {
    at(Watch::sagged) = yes(now.reading.sagged);
    if (!bench_.rig().fan.holds_flow) {
      at(Watch::empty) = s.charge_used - bench_.rig().fan.drive.charge;
      at(Watch::winding) = s.winding_temperature - bench_.rig().fan.drive.winding_temperature_limit;
    }
  }
  if (mode_.clutch) at(Watch::clutch_out) = s.speed - start_.shaft_motor.cut_out_speed;
  if (mode_.lit) {
    watch_burning(w, y, now, time);
  } else {
    watch_cold(w, y, now, time);
  }
  return w;
}

/// Torque beyond what takes the rotor from rest, and beyond the drag of thick oil in which it would
/// only creep.
double Attempt::loose(const State& rest, const Instant& now, double time) {
  const double free = now.reading.net_torque - bench_.rig().engine.breakaway_torque;
  if (free < 0.0) return free;
  State creeping = rest;
  creeping.speed = standing * bench_.rig().engine.design_speed;
  return std::min(free, bench_.at(creeping, mode_.controls(time)).reading.net_torque);
}

void Attempt::watch_cold(Watched& w, const Vector& y, const Instant& now, double time) const {
  const auto at = [&](Watch watch) -> double& { return w[index(watch)]; };
  const auto& purge = start_.sequence.purge;
  if (!changed_air_) at(Watch::changed_air) = y[place_volume] - purge.changes;
  if (changed_air_ && !purged_) at(Watch::purged) = time - purge.least;
  if (stage_ == Stage::cold && purged_ && mode_.throttle.end >= never && !mode_.resting) {
    at(Watch::settled) = start_.settled_rate * state(y).speed - now.rates.speed;
  }
  if (stage_ == Stage::fuelled) {
    at(Watch::flame_turns) = yes((now.reading.flame == Flame::holds) != flame_ok_);
    if (flame_ok_ && start_.lights) at(Watch::ignites) = time - ignite_at_;
    at(Watch::gives_up) = time - fuel_on_at_ - start_.sequence.patience;
  }
}

void Attempt::watch_burning(Watched& w, const Vector& y, const Instant& now, double time) {
  const auto at = [&](Watch watch) -> double& { return w[index(watch)]; };
  const State s = state(y);
  at(Watch::flame_lost) = yes(now.reading.flame != Flame::holds);
  at(Watch::too_hot) = now.reading.burner_temperature - start_.limit;
  if (start_.preheats && !changing_ && !changed_) {
    // Drops burn in the gas flame; a wall must be hot only where it is to vaporize them.
    at(Watch::preheated) = start_.vaporizes
                               ? s.vaporizer_temperature - start_.changeover_temperature
                               : yes(mode_.throttle.end >= never);
  }
  if (changing_) at(Watch::changed_over) = time - mode_.preheat.flow.end;
  const double still = standing * bench_.rig().engine.design_speed;
  if (!sustains_ && s.speed > still) {
    at(Watch::sustains) = torque_alone(s, time);
  } else if (sustains_ && !off_allowed_ && !changing_) {
    at(Watch::off_allowed) = runs_up_alone(s, time);
  }
  if (stage_ == Stage::burning && !sustains_ && start_.starter == Starter::fan &&
      start_.fan.off == FanOff::automatic) {
    at(Watch::carried) = s.speed - start_.blown_beyond_idle * start_.sequence.idle_speed;
  }
  if (stage_ == Stage::burning) {
    if (start_.fan.off == FanOff::at_speed) at(Watch::off) = s.speed - start_.fan.off_speed;
    if (start_.fan.off == FanOff::after_light)
      at(Watch::off) = time - lit_at_ - start_.fan.off_delay;
  }
  if (stage_ == Stage::alone) {
    at(Watch::stops) = still - s.speed;
    if (sustains_ && mode_.throttle.at(time) <= 0.0 && mode_.throttle.end >= never) {
      at(Watch::idle) = s.speed - start_.sequence.idle_speed;
    }
  }
  if (slow_) {
    at(Watch::quick) = now.rates.speed - least_rate() - quickening * start_.hang_rate;
    at(Watch::hung) = time - hang_at_;
  } else if (mode_.throttle.end >= never || stage_ == Stage::alone) {
    at(Watch::slow) = least_rate() - now.rates.speed;
  }
}

/// Not negative where the rotor is beyond self-sustaining speed with its margin and would by itself
/// gain what it lacks of idle, if anything, in the time that a start may take.
double Attempt::runs_up_alone(const State& state, double time) {
  const double margin =
      state.speed / ((1.0 + start_.speed_margin) * run_.self_sustaining_speed) - 1.0;
  if (margin < 0.0 || state.speed >= start_.sequence.idle_speed) return margin;
  const double gain = torque_alone(state, time) / bench_.rig().engine.inertia;
  const double in_time = state.speed + gain * start_.sequence.spin_up_time;
  return std::min(margin, in_time / start_.sequence.idle_speed - 1.0);
}

double Attempt::least_rate() const {
  return stage_ == Stage::alone && sustains_ ? 0.0 : start_.hang_rate;
}

/// Net torque with the starter gone, on the fuel that it is to run on; negative where the gas would
/// pass its limit or the flame go out: that is no way to sustain itself.
double Attempt::torque_alone(const State& state, double time) {
  Controls controls = mode_.controls(time);
  controls.throttle = 0.0;
  controls.clutch = false;
  if (start_.preheats && !changed_) {
    controls.preheat = {};
    controls.main = valve(open_line(start_.main, time), time);
  }
  const auto reading = bench_.at(state, controls).reading;
  const bool burns = reading.flame == Flame::holds && reading.burner_temperature <= start_.limit;
  return burns ? reading.net_torque : -std::abs(reading.net_torque);
}

/// Throttled back to idle, the rotor must not lose speed.
bool Attempt::stays_at_idle() {
  State there = state(y_);
  if (there.speed <= start_.sequence.idle_speed * (1.0 + event_tolerance)) return true;
  there.speed = start_.sequence.idle_speed;
  return torque_alone(there, time_) > 0.0;
}

Sample Attempt::sample(const Vector& y, double time) {
  const State s = state(y);
  return {.time = time, .state = s, .reading = bench_.at(s, mode_.controls(time)).reading};
}

void Attempt::note(EventKind kind) {
  run_.events.push_back({.kind = kind, .sample = sample(y_, time_)});
}

void Attempt::set_throttle(double target, double seconds) {
  mode_.throttle = between(mode_.throttle.at(time_), target, time_, seconds);
}

void Attempt::handle(Watch watch) {
  const auto reading = [&] { return sample(y_, time_).reading; };
  switch (watch) {
    case Watch::throttle_line:
      mode_.throttle = constant(mode_.throttle.at(mode_.throttle.end));
      if (mode_.throttle.from < event_tolerance) mode_.throttle = constant(0.0);
      return;
    case Watch::fuel_line:
      for (auto* program : {&mode_.main, &mode_.preheat}) {
        // The gas that is being shut ends the changeover, which is watched for itself.
        if (program == &mode_.preheat && changing_) continue;
        if (program->flow.end <= time_) {
          program->flow = constant(program->flow.at(program->flow.end));
        }
      }
      return;
    case Watch::breaks_away:
      mode_.resting = false;
      return note(EventKind::rotor_turns);
    case Watch::changed_air:
      changed_air_ = true;
      run_.change_time = time_;
      return;
    case Watch::purged:
      purged_ = true;
      run_.purge_time = time_;
      return note(EventKind::purge_done);
    case Watch::settled:
      // A rotor that only creeps brings no air to light in.
      if (state(y_).speed < standing * bench_.rig().engine.design_speed) {
        return finish(Reason::does_not_turn);
      }
      return fuel_on();
    case Watch::flame_turns:
      flame_ok_ = !flame_ok_;
      // The spark comes within the usual delay, unless its source makes it wait for longer.
      ignite_at_ = time_ + std::max(start_.sequence.ignition_delay, start_.spark_wait);
      return;
    case Watch::ignites:
      return light();
    case Watch::gives_up:
      return finish(flame_ok_ ? Reason::no_spark : unlit_reason(reading().flame));
    case Watch::flame_lost:
      return finish(lost_reason(reading().flame));
    case Watch::too_hot:
      return finish(Reason::gas_temperature_limit);
    case Watch::sagged:
      return finish(Reason::pack_sagged);
    case Watch::empty:
      return finish(Reason::pack_empty);
    case Watch::overspeed:
      return finish(Reason::overspeed);
    case Watch::winding:
      return finish(Reason::winding_too_hot);
    case Watch::stands:
      return finish(Reason::does_not_turn);
    case Watch::preheated:
      return change_over();
    case Watch::changed_over:
      changing_ = false;
      changed_ = true;
      mode_.preheat = {};
      open_main(time_);
      return;
    case Watch::sustains:
      sustains_ = true;
      run_.self_sustaining_speed = state(y_).speed;
      return note(EventKind::self_sustaining);
    case Watch::off_allowed:
      off_allowed_ = true;
      note(EventKind::fan_off_allowed);
      if (start_.fan.off == FanOff::automatic && stage_ == Stage::burning) starter_off();
      return;
    case Watch::carried:
      return finish(Reason::never_sustains);
    case Watch::off:
      return starter_off();
    case Watch::clutch_out:
      if (stage_ == Stage::burning) return starter_off();
      mode_.clutch = false;
      note(EventKind::starter_lets_go);
      if (stage_ == Stage::cold) finish(Reason::motor_let_go_early);
      return;
    case Watch::idle:
      if (!stays_at_idle()) return finish(Reason::idle_too_low);
      run_.caught = true;
      note(EventKind::idle_reached);
      return finish(Reason::caught);
    case Watch::slow:
      slow_ = true;
      hang_at_ = time_ + start_.hang_time;
      return;
    case Watch::quick:
      slow_ = false;
      return;
    case Watch::hung:
    case Watch::stops:
      return finish(stage_ == Stage::alone && !off_allowed_ ? Reason::fan_off_too_early
                                                            : Reason::hung);
    case Watch::time_up:
      return finish(Reason::time_limit);
    case Watch::count:
      return;
  }
}

void Attempt::fuel_on() {
  stage_ = Stage::fuelled;
  fuel_on_at_ = time_;
  if (start_.preheats) {
    mode_.preheat = waiting_line(start_.preheat);
  } else {
    mode_.main = waiting_line(start_.main);
  }
  note(EventKind::fuel_on);
  run_.volume_flow = run_.events.back().sample.reading.airflow / bench_.rig().ambient.density;
}

void Attempt::light() {
  stage_ = Stage::burning;
  mode_.lit = true;
  lit_at_ = time_;
  if (start_.preheats) {
    mode_.preheat = open_line(start_.preheat, time_);
  } else {
    open_main(time_);
  }
  if (start_.starter == Starter::fan && mode_.throttle.at(time_) < bench_.full_throttle()) {
    set_throttle(bench_.full_throttle(), start_.fan.ramp_time);
  }
  if (start_.starter == Starter::shaft_motor && !mode_.clutch) stage_ = Stage::alone;
  note(EventKind::light_off);
  hottest_ = run_.events.back().sample;
}

void Attempt::open_main(double time) { mode_.main = open_line(start_.main, time); }

void Attempt::change_over() {
  changing_ = true;
  note(EventKind::changeover);
  const double gas = run_.events.back().sample.reading.preheat_flow;
  mode_.preheat = {.kind = Valve::Kind::set,
                   .flow = between(gas, 0.0, time_, start_.changeover_time)};
  if (start_.main.metering == Metering::controlled) {
    open_main(time_);
  } else {
    mode_.main = {.kind = Valve::Kind::set,
                  .flow = between(0.0, start_.main.flow, time_, start_.changeover_time)};
  }
}

void Attempt::starter_off() {
  const bool fan = start_.starter == Starter::fan;
  note(fan ? EventKind::fan_off : EventKind::starter_lets_go);
  stage_ = Stage::alone;
  mode_.clutch = false;
  slow_ = false;
  if (fan) {
    set_throttle(0.0, start_.fan.spool_time * mode_.throttle.at(time_));
  }
}

void Attempt::finish(Reason reason) {
  if (done_) return;
  done_ = true;
  run_.reason = reason;
  if (!run_.caught) note(EventKind::ended);
  if (run_.samples.empty() || run_.samples.back().time < time_) {
    run_.samples.push_back(sample(y_, time_));
  }
  if (!std::isnan(lit_at_)) {
    // What a change of mode has heated at once, no step has seen.
    if (const auto now = sample(y_, time_);
        now.reading.burner_temperature > hottest_.reading.burner_temperature + notable_rise) {
      hottest_ = now;
    }
    run_.hottest_gas = hottest_.reading.burner_temperature;
    const auto later = std::find_if(run_.events.begin(), run_.events.end(), [&](const Event& e) {
      return e.sample.time > hottest_.time || e.kind == EventKind::ended;
    });
    run_.events.insert(later, {.kind = EventKind::hottest_gas, .sample = hottest_});
  }
  if (run_.volume_flow > 0.0) {
    run_.new_purge_time = purge_seconds(start_.sequence.purge, run_.volume_flow);
  }
  run_.fuel_used = y_[place_fuel] * scale_[place_fuel];
  run_.unburnt_fuel = y_[place_unburnt] * scale_[place_unburnt];
}

void Attempt::follow_samples(double until) {
  while (next_sample_ <= until) {
    const Vector y = run_.steps > 0 ? walk_.at(next_sample_) : y_;
    run_.samples.push_back(sample(y, next_sample_));
    next_sample_ += options_.sample_interval;
  }
}

/// Hottest gas of a step: of its ends and, where its middle is hotter, of its inside.
void Attempt::follow_hottest(double from, double to) {
  constexpr int bits = 20;
  const auto colder = [&](double time) {
    return -sample(walk_.at(time), time).reading.burner_temperature;
  };
  const double middle = 0.5 * (from + to);
  const double at_end = -colder(to);
  double best = to;
  double temperature = at_end;
  if (-colder(middle) > std::max(at_end, -colder(from))) {
    std::uintmax_t evaluations = 40;
    const auto [time, cold] =
        boost::math::tools::brent_find_minima(colder, from, to, bits, evaluations);
    best = time;
    temperature = -cold;
  }
  if (temperature > hottest_.reading.burner_temperature + notable_rise) {
    hottest_ = sample(walk_.at(best), best);
  }
}

void Attempt::balance() {
  const auto energy = [&](Place place) { return y_[place] * scale_[place]; };
  auto& b = run_.energy;
  b.energies = {.fuel = energy(place_heat),
                .air = energy(place_air),
                .starter = energy(place_starter),
                .exhaust = energy(place_exhaust),
                .oil = energy(place_oil),
                .discs = energy(place_discs),
                .room = energy(place_room)};
  const State now = state(y_);
  const State then = state(first_);
  b.rotor = 0.5 * bench_.rig().engine.inertia * (now.speed * now.speed - then.speed * then.speed);
  b.walls = start_.tube_capacity * (now.tube_temperature - then.tube_temperature) +
            start_.vaporizer_capacity * (now.vaporizer_temperature - then.vaporizer_temperature) +
            start_.housing_capacity * (now.housing_temperature - then.housing_temperature);
  b.films = start_.film_capacity * (now.film_temperature - then.film_temperature);
  const auto& e = b.energies;
  b.missing = e.fuel + e.air + e.starter - e.exhaust - e.oil - e.discs - e.room - b.rotor -
              b.walls - b.films;
  const double largest =
      std::max({std::abs(e.fuel), std::abs(e.air), std::abs(e.exhaust), b.walls, b.rotor});
  b.relative = largest > 0.0 ? b.missing / largest : 0.0;
}

}  // namespace windgap::start
