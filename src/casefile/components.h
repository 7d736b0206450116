#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "casefile/findings.h"

namespace windgap::casefile {

/// Folders that component references are looked up in, first match wins: the case's own, those of
/// `--models`, the installed models. Nothing outside them is ever opened.
struct Roots {
  std::vector<std::filesystem::path> folders;
};

/// Replaces a reference (`fans/x.yaml`, or a map with `model:` and keys that override) by the
/// component's tree with the overrides merged in: maps key by key, everything else as a whole.
/// Every value keeps the place where it was written. Inline maps stay as they are. An absolute
/// path,
/// `..`, a link that leads outside the folders, or a component that refers to another is a problem.
void resolve_component(Node& value, const std::string& key, const Roots& roots, Findings& findings);

}  // namespace windgap::casefile
