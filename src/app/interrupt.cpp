#include "app/interrupt.h"

namespace windgap::app {
namespace {

// A signal handler can write nothing else.
// NOLINTNEXTLINE(cppcoreguidelines-avoid-non-const-global-variables)
volatile std::sig_atomic_t came = 0;

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
