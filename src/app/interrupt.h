#pragma once

#include <csignal>

namespace windgap::app {

/// While it lives, ctrl-C and a request to end only leave a note, so that work can stop where
/// nothing is half done. `pass_on` then lets the signal do what it always did.
class Interrupt {
 public:
  Interrupt();
  ~Interrupt();
  Interrupt(const Interrupt&) = delete;
  Interrupt& operator=(const Interrupt&) = delete;

  [[nodiscard]] static bool asked();
  /// Ends the program by the signal that came, as the caller of the program expects it.
  void pass_on();

 private:
  void restore();
  struct sigaction interrupt_before_ {};
  struct sigaction end_before_ {};
  bool installed_ = true;
};

}  // namespace windgap::app
