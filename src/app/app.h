#pragma once

#include <ostream>

/// The command line: verbs, options, exit codes.
namespace windgap::app {

/// Runs the program and returns its exit code: 0 yes, 1 no, 2 bad input, 3 failure. On 2 and 3
/// nothing is written to `out`.
[[nodiscard]] int run(int argc, const char* const* argv, std::ostream& out, std::ostream& err);

}  // namespace windgap::app
