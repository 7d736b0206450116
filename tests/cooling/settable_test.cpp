#include "cooling/settable.h"

#include <gtest/gtest.h>

#include <limits>

namespace windgap::cooling {
namespace {

TEST(Settable, ATimeIsReadOffAWatchAndNeverEarlier) {
  EXPECT_EQ(settable_time(0.0), 0.0);
  EXPECT_EQ(settable_time(0.2), 1.0);
  EXPECT_EQ(settable_time(9.5), 10.0);
  EXPECT_EQ(settable_time(230.54), 235.0);
  EXPECT_EQ(settable_time(235.0), 235.0);
  EXPECT_EQ(settable_time(1799.0), 1800.0);
  EXPECT_EQ(settable_time(1801.0), 1860.0);
  EXPECT_TRUE(std::isinf(settable_time(std::numeric_limits<double>::infinity())));
}

TEST(Settable, WhatIsReadOnceStays) {
  for (double seconds = 0.3; seconds < 9000.0; seconds *= 1.07) {
    const double set = settable_time(seconds);
    EXPECT_GE(set, seconds);
    EXPECT_LE(set, seconds + time_step(seconds));
    EXPECT_EQ(settable_time(set), set);
  }
}

TEST(Settable, WholePercentsLieWithinTheirRange) {
  const auto range = whole_percents(0.152, 0.607);
  EXPECT_EQ(range.least, 16);
  EXPECT_EQ(range.most, 60);
  EXPECT_EQ(range.nearest(0.0), 16);
  EXPECT_EQ(range.nearest(0.404), 40);
  EXPECT_EQ(range.between(1.0), 60);
  EXPECT_TRUE(whole_percents(0.202, 0.208).empty());
  EXPECT_EQ(whole_percents(0.15, 1.0).least, 15);
  EXPECT_EQ(whole_percents(0.29, 0.57).most, 57);
}

}  // namespace
}  // namespace windgap::cooling
