#include "choice/bracket.h"

#include <cmath>
#include <stdexcept>

#include "units/root.h"

namespace windgap::choice {
namespace {

/// Tilt on top of the bench's own at which the airflow falls to `wanted`; the most that is looked
/// at if it stays above even there.
double tilt_down_to(const rig::Rig& rig, double stand_off, double wanted) {
  constexpr double most = 0.35;  // [rad]: the jet's axis leaves any mouth long before
  constexpr unsigned bits = 24;
  const auto spare = [&](double tilt) {
    rig::Rig tilted = rig;
    tilted.mounting.tilt += tilt;
    return rig::deliver(tilted, stand_off).airflow - wanted;
  };
  const double straight = spare(0.0);
  const double far = spare(most);
  if (straight <= 0.0) return 0.0;
  if (far >= 0.0) return most;
  return find_root(spare, {0.0, straight}, {most, far}, bits).low;
}

}  // namespace

Bracket bracket(const rig::Rig& rig,
                const placement::Placement& placed,
                const placement::Requirement& need,
                double height,
                const Coefficients& c) {
  if (!placed.feasible) throw std::logic_error("there is no mount to hold a bracket");
  Bracket result;
  result.thrust = placed.mount.fan.thrust;
  result.height = height;
  result.moment = result.thrust * height;
  const double kept = 1.0 + (1.0 - c.misalignment_share) * need.margin;
  result.tolerated_tilt = tilt_down_to(rig, placed.stand_off, kept * placed.starting_airflow);
  // A clamped post of even section turns at its end by 3/2 of its bend over its height.
  constexpr double turn_of_bend = 3.0 / 2.0;
  const double for_tilt = turn_of_bend * result.thrust / (height * result.tolerated_tilt);
  const double for_slip = need.slip > 0.0 ? result.thrust / need.slip : 0.0;
  result.held_by_slip = for_slip > for_tilt;
  result.stiffness = std::fmax(for_tilt, for_slip);
  result.bend = result.thrust / result.stiffness;
  result.turning_stiffness = result.moment * height / (turn_of_bend * result.bend);
  return result;
}

}  // namespace windgap::choice
