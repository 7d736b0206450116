#include "cooling/scene.h"

#include "support/bench.h"
#include "support/models.h"

namespace windgap::test {
cooling::Network network_of(const rig::Parts& parts) {
  cooling::Build build;
  (void)cooling::fill_fallbacks(
      build, parts.engine, models().engine, cooling_models(), material_models());
  return cooling::prepare_network(build,
                                  parts.engine,
                                  models().engine,
                                  cooling_models(),
                                  material_models(),
                                  air::make_ambient(models().air, parts.site),
                                  models().air);
}

const rig::Rig& garden_rig() {
  static const rig::Rig rig = rig::assemble(garden_parts(), models(), rig::JetChoice::estimated);
  return rig;
}

const cooling::Scene& garden_scene() {
  static const cooling::Scene scene = [] {
    cooling::Scene s;
    s.network = network_of(garden_parts());
    const cooling::Run run{.gas_temperature = 950.0, .airflow = 0.20, .seconds = 600.0};
    s.start = cooling::after_running(
        s.network, run, cooling::fire_of(run, garden_rig(), cooling_models()));
    s.limits = cooling::limits_for({}, cooling_models());
    return s;
  }();
  return scene;
}

cooling::Network bare_network(double specific_heat) {
  cooling::Network n;
  n.ambient = air::make_ambient(models().air, {});
  n.air = models().air;
  n.coefficients = cooling_models();
  n.mass.fill(1.0);
  const Table constant{.x = {200.0, 1400.0}, .y = {specific_heat, specific_heat}};
  n.content.fill(cooling::HeatContent(constant));
  n.bearing_resistance = 0.0;
  return n;
}

}  // namespace windgap::test
