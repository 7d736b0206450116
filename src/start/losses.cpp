#include "start/losses.h"

namespace windgap::start {
namespace {

/// The engine without blade clearances.
engine::Prepared tight(const rig::Parts& parts, const rig::Coefficients& models) {
  auto engine = parts.engine;
  engine.compressor.clearance = 0.0;
  engine.turbine.clearance = 0.0;
  return engine::prepare(engine, models.engine, models.air);
}

}  // namespace

std::string_view name(Loss loss) {
  switch (loss) {
    case Loss::none:
      return "gas_path_alone";
    case Loss::bearing_friction:
      return "bearing_friction";
    case Loss::heat_soak:
      return "heat_soak";
    case Loss::reynolds:
      return "reynolds";
    case Loss::clearance:
      return "clearance";
  }
  return "";
}

std::vector<LossStep> loss_table(const rig::Parts& parts,
                                 const rig::Coefficients& models,
                                 const rig::Rig& rig,
                                 const Prepared& start) {
  const engine::Prepared whole = rig.engine;
  rig::Rig now = rig;
  Prepared walls = start;
  now.engine = tight(parts, models);
  now.engine.compressor.reynolds_fixed_share = 1.0;
  now.engine.drag.torque.fill(0.0);
  now.engine.drag.slope.fill(0.0);
  now.engine.breakaway_torque = 0.0;
  walls.housing.transfer_scale = 0.0;
  std::vector<LossStep> table;
  const auto add = [&](Loss loss) {
    table.push_back({.added = loss, .result = starting_airflow(now, walls)});
  };
  add(Loss::none);
  now.engine.drag = whole.drag;
  now.engine.breakaway_torque = whole.breakaway_torque;
  add(Loss::bearing_friction);
  walls.housing.transfer_scale = start.housing.transfer_scale;
  add(Loss::heat_soak);
  now.engine.compressor.reynolds_fixed_share = whole.compressor.reynolds_fixed_share;
  add(Loss::reynolds);
  now.engine = whole;
  add(Loss::clearance);
  return table;
}

}  // namespace windgap::start
