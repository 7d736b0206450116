#include "engine/rotor.h"

#include <gtest/gtest.h>

#include <cmath>

#include "engine/examples.h"

namespace windgap::engine {
namespace {

TEST(Rotor, StatedInertiaAndMassStand) {
  Engine e = example::calipers();
  e.rotor.inertia = 3e-5;
  e.rotor.mass = 0.3;
  EXPECT_EQ(rotor_inertia(e, example::coefficients().engine), 3e-5);
  EXPECT_EQ(rotor_mass(e, example::coefficients().engine), 0.3);
}

TEST(Rotor, InertiaGrowsWithTheFifthPowerOfSize) {
  Engine small = example::filled();
  small.rotor = {};
  Engine large = small;
  large.compressor.exducer_diameter *= 2.0;
  large.turbine.inducer_diameter *= 2.0;
  large.bearings.journal_diameter *= 2.0;
  const auto& c = example::coefficients().engine;
  EXPECT_NEAR(rotor_inertia(large, c) / rotor_inertia(small, c), 32.0, 1e-9);
  EXPECT_NEAR(rotor_mass(large, c) / rotor_mass(small, c), 8.0, 1e-9);
}

TEST(Rotor, LightOffIsAShareOfTheDesignTipSpeed) {
  const Engine e = example::filled();
  const auto& c = example::coefficients().engine;
  EXPECT_NEAR(lightoff_speed(e, c) * 0.5 * e.compressor.exducer_diameter / e.design_tip_speed,
              c.lightoff_share,
              1e-12);
}

}  // namespace
}  // namespace windgap::engine
