#include "app/folder_lock.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <system_error>
#include <thread>

#include "app/verb.h"

namespace windgap::app {

FolderLock::FolderLock(const std::filesystem::path& folder)
    : number_(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
  constexpr int tries = 50;
  constexpr std::chrono::milliseconds pause{100};
  if (number_ < 0) {
    throw UsageError(fmt::format(
        "{}: cannot be opened: {}", folder.string(), std::generic_category().message(errno)));
  }
  for (int i = 0; i < tries; ++i) {
    if (::flock(number_, LOCK_EX | LOCK_NB) == 0) return;
    if (errno != EWOULDBLOCK && errno != EINTR) break;
    std::this_thread::sleep_for(pause);
  }
  ::close(number_);
  throw UsageError(
      fmt::format("{}: another windgap is writing there and does not end; nothing was written",
                  folder.string()));
}

FolderLock::~FolderLock() { ::close(number_); }

void FolderLock::sync() const { (void)::fsync(number_); }

}  // namespace windgap::app
