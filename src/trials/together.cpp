#include "trials/together.h"

#include <boost/random/mersenne_twister.hpp>
#include <boost/random/student_t_distribution.hpp>
#include <boost/random/uniform_01.hpp>
#include <numeric>

namespace windgap::trials {
namespace {

/// Members in proportion to their weights, evenly spaced over the sum of them.
std::vector<std::size_t> chosen(std::span<const double> weights, std::size_t count) {
  const double whole = std::accumulate(weights.begin(), weights.end(), 0.0);
  std::vector<std::size_t> list;
  list.reserve(count);
  double sum = 0.0;
  for (std::size_t i = 0; i < weights.size() && list.size() < count; ++i) {
    sum += weights[i];
    while (list.size() < count &&
           (static_cast<double>(list.size()) + 0.5) * whole < sum * static_cast<double>(count)) {
      list.push_back(i);
    }
  }
  return list;
}

/// Catching or not is all that is compared: how a start failed is not.
Evidence plain(Evidence evidence) {
  evidence.failure = Failure::unstated;
  return evidence;
}

}  // namespace

double together(const placement::Outlook& outlook,
                std::span<const double> weights,
                std::span<const Evidence> evidence,
                const Coefficients& c,
                std::uint64_t seed) {
  constexpr std::size_t repetitions = 4096;
  constexpr double rounding = 1e-9;
  if (evidence.size() < 2) return 1.0;
  boost::random::mt19937_64 source(seed);
  boost::random::uniform_01<double> uniform;
  boost::random::student_t_distribution<double> student(c.freedom);
  double less = 0.0;
  const auto members = chosen(weights, repetitions);
  for (const auto member : members) {
    double shown = 0.0;
    double repeated = 0.0;
    for (const auto& one : evidence) {
      const double value = expected(one, outlook, member);
      auto real = plain(one);
      shown += log_likelihood(real, value, c);
      auto again = real;
      if (one.kind == Evidence::Kind::catching) {
        again.outcome = Outcome::caught;
        const double catches = outcome_probability(again, value, c);
        if (!(uniform(source) < catches)) again.outcome = Outcome::failed;
      } else {
        again.read = value + one.deviation * student(source);
      }
      repeated += log_likelihood(again, value, c);
    }
    if (repeated <= shown + rounding) less += 1.0;
  }
  return members.empty() ? unset : less / static_cast<double>(members.size());
}

}  // namespace windgap::trials
