#include "support/models.h"

#include "casefile/coefficients.h"

namespace windgap::test {
namespace {

struct Loaded {
  rig::Coefficients rig;
  placement::Coefficients placement;
};

Loaded load() {
  casefile::Findings findings;
  casefile::CoefficientLoader loader(WINDGAP_MODELS_DIR, findings);
  Loaded loaded;
  auto& m = loaded.rig;
  loader.load_into(m.air, "air");
  loader.load_into(m.drive, "drive");
  loader.load_into(m.fan, "fan");
  loader.load_into(m.jet, "jet");
  loader.load_into(m.capture, "capture");
  loader.load_into(m.blockage, "blockage");
  loader.load_into(m.engine.compressor, "compressor");
  loader.load_into(m.engine.combustor, "combustor");
  loader.load_into(m.engine.turbine, "turbine");
  loader.load_into(m.engine.bearings, "bearings");
  loader.load_into(m.engine.engine, "engine");
  loader.load_into(m.bench, "bench");
  loader.load_into(loaded.placement, "placement");
  findings.problems.throw_if_any();
  return loaded;
}

const Loaded& loaded() {
  static const Loaded once = load();
  return once;
}

}  // namespace

const rig::Coefficients& models() { return loaded().rig; }
const placement::Coefficients& placement_models() { return loaded().placement; }

}  // namespace windgap::test
