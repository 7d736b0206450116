#include "start/bench.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "engine/bearings.h"
#include "rig/supply.h"
#include "start/flow.h"
#include "units/root.h"

namespace windgap::start {
namespace {

constexpr double flow_tolerance = 1e-10;
constexpr std::size_t charge_steps = 64;
constexpr double unit_loss = 1e5;  // [J/kg]
constexpr int rounds = 6;
constexpr double most_radiated = 0.5;   // of the flame's heat
constexpr double least_power = 1e-9;    // [W]
constexpr double least_jet = 0.5;       // [m/s]: below it the fan stands and the room is still
constexpr double strongest_wind = 0.2;  // of the jet's velocity, where the jet model ends

double square(double x) { return x * x; }

rig::Response between(const rig::Response& a, const rig::Response& b, double share) {
  rig::Response out;
  for (std::size_t i = 0; i < rig::Response::points; ++i) {
    out.velocity[i] = a.velocity[i] + share * (b.velocity[i] - a.velocity[i]);
    out.slope[i] = a.slope[i] + share * (b.slope[i] - a.slope[i]);
  }
  return out;
}

double shaft_motor_torque(const ShaftMotor& motor, double speed) {
  return std::max(0.0, motor.stall_torque * (1.0 - speed / motor.free_speed));
}

}  // namespace

/// What happens between compressor and turbine for one airflow.
struct Bench::Burning {
  double annulus_temperature = unset;  ///< of the air, warmed by the flame tube [K]
  double air_temperature = unset;      ///< warmed by the vaporizer too [K]
  double flame_temperature = unset;    ///< [K]
  double burner_temperature = unset;   ///< behind the flame tube [K]
  double turbine_temperature = unset;  ///< behind the housing [K]
  double burnt = 0.0;                  ///< fuel-air ratio that burns [-]
  double products = 0.0;               ///< that of kerosene whose products hold as much heat [-]
  double heat = 0.0;                   ///< of it, per kg of air [J/kg]
  double preheat_flow = 0.0;           ///< [kg/s]
  double main_flow = 0.0;              ///< [kg/s]
  double loading = unset;
  double to_tube = 0.0;       ///< radiated to the flame tube, by the vaporizer too [W]
  double to_vaporizer = 0.0;  ///< by the flame, less what its tubes radiate on [W]
  double to_fuel = 0.0;       ///< from the vaporizer [W]
};

/// What leaves the flame without passing the gas behind it, at one instant.
struct Bench::Radiance {
  const Prepared* start = nullptr;
  double airflow = unset;           ///< [kg/s]
  double pressure = unset;          ///< [Pa]
  double tube_temperature = unset;  ///< [K]
  double crossflow = 0.0;           ///< from the burning gas to the vaporizer [W]
  double onwards = 0.0;             ///< from the vaporizer to the flame tube [W]
  double tube_flux = unset;         ///< for an emissivity of one [W]
  double vaporizer_flux = 0.0;      ///< the same [W]
  double liquid_heat = 0.0;         ///< that the vaporizer gives a kg of the main fuel [J/kg]

  struct Loss {
    double tube = 0.0;       ///< of the flame [W]
    double vaporizer = 0.0;  ///< [W]
    double fuel = 0.0;       ///< given back with the vapour [W]
    [[nodiscard]] double sum() const { return tube + vaporizer - fuel; }
  };

  [[nodiscard]] Loss of(double preheat_flow, double main_flow) const {
    const double all = preheat_flow + main_flow;
    if (!(all > 0.0)) return {};
    const double gas = start->preheats ? preheat_flow * start->preheat.mixture.luminosity : 0.0;
    const double shine =
        emissivity(start->glow,
                   {.pressure = pressure,
                    .luminosity = (gas + main_flow * start->main.mixture.luminosity) / all,
                    .fuel_air_ratio = all / (airflow * start->burner.primary_share)});
    return {.tube = shine * tube_flux,
            .vaporizer = shine * vaporizer_flux + crossflow,
            .fuel = liquid_heat * main_flow};
  }
};

Bench::Bench(const rig::Parts& parts,
             const rig::Coefficients& models,
             const rig::Rig& rig,
             const Prepared& start,
             double stand_off)
    : rig_(rig),
      start_(start),
      stand_off_(stand_off),
      full_throttle_(rig.throttle),
      new_fan_(rig.fan),
      bearings_(parts.engine.bearings),
      bearing_coefficients_(models.engine.bearings),
      friction_(parts.engine.calibration.friction) {
  if (!(stand_off > 0.0)) throw std::logic_error("start: a stand-off must be positive");
  if (rig.engine.resistance_only) throw std::logic_error("start: nothing to turn");
  start_.fan.light_throttle = std::min(start_.fan.light_throttle, full_throttle_);
  strong_ = rig.response;
  weak_ = strong_;
  weak_throttle_ = full_throttle_;
  has_pack_ = !rig.fan.holds_flow && start.starter == Starter::fan;
  if (!has_pack_) return;
  if (start.fan.light_throttle < full_throttle_) {
    weak_throttle_ = start.fan.light_throttle;
    weak_ = rig::with_throttle(rig, weak_throttle_).response;
  }
  const auto& pack = parts.drive.pack;
  charge_step_ = pack.state_of_charge * rig.fan.drive.capacity / charge_steps;
  for (std::size_t i = 0; i <= charge_steps; ++i) {
    const double share = static_cast<double>(i) / static_cast<double>(charge_steps);
    open_circuit_.push_back(
        pack.cells * drive::open_circuit_voltage(
                         models.drive, pack.chemistry, pack.state_of_charge * (1.0 - share)));
  }
}

State Bench::at_rest() const {
  return {.tube_temperature = rig_.ambient.temperature,
          .vaporizer_temperature = rig_.ambient.temperature,
          .housing_temperature = rig_.ambient.temperature,
          .film_temperature = start_.oil_temperature,
          .winding_temperature = rig_.ambient.temperature};
}

double Bench::steady_film(double speed) const {
  constexpr unsigned bits = 30;
  const double inlet = start_.oil_temperature;
  const auto warming = [&](double film) {
    return friction_ *
           engine::drag_at_film_temperature(bearings_, bearing_coefficients_, speed, film) * speed /
           start_.oil_conductance;
  };
  const double most = warming(inlet);
  if (!(most > 0.0)) return inlet;
  const auto excess = [&](double film) { return film - inlet - warming(film); };
  const double hottest = inlet + most;
  const double above = excess(hottest);
  // Drag that hardly falls with temperature leaves nothing to search.
  if (!(above > 0.0)) return hottest;
  return find_root(excess, {inlet, -most}, {hottest, above}, bits).middle();
}

double Bench::open_circuit_voltage(double charge_used) const {
  const double at = std::clamp(charge_used / charge_step_, 0.0, static_cast<double>(charge_steps));
  const auto i = std::min(static_cast<std::size_t>(at), charge_steps - 1);
  return open_circuit_[i] +
         (at - static_cast<double>(i)) * (open_circuit_[i + 1] - open_circuit_[i]);
}

/// The fan blowing into the open with the pack and the winding as they are now.
void Bench::set_fan(const State& state, double throttle) {
  rig_.throttle = throttle;
  if (has_pack_) {
    const double warmth = state.winding_temperature - rig_.ambient.temperature;
    rig_.fan.drive.open_circuit_voltage = open_circuit_voltage(state.charge_used);
    rig_.fan.drive.motor_resistance =
        new_fan_.drive.motor_resistance * (1.0 + new_fan_.drive.temperature_coefficient * warmth);
    const double width = full_throttle_ - weak_throttle_;
    const double share =
        width > 0.0 ? std::clamp((throttle - weak_throttle_) / width, 0.0, 1.0) : 1.0;
    rig_.response = between(weak_, strong_, share);
  } else {
    rig_.fan.velocity = new_fan_.velocity * throttle;
  }
  rig_.open = fan::operate(rig_.fan, throttle);
  rig_.jet.exit = fan::jet_exit(rig_.fan, rig_.open);
  rig_.jet.wind_ratio = rig_.ambient.wind / rig_.open.exit_velocity;
}

Bench::Radiance Bench::radiance(const State& state, double pressure, double m) const {
  Radiance out{
      .start = &start_,
      .airflow = m,
      .pressure = pressure,
      .tube_temperature = state.tube_temperature,
      .tube_flux = start_.flame_area * flame_flux(start_.glow, 1.0, state.tube_temperature)};
  if (!start_.vaporizes) return out;
  const double tubes = state.vaporizer_temperature;
  out.vaporizer_flux = start_.vaporizer_area * flame_flux(start_.glow, 1.0, tubes);
  out.crossflow = start_.vaporizer_crossflow * std::exp(start_.crossflow_exponent * std::log(m)) *
                  (start_.glow.temperature - tubes);
  out.onwards = start_.vaporizer_area * enclosed_flux(start_.glow, tubes, state.tube_temperature);
  out.liquid_heat = start_.vaporizer_heat * (1.0 - coldness(start_.burner, tubes));
  return out;
}

Bench::Burning Bench::burn(const State& state,
                           const Controls& controls,
                           const engine::GasPath& path,
                           double m) {
  const auto& air = rig_.engine.air;
  const auto& inlet = path.compressor_exit;
  const double wall = state.tube_temperature;
  Burning out;
  out.loading =
      loading(start_.burner,
              {.mass_flow = m, .pressure = inlet.pressure, .temperature = inlet.temperature});
  out.air_temperature = out.annulus_temperature =
      behind_wall(inlet.temperature, wall, transfer_units(start_.tube_outside, m));
  if (start_.vaporizes) {
    const double warmed = behind_wall(out.annulus_temperature,
                                      state.vaporizer_temperature,
                                      transfer_units(start_.vaporizer_inside, m));
    out.air_temperature += start_.vaporizer_air_share * (warmed - out.annulus_temperature);
  }
  const double inside = transfer_units(start_.tube_inside, m);
  const auto share = [&](const FuelLine& line) {
    return efficiency(start_.burner,
                      out.loading,
                      line.mixture.liquid_share,
                      start_.vaporizes ? state.vaporizer_temperature : wall);
  };
  const double main_share = share(start_.main);
  const double preheat_share = start_.preheats ? share(start_.preheat) : 0.0;
  const double aim = ahead_of_wall(start_.control_temperature, wall, inside);
  const auto rays = radiance(state, inlet.pressure, m);
  /// Flow of a controlled fuel beside what the other one burns; `loss` of a flow [W].
  const auto controlled =
      [&](const FuelLine& line, double line_share, double other_heat, auto&& loss) {
        const auto burnt_for = [&](double lost) {
          return burnt_ratio_for(air,
                                 {.temperature = aim,
                                  .heating_value = line.mixture.heating_value,
                                  .air_temperature = out.air_temperature,
                                  .product_heat = line.mixture.product_heat,
                                  .lost = lost});
        };
        const double lossless = burnt_for(0.0);
        const double per_loss = burnt_for(unit_loss) - lossless;
        const auto flow_for = [&](double lost) {
          const double burnt =
              lossless + per_loss * lost / unit_loss - other_heat / line.mixture.heating_value;
          return std::clamp(burnt / line_share * m, line.least_flow, line.greatest_flow);
        };
        // The loss follows the root of the flow and is a tenth of its heat: each round gains more
        // than a digit.
        double flow = flow_for(0.0);
        for (int round = 0; round < rounds; ++round) flow = flow_for(loss(flow) / m);
        return flow;
      };
  if (controls.preheat.kind == Valve::Kind::set) out.preheat_flow = controls.preheat.flow;
  if (controls.preheat.kind == Valve::Kind::controlled) {
    out.preheat_flow = controlled(
        start_.preheat, preheat_share, 0.0, [&](double flow) { return rays.of(flow, 0.0).sum(); });
  }
  const double preheat_burnt = preheat_share * out.preheat_flow / m;
  const double preheat_heat =
      start_.preheats ? preheat_burnt * start_.preheat.mixture.heating_value : 0.0;
  if (controls.main.kind == Valve::Kind::set) out.main_flow = controls.main.flow;
  if (controls.main.kind == Valve::Kind::controlled) {
    out.main_flow = controlled(start_.main, main_share, preheat_heat, [&](double flow) {
      return rays.of(out.preheat_flow, flow).sum();
    });
  }
  const double main_burnt = main_share * out.main_flow / m;
  const double oxygen_used =
      main_burnt / start_.main.mixture.stoichiometric_ratio +
      (start_.preheats ? preheat_burnt / start_.preheat.mixture.stoichiometric_ratio : 0.0);
  const double enough = 1.0 / std::max(1.0, oxygen_used);
  out.burnt = enough * (main_burnt + preheat_burnt);
  out.products =
      enough * (main_burnt * start_.main.mixture.product_heat +
                (start_.preheats ? preheat_burnt * start_.preheat.mixture.product_heat : 0.0));
  out.heat = enough * (main_burnt * start_.main.mixture.heating_value + preheat_heat);
  if (!(out.burnt > 0.0)) {
    out.flame_temperature = out.burner_temperature = out.turbine_temperature = inlet.temperature;
    out.annulus_temperature = out.air_temperature = inlet.temperature;
    return out;
  }
  const auto lost = rays.of(out.preheat_flow, out.main_flow);
  // A flame about to go out cannot lose more than it makes.
  const double glowing = std::min(
      1.0, most_radiated * m * out.heat / std::max(lost.tube + lost.vaporizer, least_power));
  out.to_tube = glowing * lost.tube + rays.onwards;
  out.to_vaporizer = glowing * lost.vaporizer - rays.onwards;
  out.to_fuel = lost.fuel;
  const double left = out.heat - (glowing * (lost.tube + lost.vaporizer) - lost.fuel) / m;
  out.flame_temperature = flame_temperature(air,
                                            {.burnt = out.burnt,
                                             .heating_value = left / out.burnt,
                                             .air_temperature = out.air_temperature,
                                             .product_heat = out.products / out.burnt});
  out.burner_temperature = behind_wall(out.flame_temperature, wall, inside);
  out.turbine_temperature = behind_wall(
      out.burner_temperature, state.housing_temperature, transfer_units(start_.housing, m));
  return out;
}

/// Airflow, torques, heat.
void Bench::close(const State& state, const Controls& controls, Instant& now) {
  const auto nothing_flows = [&] {
    guess_ = unset;
    now.reading.burner_temperature = now.reading.turbine_temperature =
        now.reading.exhaust_temperature = rig_.ambient.temperature;
  };
  const bool blows = start_.starter == Starter::fan && controls.throttle > 0.0 &&
                     rig_.open.exit_velocity > least_jet && rig_.jet.wind_ratio < strongest_wind;
  if (!blows && state.speed <= 0.0) return nothing_flows();
  std::optional<rig::Supply> supply;
  if (blows) supply.emplace(rig_, stand_off_);
  const double throat_head = 0.5 / (rig_.ambient.density * square(rig_.throat_area));
  const double still_loss = (rig_.guard_loss + rig_.entry_loss) * throat_head;
  auto& reading = now.reading;
  Burning burning;
  rig::Offered offered{.inducer_pressure = 0.0, .wheel_pressure = 0.0, .swirl = 0.0, .excess = 0.0};
  if (!(path_.compressor_exit.temperature > 0.0)) {
    path_.compressor_exit = {.pressure = rig_.ambient.pressure,
                             .temperature = rig_.ambient.temperature};
  }
  // The compressor's exit of one march is the burner's inlet of the next: both settle together.
  const auto residual = [&](double flow) {
    if (supply) {
      offered = supply->at(flow);
    } else {
      offered.inducer_pressure = offered.wheel_pressure = -still_loss * flow * flow;
    }
    if (controls.lit) burning = burn(state, controls, path_, flow);
    path_ = engine::march(
        rig_.engine,
        rig_.ambient,
        {.mass_flow = flow,
         .speed = state.speed,
         .inlet_total_pressure = rig_.ambient.pressure + offered.wheel_pressure,
         .inlet_total_temperature = rig_.ambient.temperature,
         .inlet_swirl = offered.swirl,
         .turbine_inlet_temperature = controls.lit ? burning.turbine_temperature : 0.0,
         .fuel_air_ratio = controls.lit ? burning.products : 0.0});
    return path_.pressure_residual;
  };
  if (!(guess_ > 0.0)) {
    constexpr double throat_speed = 5.0;  // [m/s]
    constexpr double fan_share = 0.1;
    guess_ = supply ? fan_share * supply->open_flow()
                    : rig_.ambient.density * rig_.throat_area * throat_speed;
    slope_ = unset;
  }
  auto closed = close_flow(residual, {.flow = guess_, .slope = slope_}, flow_tolerance);
  // A neighbour's flow can be a poor scale where the air stops: the fan's own is a sure one.
  if (!closed.converged && supply) closed = bracket_flow(residual, supply->open_flow());
  reading.converged = closed.converged;
  if (closed.converged && closed.flow <= 0.0) return nothing_flows();
  guess_ = closed.converged ? closed.flow : unset;
  slope_ = closed.slope;
  burning = burn(state, controls, path_, closed.flow);

  reading.airflow = closed.flow;
  reading.inducer_pressure = offered.inducer_pressure;
  reading.compressor_pressure = path_.compressor_exit.pressure - rig_.ambient.pressure;
  reading.gas_torque = path_.compressor_torque + path_.turbine_torque;
  reading.preheat_flow = burning.preheat_flow;
  reading.fuel_flow = burning.preheat_flow + burning.main_flow;
  reading.loading = burning.loading;
  reading.flame_holder_velocity = path_.flame_holder_velocity;
  reading.exhaust_temperature = path_.turbine_exit.temperature;
  reading.surge = path_.surge;
  reading.choked = path_.choked;
  reading.burner_temperature = reading.turbine_temperature = path_.turbine_inlet.temperature;
  auto mixture = start_.main.mixture;
  if (reading.fuel_flow > 0.0) {
    if (start_.preheats) {
      mixture = blend(mixture, start_.preheat.mixture, burning.preheat_flow / reading.fuel_flow);
    }
    const double ratio = reading.fuel_flow / closed.flow;
    reading.primary_equivalence = primary_equivalence(start_.burner, mixture, ratio);
    reading.burner_efficiency = burning.burnt / ratio;
  }
  reading.flame = judge_flame(start_.burner,
                              mixture,
                              {.fuel_air_ratio = reading.fuel_flow / closed.flow,
                               .loading = reading.loading,
                               .flame_holder_velocity = reading.flame_holder_velocity},
                              controls.lit ? FlameState::burning : FlameState::unlit);
  if (blows) {
    const auto point = fan::operate(rig_.fan, controls.throttle, offered.excess);
    reading.fan_flow = point.mass_flow;
    if (has_pack_) {
      reading.pack_current = point.drive.pack_current;
      reading.pack_voltage = point.drive.pack_voltage;
      reading.sagged = point.drive.sagged;
      now.rates.charge_used = point.drive.pack_current;
      now.rates.winding_temperature = point.drive.winding_loss;
    }
  }
  heat(state, controls, burning, now);
}

/// Heat into walls and the powers of the energy balance.
void Bench::heat(const State& state,
                 const Controls& controls,
                 const Burning& burning,
                 Instant& now) const {
  auto& reading = now.reading;
  const auto& air = rig_.engine.air;
  const double m = reading.airflow;
  const double inlet = air::enthalpy(air, rig_.ambient.temperature);
  const double compressor_exit = air::enthalpy(air, path_.compressor_exit.temperature);
  double burnt = 0.0;
  if (controls.lit) {
    burnt = burning.products;
    const double gas = m * (1.0 + burnt);
    const double behind_tube = air::enthalpy(air, burning.burner_temperature, burnt);
    const double to_tube =
        gas * (air::enthalpy(air, burning.flame_temperature, burnt) - behind_tube) +
        burning.to_tube;
    const double annulus = air::enthalpy(air, burning.annulus_temperature);
    now.rates.tube_temperature = (to_tube - m * (annulus - compressor_exit)) / start_.tube_capacity;
    if (start_.vaporizes) {
      const double to_air = m * (air::enthalpy(air, burning.air_temperature) - annulus);
      now.rates.vaporizer_temperature =
          (burning.to_vaporizer - to_air - burning.to_fuel) / start_.vaporizer_capacity;
    }
    now.rates.housing_temperature =
        gas * (behind_tube - air::enthalpy(air, burning.turbine_temperature, burnt)) /
        start_.housing_capacity;
    reading.burner_temperature = burning.burner_temperature;
    reading.turbine_temperature = burning.turbine_temperature;
    reading.powers.fuel = m * burning.heat;
  }
  reading.powers.air = m * inlet;
  reading.powers.exhaust =
      m * (1.0 + burnt) * air::enthalpy(air, path_.turbine_exit.temperature, burnt);
  reading.powers.discs = m * (1.0 + burnt) * path_.turbine_work - m * path_.compressor_work -
                         reading.gas_torque * state.speed;
}

Instant Bench::at(const State& state, const Controls& controls) {
  ++evaluations_;
  Instant now;
  if (start_.starter == Starter::fan) set_fan(state, controls.throttle);
  close(state, controls, now);
  auto& reading = now.reading;
  auto& rates = now.rates;
  if (has_pack_) {
    const double room = state.winding_temperature - rig_.ambient.temperature;
    rates.winding_temperature =
        (rates.winding_temperature - rig_.fan.drive.winding_conductance * room) /
        rig_.fan.drive.winding_heat_capacity;
  }
  reading.drag_torque =
      friction_ * engine::drag_at_film_temperature(
                      bearings_, bearing_coefficients_, state.speed, state.film_temperature);
  if (controls.clutch) reading.starter_torque = shaft_motor_torque(start_.shaft_motor, state.speed);
  reading.net_torque = reading.gas_torque + reading.starter_torque - reading.drag_torque;
  rates.speed = controls.resting ? 0.0 : reading.net_torque / rig_.engine.inertia;
  reading.powers.starter = reading.starter_torque * state.speed;
  reading.powers.oil = start_.oil_conductance * (state.film_temperature - start_.oil_temperature);
  rates.film_temperature =
      (reading.drag_torque * state.speed - reading.powers.oil) / start_.film_capacity;
  reading.powers.room =
      start_.room_conductance * (state.housing_temperature - rig_.ambient.temperature);
  rates.housing_temperature -= reading.powers.room / start_.housing_capacity;
  return now;
}

}  // namespace windgap::start
