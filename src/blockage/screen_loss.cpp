#include "blockage/screen_loss.h"

#include <stdexcept>

#include "blockage/blockage.h"

namespace windgap::blockage {
namespace {

/// K falls over three decades; K times the squared open area is nearly straight, so that is what is
/// interpolated.
double perforated(const Table& table, double open_area) {
  Table flattened = table;
  for (std::size_t i = 0; i < flattened.x.size(); ++i) {
    flattened.y[i] *= flattened.x[i] * flattened.x[i];
  }
  return interpolate(flattened, open_area) / (open_area * open_area);
}

}  // namespace

ScreenLoss screen_loss(const Guard& guard, double wire_reynolds, const Coefficients& c) {
  if (guard.kind == GuardKind::none) {
    return {};
  }
  const double open = guard.open_area;
  if (!(open > 0.0 && open < 1.0)) {
    throw std::logic_error("a guard's open area must lie between 0 and 1");
  }
  if (guard.kind == GuardKind::perforated) {
    const auto& table = c.perforated_screen;
    return {.coefficient = perforated(table, open),
            .in_range = open >= table.x.front() && open <= table.x.back()};
  }
  const double square = open * open;
  const auto& beta = c.wire_screen;
  return {.coefficient = interpolate(beta, wire_reynolds) * (1.0 - square) / square,
          .in_range = open >= c.wire_least_open && open <= c.wire_most_open &&
                      wire_reynolds >= beta.x.front()};
}

}  // namespace windgap::blockage
