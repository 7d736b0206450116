// The gap between duct and mouth against our own RANS series: a stream that holds its flow, a mouth
// with a resistance behind it. Sources and trust: the CSV's head. Not used in any fit.
#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "rig/rig.h"
#include "support/models.h"
#include "support/published.h"

namespace windgap {
namespace {

constexpr double bore = 0.07;
constexpr double velocity = 65.0;

/// Lengths over the bore.
struct Shape {
  double throat, lip, face, duct_wall;
};

/// A hub in the duct.
struct Hub {
  double diameter = 0.0;  ///< over the bore
  jet::HubEnd end = jet::HubEnd::tail_cone;
};

constexpr Shape wide{.throat = 0.757, .lip = 0.1145, .face = 1.286, .duct_wall = 0.043};
constexpr Shape narrow{.throat = 0.62, .lip = 0.09, .face = 0.86, .duct_wall = 0.04};

rig::Rig bench(double loss_factor, const Shape& shape = wide, const Hub& hub = {}) {
  rig::Parts parts;
  parts.source = fan::Stream{.exit_diameter = bore,
                             .velocity = velocity,
                             .hub_diameter = hub.diameter * bore,
                             .hub_end = hub.end};
  parts.fan_outer_diameter = (1.0 + 2.0 * shape.duct_wall) * bore;
  parts.engine.resistance =
      engine::Resistance{.throat_diameter = shape.throat * bore, .loss_factor = loss_factor};
  parts.engine.mouth = {.diameter = (shape.throat + 2.0 * shape.lip) * bore,
                        .lip_radius = shape.lip * bore,
                        .face_diameter = shape.face * bore,
                        .throat_diameter = shape.throat * bore};
  return rig::assemble(parts, test::models(), rig::JetChoice::estimated);
}

// Mesh error 1 %; the series' duct delivers 1.03 of the mean exit head in its middle, 1.5 % of the
// airflow that a flat exit profile lacks: 3 % in all.
TEST(PublishedGap, AgreesWithTheSeriesWithinThreePerCent) {
  for (const auto& row : test::published_rows("gap_jet.csv")) {
    const auto rig = bench(row.at("loss_factor"));
    const auto delivery = rig::deliver(rig, row.at("stand_off") * bore);
    ASSERT_TRUE(delivery.converged) << "line " << row.line;
    EXPECT_NEAR(delivery.capture_ratio, row.at("capture"), 0.03 * row.at("capture"))
        << "line " << row.line;
  }
}

// Excess pressure at the fan: a tenth of itself where it matters, and never more than a hundredth
// of the exit head off where it fades.
TEST(PublishedGap, BackPressureFollowsTheSeries) {
  for (const auto& row : test::published_rows("gap_jet.csv")) {
    const auto rig = bench(row.at("loss_factor"));
    const auto delivery = rig::deliver(rig, row.at("stand_off") * bore);
    const double ratio = delivery.back_pressure / rig.open.dynamic_head;
    EXPECT_NEAR(ratio, row.at("back_pressure"), 0.10 * row.at("back_pressure") + 0.01)
        << "line " << row.line;
  }
}

// The second series, another geometry and two other resistances: mesh error 1 %, and a duct whose
// middle carries 1.044 of the mean head where the model's exit is flat, 2.2 % of the airflow: 3.5
// %. At five bores the turbulence model still keeps a core that measured jets have begun to lose.
TEST(PublishedGap, AgreesWithTheSecondSeries) {
  for (const auto& row : test::published_rows("../reference/cfd/gap.csv")) {
    const auto rig = bench(row.at("loss_factor"), narrow);
    const auto delivery = rig::deliver(rig, row.at("stand_off") * bore);
    ASSERT_TRUE(delivery.converged) << "line " << row.line;
    EXPECT_NEAR(delivery.capture_ratio, row.at("capture"), 0.035 * row.at("capture"))
        << "line " << row.line;
  }
}

// What the mouth pushes back into the duct, against the same duct three bores away: a tenth of
// itself, and 0.015 of the exit head. Meshes differ in the duct's friction by 0.01 of it, as the
// rows at three and five bores show.
TEST(PublishedGap, BackPressureFollowsTheSecondSeries) {
  const auto rows = test::published_rows("../reference/cfd/gap.csv");
  const auto free = [&](const test::PublishedRow& row) {
    for (const auto& other : rows) {
      const bool same = std::abs(other.at("loss_factor") / row.at("loss_factor") - 1.0) < 0.02;
      if (same && other.at("stand_off") == 3.0) return other.at("duct_pressure");
    }
    throw std::logic_error("no row far enough away");
  };
  for (const auto& row : rows) {
    if (row.at("stand_off") > 3.0) continue;
    const auto rig = bench(row.at("loss_factor"), narrow);
    const auto delivery = rig::deliver(rig, row.at("stand_off") * bore);
    const double expected = row.at("duct_pressure") - free(row);
    EXPECT_NEAR(delivery.back_pressure / rig.open.dynamic_head, expected, 0.10 * expected + 0.015)
        << "line " << row.line;
  }
}

/// Delivered over measured airflow, less 1, of a row behind a hub. Both count over the mass flow of
/// the stated mean speed: the whole bore's, or the ring's around a blunt hub.
double hub_difference(const test::PublishedRow& row, jet::HubEnd end, double diameter = 0.44) {
  const Hub hub{.diameter = diameter, .end = end};
  const auto rig = bench(row.at("loss_factor"), narrow, hub);
  const double shut = end == jet::HubEnd::blunt ? hub.diameter * hub.diameter : 0.0;
  const double exit = std::acos(-1.0) / 4.0 * bore * bore * (1.0 - shut);
  const double airflow = rig::deliver(rig, row.at("stand_off") * bore).airflow;
  return airflow / (rig.ambient.density * exit * velocity) / row.at("capture") - 1.0;
}

// A tenth of the airflow, as asked of the reduced model. Without a hub the duct's boundary layer
// brings 2 % already, and the series' mesh error is 1 %.
TEST(PublishedGap, AgreesBehindATailConeWithinATenth) {
  for (const auto& row : test::published_rows("../reference/cfd/hub_cone.csv")) {
    const double difference = hub_difference(row, jet::HubEnd::tail_cone);
    EXPECT_NEAR(difference, 0.0, 0.10) << "line " << row.line;
  }
}

// Cones of half a hub diameter and of one, and a hub of 0.32 bores.
TEST(PublishedGap, AgreesBehindOtherHubsWithinATenth) {
  for (const auto& row : test::published_rows("../reference/cfd/hub_other.csv")) {
    const auto end = row.at("cone_length") > 0.0 ? jet::HubEnd::tail_cone : jet::HubEnd::blunt;
    EXPECT_NEAR(hub_difference(row, end, row.at("hub_diameter")), 0.0, 0.10)
        << "line " << row.line;
  }
}

// The same behind a flat face.
TEST(PublishedGap, AgreesBehindABluntHubWithinATenth) {
  for (const auto& row : test::published_rows("../reference/cfd/hub_blunt.csv")) {
    const double difference = hub_difference(row, jet::HubEnd::blunt);
    EXPECT_NEAR(difference, 0.0, 0.10) << "line " << row.line;
  }
}

// Two of those on a mesh 1.6 times finer.
TEST(PublishedGap, AgreesBehindABluntHubOnAFinerMesh) {
  for (const auto& row : test::published_rows("../reference/cfd/finer_blunt.csv")) {
    EXPECT_NEAR(hub_difference(row, jet::HubEnd::blunt), 0.0, 0.10) << "line " << row.line;
  }
}

// Two rows of the other series on a mesh 1.6 times finer: without a hub the second series'
// tolerance, behind the cone a tenth.
TEST(PublishedGap, AgreesOnAFinerMesh) {
  for (const auto& row : test::published_rows("../reference/cfd/finer.csv")) {
    if (row.at("hub_diameter") > 0.0) {
      EXPECT_NEAR(hub_difference(row, jet::HubEnd::tail_cone), 0.0, 0.10) << "line " << row.line;
      continue;
    }
    const auto rig = bench(row.at("loss_factor"), narrow);
    const auto delivery = rig::deliver(rig, row.at("stand_off") * bore);
    EXPECT_NEAR(delivery.capture_ratio, row.at("capture"), 0.035 * row.at("capture"))
        << "line " << row.line;
  }
}

// Definition of the loss factor, closed by hand.
TEST(PublishedGap, ResistanceMeansMouthPressureOverThroatHead) {
  const auto rig = bench(9.0);
  const auto delivery = rig::deliver(rig, 2.0 * bore);
  const double area = std::acos(-1.0) * std::pow(0.757 * bore, 2) / 4.0;
  const double speed = delivery.airflow / (rig.ambient.density * area);
  EXPECT_NEAR(delivery.total_pressure,
              9.0 * 0.5 * rig.ambient.density * speed * speed,
              1e-3 * delivery.total_pressure);
}

}  // namespace
}  // namespace windgap
