#include "casefile/models_dir.h"

#include <system_error>

namespace windgap::casefile {

std::filesystem::path installed_models() {
  std::error_code error;
  const auto program = std::filesystem::read_symlink("/proc/self/exe", error);
  if (error) return {};
  auto models = program.parent_path().parent_path() / "share" / "windgap" / "models";
  return std::filesystem::is_directory(models, error) ? models : std::filesystem::path();
}

}  // namespace windgap::casefile
