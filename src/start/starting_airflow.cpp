#include "start/starting_airflow.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "start/flow.h"

namespace windgap::start {
namespace {

constexpr double tolerance = 1e-5;       // of a flow's last secant step
constexpr double root_tolerance = 1e-6;  // of a speed or pressure
constexpr double loose_margin = 1e-4;    // of a pressure that just breaks the rotor loose
constexpr int most_root_steps = 60;
constexpr double first_speed = 0.01;        // of the design speed: the lowest looked at
constexpr double greatest_pressure = 60e3;  // [Pa] gauge: beyond any fan

enum class Fire { out, lit };

/// One operating point of the engine.
struct Point {
  double flow = unset;
  double slope = unset;
  double torque = unset;
  engine::GasPath path;
};

/// Illinois' false position between ends of opposite sign; `f` is called last at the result.
template <class Function>
// NOLINTNEXTLINE(bugprone-easily-swappable-parameters): an end and its value, twice
double false_position(Function&& f, double low, double at_low, double high, double at_high) {
  int side = 0;
  double x = high;
  for (int step = 0; step < most_root_steps; ++step) {
    const double before = x;
    x = low + (high - low) * at_low / (at_low - at_high);
    const double at = f(x);
    if (at == 0.0 || std::abs(x - before) <= root_tolerance * std::abs(x)) break;
    if ((at > 0.0) == (at_low > 0.0)) {
      low = x;
      at_low = at;
      if (side == -1) at_high *= 0.5;
      side = -1;
    } else {
      high = x;
      at_high = at;
      if (side == 1) at_low *= 0.5;
      side = 1;
    }
  }
  return x;
}

class Criterion {
 public:
  Criterion(const rig::Rig& rig, const Prepared& start) : rig_(rig), start_(start) {
    const FuelLine& line = start.preheats ? start.preheat : start.main;
    burnt_ = burnt_ratio_for(rig.engine.air,
                             {.temperature = start.control_temperature,
                              .heating_value = line.mixture.heating_value,
                              .air_temperature = rig.ambient.temperature,
                              .product_heat = line.mixture.product_heat}) *
             line.mixture.product_heat;
    greatest_ = start.preheats ? std::max(start.preheat.greatest_flow, start.main.greatest_flow)
                               : start.main.greatest_flow;
    const double head_per_flow = 0.5 / (rig.ambient.density * rig.throat_area * rig.throat_area);
    still_loss_ = (rig.entry_loss + rig.guard_loss) * head_per_flow;
    scale_ = rig.ambient.density * rig.throat_area;  // a metre a second
  }

  [[nodiscard]] int marches() const { return marches_; }
  /// Where the last search found it turn itself, but not up to idle; unset: nowhere.
  [[nodiscard]] double lost() const { return lost_; }

  /// @param pressure gauge, at the inducer [Pa]; unset: sucking from the room
  Point at(double pressure, double speed, Fire fire, const FlowGuess& guess) {
    Point point;
    const auto residual = [&](double flow) {
      ++marches_;
      const double gauge = std::isnan(pressure) ? -still_loss_ * flow * flow : pressure;
      const auto fire_gas = fire == Fire::lit ? gas_for(flow, point.path) : Gas{};
      point.path = engine::march(rig_.engine,
                                 rig_.ambient,
                                 {.mass_flow = flow,
                                  .speed = speed,
                                  .inlet_total_pressure = rig_.ambient.pressure + gauge,
                                  .inlet_total_temperature = rig_.ambient.temperature,
                                  .turbine_inlet_temperature = fire_gas.temperature,
                                  .fuel_air_ratio = fire_gas.products});
      return point.path.pressure_residual;
    };
    const auto closed = close_flow(residual, guess, tolerance);
    point.flow = closed.flow;
    point.slope = closed.slope;
    point.torque = engine::net_torque(rig_.engine, point.path, speed);
    return point;
  }

  [[nodiscard]] FlowGuess first_guess(double pressure, double speed) const {
    constexpr double throat_speed = 5.0;  // [m/s]
    const double blown = std::sqrt(std::max(0.0, pressure) / greatest_pressure);
    const double pumped = speed / rig_.engine.design_speed;
    return {.flow = scale_ * throat_speed * (1.0 + 20.0 * (blown + pumped))};
  }

  /// What a controlled valve makes of an airflow: gas at the control temperature, or as hot as the
  /// open valve makes it.
  struct Gas {
    double temperature = 0.0;  ///< at the turbine wheel [K]
    double products = 0.0;     ///< kerosene over air that they stand for [-]
  };
  [[nodiscard]] Gas gas_for(double flow, const engine::GasPath& before) const {
    constexpr double open = 0.5;  // of the valve: further shut, nothing can keep it from the aim
    const FuelLine& line = start_.preheats ? start_.preheat : start_.main;
    double burner = start_.control_temperature;
    double products = burnt_;
    if (burnt_ / line.mixture.product_heat * flow > open * greatest_) {
      const auto& exit = before.compressor_exit;
      const bool known = exit.temperature > 0.0;
      const double warm = known ? exit.temperature : rig_.ambient.temperature;
      const double load = loading(start_.burner,
                                  {.mass_flow = flow,
                                   .pressure = known ? exit.pressure : rig_.ambient.pressure,
                                   .temperature = warm});
      const double most =
          greatest_ * efficiency(start_.burner, load, 0.0, start_.burner.ready_temperature) / flow;
      const double hottest = flame_temperature(rig_.engine.air,
                                               {.burnt = most,
                                                .heating_value = line.mixture.heating_value,
                                                .air_temperature = warm,
                                                .product_heat = line.mixture.product_heat});
      if (hottest < burner) {
        burner = hottest;
        products = most * line.mixture.product_heat;
      }
    }
    return {
        .temperature = behind_wall(burner, start_.usual_wall, transfer_units(start_.housing, flow)),
        .products = products};
  }

  /// Lowest speed from which the torque stays positive up to idle, looked for a little beyond it;
  /// 0: any, unset: none.
  double self_sustaining() {
    constexpr double growth = 1.5;
    constexpr double beyond_idle = 1.2;
    const double idle = start_.sequence.idle_speed;
    const double end = beyond_idle * idle;
    double low_speed = first_speed * rig_.engine.design_speed;
    Point low = at(unset, low_speed, Fire::lit, first_guess(0.0, low_speed));
    double found = low.torque > 0.0 ? 0.0 : unset;
    while (low_speed < end) {
      const double speed = std::min(low_speed < idle ? idle : end, growth * low_speed);
      const Point high =
          at(unset, speed, Fire::lit, {.flow = low.flow * speed / low_speed, .slope = low.slope});
      if (low.torque <= 0.0 && high.torque > 0.0) {
        Point guess = low;
        found = false_position(
            [&](double w) {
              guess = at(unset, w, Fire::lit, {.flow = guess.flow, .slope = guess.slope});
              return guess.torque;
            },
            low_speed,
            low.torque,
            speed,
            high.torque);
      }
      // Beyond idle a valve may be too small: nobody asks it to go there.
      if (high.torque <= 0.0 && !(speed > idle && found <= idle)) {
        if (std::isfinite(found)) lost_ = found;
        found = unset;
      }
      low = high;
      low_speed = speed;
    }
    return found;
  }

  struct Pinch {
    double torque = unset;
    double speed = unset;
  };

  /// Least torque left by a pressure between rest and `end`: the least of equally spaced speeds,
  /// and that at the bottom of the parabola through it and its neighbours.
  Pinch pinch(double pressure, double end) {
    std::size_t worst = 0;
    std::array<double, speeds> torque{};
    for (std::size_t i = 0; i < speeds; ++i) {
      const double speed = end * static_cast<double>(i) / static_cast<double>(speeds - 1);
      FlowGuess guess = kept_[i];
      if (std::isnan(guess.flow)) guess = i > 0 ? kept_[i - 1] : first_guess(pressure, speed);
      const Point point = at(pressure, speed, Fire::lit, guess);
      kept_[i] = {.flow = point.flow, .slope = point.slope};
      torque[i] = point.torque - (i == 0 ? rig_.engine.breakaway_torque : 0.0);
      if (torque[i] < torque[worst]) worst = i;
    }
    const double step = end / static_cast<double>(speeds - 1);
    Pinch pinch{.torque = torque[worst], .speed = step * static_cast<double>(worst)};
    if (worst > 0 && worst + 1 < speeds) {
      const double slope = 0.5 * (torque[worst + 1] - torque[worst - 1]);
      const double bend = torque[worst + 1] - 2.0 * torque[worst] + torque[worst - 1];
      if (bend > 0.0) {
        pinch.speed -= step * slope / bend;
        pinch.torque =
            std::min(pinch.torque, at(pressure, pinch.speed, Fire::lit, kept_[worst]).torque);
      }
    }
    return pinch;
  }

  /// Torque on the cold standing rotor beyond what breaks it loose [N m].
  double to_spare_at_rest(double pressure) {
    return at(pressure, 0.0, Fire::out, first_guess(pressure, 0.0)).torque -
           rig_.engine.breakaway_torque;
  }

  struct Windmilling {
    double speed = 0.0;
    Point cold = {};
  };

  /// The cold rotor in a steady supply: the first speed from rest where the torques balance.
  Windmilling windmill(double pressure) {
    constexpr double first = 0.03;  // of the design speed
    constexpr double growth = 1.7;
    Windmilling low{.cold = at(pressure, 0.0, Fire::out, first_guess(pressure, 0.0))};
    if (low.cold.torque <= rig_.engine.breakaway_torque) return low;
    double step = first * rig_.engine.design_speed;
    while (low.speed < rig_.engine.design_speed) {
      Windmilling high{.speed = low.speed + step};
      high.cold =
          at(pressure, high.speed, Fire::out, {.flow = low.cold.flow, .slope = low.cold.slope});
      if (high.cold.torque <= 0.0) {
        Point guess = low.cold;
        const double speed = false_position(
            [&](double w) {
              guess = at(pressure, w, Fire::out, {.flow = guess.flow, .slope = guess.slope});
              return guess.torque;
            },
            low.speed,
            low.cold.torque,
            high.speed,
            high.cold.torque);
        return {.speed = speed, .cold = guess};
      }
      low = high;
      step *= growth;
    }
    return low;
  }

  struct Flaming {
    Point lit;
    double needed_ratio = unset;  ///< supplied fuel-air ratio that gives the control temperature
    double least_ratio = unset;   ///< of the leanest steady flame
  };

  /// The engine lit at windmilling speed, flame tube still cold.
  Flaming flame(double pressure, const Windmilling& windmilling) {
    const FuelLine& line = start_.preheats ? start_.preheat : start_.main;
    Flaming out;
    out.lit = at(pressure,
                 windmilling.speed,
                 Fire::lit,
                 {.flow = windmilling.cold.flow, .slope = windmilling.cold.slope});
    const auto& air = out.lit.path.compressor_exit;
    const double load = loading(
        start_.burner,
        {.mass_flow = out.lit.flow, .pressure = air.pressure, .temperature = air.temperature});
    const double share =
        efficiency(start_.burner, load, line.mixture.liquid_share, start_.burner.cold_temperature);
    const double burnt = burnt_ratio_for(rig_.engine.air,
                                         {.temperature = start_.control_temperature,
                                          .heating_value = line.mixture.heating_value,
                                          .air_temperature = air.temperature,
                                          .product_heat = line.mixture.product_heat});
    out.needed_ratio = burnt / share;
    out.least_ratio = flammable(start_.burner, line.mixture, load, FlameState::burning).lean *
                      start_.burner.primary_share * line.mixture.stoichiometric_ratio;
    return out;
  }

  /// Smallest pressure at which `condition(pressure)` is not negative: 0 if it never is, unset if
  /// it still is at the greatest. The condition must rise with pressure about linearly.
  template <class Function>
  double least_pressure(Function&& condition) {
    constexpr double first = 500.0;  // [Pa]
    constexpr double least_growth = 1.3;
    constexpr double most_growth = 8.0;
    double low = 0.01 * first;
    double at_low = condition(low);
    if (at_low >= 0.0) return 0.0;
    double high = first;
    while (low < greatest_pressure) {
      const double at_high = condition(high);
      if (at_high >= 0.0) return false_position(condition, low, at_low, high, at_high);
      const double aim = high + (high - low) * at_high / (at_low - at_high);
      const bool rises = at_high > at_low;
      const double growth =
          std::clamp(rises ? aim / high * 1.02 : most_growth, least_growth, most_growth);
      low = high;
      at_low = at_high;
      high = std::min(growth * low, greatest_pressure * 1.001);
    }
    return unset;
  }

 private:
  static constexpr std::size_t speeds = 7;

  const rig::Rig& rig_;
  const Prepared& start_;
  double burnt_ = unset;  ///< as kerosene's, in the turbine's gas
  double lost_ = unset;
  double greatest_ = unset;  ///< fuel that flows with the valve open [kg/s]
  double still_loss_ = unset;
  double scale_ = unset;
  std::array<FlowGuess, speeds> kept_{};
  int marches_ = 0;
};

/// Dynamic head of the jet at the throttle of light-off over that at the rig's [-].
double lighting_head(const rig::Rig& rig, const Prepared& start) {
  const double light = start.fan.light_throttle;
  if (start.starter != Starter::fan || !(light < rig.throttle)) return 1.0;
  if (rig.fan.holds_flow) return light * light / (rig.throttle * rig.throttle);
  return fan::operate(rig.fan, light).dynamic_head / rig.open.dynamic_head;
}

}  // namespace

StartingAirflow starting_airflow(const rig::Rig& rig, const Prepared& start) {
  StartingAirflow out;
  Criterion criterion(rig, start);
  const auto finish = [&](Need need) {
    out.need = need;
    out.marches = criterion.marches();
    return out;
  };
  out.self_sustaining_speed = criterion.self_sustaining();
  if (std::isnan(out.self_sustaining_speed)) {
    out.sustains_short_of_idle = criterion.lost();
    return finish(Need::cannot_sustain);
  }

  // An engine that sustains itself from any speed must still break away.
  const double end = (1.0 + start.speed_margin) *
                     std::max(out.self_sustaining_speed, first_speed * rig.engine.design_speed);
  out.least_torque = rig.engine.inertia * end / start.sequence.spin_up_time;
  double torque_pressure = criterion.least_pressure([&](double pressure) {
    const auto pinch = criterion.pinch(pressure, end);
    out.pinch_speed = pinch.speed;
    return pinch.torque - out.least_torque;
  });
  if (std::isnan(torque_pressure)) return finish(Need::out_of_range);
  auto windmilling = criterion.windmill(torque_pressure);
  if (windmilling.speed <= 0.0) {
    // Blown cold it stands: the air must break it loose before there is anything to light.
    const double loose = criterion.least_pressure(
        [&](double pressure) { return criterion.to_spare_at_rest(pressure); });
    if (std::isnan(loose)) return finish(Need::out_of_range);
    if (loose > torque_pressure) {
      torque_pressure = loose * (1.0 + loose_margin);
      out.pinch_speed = 0.0;
      windmilling = criterion.windmill(torque_pressure);
    }
  }
  out.torque_part = torque_pressure > 0.0 ? windmilling.cold.flow : 0.0;

  auto flaming = criterion.flame(torque_pressure, windmilling);
  if (flaming.least_ratio > flaming.needed_ratio) return finish(Need::cannot_cool);
  const double least_flow = (start.preheats ? start.preheat : start.main).least_flow;
  // It is lit on the throttle of light-off, and must be cool enough there already.
  const double weaker = lighting_head(rig, start);
  const auto fuel_to_spare = [&](double pressure) {
    windmilling = criterion.windmill(weaker * pressure);
    flaming = criterion.flame(weaker * pressure, windmilling);
    return flaming.needed_ratio * flaming.lit.flow - least_flow;
  };
  out.total_pressure = torque_pressure;
  out.hot_start_part = 0.0;
  Need need = torque_pressure > 0.0 ? Need::torque : Need::nothing;
  if (least_flow > 0.0) {
    const double pressure = criterion.least_pressure(fuel_to_spare);
    if (std::isnan(pressure)) return finish(Need::out_of_range);
    out.hot_start_part = pressure > 0.0 ? criterion.windmill(pressure).cold.flow : 0.0;
    if (pressure > torque_pressure) {
      need = Need::cooler_gas;
      out.total_pressure = pressure;
    }
    windmilling = criterion.windmill(out.total_pressure);
    flaming = criterion.flame(out.total_pressure, windmilling);
  }
  out.airflow = std::max(out.torque_part, out.hot_start_part);
  out.lit_airflow = flaming.lit.flow;
  out.rotor_speed = windmilling.speed;
  out.least_fuel = std::max(least_flow, flaming.least_ratio * flaming.lit.flow);
  out.equivalence_ratio = primary_equivalence(
      start.burner, (start.preheats ? start.preheat : start.main).mixture, flaming.needed_ratio);
  return finish(need);
}

double self_sustaining_speed(const rig::Rig& rig, const Prepared& start) {
  return Criterion(rig, start).self_sustaining();
}

double lit_torque(const rig::Rig& rig,
                  const Prepared& start,
                  double speed,
                  double inducer_pressure) {
  Criterion criterion(rig, start);
  return criterion
      .at(inducer_pressure, speed, Fire::lit, criterion.first_guess(inducer_pressure, speed))
      .torque;
}

void require_start(rig::Rig& rig, const Prepared& start) {
  rig.starting_airflow = starting_airflow(rig, start).airflow;
  rig.lightoff_speed = unset;
}

}  // namespace windgap::start
