#include "start/need.h"

#include "start/prepare.h"
#include "start/starting_airflow.h"

namespace windgap::start {

rig::Rig assemble(const rig::Parts& parts,
                  const rig::Coefficients& models,
                  rig::JetChoice choice,
                  const Deriving* deriving) {
  auto rig = rig::assemble(parts, models, choice);
  if (deriving == nullptr) return rig;
  Setup setup = deriving->setup;
  (void)fill_fallbacks(setup, parts, models, deriving->models);
  require_start(rig, prepare(setup, parts, models, deriving->fuels, deriving->models));
  return rig;
}

}  // namespace windgap::start
