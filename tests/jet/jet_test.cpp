#include "jet/jet.h"

#include <gtest/gtest.h>

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "support/models.h"

namespace windgap::jet {
namespace {

constexpr double bore = 0.07;

Exit plain_exit() { return {.rim_radius = bore / 2, .area = std::numbers::pi * bore * bore / 4}; }

Exit hubbed_exit(HubEnd end) {
  Exit exit = plain_exit();
  exit.hub_radius = 0.43 * bore / 2;
  exit.hub_end = end;
  return exit;
}

const Coefficients& c() { return test::models().jet; }

/// Integral of f(r) r over the section.
template <class Function>
double over_section(const Section& section, Function f) {
  const double edge = outer_radius(section);
  const auto integrand = [&](double r) { return f(r) * r; };
  using Rule = boost::math::quadrature::gauss_kronrod<double, 61>;
  return Rule::integrate(integrand, 0.0, section.core_radius, 8, 1e-10) +
         Rule::integrate(integrand, section.core_radius, edge, 8, 1e-10);
}

TEST(Jet, ConservesMomentumAtEveryDistanceAndRegime) {
  for (const double share : {0.0, 0.3, 0.7, 1.0}) {
    for (const double x : {0.1, 0.5, 1.0, 3.0, 6.0, 6.3, 12.0, 40.0}) {
      const Shape shape{.exit = plain_exit(), .regime = regime(share, c())};
      const auto s = section(shape, x * bore, c());
      const double momentum =
          over_section(s, [&](double r) { return std::pow(local(s, r).axial, 2); });
      EXPECT_NEAR(momentum, 0.5, 1e-4) << "share " << share << " at " << x << " D";
    }
  }
}

TEST(Jet, ConservesBothMomentaWithSwirl) {
  for (const double swirl : {0.1, 0.3, 0.5}) {
    for (const double x : {0.2, 1.0, 4.0, 10.0}) {
      Exit exit = plain_exit();
      exit.swirl_number = swirl;
      const Shape shape{.exit = exit, .regime = regime(0.5, c())};
      const auto s = section(shape, x * bore, c());
      const double axial = over_section(s, [&](double r) {
        const double u = local(s, r).axial;
        const double w = s.rotation * r * u;
        return u * u - 0.5 * w * w;
      });
      const double angular = over_section(s, [&](double r) {
        const double u = local(s, r).axial;
        return u * (s.rotation * r * u) * r;
      });
      EXPECT_NEAR(axial, 0.5, 2e-4) << swirl << " at " << x;
      EXPECT_NEAR(angular, swirl * 0.5, 1e-3 * swirl) << swirl << " at " << x;
    }
  }
}

TEST(Jet, WakeLacksTheHubsMomentumEverywhere) {
  // Momentum deficit of a wake in a uniform core: half rho U^2 times hub area times drag.
  for (const auto end : {HubEnd::blunt, HubEnd::tail_cone}) {
    const double drag = end == HubEnd::blunt ? c().wake_drag_blunt : c().wake_drag_cone;
    const Shape shape{.exit = hubbed_exit(end), .regime = regime(0.0, c())};
    const double hub = shape.exit.hub_radius / stream_radius(shape.exit);
    for (const double x : {0.0, 0.2, 1.0, 4.0}) {
      const auto s = section(shape, x * bore, c());
      const auto wake = [&](double r) {
        const double u = 1.0 - s.wake_depth * std::exp(-std::pow(r / s.wake_width, 2));
        return u * (1.0 - u) * r;
      };
      using Rule = boost::math::quadrature::gauss_kronrod<double, 61>;
      const double deficit = Rule::integrate(wake, 0.0, 8.0 * s.wake_width, 8, 1e-12);
      EXPECT_NEAR(deficit, 0.25 * hub * hub * drag, 1e-9) << x;
    }
  }
}

TEST(Jet, WakeSpreadsByItsSpeedDifference) {
  // The closed form against the law it integrates: slope of the width, by differences.
  constexpr double step = 1e-5;  // bores
  const Shape shape{.exit = hubbed_exit(HubEnd::tail_cone), .regime = regime(0.0, c())};
  for (const double x : {1.0, 2.0, 5.0, 9.0}) {
    const auto s = section(shape, x * bore, c());
    const double slope = (section(shape, (x + step) * bore, c()).wake_width -
                          section(shape, (x - step) * bore, c()).wake_width) /
                         (2.0 * step * bore / stream_radius(shape.exit));
    const double law = c().wake_spread_rate * s.wake_depth / (2.0 - s.wake_depth);
    EXPECT_NEAR(slope, law, 0.02 * law) << x;  // the smear of its start is left
  }
}

TEST(Jet, FarWakeGrowsLikeAnAxisymmetricOne) {
  // Width like the cube root of the distance (Schlichting, Boundary-layer theory, wakes behind
  // bodies of revolution; from memory). The jet around it plays no part in that.
  auto slight = c();
  slight.wake_drag_cone = 0.001;
  const Shape shape{.exit = hubbed_exit(HubEnd::tail_cone), .regime = regime(0.0, c())};
  const double near = section(shape, 10.0 * bore, slight).wake_width;
  const double far = section(shape, 80.0 * bore, slight).wake_width;
  EXPECT_NEAR(far / near, 2.0, 0.05);
}

TEST(Jet, DeadAirBehindTheHubFills) {
  for (const auto end : {HubEnd::blunt, HubEnd::tail_cone}) {
    const Shape shape{.exit = hubbed_exit(end), .regime = regime(0.0, c())};
    double before = 1.0 + 1e-12;
    for (double x = 0.0; x < 8.0; x += 0.25) {
      const double depth = section(shape, x * bore, c()).wake_depth;
      EXPECT_LT(depth, before);
      before = depth;
    }
  }
}

TEST(Jet, BluntHubLeavesTheDeeperWake) {
  const Shape blunt{.exit = hubbed_exit(HubEnd::blunt), .regime = regime(0.0, c())};
  const Shape cone{.exit = hubbed_exit(HubEnd::tail_cone), .regime = regime(0.0, c())};
  for (const double x : {0.2, 1.0, 3.0, 6.0}) {
    EXPECT_GT(section(blunt, x * bore, c()).wake_depth, section(cone, x * bore, c()).wake_depth);
  }
}

TEST(Jet, PropellerLikeJetIsWeakerEverywhere) {
  const Shape nozzle{.exit = plain_exit(), .regime = regime(0.0, c())};
  const Shape propeller{.exit = plain_exit(), .regime = regime(1.0, c())};
  for (double x = 0.7; x < 30.0; x *= 1.3) {
    EXPECT_LT(section(propeller, x * bore, c()).peak, section(nozzle, x * bore, c()).peak + 1e-12);
  }
}

TEST(Jet, RegimeMovesOneWayWithItsShare) {
  Regime before = regime(0.0, c());
  for (double share = 0.1; share <= 1.0; share += 0.1) {
    const Regime next = regime(share, c());
    EXPECT_LT(next.core_length, before.core_length);
    EXPECT_GT(next.spread_rate, before.spread_rate);
    before = next;
  }
  EXPECT_EQ(regime(-1.0, c()).core_length, c().core_length_nozzle);
  EXPECT_EQ(regime(2.0, c()).core_length, regime(1.0, c()).core_length);
}

TEST(Jet, VanesAndTailConeMakeItNozzleLike) {
  Exit swirling = hubbed_exit(HubEnd::blunt);
  swirling.swirl_number = 0.4;
  Exit straight = hubbed_exit(HubEnd::tail_cone);
  straight.swirl_number = 0.04;
  EXPECT_LT(propeller_share(straight, true, c()), 0.2);
  EXPECT_GT(propeller_share(swirling, false, c()), 0.8);
  EXPECT_EQ(propeller_share(plain_exit(), true, c()), 0.0);
  EXPECT_EQ(largest_propeller_share(swirling, false, c()), 1.0);
  EXPECT_LT(largest_propeller_share(straight, true, c()), 0.6);
}

TEST(Jet, NoWindNoBend) {
  const Shape shape{.exit = plain_exit(), .regime = regime(0.0, c())};
  EXPECT_EQ(section(shape, 5.0 * bore, c()).bend, 0.0);
}

TEST(Jet, WindBendsAndThinsTheJetMoreTheStrongerItIs) {
  double bend_before = 0.0;
  double peak_before = 1.0;
  for (const double wind : {0.02, 0.05, 0.1, 0.2}) {
    const Shape shape{.exit = plain_exit(), .regime = regime(0.0, c()), .wind_ratio = wind};
    const auto s = section(shape, 7.0 * bore, c());
    EXPECT_GT(s.bend, bend_before);
    EXPECT_LT(s.peak, peak_before);
    bend_before = s.bend;
    peak_before = s.peak;
  }
  // As strong as the jet itself: bent by more than a diameter within five.
  const Shape storm{.exit = plain_exit(), .regime = regime(0.0, c()), .wind_ratio = 1.0};
  EXPECT_GT(section(storm, 5.0 * bore, c()).bend, 2.0);
}

TEST(Jet, ReadingsGiveBackTheRegimeTheyCameFrom) {
  for (const double share : {0.0, 0.2, 0.55, 0.9}) {
    Shape truth{.exit = hubbed_exit(HubEnd::tail_cone), .regime = regime(share, c())};
    std::vector<AxisReading> readings;
    for (const double x : {3.0, 5.0, 8.0}) {
      const double radius = 0.7 * bore / 2;
      const double u =
          local(section(truth, x * bore, c()), radius / stream_radius(truth.exit)).axial;
      readings.push_back({.distance = x * bore, .radius = radius, .ratio = u * u});
    }
    const auto fit = fit_readings(truth, readings, c());
    EXPECT_NEAR(fit.propeller_share, share, 1e-4);
    EXPECT_LT(fit.misfit, 1e-5);
    EXPECT_EQ(fit.at_bound, share == 0.0);
  }
}

TEST(Jet, ReadingsBeyondTheFamilyAreSaidToBe) {
  const Shape shape{.exit = plain_exit(), .regime = regime(0.0, c())};
  const std::vector<AxisReading> hopeless{{.distance = 3.0 * bore, .ratio = 0.02}};
  EXPECT_TRUE(fit_readings(shape, hopeless, c()).at_bound);
  EXPECT_THROW((void)fit_readings(shape, {}, c()), std::logic_error);
}

}  // namespace
}  // namespace windgap::jet
