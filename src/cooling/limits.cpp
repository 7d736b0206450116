#include "cooling/limits.h"

#include <cmath>
#include <stdexcept>

namespace windgap::cooling {
namespace {

double read(const Table& table, double x) {
  if (!(x >= table.x.front() && x <= table.x.back())) {
    throw std::logic_error("a glove's level or a contact time outside its table");
  }
  return interpolate(table, x);
}

}  // namespace

Limits limits_for(const Wishes& wishes, const Coefficients& c) {
  return {.coking = wishes.oil == OilKind::mineral ? c.coking_mineral : c.coking_synthetic,
          .gloves = read(c.glove_limit, wishes.glove_level),
          .contact = read(c.contact_limit, std::log10(wishes.contact_time))};
}

Watch watch_bearing(const Limits& limits) {
  Watch watch;
  watch.bearing = limits.coking;
  return watch;
}

Watch watch_touchable(double limit) {
  Watch watch;
  for (const Part part : touchable) watch.part[index(part)] = limit;
  return watch;
}

Watch watch_for(Goal goal, const Limits& limits) {
  if (goal == Goal::bearing) return watch_bearing(limits);
  Watch watch = watch_touchable(goal == Goal::handling ? limits.gloves : limits.contact);
  watch.bearing = limits.coking;
  return watch;
}

}  // namespace windgap::cooling
