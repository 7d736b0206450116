#include "fan/characteristic.h"

#include <gtest/gtest.h>

#include <cmath>

namespace windgap::fan {
namespace {

Characteristic generic() {
  Characteristic curve;
  curve.work_slope = 2.2;
  curve.curvature = 1.5;
  complete(curve, 0.75);
  return curve;
}

Characteristic measured() {
  Characteristic curve;
  curve.count = 6;
  curve.flow = {0.4, 0.6, 0.7, 0.85, 1.0, 1.2};
  curve.pressure = {1.30, 1.25, 1.45, 1.30, 1.00, 0.30};
  complete(curve, unset);
  return curve;
}

TEST(Characteristic, PassesThroughTheStaticPoint) {
  EXPECT_DOUBLE_EQ(pressure_at(generic(), 1.0).value, 1.0);
  EXPECT_DOUBLE_EQ(torque_at(generic(), 1.0), 1.0);
  EXPECT_NEAR(balance(generic(), 1.0), 1.0, 1e-12);
  EXPECT_NEAR(balance(measured(), 1.0), 1.0, 1e-12);
}

TEST(Characteristic, SlopeIsTheDerivative) {
  constexpr double step = 1e-6;
  for (const auto& curve : {generic(), measured()}) {
    for (double flow = 0.05; flow < 1.4; flow += 0.0437) {
      const double slope =
          (pressure_at(curve, flow + step).value - pressure_at(curve, flow - step).value) /
          (2 * step);
      EXPECT_NEAR(pressure_at(curve, flow).slope, slope, 1e-4) << flow;
    }
  }
}

TEST(Characteristic, MeasuredCurvePassesThroughItsPointsAndStaysBetweenThem) {
  const auto curve = measured();
  for (std::size_t i = 2; i < curve.count; ++i) {
    EXPECT_NEAR(pressure_at(curve, curve.flow[i]).value, curve.pressure[i], 1e-12);
  }
  for (double flow = 0.851; flow < 0.999; flow += 0.004) {
    EXPECT_LT(pressure_at(curve, flow).value, 1.30);
    EXPECT_GT(pressure_at(curve, flow).value, 1.00);
  }
}

TEST(Characteristic, StallIsTheMaximumSeenFromHighFlow) {
  EXPECT_DOUBLE_EQ(measured().stall_flow, 0.7);
  EXPECT_DOUBLE_EQ(generic().stall_flow, 0.75);
  auto flat = generic();
  flat.work_slope = 0.5;
  complete(flat, 0.75);
  EXPECT_GT(flat.stall_flow, 0.75);
  EXPECT_NEAR(pressure_at(flat, flat.stall_flow).slope, 0.0, 1e-9);
}

TEST(Characteristic, BalanceMeetsTheResistanceAndFallsWithIt) {
  for (const auto& curve : {generic(), measured()}) {
    double before = 10.0;
    for (double resistance = 0.3; resistance < 30.0; resistance *= 1.3) {
      const double flow = balance(curve, resistance);
      EXPECT_NEAR(pressure_at(curve, flow).value, resistance * flow * flow, 1e-9) << resistance;
      EXPECT_LT(flow, before);
      before = flow;
    }
  }
}

TEST(Characteristic, TorqueStaysPositiveDownToZeroFlow) {
  for (double flow = 0.0; flow < 1.2; flow += 0.1) EXPECT_GT(torque_at(generic(), flow), 0.0);
}

}  // namespace
}  // namespace windgap::fan
