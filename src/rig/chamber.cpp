#include "rig/chamber.h"

#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>

#include "engine/windmill.h"

namespace windgap::rig {
namespace {

Chamber of(const engine::GasPath& path) {
  return {.pressure = path.compressor_exit.pressure,
          .temperature = path.compressor_exit.temperature,
          .velocity = path.flame_holder_velocity};
}

}  // namespace

Chamber chamber(const Rig& rig, const Delivery& delivery) {
  if (rig.engine.resistance_only) {
    return {.pressure = rig.ambient.pressure + delivery.total_pressure,
            .temperature = rig.ambient.temperature};
  }
  return of(engine::march(rig.engine,
                          rig.ambient,
                          {.mass_flow = delivery.airflow,
                           .speed = delivery.rotor_speed,
                           .inlet_total_pressure = rig.ambient.pressure + delivery.wheel_pressure,
                           .inlet_total_temperature = rig.ambient.temperature,
                           .inlet_swirl = delivery.inlet_swirl}));
}

std::optional<Chamber> weakest_chamber(const Rig& rig) {
  if (rig.engine.resistance_only || !std::isfinite(rig.starting_airflow)) return std::nullopt;
  const auto blown = [&](double gauge) {
    return engine::windmill(rig.engine,
                            rig.ambient,
                            {.total_pressure = rig.ambient.pressure + gauge,
                             .total_temperature = rig.ambient.temperature});
  };
  const auto excess = [&](double gauge) { return blown(gauge).mass_flow - rig.starting_airflow; };
  constexpr double least = 1.0;  // [Pa]
  const double most = rig.open.dynamic_head;
  if (!(most > least) || !(excess(least) < 0.0 && excess(most) > 0.0)) return std::nullopt;
  constexpr int bits = 20;  // of the pressure; the plug does not feel the rest
  std::uintmax_t evaluations = 60;
  const auto root = boost::math::tools::toms748_solve(
      excess, least, most, boost::math::tools::eps_tolerance<double>(bits), evaluations);
  return of(blown(root.second).path);
}

}  // namespace windgap::rig
