#include "choice/bracket.h"

#include <gtest/gtest.h>

#include <stdexcept>

#include "support/bench.h"
#include "support/models.h"

namespace windgap::choice {
namespace {

struct Mounted {
  rig::Rig rig;
  placement::Requirement need;
  placement::Placement placed;
};

Mounted mounted(double slip) {
  auto parts = test::garden_parts();
  parts.start.airflow = 0.018;
  Mounted made{.rig = rig::assemble(parts, test::models(), rig::JetChoice::nozzle_like),
               .need = test::usual_requirement(),
               .placed = {}};
  made.need.margin = 0.1;
  made.need.slip = slip;
  made.placed = placement::place(made.rig, made.need, test::placement_models(), {});
  return made;
}

Coefficients rules() {
  Coefficients c;
  c.misalignment_share = 0.5;
  return c;
}

TEST(Bracket, HoldsTheFansThrustOnItsArm) {
  const auto m = mounted(0.003);
  ASSERT_TRUE(m.placed.feasible);
  const auto b = bracket(m.rig, m.placed, m.need, 0.1, rules());
  EXPECT_EQ(b.thrust, m.placed.mount.fan.thrust);
  EXPECT_NEAR(b.moment, 0.1 * b.thrust, 1e-12);
}

TEST(Bracket, ToleratedTiltEatsItsShareOfTheMargin) {
  const auto m = mounted(0.0);
  const auto b = bracket(m.rig, m.placed, m.need, 0.1, rules());
  ASSERT_GT(b.tolerated_tilt, 0.0);
  auto tilted = m.rig;
  tilted.mounting.tilt += b.tolerated_tilt;
  EXPECT_NEAR(rig::deliver(tilted, m.placed.stand_off).airflow,
              1.05 * m.placed.starting_airflow,
              1e-4 * m.placed.starting_airflow);
}

TEST(Bracket, StiffnessBendsAClampedPostByJustTheToleratedTilt) {
  // Post of even section, height h, force F at its end: bend F h^3/(3 EI), turn F h^2/(2 EI).
  const auto m = mounted(0.0);
  constexpr double height = 0.12;
  const auto b = bracket(m.rig, m.placed, m.need, height, rules());
  const double rigidity = b.stiffness * height * height * height / 3.0;
  EXPECT_NEAR(b.thrust * height * height / (2.0 * rigidity), b.tolerated_tilt, 1e-9);
  EXPECT_NEAR(b.turning_stiffness * b.tolerated_tilt, b.moment, 1e-9);
  EXPECT_FALSE(b.held_by_slip);
}

TEST(Bracket, NeverBendsByMoreThanTheSlipThatThePlacementKeptBack) {
  const auto m = mounted(0.0002);
  const auto b = bracket(m.rig, m.placed, m.need, 0.1, rules());
  EXPECT_TRUE(b.held_by_slip);
  EXPECT_NEAR(b.bend, 0.0002, 1e-12);
}

TEST(Bracket, WithoutAMountThereIsNothingToHold) {
  const auto m = mounted(0.0);
  EXPECT_THROW((void)bracket(m.rig, {}, m.need, 0.1, rules()), std::logic_error);
}

}  // namespace
}  // namespace windgap::choice
