#pragma once

#include <ostream>
#include <stdexcept>
#include <string>

#include "app/options.h"

namespace windgap::app {

/// Answers of the program to its caller.
enum class Exit { yes = 0, no = 1, bad_input = 2, failure = 3 };

/// Something on the command line, or a file it names, that cannot be used.
class UsageError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Where a verb answers. What is written is shown only if the verb returns.
struct Console {
  std::ostream& out;
};

/// One question the program answers: a file of its own, and a line in the list in app.cpp.
struct Verb {
  const char* name;
  const char* question;
  void (*declare)(CLI::App& verb, Options& options);
  Exit (*run)(const Options& options, Console& console);
};

}  // namespace windgap::app
