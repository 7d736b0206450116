#pragma once

#include <span>
#include <string>

#include "casefile/document.h"

namespace windgap::casefile {

/// Writes each `a.b.c=value` into the tree, in order, as if it stood in the file; its place becomes
/// `--set a.b.c`. Missing maps are made; a number picks an item of a list (one past the end adds
/// one); a component reference on the way becomes `model:` of a map. A value that starts with a
/// bracket or brace is read as YAML, an empty one means "not given".
void apply_overrides(Node& root, std::span<const std::string> settings, Problems& problems);

}  // namespace windgap::casefile
