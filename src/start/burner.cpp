#include "start/burner.h"

#include <algorithm>
#include <cmath>

namespace windgap::start {
namespace {

/// Enthalpy that a kg of burnt fuel adds to the gas [J/kg]: mixtures are linear in the burnt mass.
double products_enthalpy(const air::Coefficients& air, double temperature) {
  return 2.0 * air::enthalpy(air, temperature, 1.0) - air::enthalpy(air, temperature);
}

}  // namespace

double loading(const Burner& burner, const BurnerInlet& inlet) noexcept {
  const double pressure =
      std::exp(burner.pressure_exponent * std::log(inlet.pressure / burner.loading_pressure));
  const double warmth =
      std::exp(burner.temperature_rate * (inlet.temperature - burner.temperature_datum));
  return inlet.mass_flow / (burner.volume * pressure * warmth);
}

double coldness(const Burner& burner, double wall) noexcept {
  return std::clamp(
      (burner.ready_temperature - wall) / (burner.ready_temperature - burner.cold_temperature),
      0.0,
      1.0);
}

double efficiency(const Burner& burner,
                  // NOLINTNEXTLINE(bugprone-easily-swappable-parameters): as they act
                  double loading,
                  double liquid_share,
                  double tube_temperature) noexcept {
  const double vaporized = 1.0 - liquid_share * coldness(burner, tube_temperature) *
                                     (1.0 - burner.cold_liquid_efficiency);
  return vaporized / (1.0 + loading / burner.half_loading);
}

double flame_temperature(const air::Coefficients& air, const Heat& heat) noexcept {
  const double enthalpy =
      air::enthalpy(air, heat.air_temperature) + heat.burnt * heat.heating_value;
  const double alike = heat.product_heat * heat.burnt;
  return air::temperature_at_enthalpy(air, enthalpy / (1.0 + alike), alike);
}

double burnt_ratio_for(const air::Coefficients& air, const Wanted& wanted) noexcept {
  const double gained =
      air::enthalpy(air, wanted.temperature) - air::enthalpy(air, wanted.air_temperature);
  return (gained + wanted.lost) /
         (wanted.heating_value - wanted.product_heat * products_enthalpy(air, wanted.temperature));
}

Window flammable(const Burner& burner,
                 const Mixture& mixture,
                 double loading,
                 FlameState state) noexcept {
  const double share = loading / burner.greatest_loading;
  const double closing = share * share;
  const double lean = mixture.lean_limit *
                      (state == FlameState::unlit ? burner.lightoff_lean : burner.blowout_lean);
  const double rich = mixture.rich_limit * burner.rich_share;
  return {.lean = lean + (1.0 - lean) * closing, .rich = rich - (rich - 1.0) * closing};
}

double primary_equivalence(const Burner& burner,
                           const Mixture& mixture,
                           double fuel_air_ratio) noexcept {
  return fuel_air_ratio / (burner.primary_share * mixture.stoichiometric_ratio);
}

Flame judge_flame(const Burner& burner,
                  const Mixture& mixture,
                  const FlameInputs& inputs,
                  FlameState state) noexcept {
  const double velocity =
      state == FlameState::unlit ? burner.lightoff_velocity : burner.burning_velocity;
  if (inputs.flame_holder_velocity > velocity) return Flame::too_fast;
  if (inputs.loading > burner.greatest_loading) return Flame::overloaded;
  const Window window = flammable(burner, mixture, inputs.loading, state);
  const double ratio = primary_equivalence(burner, mixture, inputs.fuel_air_ratio);
  if (ratio < window.lean) return Flame::too_lean;
  if (ratio > window.rich) return Flame::too_rich;
  return Flame::holds;
}

}  // namespace windgap::start
