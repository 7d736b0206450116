#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "casefile/catalogue.h"
#include "fan/laws.h"

namespace windgap::choice {
namespace {

struct Shipped {
  Question question;
  casefile::Catalogue list;
};

const Shipped& shipped() {
  static const Shipped made = [] {
    const casefile::ReadOptions options{.installed = WINDGAP_MODELS_DIR, .scope = {.choice = true}};
    const auto bench = casefile::read_case(WINDGAP_SOURCE_DIR "/cases/no-fan-yet.yaml", options);
    return Shipped{.question = casefile::question(bench),
                   .list = casefile::catalogue(bench, options)};
  }();
  return made;
}

double circle(double radius) { return std::numbers::pi * radius * radius; }

// Momentum theory of a shrouded rotor (Pereira 2008, chapter 1; from memory): no static thrust
// above (4 sigma rho A P^2)^(1/3), sigma the exit over the disc area. Every shipped fan, bare and
// with nozzles down to 0.7 of its exit, must stay below that for the shaft power it then takes, and
// above two fifths of it: figures of merit of small ducted fans lie between half and nine tenths
// (common practice), and blades loaded towards stall lose a little more.
TEST(PublishedChoice, NozzledFansObeyTheMomentumBound) {
  const auto& [question, list] = shipped();
  std::size_t checked = 0;
  for (const auto& listed : list.fans) {
    if (std::holds_alternative<fan::Stream>(listed.source)) continue;
    for (const auto& pack : list.packs) {
      const auto parts = bench_of(question, listed, &pack);
      const auto& ducted = std::get<fan::Fan>(parts.source);
      const auto ambient = air::make_ambient(question.models.air, parts.site);
      const auto bare =
          fan::prepare(ducted, parts.drive, ambient, question.models.fan, question.models.drive);
      const double disc = circle(ducted.bore_diameter / 2.0) - circle(ducted.hub_diameter / 2.0);
      for (const double contraction : {1.0, 0.9, 0.8, 0.7}) {
        const auto nozzled = fan::with_nozzle(bare, contraction * ducted.exit_diameter);
        const auto point = fan::operate(nozzled, 1.0);
        const double bound = fan::ideal_thrust({.density = ambient.density,
                                                .disc_area = disc,
                                                .exit_area_ratio = nozzled.exit_area / disc},
                                               point.drive.shaft_power);
        EXPECT_LT(point.thrust, bound) << listed.file << " " << contraction;
        EXPECT_GT(point.thrust, 0.4 * bound) << listed.file << " " << contraction;
        ++checked;
      }
    }
  }
  EXPECT_GT(checked, 100U);
}

// A hobby battery guide: 1 to 4 mohm for healthy large high-rate cells, 5 to 15 mohm for those of 1
// to 2 Ah. Between the two sizes nothing is printed, so each bound serves up to 3 Ah.
TEST(PublishedChoice, ShippedPacksHaveTheResistanceOfHealthyOnes) {
  for (const auto& listed : shipped().list.packs) {
    const double ampere_hours = listed.pack.capacity / 3600.0;
    const double milliohms = 1000.0 * listed.pack.cell_resistance;
    EXPECT_GE(milliohms, ampere_hours < 3.0 ? 4.0 : 1.0) << listed.file;
    EXPECT_LE(milliohms, ampere_hours < 3.0 ? 15.0 : 4.0) << listed.file;
  }
}

// Crane TP-410, example 7.33, as the affinity laws: speed to 1700/3500 takes flow to 194.3/400,
// head to 29.73/126 and power to 2.005/17.5 (printed digits). A shipped fan whose motor and pack
// have no resistance turns as fast as its voltage: half the throttle must give just those ratios at
// that ratio of speeds.
TEST(PublishedChoice, FanOnAStiffSupplyFollowsTheAffinityLaws) {
  const auto& [question, list] = shipped();
  const auto& listed = *std::find_if(list.fans.begin(), list.fans.end(), [](const auto& fan) {
    return fan.file == "fans/ducted-64.yaml";
  });
  const auto parts = bench_of(question, listed, &list.packs.back());
  const auto ambient = air::make_ambient(question.models.air, parts.site);
  const auto ready = fan::prepare(std::get<fan::Fan>(parts.source),
                                  parts.drive,
                                  ambient,
                                  question.models.fan,
                                  question.models.drive);
  const auto fast = fan::operate(ready, 1.0);
  // The throttle at which it turns at 1700/3500 of that speed.
  double low = 0.2;
  double high = 1.0;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (fan::operate(ready, middle).speed > fast.speed * 1700.0 / 3500.0 ? high : low) = middle;
  }
  const auto slow = fan::operate(ready, high);
  EXPECT_NEAR(slow.mass_flow / fast.mass_flow, 194.3 / 400.0, 0.05 / 400.0);
  EXPECT_NEAR(slow.dynamic_head / fast.dynamic_head, 29.73 / 126.0, 0.005 / 126.0);
  EXPECT_NEAR(slow.drive.shaft_power / fast.drive.shaft_power, 2.005 / 17.5, 0.0005 / 17.5);
}

}  // namespace
}  // namespace windgap::choice
