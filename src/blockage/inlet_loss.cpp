#include "blockage/inlet_loss.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "blockage/blockage.h"

namespace windgap::blockage {

EntryLoss entry_loss(const InletGeometry& inlet, const Coefficients& c) {
  const double throat = inlet.throat_diameter;
  const double lip = inlet.lip_radius / throat;
  const double quarter = throat + 2.0 * inlet.lip_radius;
  const double mouth = std::isnan(inlet.mouth_diameter) ? quarter : inlet.mouth_diameter;
  const double face = std::isnan(inlet.face_diameter) ? mouth : inlet.face_diameter;
  if (!(throat > 0.0 && lip >= 0.0 && mouth >= throat && face > 0.0)) {
    throw std::logic_error("an inlet needs a throat, and a mouth no narrower than it");
  }
  EntryLoss loss;
  const double ring = (face - mouth) / (2.0 * throat);
  loss.flushness = std::clamp(ring / c.flush_face, 0.0, 1.0);  // Eq. 1
  const double free = lip > 0.0 ? interpolate(c.rounded_free, lip)
                                : interpolate(c.sharp_free, inlet.wall_thickness / throat);
  const double flush = interpolate(c.rounded_flush, lip);
  loss.coefficient = free + loss.flushness * (flush - free);  // Eq. 2
  loss.in_range = mouth - throat >= c.quarter_share * (quarter - throat);
  return loss;
}

}  // namespace windgap::blockage
