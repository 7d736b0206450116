#pragma once

#include <string>
#include <vector>

#include "engine/coefficients.h"
#include "engine/parts.h"
#include "units/assumed.h"

namespace windgap::engine {

/// Fills every unset field of the parts that has a rule (models/engine.md, "What is assumed") and
/// says so, in the order of the parts. Fields marked *needed*, and the oil's two label points, stay
/// as they are; `missing` names them. A resistance-only engine is left alone but for its mouth.
std::vector<Assumed> fill_fallbacks(Engine& engine, const Coefficients& c);

/// Keys of needed fields that are still unset, as the case file spells them.
[[nodiscard]] std::vector<std::string> missing(const Engine& engine);

}  // namespace windgap::engine
