#pragma once

#include "cooling/cooldown.h"
#include "cooling/materials.h"
#include "cooling/network.h"
#include "rig/rig.h"

/// Hot engines for the tests of cooling.
namespace windgap::test {

/// An engine's network, what it is made of left to the fallbacks.
[[nodiscard]] cooling::Network network_of(const rig::Parts& parts);

/// The bench of `garden_parts`.
[[nodiscard]] const rig::Rig& garden_rig();

/// The garden engine after ten minutes at load, 950 K ahead of the turbine; invented.
[[nodiscard]] const cooling::Scene& garden_scene();

/// Two lone parts, casing and liner, of constant specific heat [J/(kg K)]: for closed forms.
[[nodiscard]] cooling::Network bare_network(double specific_heat);

}  // namespace windgap::test
