#include "capture/capture.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "support/models.h"

namespace windgap::capture {
namespace {

constexpr double bore = 0.07;

const Coefficients& c() { return test::models().capture; }

jet::Shape jet_of(double hub_ratio, double swirl, double share) {
  return {.exit = {.rim_radius = bore / 2,
                   .area = std::numbers::pi * bore * bore / 4,
                   .hub_radius = hub_ratio * bore / 2,
                   .swirl_number = swirl},
          .regime = jet::regime(share, test::models().jet)};
}

Tube tube_at(const jet::Shape& shape, double diameters, double offset = 0.0) {
  return tube(jet::section(shape, diameters * bore, test::models().jet), offset, c());
}

Gap gap_at(double diameters) {
  return {.stand_off = diameters * bore,
          .rim_diameter = bore,
          .stream_area = std::numbers::pi * bore * bore / 4,
          .mouth = {.diameter = 0.98 * bore, .face_diameter = 1.3 * bore}};
}

TEST(Capture, WholeCoreArrivesWithTheExitsTotalPressure) {
  for (const double x : {0.3, 1.0, 3.0}) {
    const auto shape = jet_of(0.0, 0.0, 0.0);
    const double core = jet::section(shape, x * bore, test::models().jet).core_radius;
    for (const double share : {0.1, 0.5, 0.99}) {
      EXPECT_NEAR(swallow(tube_at(shape, x), share * core * core).pressure, 1.0, 1e-9);
    }
  }
}

TEST(Capture, MoreIsNeverBetterWithoutAWake) {
  for (const double x : {1.0, 4.0, 9.0}) {
    const auto t = tube_at(jet_of(0.0, 0.0, 0.4), x);
    double before = 2.0;
    for (double flow = 0.02; flow < 6.0; flow *= 1.2) {
      const double pressure = swallow(t, flow).pressure;
      EXPECT_LE(pressure, before + 2e-5);  // interpolation
      EXPECT_GT(pressure, 0.0);
      before = pressure;
    }
  }
}

TEST(Capture, SwallowedPowerNeverExceedsTheJets) {
  // The mean pressure times the flow is a power; the jet has no more than it left the fan with.
  for (const double x : {0.5, 2.0, 6.0, 20.0}) {
    const auto t = tube_at(jet_of(0.0, 0.0, 0.0), x);
    for (const double flow : {0.3, 1.0, 2.0, 8.0}) {
      EXPECT_LE(swallow(t, flow).pressure * flow, 1.0 + 1e-3);
    }
  }
}

TEST(Capture, SlopeIsTheDerivative) {
  const auto t = tube_at(jet_of(0.43, 0.2, 0.3), 2.0, 0.2);
  for (const double flow : {0.05, 0.21, 0.5, 1.1, 4.0}) {
    const double h = 1e-6 * flow;
    const double difference =
        (swallow(t, flow + h).pressure - swallow(t, flow - h).pressure) / (2.0 * h);
    EXPECT_NEAR(swallow(t, flow).pressure_slope, difference, 1e-4 * (1.0 + std::abs(difference)));
  }
}

TEST(Capture, TotalsAgreeWithAFinerQuadrature) {
  for (const auto& [offset, x, share] : std::vector<std::array<double, 3>>{{0.0, 0.3, 0.0},
                                                                           {0.0, 1.0, 0.3},
                                                                           {0.05, 0.5, 1.0},
                                                                           {0.12, 1.0, 1.0},
                                                                           {0.25, 3.0, 0.3},
                                                                           {0.5, 1.0, 0.0},
                                                                           {0.9, 3.0, 0.6},
                                                                           {0.1, 8.0, 1.0}}) {
    {
      const auto section = jet::section(jet_of(0.43, 0.0, share), x * bore, test::models().jet);
      const auto t = tube(section, offset, c());
      // Brute force: midpoints over a disc of 400 radii and 256 directions.
      for (const double radius : {0.3, 0.5, 0.8, 1.1}) {
        constexpr int rings = 400;
        constexpr int spokes = 256;
        double flow = 0.0;
        double power = 0.0;
        for (int i = 0; i < rings; ++i) {
          const double r = radius * (i + 0.5) / rings;
          for (int j = 0; j < spokes; ++j) {
            const double angle = 2.0 * std::numbers::pi * (j + 0.5) / spokes;
            const double from_axis = std::sqrt(
                std::max(0.0, r * r + offset * offset - 2.0 * r * offset * std::cos(angle)));
            const auto [axial, clean] = jet::local(section, from_axis);
            const double u = clean + c().wake_entering * (axial - clean);
            const double area = 2.0 * r * (radius / rings) / spokes;
            flow += u * area;
            power += u * u * u * area;
          }
        }
        EXPECT_NEAR(swallow(t, flow).pressure, power / flow, 1e-3)
            << offset << " at " << x << " share " << share << " radius " << radius;
      }
    }
  }
}

TEST(Capture, OffsetCostsMoreTheFartherItIs) {
  for (const double x : {1.0, 4.0, 8.0}) {
    double before = 2.0;
    for (const double offset : {0.0, 0.2, 0.5, 0.8, 1.0}) {
      const double pressure = swallow(tube_at(jet_of(0.0, 0.0, 0.0), x, offset), 0.3).pressure;
      EXPECT_LE(pressure, before + 1e-6);
      before = pressure;
    }
  }
}

TEST(Capture, SwirlTakesPressureFromTheMiddleAndTurnsTheAir) {
  const auto straight = tube_at(jet_of(0.0, 0.0, 0.3), 1.0);
  const auto swirling = tube_at(jet_of(0.0, 0.3, 0.3), 1.0);
  EXPECT_LT(swallow(swirling, 0.2).pressure, swallow(straight, 0.2).pressure);
  EXPECT_EQ(swallow(straight, 0.2).spin, 0.0);
  EXPECT_GT(swallow(swirling, 0.2).spin, 0.0);
}

TEST(Capture, WholeJetsSpinIsTheShafts) {
  const double swirl = 0.3;
  const auto t = tube_at(jet_of(0.0, swirl, 0.3), 3.0);
  // Angular momentum over axial momentum and rim radius, by definition of the swirl number.
  EXPECT_NEAR(t.totals[nodes].spin, swirl, 5e-3);
}

TEST(Spill, NothingTurnedAwayNothingFelt) {
  EXPECT_EQ(exit_excess(spill(gap_at(0.3), c()), 1.0), 0.0);
  EXPECT_EQ(exit_excess(spill(gap_at(0.3), c()), 1.4), 0.0);
}

TEST(Spill, FadesAsTheGapOpensAndAsMoreIsSwallowed) {
  double before = 1e9;
  for (double x = 0.1; x < 3.0; x += 0.1) {
    const double excess = exit_excess(spill(gap_at(x), c()), 0.25);
    EXPECT_LT(excess, before);
    before = excess;
  }
  EXPECT_LT(before, 1e-4);
  EXPECT_GT(exit_excess(spill(gap_at(0.4), c()), 0.1), exit_excess(spill(gap_at(0.4), c()), 0.3));
}

TEST(Spill, SlopeIsTheDerivative) {
  const auto s = spill(gap_at(0.4), c());
  const double h = 1e-6;
  EXPECT_NEAR(exit_excess_slope(s, 0.3),
              (exit_excess(s, 0.3 + h) - exit_excess(s, 0.3 - h)) / (2 * h),
              1e-6);
}

TEST(Spill, ClosingGapThrottlesLikeAnOrifice) {
  // s -> 0: all of the exit's flow through the curtain at the contraction of an orifice.
  const double s = 0.01;
  const double opening = c().rim_contraction * 4.0 * s;
  EXPECT_NEAR(exit_excess(spill(gap_at(s), c()), 0.0) * opening * opening, 1.0, 0.01);
}

TEST(Spill, AFaceSmallerThanTheJetStopsLessOfIt) {
  Gap small = gap_at(0.4);
  small.mouth = {.diameter = 0.5 * bore, .face_diameter = 0.6 * bore};
  EXPECT_LT(exit_excess(spill(small, c()), 0.2), exit_excess(spill(gap_at(0.4), c()), 0.2));
}

}  // namespace
}  // namespace windgap::capture
