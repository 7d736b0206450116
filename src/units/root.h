#pragma once

#include <boost/math/tools/toms748_solve.hpp>
#include <cstdint>

/// Where a continuous function changes its sign.
namespace windgap {

/// One end of a bracket.
struct RootEnd {
  double at = 0.0;
  double value = 0.0;  ///< of the function there
};

/// What is left of a bracket; both ends are the root itself where it was hit.
struct RootBracket {
  double low = 0.0;
  double high = 0.0;
  [[nodiscard]] double middle() const noexcept { return 0.5 * (low + high); }
};

/// Root between two ends whose values differ in sign, low below high, by TOMS 748 until this many
/// binary digits stand.
template <class Function>
[[nodiscard]] RootBracket find_root(Function function,
                                    const RootEnd& low,
                                    const RootEnd& high,
                                    unsigned bits) {
  std::uintmax_t evaluations = 100;  // bisection alone takes one for each digit
  const auto [a, b] =
      boost::math::tools::toms748_solve(function,
                                        low.at,
                                        high.at,
                                        low.value,
                                        high.value,
                                        boost::math::tools::eps_tolerance<double>(bits),
                                        evaluations);
  return {.low = a, .high = b};
}

}  // namespace windgap
