#include "cooling/heat_flow.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace windgap::cooling {
namespace {

double square(double x) { return x * x; }
double fourth(double x) { return square(square(x)); }

constexpr double last_step = OutsideLoss::steps;

/// Excess temperature at a place of the table [K]: it grows with the place's square.
double excess_at(const Network& n, double place) {
  return (hottest_tabulated - n.ambient.temperature) * square(place / last_step);
}

struct Place {
  std::size_t piece;
  double share;
};

Place place_of(const Network& n, double temperature) {
  const double part = (temperature - n.ambient.temperature) /
                      (hottest_tabulated - n.ambient.temperature) * square(last_step);
  const double place = std::min(std::sqrt(std::max(0.0, part)), last_step - 1.0);
  const auto i = static_cast<std::size_t>(place);
  const double from = square(static_cast<double>(i));
  const double to = square(static_cast<double>(i) + 1.0);
  return {.piece = i, .share = (part - from) / (to - from)};
}

OutsideLoss tabulate(const Network& n, const Outside& outside, double stray_speed) {
  OutsideLoss loss;
  if (outside.area <= 0.0) return loss;
  const double room = n.ambient.temperature;
  const auto& c = n.coefficients.convection;
  for (std::size_t i = 1; i <= OutsideLoss::steps; ++i) {
    const double wall = room + excess_at(n, static_cast<double>(i));
    const double film = 0.5 * (wall + room);
    const double density = n.ambient.density * room / film;
    const double viscosity = air::viscosity(n.air, film);
    const double conductivity = air::conductivity(n.air, film);
    const double prandtl = viscosity * air::specific_heat(n.air, film) / conductivity;
    const double grashof = n.air.gravity * (wall - room) / film * square(density / viscosity) *
                           outside.diameter * square(outside.diameter);
    const double natural = cylinder_in_still_air(c, grashof * prandtl, prandtl);
    const double reynolds = density * stray_speed * outside.diameter / viscosity;
    const double nusselt = stray_speed > 0.0
                               ? blend(c, natural, cylinder_in_cross_flow(c, reynolds, prandtl))
                               : natural;
    loss.convection[i] = outside.area * nusselt * conductivity / outside.diameter * (wall - room);
    loss.radiation[i] = outside.area * radiation_to_room({
                                           .emissivity = interpolate(outside.emissivity, wall),
                                           .temperature = wall,
                                           .ambient_temperature = room,
                                       });
  }
  return loss;
}

Condition make_condition(const Network& n, double stray_speed) {
  Condition condition;
  for (std::size_t i = 0; i < part_count; ++i) {
    condition.outside[i] = tabulate(n, n.outside[i], stray_speed);
  }
  return condition;
}

/// Straight pieces; below the room's temperature the first goes on, above the last one too.
double read(const std::array<double, OutsideLoss::steps + 1>& loss, const Place& place) {
  return loss[place.piece] + place.share * (loss[place.piece + 1] - loss[place.piece]);
}

/// Air on its way through the engine.
struct Stream {
  double airflow = 0.0;      ///< [kg/s]
  double temperature = 0.0;  ///< [K]
};

struct Wall {
  double conductance = 0.0;  ///< film coefficient times area [W/K]
  double temperature = 0.0;  ///< [K]
};

enum class Law { duct, power };

/// Film coefficient in a passage [W/(m^2 K)] (Eqs. 4 to 7).
double film(const Network& n, const Passage& p, const Stream& air, double wall, Law law) {
  const double mean = 0.5 * (air.temperature + wall);
  const double reynolds =
      p.flow_share * air.airflow * p.diameter / (p.section * air::viscosity(n.air, mean));
  const Heat heat = wall > air.temperature ? Heat::to_fluid : Heat::from_fluid;
  const double nusselt =
      law == Law::duct ? duct(n.duct, reynolds) : passage(n.duct, reynolds, heat);
  return p.enhancement * nusselt * air::conductivity(n.air, mean) / p.diameter;
}

double capacity_rate(const Network& n, const Stream& air, double wall) {
  return air.airflow * air::specific_heat(n.air, 0.5 * (air.temperature + wall));
}

/// Air along one wall: what the wall gives [W]; the air leaves warmer (Eq. 14).
double along(const Network& n, const Passage& p, double wall, Stream& air, Law law) {
  const double rate = capacity_rate(n, air, wall);
  const double heat = heat_along_wall({.conductance = film(n, p, air, wall, law) * p.area,
                                       .capacity_rate = rate,
                                       .inlet = air.temperature,
                                       .wall = wall});
  air.temperature += heat / rate;
  return heat;
}

/// Air between two walls: what each gives [W].
std::pair<double, double> between(const Network& n, const Wall& a, const Wall& b, Stream& air) {
  const double sum = a.conductance + b.conductance;
  const double wall = (a.conductance * a.temperature + b.conductance * b.temperature) / sum;
  const double rate = capacity_rate(n, air, wall);
  const double heat = heat_along_wall(
      {.conductance = sum, .capacity_rate = rate, .inlet = air.temperature, .wall = wall});
  const double mean = wall - heat / sum;
  air.temperature += heat / rate;
  return {a.conductance * (a.temperature - mean), b.conductance * (b.temperature - mean)};
}

using Given = PerPart<double>;

/// Air from the inlet to the turbine's wheel; `given` collects what the walls give.
void to_wheel(const Network& n, const Temperatures& t, Stream& air, Given& given) {
  constexpr auto liner = index(Part::liner);
  constexpr auto casing = index(Part::casing);
  constexpr auto housing = index(Part::turbine_housing);
  constexpr auto compressor = index(Part::compressor);
  given[compressor] += along(n, n.compressor, t[compressor], air, Law::duct);
  const double side = film(n, n.annulus, air, 0.5 * (t[liner] + t[casing]), Law::duct);
  const auto [from_liner, from_casing] =
      between(n, {side * n.annulus.area, t[liner]}, {side * n.casing_area, t[casing]}, air);
  given[liner] += from_liner + along(n, n.tube, t[liner], air, Law::duct);
  given[casing] += from_casing;
  given[housing] += along(n, n.scroll, t[housing], air, Law::duct);
}

/// Where a sequence of three that closes in geometrically ends (Aitken).
double limit_of(double first, double second, double third) {
  const double bend = third - 2.0 * second + first;
  return std::abs(bend) > 1e-9 * third ? third - square(third - second) / bend : third;
}

/// The purge's flow and the air's temperature ahead of the turbine, brought into step: the warming
/// hardly depends on the flow, so that each round shrinks the error about tenfold.
void blow(const Network& n,
          const PurgeFlow& purge,
          const Temperatures& t,
          HeatFlows& flows,
          Given& given) {
  Stream air;
  const auto warmed = [&](double ahead) {
    air = {.airflow = purge_airflow(purge, ahead), .temperature = n.ambient.temperature};
    given = {};
    to_wheel(n, t, air, given);
    return air.temperature;
  };
  const double guess = 0.5 * (n.ambient.temperature + t[index(Part::turbine_housing)]);
  const double once = warmed(guess);
  const double twice = warmed(once);
  flows.turbine_temperature = warmed(limit_of(guess, once, twice));
  flows.airflow = air.airflow;
  given[index(Part::rotor)] += along(n, n.wheel, t[index(Part::rotor)], air, Law::power);
  flows.exit_temperature = air.temperature;
}

/// Compressor warmed by its delivery, liner between fire and delivery, housing and wheel in the
/// gas.
void burn(
    const Network& n, const Fire& fire, const Temperatures& t, HeatFlows& flows, Given& given) {
  constexpr auto liner = index(Part::liner);
  constexpr auto compressor = index(Part::compressor);
  Stream air{.airflow = fire.airflow,
             .temperature = 0.5 * (n.ambient.temperature + fire.delivery_temperature)};
  given[compressor] += along(n, n.compressor, t[compressor], air, Law::duct);
  air.temperature = fire.delivery_temperature;
  const double side = film(n, n.annulus, air, t[liner], Law::duct);
  const auto [from_liner, from_casing] = between(
      n, {side * n.annulus.area, t[liner]}, {side * n.casing_area, t[index(Part::casing)]}, air);
  air.temperature = fire.gas_temperature;
  const auto& c = n.coefficients;
  const double flame = n.tube.area * radiation_to_room({
                                         .emissivity = c.flame_emissivity,
                                         .temperature = t[liner],
                                         .ambient_temperature = c.flame_temperature,
                                     });
  given[liner] += from_liner + along(n, n.tube, t[liner], air, Law::duct) + flame;
  given[index(Part::casing)] += from_casing;
  air.temperature = fire.gas_temperature;
  given[index(Part::turbine_housing)] +=
      along(n, n.scroll, t[index(Part::turbine_housing)], air, Law::duct);
  flows.airflow = air.airflow;
  flows.turbine_temperature = air.temperature;
  given[index(Part::rotor)] += along(n, n.wheel, t[index(Part::rotor)], air, Law::power);
  flows.exit_temperature = air.temperature;
}

double link_heat(const Network& n, const Link& link, const Temperatures& t) {
  const double from = t[index(link.from)];
  const double to = t[index(link.to)];
  double heat = link.conductance * (from - to) + link.radiation * (fourth(from) - fourth(to));
  if (link.gap > 0.0) heat += link.gap * air::conductivity(n.air, 0.5 * (from + to)) * (from - to);
  return heat;
}

double oil_heat(const Network& n, double housing) {
  return heat_along_wall({.conductance = n.oil_conductance,
                          .capacity_rate = n.oil_flow * n.oil_specific_heat,
                          .inlet = n.oil_temperature,
                          .wall = housing});
}

}  // namespace

Condition standing(const Network& network, Pump pump) {
  Condition condition = make_condition(network, 0.0);
  condition.pump = pump;
  return condition;
}

Condition purging(const Network& network, const PurgeFlow& purge, Pump pump) {
  Condition condition =
      make_condition(network, network.coefficients.stray_share * purge.stray_speed);
  condition.pump = pump;
  condition.purge = purge;
  return condition;
}

Condition running(const Network& network, const Fire& fire) {
  Condition condition = make_condition(network, 0.0);
  condition.pump = Pump::on;
  condition.fire = fire;
  return condition;
}

HeatFlows heat_flows(const Network& n, const Condition& condition, const Temperatures& t) noexcept {
  HeatFlows flows;
  Given given{};
  if (condition.purge && condition.purge->flows()) blow(n, *condition.purge, t, flows, given);
  if (condition.fire) burn(n, *condition.fire, t, flows, given);
  for (const double heat : given) flows.to_air += heat;
  for (const auto& link : n.links) {
    const double heat = link_heat(n, link, t);
    given[index(link.from)] += heat;
    given[index(link.to)] -= heat;
  }
  if (condition.pump == Pump::on) {
    flows.to_oil = oil_heat(n, t[index(Part::centre_housing)]);
    given[index(Part::centre_housing)] += flows.to_oil;
  }
  for (std::size_t i = 0; i < part_count; ++i) {
    if (n.outside[i].area > 0.0) {
      const Place place = place_of(n, t[i]);
      const double convection = read(condition.outside[i].convection, place);
      const double radiation = read(condition.outside[i].radiation, place);
      flows.to_room_by_convection += convection;
      flows.to_room_by_radiation += radiation;
      given[i] += convection + radiation;
    }
    flows.into[i] = -given[i];
  }
  return flows;
}

double bearing_temperature(const Network& n, const Temperatures& t) noexcept {
  double heat = 0.0;
  for (const auto& link : n.links) {
    if (link.to == Part::centre_housing) heat += link_heat(n, link, t);
  }
  return t[index(Part::centre_housing)] + n.bearing_resistance * heat;
}

double largest_biot(const Network& n, const Condition& condition, const Temperatures& t) {
  if (!condition.purge) return 0.0;
  const Stream air{.airflow = condition.purge->airflow.front(),
                   .temperature = n.ambient.temperature};
  const auto biot = [&](const Passage& p, Part part, Law law) {
    return film(n, p, air, t[index(part)], law) * n.half_wall[index(part)];
  };
  return std::max({biot(n.compressor, Part::compressor, Law::duct),
                   biot(n.annulus, Part::casing, Law::duct),
                   biot(n.tube, Part::liner, Law::duct),
                   biot(n.scroll, Part::turbine_housing, Law::duct),
                   biot(n.wheel, Part::rotor, Law::power)});
}

}  // namespace windgap::cooling
