#pragma once

#include <filesystem>

namespace windgap::app {

/// Keeps other programs of this kind from writing files in a folder until it goes. The system
/// drops the lock with the program, however that ends; nothing is left behind.
class FolderLock {
 public:
  /// Waits a few seconds. @throws UsageError if the folder stays locked or cannot be opened.
  explicit FolderLock(const std::filesystem::path& folder);
  ~FolderLock();
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;

  /// Asks the system to keep the folder's own entries, so that a renamed file survives a power cut.
  void sync() const;

 private:
  int number_;
};

}  // namespace windgap::app
