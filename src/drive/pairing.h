#pragma once

#include <vector>

#include "drive/drive.h"

/// Whether pack, controller, motor and fan belong together at all. Rules: models/drive.md,
/// section "Wrong pairs".
namespace windgap::drive {

/// Why a pair is wrong.
enum class Mismatch {
  too_many_cells,      ///< for the controller
  pack_current,        ///< above what the pack gives for seconds
  controller_current,  ///< above what the controller stands for seconds
  motor_current,       ///< above what the motor stands
  sags,                ///< the loaded pack falls below the voltage that hurts it
  does_not_turn        ///< the voltage does not overcome the no-load current
};

struct WrongPair {
  Mismatch mismatch = Mismatch::too_many_cells;
  double value = unset;  ///< cells [-], current [A] or voltage of one cell [V]
  double limit = unset;  ///< the same
};

/// Everything wrong with a drive that runs like this; empty: nothing.
[[nodiscard]] std::vector<WrongPair> wrong_pairs(const Drive& drive,
                                                 const Prepared& prepared,
                                                 const Running& running);

}  // namespace windgap::drive
