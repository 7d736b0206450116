#include "blockage/inlet_loss.h"

#include <gtest/gtest.h>

#include <stdexcept>

#include "blockage/blockage.h"
#include "support/models.h"

namespace windgap::blockage {
namespace {

const Coefficients& shipped() { return test::models().blockage; }

TEST(InletLoss, FallsWithLipRadiusAndFaceWidth) {
  InletGeometry inlet{.throat_diameter = 0.046};
  double before = 2.0;
  for (double lip = 0.0; lip < 0.012; lip += 0.001) {
    inlet.lip_radius = lip;
    const double loss = entry_loss(inlet, shipped()).coefficient;
    EXPECT_LE(loss, before);
    before = loss;
  }
  inlet.lip_radius = 0.002;
  inlet.face_diameter = 0.060;
  const double some = entry_loss(inlet, shipped()).coefficient;
  inlet.face_diameter = 0.080;
  EXPECT_LT(entry_loss(inlet, shipped()).coefficient, some);
}

TEST(InletLoss, WideFaceActsAsAWallAndNoFaceAsNone) {
  InletGeometry inlet{.throat_diameter = 0.05, .lip_radius = 0.0025};
  EXPECT_EQ(entry_loss(inlet, shipped()).flushness, 0.0);
  EXPECT_NEAR(entry_loss(inlet, shipped()).coefficient, 0.40, 1e-9);
  inlet.face_diameter = 0.2;
  EXPECT_EQ(entry_loss(inlet, shipped()).flushness, 1.0);
  EXPECT_NEAR(entry_loss(inlet, shipped()).coefficient, 0.22, 1e-9);
}

TEST(InletLoss, LipThatStopsShortIsFlagged) {
  InletGeometry inlet{.throat_diameter = 0.05, .lip_radius = 0.01, .mouth_diameter = 0.07};
  EXPECT_TRUE(entry_loss(inlet, shipped()).in_range);
  inlet.mouth_diameter = 0.06;
  EXPECT_FALSE(entry_loss(inlet, shipped()).in_range);
}

TEST(InletLoss, RefusesAMouthNarrowerThanItsThroat) {
  EXPECT_THROW((void)entry_loss({.throat_diameter = 0.05, .mouth_diameter = 0.04}, shipped()),
               std::logic_error);
  EXPECT_THROW((void)entry_loss({}, shipped()), std::logic_error);
}

}  // namespace
}  // namespace windgap::blockage
