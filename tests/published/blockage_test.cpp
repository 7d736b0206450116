#include "blockage/blockage.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <numbers>

#include "support/models.h"
#include "support/published.h"

namespace windgap::blockage {
namespace {

const Coefficients& shipped() { return test::models().blockage; }

const air::Coefficients& air_coefficients() { return test::models().air; }

InletGeometry rounded(double lip_over_throat, double face_over_throat) {
  return {.throat_diameter = 1.0, .lip_radius = lip_over_throat, .face_diameter = face_over_throat};
}

constexpr double wall = 10.0;  // face over throat: as good as infinite

struct Pair {
  double x, y;
};

// Rounded entrance in a wall: the handbook row that the code holds must lie among the other
// sources, which differ by up to 0.12: Harris 1930 (measured), Crane TP-410, and Swamee & Sharma
// 2008, K = 0.5/(1 + 36 (r/D)^1.2). Half a printed digit beyond the band.
TEST(PublishedBlockage, RoundedEntranceLiesAmongTheSources) {
  struct Row {
    double radius, harris, crane;
  };
  for (const auto& row : std::initializer_list<Row>{{0.0, 0.44, 0.50},
                                                    {0.02, 0.28, 0.28},
                                                    {0.04, 0.17, 0.24},
                                                    {0.06, 0.10, 0.15},
                                                    {0.16, 0.0, 0.04}}) {
    const double swamee = 0.5 / (1.0 + 36.0 * std::pow(row.radius, 1.2));
    const double ours = entry_loss(rounded(row.radius, wall), shipped()).coefficient;
    EXPECT_GE(ours, std::min({row.harris, row.crane, swamee}) - 0.005) << row.radius;
    EXPECT_LE(ours, std::max({row.harris, row.crane, swamee}) + 0.005) << row.radius;
  }
}

// ASHRAE ER2-1, bellmouth from a plenum: 0.03.
TEST(PublishedBlockage, LargeBellmouth) {
  EXPECT_NEAR(entry_loss(rounded(0.25, wall), shipped()).coefficient, 0.03, 0.005);
  EXPECT_NEAR(entry_loss(rounded(0.25, 1.5), shipped()).coefficient, 0.03, 0.005);
}

// Flush and free sharp entrances: 0.50 and 1.00 (Idelchik; Blevins, Crane and Swamee give 0.50 for
// the flush one). Wall of 0.02 diameters: 0.72.
TEST(PublishedBlockage, SharpEntrances) {
  EXPECT_NEAR(entry_loss(rounded(0.0, wall), shipped()).coefficient, 0.50, 0.005);
  EXPECT_NEAR(entry_loss({.throat_diameter = 1.0}, shipped()).coefficient, 1.00, 0.005);
  EXPECT_NEAR(entry_loss({.throat_diameter = 1.0, .wall_thickness = 0.02}, shipped()).coefficient,
              0.72,
              0.005);
}

// Blevins 1984: worked values of the round-wire form; printed digits.
TEST(PublishedBlockage, RoundWireScreens) {
  const auto wire = [](double open) {
    return Guard{.kind = GuardKind::round_wire, .open_area = open};
  };
  EXPECT_NEAR(screen_loss(wire(0.5), 100.0, shipped()).coefficient, 2.10, 0.005);
  EXPECT_NEAR(screen_loss(wire(0.7), 400.0, shipped()).coefficient, 0.541, 0.0005);
  EXPECT_NEAR(screen_loss(wire(0.7), 4000.0, shipped()).coefficient, 0.541, 0.0005);
}

// The handbook's thick square-edged grille, K = (0.5 (1 - a) + (1 - a^2))/a^2, is another fit to
// the same kind of object as its perforated table: within 20 % over 0.35 to 0.7 (Blevins gives no
// error).
TEST(PublishedBlockage, PerforatedSheetLiesNearTheGrilleForm) {
  for (const double open : {0.35, 0.42, 0.5, 0.58, 0.7}) {
    const double grille = (0.5 * (1.0 - open) + (1.0 - open * open)) / (open * open);
    const double ours =
        screen_loss({.kind = GuardKind::perforated, .open_area = open}, 0.0, shipped()).coefficient;
    EXPECT_NEAR(ours, grille, 0.2 * grille) << open;
  }
}

/// A closed disc as wide as the mouth or wider, everything over the throat's diameter.
double wall_loss(double gap, double mouth, double disc) {
  const ParkedFan fan{.outer_diameter = disc, .parked = Parked::closed};
  const auto room = air::make_ambient(air_coefficients(), {});
  const auto ready = prepare({.throat_diameter = 1.0, .mouth_diameter = mouth, .mass_flow = 50.0},
                             &fan,
                             {},
                             {},
                             room,
                             shipped(),
                             air_coefficients());
  return obstruct(ready, gap).coefficient;
}

// Idelchik diagram 3-5, bellmouth facing a plane at h/D (3rd edition, from memory, single digits
// uncertain). The row's value at 0.8 is taken as that of the free bellmouth and subtracted, which
// costs two rounded digits: 0.04. The level is a fit to another series with a stated spread of 30
// %.
TEST(PublishedBlockage, BellmouthFacingAWall) {
  struct Row {
    double lip, gap, loss, free;
  };
  for (const auto& row : std::initializer_list<Row>{
           {0.2, 0.15, 0.45, 0.05}, {0.2, 0.20, 0.19, 0.05},  {0.2, 0.25, 0.12, 0.05},
           {0.2, 0.30, 0.09, 0.05}, {0.2, 0.40, 0.07, 0.05},  {0.2, 0.50, 0.06, 0.05},
           {0.2, 0.60, 0.05, 0.05}, {0.3, 0.125, 0.50, 0.04}, {0.3, 0.15, 0.34, 0.04},
           {0.3, 0.20, 0.17, 0.04}, {0.3, 0.25, 0.10, 0.04},  {0.3, 0.30, 0.07, 0.04},
           {0.3, 0.40, 0.06, 0.04}, {0.3, 0.50, 0.05, 0.04},  {0.3, 0.60, 0.04, 0.04},
           {0.5, 0.10, 0.65, 0.03}, {0.5, 0.125, 0.36, 0.03}, {0.5, 0.15, 0.25, 0.03},
           {0.5, 0.20, 0.10, 0.03}, {0.5, 0.25, 0.07, 0.03},  {0.5, 0.30, 0.05, 0.03},
           {0.5, 0.40, 0.04, 0.03}, {0.5, 0.50, 0.04, 0.03},  {0.5, 0.60, 0.03, 0.03}}) {
    const double extra = row.loss - row.free;
    EXPECT_NEAR(wall_loss(row.gap, 1.0 + 2.0 * row.lip, 4.0), extra, 0.04 + 0.3 * extra)
        << "lip " << row.lip << " gap " << row.gap;
  }
}

// Our own RANS series past a closed disc (head of the CSV). Its level was fitted, so only this is
// checked: every row, over a range of 400 in the loss, lies where the mesh study extrapolates to.
TEST(PublishedBlockage, FollowsTheCoarseSeriesAtItsExtrapolatedLevel) {
  for (const auto& row : test::published_rows("running_inlet.csv")) {
    const double ratio = wall_loss(row.at("gap"), 1.302, 1.434) / row.at("loss");
    EXPECT_GT(ratio, 0.55) << "line " << row.line;
    EXPECT_LE(ratio, 0.7) << "line " << row.line;
  }
}

// A second series of another geometry, not used in any fit: 0.2 points of loss are asked of the
// reduced model, and a tenth of that is held wherever the disc stands.
TEST(PublishedBlockage, AgreesWithTheSecondSeriesInFrontOfADisc) {
  for (const auto& row : test::published_rows("../reference/cfd/running.csv")) {
    if (row.at("gap") < 0.0) continue;
    EXPECT_NEAR(wall_loss(row.at("gap"), 1.4, 1.6), row.at("extra_loss"), 0.02)
        << "line " << row.line;
  }
}

// Continuity alone: the curtain is as large as the pipe at a quarter diameter, so half a diameter
// away the extra loss must be below 0.05 and below 0.2 diameters it must rise steeply.
TEST(PublishedBlockage, WallDistanceMattersBelowAQuarterDiameter) {
  EXPECT_LT(wall_loss(0.5, 1.4, 4.0), 0.05);
  EXPECT_GT(wall_loss(0.1, 1.4, 4.0), 3.0 * wall_loss(0.2, 1.4, 4.0));
}

// AMCA 201 system effect, wall before a fan inlet, from memory: 0.3 to 0.5 diameters cost 0.75 to
// 0.40 heads. Those are losses of the fan's own performance, inlet distortion included, on sharp
// housings: an upper bound for a rounded, undisturbed throat, and the same trend.
TEST(PublishedBlockage, StaysBelowTheFanInletPractice) {
  for (const auto& [gap, loss] :
       std::initializer_list<Pair>{{0.75, 0.17}, {0.5, 0.40}, {0.4, 0.50}, {0.3, 0.75}}) {
    EXPECT_LT(wall_loss(gap, 1.3, 4.0), loss) << gap;
  }
  EXPECT_GT(wall_loss(0.3, 1.3, 4.0), 1.5 * wall_loss(0.5, 1.3, 4.0));
}

// Common practice, no source: with a fan bore 1.3 times the inducer, one fan length (about one
// bore) away, no change in running performance can be seen: below 0.5 % of ambient pressure, even
// with the bore shut and the inducer at Mach 0.5.
TEST(PublishedBlockage, FanOneLengthAwayIsNotNoticed) {
  const double inducer = 0.046;
  const double bore = 1.3 * inducer;
  const auto room = air::make_ambient(air_coefficients(), {});
  for (const auto way : {Parked::free, Parked::braked, Parked::closed}) {
    const ParkedFan fan{.outer_diameter = 1.06 * bore,
                        .bore_diameter = bore,
                        .hub_diameter = 0.4 * bore,
                        .parked = way};
    const auto ready =
        prepare({.throat_diameter = inducer, .mouth_diameter = 1.3 * inducer, .mass_flow = 0.30},
                &fan,
                {},
                {},
                room,
                shipped(),
                air_coefficients());
    ASSERT_GT(ready.throat_mach, 0.45);
    EXPECT_LT(obstruct(ready, bore).running_loss, 0.005);
  }
}

}  // namespace
}  // namespace windgap::blockage
