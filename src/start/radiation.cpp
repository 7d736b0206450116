#include "start/radiation.h"

#include <cmath>

namespace windgap::start {
namespace {

constexpr double stefan_boltzmann = 5.670374419e-8;  // [W/(m^2 K^4)], exact
constexpr double kilopascal = 1e3;                   // [Pa]

double power_1_5(double x) { return x * std::sqrt(x); }

double power_2_5(double x) { return x * x * std::sqrt(x); }

double fourth(double x) { return x * x * x * x; }

}  // namespace

Glow make_glow(const GlowInputs& inputs) {
  return {.temperature = inputs.temperature,
          .emissivity_scale = inputs.factor / kilopascal * std::sqrt(inputs.beam_length) /
                              power_1_5(inputs.temperature),
          .absorbed_share = 0.5 * (1.0 + inputs.wall_emissivity),
          .wall_emissivity = inputs.wall_emissivity};
}

double emissivity(const Glow& glow, const Flaming& flame) noexcept {
  return 1.0 - std::exp(-glow.emissivity_scale * flame.luminosity * flame.pressure *
                        std::sqrt(flame.fuel_air_ratio));
}

double flame_flux(const Glow& glow, double emissivity, double wall) noexcept {
  return stefan_boltzmann * glow.absorbed_share * emissivity * power_1_5(glow.temperature) *
         (power_2_5(glow.temperature) - power_2_5(wall));
}

double enclosed_flux(const Glow& glow, double body, double wall) noexcept {
  return stefan_boltzmann * glow.wall_emissivity * (fourth(body) - fourth(wall));
}

}  // namespace windgap::start
