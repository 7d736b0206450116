#pragma once

#include "rig/rig.h"
#include "start/coefficients.h"
#include "start/fuel.h"
#include "start/setup.h"

/// A bench whose starting airflow is derived from its own torques (models/start.md, "Starting
/// airflow") in place of a stated one: the hook for placement, ensembles and the choice of a fan.
namespace windgap::start {

/// What deriving needs beside the bench's parts and models. The setup is as the case gave it: what
/// it left open is filled for each bench from that bench's own sizes and coefficients.
struct Deriving {
  Setup setup;
  Coefficients models;
  FuelCoefficients fuels;
};

/// `rig::assemble`, then, where `deriving` is given, the starting airflow derived for exactly these
/// parts and coefficients; the rig's own stated need is ignored then. A pure function, some 100
/// microseconds more than `rig::assemble`. An engine that cannot start gets an unset airflow.
/// @throws std::logic_error as `rig::assemble` and `prepare`.
[[nodiscard]] rig::Rig assemble(const rig::Parts& parts,
                                const rig::Coefficients& models,
                                rig::JetChoice choice,
                                const Deriving* deriving);

}  // namespace windgap::start
