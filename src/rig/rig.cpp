#include "rig/rig.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "engine/windmill.h"
#include "rig/pair.h"
#include "rig/running.h"
#include "rig/supply.h"
#include "units/root.h"

namespace windgap::rig {
namespace {

using std::numbers::pi;

double area_of(double diameter) { return pi * diameter * diameter / 4.0; }

/// Table position of a back-pressure ratio: logarithmic, so that small ratios are well resolved.
double position(double ratio) {
  constexpr double last = Response::points - 1;
  return last * std::log1p(ratio) / std::log1p(Response::greatest);
}

double ratio_at(std::size_t i) {
  constexpr double last = Response::points - 1;
  return std::expm1(static_cast<double>(i) / last * std::log1p(Response::greatest));
}

Response tabulate(const fan::Prepared& fan, double throttle, const fan::Operating& open) {
  Response response;
  for (std::size_t i = 0; i < Response::points; ++i) {
    response.velocity[i] = fan.holds_flow ? 1.0
                                          : fan::operate(fan, throttle, ratio_at(i)).exit_velocity /
                                                open.exit_velocity;
  }
  const auto& v = response.velocity;
  constexpr std::size_t last = Response::points - 1;
  response.slope[0] = v[1] - v[0];
  response.slope[last] = v[last] - v[last - 1];
  for (std::size_t i = 1; i < last; ++i) response.slope[i] = (v[i + 1] - v[i - 1]) / 2.0;
  return response;
}

/// One speed: the flow that passes, and the torque left over.
struct Point {
  double speed = 0.0;
  double mass_flow = unset;
  double residual = unset;      ///< [Pa]
  double torque = unset;        ///< [N m]
  double slope = unset;         ///< d(residual)/d(mass flow) [Pa s/kg]
  double torque_slope = unset;  ///< d(torque)/d(mass flow) [N m s/kg]
  Offered state;
  engine::GasPath path;
  bool converged = false;
};

/// Air at rest.
Point no_flow() {
  Point still;
  still.mass_flow = 0.0;
  still.converged = true;
  still.state = {.total_pressure = 0.0,
                 .inducer_pressure = 0.0,
                 .wheel_pressure = 0.0,
                 .swirl = 0.0,
                 .speed = 0.0,
                 .excess = 0.0,
                 .capture_ratio = 0.0};
  return still;
}

struct Settled {
  Point point;
  Settling settling = Settling::no_flow;
};

/// How well a flow is closed: the search from rest needs only the torque's sign.
constexpr double loose = 1e-2;
constexpr double tight = 1e-12;

/// Finds flows at successive speeds, each started from the last.
class Solver {
 public:
  Solver(const Rig& rig, Supply& supply) : rig_(rig), supply_(supply) {}

  [[nodiscard]] int marches() const { return marches_; }

  void march(Point& point) {
    ++marches_;
    point.state = supply_.at(point.mass_flow);
    point.path =
        engine::march(rig_.engine,
                      rig_.ambient,
                      {.mass_flow = point.mass_flow,
                       .speed = point.speed,
                       .inlet_total_pressure = rig_.ambient.pressure + point.state.wheel_pressure,
                       .inlet_total_temperature = rig_.ambient.temperature,
                       .inlet_swirl = point.state.swirl});
    point.residual = point.path.pressure_residual;
    point.torque = engine::net_torque(rig_.engine, point.path, point.speed);
  }

  /// The rotor at rest: the residual falls with the flow like its square.
  Point at_rest(double tolerance) {
    constexpr double first_guess = 0.1;
    Point point;
    point.mass_flow = first_guess * supply_.open_flow();
    march(point);
    const double offered = point.state.wheel_pressure;
    const double lost = offered - point.residual;
    if (lost > 0.0 && offered > 0.0) {
      point.slope = -2.0 * lost / point.mass_flow;
      const double flow = point.mass_flow * std::sqrt(offered / lost);
      point = close(step_to(point, flow), tolerance);
      if (!(point.converged && supply_.passes_beside())) return point;
      const Point smaller = first_crossing(0.0, point.mass_flow / (1.0 + loose));
      return smaller.converged ? smaller : point;
    }
    return first_crossing(0.0, most_captured * supply_.open_flow());
  }

  /// The root continued to another speed from a neighbour's flow and slope.
  Point at_speed(double speed, double flow_guess, const Point& neighbour, double tolerance) {
    Point point;
    point.speed = speed;
    point.mass_flow = flow_guess;
    point.slope = neighbour.slope;
    point.torque_slope = neighbour.torque_slope;
    march(point);
    return close(point, tolerance);
  }

  /// Where not even a trickle finds a pressure to push it, nothing flows and that is the answer;
  /// else the flow that did not close.
  Settled nothing_or(const Point& unclosed) {
    constexpr double least_pressure = 1.0;  // [Pa]: a tenth of a millimetre of water
    Point still;
    still.mass_flow = trickle * supply_.open_flow();
    still.state = supply_.at(still.mass_flow);
    if (still.state.inducer_pressure > least_pressure) return {.point = unclosed};
    return {.point = no_flow()};
  }

 private:
  /// Moves to another flow at the same speed and learns both slopes from the move.
  Point step_to(const Point& from, double flow) {
    Point to = from;
    to.mass_flow = flow;
    march(to);
    const double change = flow - from.mass_flow;
    const double slope = (to.residual - from.residual) / change;
    const double torque_slope = (to.torque - from.torque) / change;
    if (std::isfinite(slope)) to.slope = slope;
    if (std::isfinite(torque_slope)) to.torque_slope = torque_slope;
    return to;
  }

  /// Secant steps; where they do not settle on a falling residual, the first crossing from zero
  /// flow by bracketing.
  Point close(Point point, double tolerance) {
    constexpr int most_steps = 14;
    for (int step = 0; step < most_steps; ++step) {
      const double next = point.mass_flow - point.residual / point.slope;
      if (!(next > 0.0) || !(point.slope < 0.0)) break;
      const double change = std::abs(next - point.mass_flow);
      if (change <= tolerance * next) {
        // A straight line serves for the last step, so that a loose flow has the torque's true
        // sign.
        point.torque += point.torque_slope * (next - point.mass_flow);
        point.mass_flow = next;
        point.converged = true;
        return point;
      }
      point = step_to(point, std::clamp(next, 0.5 * point.mass_flow, 2.0 * point.mass_flow));
    }
    return first_crossing(point.speed, most_captured * supply_.open_flow());
  }

  /// First + to - crossing of the residual from a trickle up to a flow, by growing steps and TOMS
  /// 748. Not converged where there is none.
  Point first_crossing(double speed, double up_to) {
    constexpr double growth = 1.15;
    constexpr unsigned bits = 46;
    Point point;
    point.speed = speed;
    const auto residual = [&](double flow) {
      point.mass_flow = flow;
      march(point);
      return point.residual;
    };
    double low = trickle * supply_.open_flow();
    double at_low = residual(low);
    while (low < up_to) {
      const double high = low * growth;
      const double at_high = residual(high);
      if (at_low > 0.0 && at_high <= 0.0) {
        const auto root = find_root(residual, {low, at_low}, {high, at_high}, bits);
        (void)residual(root.middle());
        point.slope = (at_high - at_low) / (high - low);
        Point closed = step_to(point, point.mass_flow * (1.0 + 1e-6));
        closed.converged = true;
        return closed;
      }
      low = high;
      at_low = at_high;
    }
    return point;
  }

  /// Of the fan's flow: what is told from nothing, and what a wide mouth may draw in with the jet.
  static constexpr double trickle = 1e-6;
  static constexpr double most_captured = 4.0;

  const Rig& rig_;
  Supply& supply_;
  int marches_ = 0;
};

/// Steps of the search from rest, each this much longer than the last.
constexpr double first_step = 0.03;  // of the design speed
constexpr double step_growth = 1.7;
constexpr double speed_range = 1.3;  // of the design speed

/// Between a speed where torque is left and one where it is missing: Illinois' false position on
/// the torque, each flow started from the line between the ends. Slow and sure.
Point balance_surely(Solver& solver, Point low, Point high) {
  constexpr int most_steps = 80;
  double low_torque = low.torque;
  double high_torque = high.torque;
  Point middle = high;
  int side = 0;
  for (int step = 0; step < most_steps; ++step) {
    const double share = low_torque / (low_torque - high_torque);
    const double before = middle.speed;
    middle = solver.at_speed(low.speed + share * (high.speed - low.speed),
                             low.mass_flow + share * (high.mass_flow - low.mass_flow),
                             low,
                             tight);
    if (!middle.converged || middle.torque == 0.0 ||
        std::abs(middle.speed - before) <= tight * middle.speed) {
      break;
    }
    if (middle.torque > 0.0) {
      low = middle;
      low_torque = middle.torque;
      if (side == 1) high_torque *= 0.5;
      side = 1;
    } else {
      high = middle;
      high_torque = middle.torque;
      if (side == -1) low_torque *= 0.5;
      side = -1;
    }
  }
  return middle;
}

/// Flow and speed together from the line between the ends, in units of the interval's scales; the
/// sure way where that does not settle inside.
Point balance(Solver& solver, const Point& low, const Point& high) {
  constexpr double longest_step = 0.5;
  const double width = high.speed - low.speed;
  const double share = low.torque / (low.torque - high.torque);
  const double flow = low.mass_flow + share * (high.mass_flow - low.mass_flow);
  const double pressure = low.state.wheel_pressure;
  const double torque = low.torque - high.torque;
  const double rise = (high.mass_flow - low.mass_flow) / width;
  const double fall = (high.torque - low.torque) / width;
  const std::array<std::array<double, 2>, 2> slopes{
      {{high.slope * flow / pressure, -high.slope * rise * width / pressure},
       {high.torque_slope * flow / torque, (fall - high.torque_slope * rise) * width / torque}}};
  Point point = high;
  const auto residuals = [&](const std::array<double, 2>& x) {
    point.mass_flow = x[0] * flow;
    point.speed = low.speed + x[1] * width;
    solver.march(point);
    return std::array<double, 2>{point.residual / pressure, point.torque / torque};
  };
  const auto root = solve_pair(residuals, {1.0, share}, slopes, longest_step);
  const bool inside = root.at[1] >= -loose && root.at[1] <= 1.0 + loose && root.at[0] > 0.0;
  if (!root.converged || !inside) return balance_surely(solver, low, high);
  point.converged = true;
  return point;
}

/// The rotor at rest, its flow closed for good.
Settled hold(Solver& solver) {
  const Point held = solver.at_rest(tight);
  return held.converged ? Settled{.point = held, .settling = Settling::at_rest}
                        : solver.nothing_or(held);
}

Settled settle(const Rig& rig, Solver& solver) {
  if (rig.engine.resistance_only) {
    const Point point = solver.at_rest(tight);
    return point.converged ? Settled{.point = point, .settling = Settling::no_rotor}
                           : solver.nothing_or(point);
  }
  Point low = solver.at_rest(loose);
  if (!low.converged) return solver.nothing_or(low);
  if (low.torque <= rig.engine.breakaway_torque) return hold(solver);
  double flow_per_speed = 0.0;
  double step = first_step * rig.engine.design_speed;
  const double end = speed_range * rig.engine.design_speed;
  while (low.speed < end) {
    const double speed = low.speed + step;
    const Point high = solver.at_speed(speed, low.mass_flow + flow_per_speed * step, low, loose);
    if (!high.converged) return {.point = high, .settling = Settling::turning};
    if (high.torque <= 0.0) {
      const Point balanced = balance(solver, low, high);
      // A torque at rest that is none once the flow is closed for good.
      if (balanced.speed < 0.0) return hold(solver);
      return {.point = balanced, .settling = Settling::turning};
    }
    flow_per_speed = (high.mass_flow - low.mass_flow) / step;
    step *= step_growth;
    low = high;
  }
  return {.point = low, .settling = Settling::runs_away};
}

/// Range of total pressures ahead of the inducer that a starting airflow is looked for in [Pa].
constexpr double least_supply = 10.0;
constexpr double greatest_supply = 60e3;  // beyond any fan

/// The engine alone at a speed, fed with a total pressure that leaves no torque over.
class Fed {
 public:
  Fed(const engine::Prepared& engine, const air::Ambient& ambient, double speed)
      : engine_(engine), ambient_(ambient), speed_(speed) {}

  /// Flow and pressure together; unset where that does not settle on a falling residual.
  [[nodiscard]] double airflow_quickly() const {
    constexpr double longest_step = 0.5;
    constexpr double nudge = 1e-4;
    const double flow = ambient_.density * engine_.compressor.inlet_area * 0.5 * speed_ *
                        engine_.compressor.inlet_radius;
    const double tip = speed_ * engine_.compressor.tip_radius;
    const double pressure = 0.5 * ambient_.density * tip * tip;
    const double torque =
        engine::bearing_torque(engine_, speed_) + pressure * flow / ambient_.density / speed_;
    const auto residuals = [&](const std::array<double, 2>& x) {
      const auto path = march(x[0] * flow, x[1] * pressure);
      return std::array<double, 2>{path.pressure_residual / pressure,
                                   engine::net_torque(engine_, path, speed_) / torque};
    };
    const std::array<double, 2> start{1.0, 1.0};
    const auto at_start = residuals(start);
    const auto by_flow = residuals({1.0 + nudge, 1.0});
    const auto by_pressure = residuals({1.0, 1.0 + nudge});
    std::array<std::array<double, 2>, 2> slopes{};
    for (std::size_t i = 0; i < slopes.size(); ++i) {
      slopes[i] = {(by_flow[i] - at_start[i]) / nudge, (by_pressure[i] - at_start[i]) / nudge};
    }
    const auto root = solve_pair(residuals, start, slopes, longest_step);
    const double supply = root.at[1] * pressure;
    if (!root.converged || !(root.at[0] > 0.0) || supply < least_supply ||
        supply > greatest_supply) {
      return unset;
    }
    const double rise = residuals({root.at[0] * (1.0 + nudge), root.at[1]})[0] -
                        residuals({root.at[0] * (1.0 - nudge), root.at[1]})[0];
    return rise < 0.0 ? root.at[0] * flow : unset;
  }

  /// Nested brackets; unset if no pressure of the range will do.
  [[nodiscard]] double airflow_surely() const {
    constexpr unsigned bits = 40;
    double flow = unset;
    const auto torque = [&](double pressure) {
      flow = engine::flow_at_speed(engine_,
                                   ambient_,
                                   {.total_pressure = ambient_.pressure + pressure,
                                    .total_temperature = ambient_.temperature},
                                   speed_);
      return engine::net_torque(engine_, march(flow, pressure), speed_);
    };
    const double at_least = torque(least_supply);
    const double at_greatest = torque(greatest_supply);
    if (!(at_least <= 0.0 && at_greatest >= 0.0)) return unset;
    const auto root =
        find_root(torque, {least_supply, at_least}, {greatest_supply, at_greatest}, bits);
    (void)torque(root.middle());
    return flow;
  }

 private:
  [[nodiscard]] engine::GasPath march(double flow, double pressure) const {
    return engine::march(engine_,
                         ambient_,
                         {.mass_flow = flow,
                          .speed = speed_,
                          .inlet_total_pressure = ambient_.pressure + pressure,
                          .inlet_total_temperature = ambient_.temperature});
  }

  const engine::Prepared& engine_;
  const air::Ambient& ambient_;
  double speed_;
};

/// Airflow with which the engine alone settles at a speed; unset if the model has none.
double airflow_at_speed(const engine::Prepared& engine, const air::Ambient& ambient, double speed) {
  const Fed fed(engine, ambient, speed);
  const double quick = fed.airflow_quickly();
  return std::isfinite(quick) ? quick : fed.airflow_surely();
}

double guard_coefficient(const Parts& parts, const Rig& rig, const Coefficients& c) {
  if (parts.guard.kind == blockage::GuardKind::none) return 0.0;
  const double area_ratio = rig.throat_area / area_of(parts.guard.diameter);
  const double approach = c.bench.usual_throat_share * rig.open.exit_velocity * area_ratio;
  const double reynolds = rig.ambient.density * approach / parts.guard.open_area *
                          parts.guard.wire_diameter / rig.ambient.viscosity;
  return blockage::screen_loss(parts.guard, reynolds, c.blockage).coefficient * area_ratio *
         area_ratio;
}

/// The fan or blower as an obstacle.
blockage::ParkedFan obstacle(const Parts& parts) {
  if (const auto* fan = std::get_if<fan::Fan>(&parts.source)) {
    return {.outer_diameter = fan->outer_diameter,
            .bore_diameter = fan->bore_diameter,
            .hub_diameter = fan->hub_diameter,
            .parked = parts.parked};
  }
  const auto& stream = std::get<fan::Stream>(parts.source);
  return {.outer_diameter = parts.fan_outer_diameter,
          .bore_diameter = stream.exit_diameter,
          .hub_diameter = stream.hub_diameter,
          .parked = parts.parked};
}

void set_blockage(Rig& rig, const Parts& parts, const Coefficients& c, double throat) {
  const auto fan = obstacle(parts);
  rig.blockage = blockage::prepare({.throat_diameter = throat,
                                    .mouth_diameter = rig.mouth.diameter,
                                    .mass_flow = running_airflow(parts, rig, c),
                                    .nozzle_pressure_ratio = parts.running.nozzle_pressure_ratio},
                                   &fan,
                                   parts.struts,
                                   parts.guard,
                                   rig.ambient,
                                   c.blockage,
                                   c.air);
}

/// A stream of stated flow with a hub runs faster beside the hub's wake: the speed and the area
/// that carry its flow and its thrust.
fan::Prepared round_hub(fan::Prepared stream, const jet::Coefficients& c) {
  const auto ring = jet::ring({.rim_radius = stream.rim_radius,
                               .area = stream.exit_area,
                               .hub_radius = stream.hub_radius,
                               .hub_end = stream.hub_end},
                              c);
  stream.velocity *= ring.speed;
  stream.stream_area *= ring.area;
  stream.exit_area *= ring.area;
  return stream;
}

void set_fan(Rig& rig) {
  rig.open = fan::operate(rig.fan, rig.throttle);
  rig.response = tabulate(rig.fan, rig.throttle, rig.open);
  rig.jet.exit = fan::jet_exit(rig.fan, rig.open);
  rig.jet.wind_ratio = rig.ambient.wind / rig.open.exit_velocity;
}

/// The regime that the exit, vanes and hub suggest, or a bound of it.
void guess_regime(Rig& rig) {
  const auto& c = rig.jet_coefficients;
  rig.jet_source = rig.jet_choice == JetChoice::estimated ? JetSource::estimated : JetSource::bound;
  switch (rig.jet_choice) {
    case JetChoice::nozzle_like:
      rig.propeller_share = 0.0;
      break;
    case JetChoice::propeller_like:
      rig.propeller_share = jet::largest_propeller_share(rig.jet.exit, rig.straightened, c);
      break;
    case JetChoice::estimated:
      rig.propeller_share = jet::propeller_share(rig.jet.exit, rig.straightened, c);
      break;
  }
  rig.jet.regime = jet::regime(rig.propeller_share, c);
}

void set_regime(Rig& rig, const Parts& parts, const Coefficients& c, JetChoice choice) {
  const auto* fan = std::get_if<fan::Fan>(&parts.source);
  rig.jet_choice = choice;
  rig.straightened = fan == nullptr || fan->vanes == fan::Vanes::yes;
  const bool measured = !parts.axis_readings.empty();
  if (choice != JetChoice::estimated || (!measured && !std::isfinite(parts.propeller_share))) {
    guess_regime(rig);
    return;
  }
  if (measured) {
    const auto& pack = parts.drive.pack;
    const bool pack_as_read = pack.state_of_charge >= 1.0 && std::isnan(pack.temperature);
    double head = rig.open.dynamic_head;
    double throttle = pack_as_read ? parts.throttle : unset;  // that the head belongs to
    std::vector<jet::AxisReading> readings;
    for (const auto& reading : parts.axis_readings) {
      if (fan != nullptr && reading.throttle != throttle) {
        throttle = reading.throttle;
        head = readings_head(parts, c, throttle);
      }
      readings.push_back({.distance = reading.distance,
                          .radius = reading.radius,
                          .ratio = reading.pressure / head});
    }
    const auto fit = jet::fit_readings(rig.jet, readings, c.jet);
    rig.jet_source = JetSource::readings;
    rig.propeller_share = fit.propeller_share;
    rig.readings_misfit = fit.misfit;
    rig.readings_at_bound = fit.at_bound;
  } else {
    rig.jet_source = JetSource::stated;
    rig.propeller_share = parts.propeller_share;
  }
  rig.jet.regime = jet::regime(rig.propeller_share, c.jet);
}

/// Rotation of the fan nobody knows: the sense that brings less air, found at two exit diameters.
void set_sense(Rig& rig, Sense sense) {
  if (rig.jet.exit.swirl_number <= 0.0 || rig.engine.resistance_only) return;
  if (sense != Sense::unknown) {
    rig.swirl_sense = sense == Sense::same ? 1.0 : -1.0;
    return;
  }
  const double probe = 4.0 * rig.jet.exit.rim_radius;
  rig.swirl_sense = 1.0;
  const double with_rotor = deliver(rig, probe).airflow;
  rig.swirl_sense = -1.0;
  if (with_rotor < deliver(rig, probe).airflow) rig.swirl_sense = 1.0;
}

void set_need(Rig& rig, const StartNeed& need) {
  if (rig.engine.resistance_only) {
    rig.starting_airflow = need.airflow;
    return;
  }
  if (std::isfinite(need.airflow)) {
    rig.starting_airflow = need.airflow;
    return;
  }
  rig.lightoff_speed =
      std::isfinite(need.rotor_speed) ? need.rotor_speed : rig.engine.lightoff_speed;
  rig.starting_airflow = airflow_at_speed(rig.engine, rig.ambient, rig.lightoff_speed);
}

/// Excess pressure at the fan's exit [Pa].
double back_pressure(const Rig& rig, double excess) {
  if (excess == 0.0) return 0.0;
  const double velocity = rig.fan.holds_flow ? 1.0 : respond(rig.response, excess).velocity;
  return excess * rig.open.dynamic_head * velocity * velocity;
}

Delivery told(const Rig& rig, double stand_off, const Settled& settled, int marches) {
  const auto& [point, settling] = settled;
  const auto& state = point.state;
  return {.stand_off = stand_off,
          .airflow = point.mass_flow,
          .rotor_speed = settling == Settling::no_rotor ? 0.0 : point.speed,
          .total_pressure = state.total_pressure,
          .inducer_pressure = state.inducer_pressure,
          .wheel_pressure = state.wheel_pressure,
          .back_pressure = back_pressure(rig, state.excess),
          .capture_ratio = state.capture_ratio,
          .jet_speed = state.speed,
          .inlet_swirl = state.swirl,
          .flame_holder_velocity = point.path.flame_holder_velocity,
          .settling = settling,
          .converged = point.converged,
          .choked = point.path.choked,
          .marches = marches};
}

}  // namespace

double readings_head(const Parts& parts, const Coefficients& c, double throttle) {
  auto drive = parts.drive;
  drive.pack.state_of_charge = 1.0;
  drive.pack.temperature = unset;
  const auto fan = fan::prepare(std::get<fan::Fan>(parts.source),
                                drive,
                                air::make_ambient(c.air, parts.site),
                                c.fan,
                                c.drive);
  return fan::operate(fan, throttle).dynamic_head;
}

double running_airflow(const Parts& parts, const Rig& rig, const Coefficients& c) {
  if (std::isfinite(parts.running.airflow)) return parts.running.airflow;
  const double gamma = air::gamma(c.air, rig.ambient.temperature);
  const double gas = air::gas_constant(c.air);
  const double mach = c.bench.running_inducer_mach;
  const double heating = 1.0 + 0.5 * (gamma - 1.0) * mach * mach;
  return rig.ambient.pressure * rig.throat_area * mach *
         std::sqrt(gamma / (gas * rig.ambient.temperature)) *
         std::pow(heating, -0.5 * (gamma + 1.0) / (gamma - 1.0));
}

ResponsePoint respond(const Response& response, double back_pressure_ratio) {
  constexpr std::size_t last = Response::points - 1;
  constexpr auto steps = static_cast<double>(last);
  const double place = std::min(position(std::max(0.0, back_pressure_ratio)), steps);
  const auto i = std::min(static_cast<std::size_t>(place), last - 1);
  const double t = place - static_cast<double>(i);
  const double rest = 1.0 - t;
  const double rise = response.velocity[i + 1] - response.velocity[i];
  const double a = response.slope[i] - rise;
  const double b = rise - response.slope[i + 1];
  const double by_place = rise + (1.0 - 2.0 * t) * (a * rest + b * t) + t * rest * (b - a);
  const double place_by_ratio =
      back_pressure_ratio > Response::greatest
          ? 0.0
          : steps / std::log1p(Response::greatest) / (1.0 + back_pressure_ratio);
  return {.velocity = response.velocity[i] + t * (rise + rest * (a * rest + b * t)),
          .slope = by_place * place_by_ratio};
}

Rig assemble(const Parts& parts, const Coefficients& c, JetChoice choice) {
  Rig rig;
  rig.ambient = air::make_ambient(c.air, parts.site);
  rig.throttle = parts.throttle;
  rig.fan =
      std::holds_alternative<fan::Fan>(parts.source)
          ? fan::prepare(std::get<fan::Fan>(parts.source), parts.drive, rig.ambient, c.fan, c.drive)
          : round_hub(fan::prepare(std::get<fan::Stream>(parts.source), rig.ambient), c.jet);
  rig.jet_coefficients = c.jet;
  rig.capture_coefficients = c.capture;
  rig.mounting = parts.mounting;
  // Of a bare pipe mouth and throat are one edge: neither varies past the other.
  rig.mouth = {
      .diameter = std::fmax(parts.engine.mouth.diameter, parts.engine.mouth.throat_diameter),
      .face_diameter = parts.engine.mouth.face_diameter};
  set_fan(rig);
  set_regime(rig, parts, c, choice);
  const double throat = parts.engine.mouth.throat_diameter;
  rig.throat_area = area_of(throat);
  rig.entry_loss = blockage::entry_loss({.throat_diameter = throat,
                                         .lip_radius = parts.engine.mouth.lip_radius,
                                         .mouth_diameter = rig.mouth.diameter,
                                         .face_diameter = rig.mouth.face_diameter,
                                         .wall_thickness = parts.wall_thickness},
                                        c.blockage)
                       .coefficient;
  rig.guard_loss = guard_coefficient(parts, rig, c);
  rig.engine = engine::prepare(parts.engine, c.engine, c.air);
  set_blockage(rig, parts, c, throat);
  set_sense(rig, parts.sense);
  set_need(rig, parts.start);
  return rig;
}

Rig with_throttle(const Rig& rig, double throttle) {
  Rig other = rig;
  other.throttle = throttle;
  set_fan(other);
  return other;
}

Rig with_nozzle(const Rig& rig, double nozzle_diameter) {
  Rig other = rig;
  other.fan = fan::with_nozzle(rig.fan, nozzle_diameter);
  set_fan(other);
  if (rig.jet_source == JetSource::estimated || rig.jet_source == JetSource::bound) {
    guess_regime(other);
  }
  return other;
}

Delivery deliver(const Rig& rig, double stand_off) {
  if (!blows(rig)) return told(rig, stand_off, {.point = no_flow()}, 0);
  Supply supply(rig, stand_off);
  Solver solver(rig, supply);
  const auto settled = settle(rig, solver);
  return told(rig, stand_off, settled, solver.marches());
}

fan::Operating fan_operation(const Rig& rig, const Delivery& delivery) {
  return fan::operate(
      rig.fan, rig.throttle, back_pressure_ratio(rig, delivery.stand_off, delivery.airflow));
}

bool has_second_branch(const Rig& rig, double stand_off) {
  constexpr int steps = 60;
  const auto first = deliver(rig, stand_off);
  if (first.settling != Settling::turning && first.settling != Settling::at_rest) return false;
  Supply supply(rig, stand_off);
  Solver solver(rig, supply);
  Point point = solver.at_rest(loose);
  const double end = speed_range * rig.engine.design_speed;
  bool rose = false;
  for (int i = 1; i <= steps; ++i) {
    const double speed = end * static_cast<double>(i) / static_cast<double>(steps);
    point = solver.at_speed(speed, point.mass_flow, point, loose);
    if (!point.converged) return false;
    if (speed > first.rotor_speed && point.torque > 0.0) rose = true;
    if (rose && point.torque < 0.0) return true;
  }
  return false;
}

}  // namespace windgap::rig
