#include "cooling/limits.h"

#include <gtest/gtest.h>

#include <stdexcept>

#include "support/models.h"

namespace windgap::cooling {
namespace {

const Coefficients& models() { return test::cooling_models(); }

TEST(CoolingLimits, LongerTouchAllowsLess) {
  double before = 1000.0;
  for (double time = 1.0; time < 28000.0; time *= 1.3) {
    const double limit = limits_for({.contact_time = time}, models()).contact;
    EXPECT_LT(limit, before);
    before = limit;
  }
}

TEST(CoolingLimits, BetterGlovesAllowMore) {
  EXPECT_LT(limits_for({.glove_level = 1.0}, models()).gloves,
            limits_for({.glove_level = 2.0}, models()).gloves);
}

TEST(CoolingLimits, WhatNoTableHoldsIsRefused) {
  EXPECT_THROW((void)limits_for({.contact_time = 0.1}, models()), std::logic_error);
  EXPECT_THROW((void)limits_for({.glove_level = 5.0}, models()), std::logic_error);
}

TEST(CoolingLimits, GoalsNest) {
  const auto limits = limits_for({}, models());
  const auto bearing = watch_for(Goal::bearing, limits);
  const auto handling = watch_for(Goal::handling, limits);
  const auto contact = watch_for(Goal::contact, limits);
  for (std::size_t i = 0; i < part_count; ++i) {
    EXPECT_GE(bearing.part[i], handling.part[i]);
    EXPECT_GE(handling.part[i], contact.part[i]);
  }
  EXPECT_EQ(bearing.bearing, contact.bearing);
}

}  // namespace
}  // namespace windgap::cooling
