#pragma once

#include <filesystem>
#include <string_view>

#include "app/verb.h"

namespace windgap::app {

/// Puts the whole text under that name or leaves what was there: a temporary file beside it,
/// synced, then renamed. What is no plain file (a pipe, a device) is written to directly.
/// @throws UsageError with the path if that fails.
void write_file(const std::filesystem::path& named, std::string_view text);

/// Text to the file, or to the console if no file is named.
void show(std::string_view text, const std::filesystem::path& file, Console& console);

}  // namespace windgap::app
