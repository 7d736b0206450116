#include "cooling/network.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "cooling/heat_flow.h"
#include "cooling/scene.h"
#include "support/bench.h"
#include "support/models.h"

namespace windgap::cooling {
namespace {

Temperatures all(double temperature) {
  Temperatures t;
  t.fill(temperature);
  return t;
}

TEST(HeatNetwork, EverythingAtRoomTemperatureExchangesNothing) {
  const auto& n = test::garden_scene().network;
  const double room = n.ambient.temperature;
  const auto purge = steady_purge({.airflow = 0.02, .coldest = room, .hottest = 900.0});
  const auto flows = heat_flows(n, purging(n, purge, Pump::off), all(room));
  for (const double heat : flows.into) EXPECT_NEAR(heat, 0.0, 1e-9);
}

TEST(HeatNetwork, WhatPartsLoseIsWhatLeaves) {
  const auto& n = test::garden_scene().network;
  const auto purge =
      steady_purge({.airflow = 0.02, .coldest = n.ambient.temperature, .hottest = 900.0});
  for (const auto& condition : {standing(n, Pump::off),
                                standing(n, Pump::on),
                                purging(n, purge, Pump::off),
                                purging(n, purge, Pump::on),
                                running(n, {0.2, 350.0, 950.0})}) {
    const auto flows = heat_flows(n, condition, test::garden_scene().start);
    double lost = 0.0;
    for (const double heat : flows.into) lost -= heat;
    EXPECT_NEAR(
        lost,
        flows.to_air + flows.to_oil + flows.to_room_by_convection + flows.to_room_by_radiation,
        1e-9 * std::abs(flows.to_room_by_radiation));
  }
}

TEST(HeatNetwork, AirCarriesNoMoreThanTheHottestWallCouldGive) {
  const auto& scene = test::garden_scene();
  const auto& n = scene.network;
  const double room = n.ambient.temperature;
  double hottest = 0.0;
  for (const double t : scene.start) hottest = std::max(hottest, t);
  for (const double airflow : {1e-5, 1e-3, 0.01, 0.03, 0.1}) {
    const auto purge = steady_purge({.airflow = airflow, .coldest = room, .hottest = 1000.0});
    const auto flows = heat_flows(n, purging(n, purge, Pump::off), scene.start);
    EXPECT_GT(flows.to_air, 0.0);
    EXPECT_LT(flows.exit_temperature, hottest);
    EXPECT_LE(flows.to_air,
              airflow * air::specific_heat(n.air, hottest) * (hottest - room) * (1.0 + 1e-9));
  }
}

TEST(HeatNetwork, MoreAirCarriesMoreHeat) {
  const auto& scene = test::garden_scene();
  const auto& n = scene.network;
  double before = 0.0;
  for (double airflow = 1e-4; airflow < 0.1; airflow *= 1.2) {
    const auto purge =
        steady_purge({.airflow = airflow, .coldest = n.ambient.temperature, .hottest = 1000.0});
    const double heat = heat_flows(n, purging(n, purge, Pump::off), scene.start).to_air;
    EXPECT_GT(heat, before);
    before = heat;
  }
}

TEST(HeatNetwork, FlowThatDependsOnTheAirsTemperatureIsBroughtIntoStep) {
  const auto& scene = test::garden_scene();
  const auto& n = scene.network;
  auto purge = steady_purge({.airflow = 0.02, .coldest = n.ambient.temperature, .hottest = 900.0});
  for (std::size_t i = 0; i < PurgeFlow::points; ++i) {
    purge.airflow[i] = 0.02 - 0.001 * static_cast<double>(i);
  }
  const auto flows = heat_flows(n, purging(n, purge, Pump::off), scene.start);
  EXPECT_NEAR(flows.airflow, purge_airflow(purge, flows.turbine_temperature), 1e-4 * flows.airflow);
}

TEST(HeatNetwork, GivenMassesAreKeptAndTheRestIsAssumed) {
  Build build;
  build.mass[index(Part::turbine_housing)] = 4.4;
  build.material[index(Part::casing)] = Material::stainless;
  const auto assumed = fill_fallbacks(build,
                                      test::garden_engine(),
                                      test::models().engine,
                                      test::cooling_models(),
                                      test::material_models());
  EXPECT_DOUBLE_EQ(build.mass[index(Part::turbine_housing)], 4.4);
  EXPECT_EQ(build.material[index(Part::casing)], Material::stainless);
  EXPECT_EQ(assumed.size(), part_count);  // six masses and the joints
  for (const auto& a : assumed) {
    EXPECT_GT(a.value, 0.0) << a.field;
    EXPECT_FALSE(a.why.empty());
  }
}

TEST(HeatNetwork, SizedMassesGrowWithTheEngine) {
  auto small = test::garden_parts();
  auto large = small;
  large.engine.turbine.inducer_diameter *= 1.5;
  large.engine.compressor.exducer_diameter *= 1.5;
  const auto a = test::network_of(small);
  const auto b = test::network_of(large);
  EXPECT_NEAR(b.mass[index(Part::turbine_housing)] / a.mass[index(Part::turbine_housing)],
              1.5 * 1.5 * 1.5,
              1e-9);
}

TEST(HeatNetwork, PartsAreThinEnoughForOneTemperatureEach) {
  const auto& scene = test::garden_scene();
  const auto purge = purge_of(scene.network, scene.start, test::garden_rig(), 0.15);
  EXPECT_LT(largest_biot(scene.network, purging(scene.network, purge, Pump::off), scene.start),
            test::cooling_models().greatest_biot);
}

TEST(HeatNetwork, AResistanceHasNoPartsToCool) {
  auto engine = test::garden_engine();
  engine.resistance = engine::Resistance{.throat_diameter = 0.046, .loss_factor = 14.0};
  Build build;
  EXPECT_THROW(
      (void)fill_fallbacks(
          build, engine, test::models().engine, test::cooling_models(), test::material_models()),
      std::logic_error);
}

TEST(HeatNetwork, AMassOfNothingIsACallersMistake) {
  const auto parts = test::garden_parts();
  Build build;
  (void)fill_fallbacks(
      build, parts.engine, test::models().engine, test::cooling_models(), test::material_models());
  build.mass[0] = -1.0;
  EXPECT_THROW((void)prepare_network(build,
                                     parts.engine,
                                     test::models().engine,
                                     test::cooling_models(),
                                     test::material_models(),
                                     test::garden_rig().ambient,
                                     test::models().air),
               std::logic_error);
}

TEST(HeatContent, EnthalpyIsTheIntegralOfSpecificHeat) {
  const HeatContent iron(test::material_models()[Material::iron].specific_heat);
  for (double t = 210.0; t < 1500.0; t += 37.0) {
    const double slope = (iron.enthalpy(t + 0.01) - iron.enthalpy(t - 0.01)) / 0.02;
    EXPECT_NEAR(slope, iron.specific_heat(t), 1e-3 * iron.specific_heat(t)) << t;
  }
}

}  // namespace
}  // namespace windgap::cooling
