#include "drive/pairing.h"

namespace windgap::drive {

std::vector<WrongPair> wrong_pairs(const Drive& drive,
                                   const Prepared& prepared,
                                   const Running& running) {
  std::vector<WrongPair> found;
  const auto at_most = [&](Mismatch mismatch, double value, double limit) {
    if (value > limit) found.push_back({.mismatch = mismatch, .value = value, .limit = limit});
  };
  const auto cells = static_cast<double>(drive.pack.cells);
  if (drive.controller.most_cells > 0) {
    at_most(Mismatch::too_many_cells, cells, static_cast<double>(drive.controller.most_cells));
  }
  at_most(Mismatch::pack_current, running.pack_current, prepared.pack_burst_current);
  at_most(Mismatch::controller_current, running.motor_current, prepared.controller_burst_current);
  at_most(Mismatch::motor_current, running.motor_current, prepared.motor_max_current);
  if (running.sagged) {
    found.push_back({.mismatch = Mismatch::sags,
                     .value = running.pack_voltage / cells,
                     .limit = prepared.lowest_voltage / cells});
  }
  if (!running.turns) {
    found.push_back({.mismatch = Mismatch::does_not_turn,
                     .value = running.motor_current,
                     .limit = prepared.no_load_current});
  }
  return found;
}

}  // namespace windgap::drive
