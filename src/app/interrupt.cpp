#include "app/interrupt.h"

#include <atomic>

namespace windgap::app {
namespace {

// What a signal handler may write and another thread may read.
// NOLINTNEXTLINE(cppcoreguidelines-avoid-non-const-global-variables)
std::atomic<int> came = 0;
static_assert(std::atomic<int>::is_always_lock_free);

void note(int signal) { came = signal; }

}  // namespace

Interrupt::Interrupt() {
  came = 0;
  struct sigaction action {};
  action.sa_handler = note;
  sigemptyset(&action.sa_mask);
  sigaction(SIGINT, &action, &interrupt_before_);
  sigaction(SIGTERM, &action, &end_before_);
}

Interrupt::~Interrupt() { restore(); }

bool Interrupt::asked() { return came != 0; }

void Interrupt::pass_on() {
  restore();
  (void)std::raise(came);
}

void Interrupt::restore() {
  if (!installed_) return;
  sigaction(SIGINT, &interrupt_before_, nullptr);
  sigaction(SIGTERM, &end_before_, nullptr);
  installed_ = false;
}

}  // namespace windgap::app
