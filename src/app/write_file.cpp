#include "app/write_file.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <system_error>

namespace windgap::app {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail(const fs::path& file, int error) {
  throw UsageError(fmt::format(
      "{}: cannot be written: {}", file.string(), std::generic_category().message(error)));
}

/// An open file that closes itself.
class Descriptor {
 public:
  Descriptor(const fs::path& file, int flags)
      : number_(::open(
            file.c_str(), flags, S_IRUSR | S_IWUSR | S_IRGRP | S_IWGRP | S_IROTH | S_IWOTH)) {}
  ~Descriptor() { (void)close(); }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;

  [[nodiscard]] bool usable() const { return number_ >= 0; }

  /// 0, or what went wrong.
  [[nodiscard]] int write(std::string_view text) const {
    while (!text.empty()) {
      const auto count = ::write(number_, text.data(), text.size());
      if (count < 0 && errno == EINTR) continue;
      if (count < 0) return errno;
      text.remove_prefix(static_cast<std::size_t>(count));
    }
    return 0;
  }
  /// Who may read and write it.
  [[nodiscard]] int keep(fs::perms permissions) const {
    return ::fchmod(number_, static_cast<mode_t>(permissions)) == 0 ? 0 : errno;
  }
  [[nodiscard]] int sync() const { return ::fsync(number_) == 0 ? 0 : errno; }
  [[nodiscard]] int close() {
    if (number_ < 0) return 0;
    const int result = ::close(number_);
    number_ = -1;
    return result == 0 ? 0 : errno;
  }

 private:
  int number_;
};

void write_directly(const fs::path& file, std::string_view text) {
  Descriptor target(file, O_WRONLY);
  if (!target.usable()) fail(file, errno);
  if (const int error = target.write(text)) fail(file, error);
  if (const int error = target.close()) fail(file, error);
}

/// The file that the name means, links followed.
fs::path behind_links(const fs::path& file) {
  std::error_code error;
  if (!fs::is_symlink(file, error)) return file;
  auto target = fs::weakly_canonical(file, error);
  return error ? file : target;
}

}  // namespace

void write_file(const fs::path& named, std::string_view text) {
  std::error_code status_error;
  const auto status = fs::status(named, status_error);
  if (fs::is_directory(status)) fail(named, EISDIR);
  if (fs::exists(status) && !fs::is_regular_file(status)) {
    write_directly(named, text);
    return;
  }
  const auto file = behind_links(named);
  auto temporary = file;
  temporary += fmt::format(".{}.part", ::getpid());
  // No living program has this number: what lies there was left by one that was killed.
  ::unlink(temporary.c_str());
  Descriptor target(temporary, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC);
  if (!target.usable()) fail(named, errno);
  int error = target.write(text);
  if (error == 0 && fs::exists(status)) error = target.keep(status.permissions());
  if (error == 0) error = target.sync();
  if (const int closing = target.close(); error == 0) error = closing;
  if (error == 0 && ::rename(temporary.c_str(), file.c_str()) != 0) error = errno;
  if (error != 0) {
    ::unlink(temporary.c_str());
    fail(named, error);
  }
}

void show(std::string_view text, const fs::path& file, Console& console) {
  if (file.empty()) {
    console.out << text;
  } else {
    write_file(file, text);
  }
}

}  // namespace windgap::app
