#pragma once

#include <filesystem>

namespace windgap::casefile {

/// Models folder that belongs to the running program: `../share/windgap/models` beside the folder
/// of the executable, in the build tree as after installing. Empty if there is none.
[[nodiscard]] std::filesystem::path installed_models();

}  // namespace windgap::casefile
