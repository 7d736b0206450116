#include "engine/throat.h"

#include <gtest/gtest.h>

#include <cmath>

namespace windgap::engine {
namespace {

/// Eq. 2 of models/engine.md.
double flow_function(double v, double loss, double exponent) {
  return v * std::pow(1.0 - (1.0 + loss) * v * v, exponent) / (1.0 - v * v);
}

TEST(Throat, InvertsItsFlowFunction) {
  for (const double loss : {0.0, 0.1, 0.45, 2.0}) {
    for (const double exponent : {3.5, 3.8, 4.1, 4.5}) {
      const Throat throat = at_exponent(make_throat_family(loss), exponent);
      for (double share = 0.001; share <= 1.0; share += 0.0037) {
        const double v = pass(throat, share).v;
        const double want = share * throat.choke_flow;
        EXPECT_NEAR(flow_function(v, loss, exponent), want, 1e-4 * want) << loss << ' ' << share;
      }
    }
  }
}

TEST(Throat, ChokesWhereTheFlowFunctionIsHighest) {
  for (const double loss : {0.0, 0.4, 1.5}) {
    const Throat throat = make_throat(loss, 3.5);
    const double top = throat.choke_flow;
    EXPECT_NEAR(flow_function(throat.choke_speed, loss, 3.5), top, 1e-12);
    EXPECT_LT(flow_function(1.01 * throat.choke_speed, loss, 3.5), top);
    EXPECT_LT(flow_function(0.99 * throat.choke_speed, loss, 3.5), top);
  }
}

TEST(Throat, SonicWithoutLoss) {
  // cp = n R: a^2 = R T n/(n - 1), so that c^2/(2 cp T0) at Mach 1 is 1/(2 n - 1).
  EXPECT_NEAR(make_throat(0.0, 3.5).choke_speed, std::sqrt(1.0 / 6.0), 1e-14);
}

TEST(Throat, StaysAtChokeBeyondIt) {
  const Throat throat = make_throat(0.2, 3.5);
  EXPECT_EQ(pass(throat, 1.0).v, pass(throat, 7.0).v);
  EXPECT_EQ(pass(throat, 7.0).choke_ratio, 7.0);
}

TEST(Throat, NoFlowNoSpeed) { EXPECT_EQ(pass(make_throat(0.2, 3.5), 0.0).v, 0.0); }

}  // namespace
}  // namespace windgap::engine
