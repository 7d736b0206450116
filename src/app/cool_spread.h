#pragma once

#include "report/cool.h"

namespace windgap::app {

/// Fills `deviation` and `influences` of a cooldown whose purge reaches its goal: every coefficient
/// of the cooling that has a spread moved by one standard deviation, one at a time, the same purge
/// followed again. Coefficients of one group move together. The delivered airflow's own deviation,
/// where it is known, counts as that much less throttle.
void add_spread(report::Cooldown& cooldown, const report::Outcome& outcome);

}  // namespace windgap::app
