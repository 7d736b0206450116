#include <cmath>
#include <limits>

#include "drive/drive.h"

namespace windgap::drive {
namespace {

/// Integral of exp(rate t) from 0 to `seconds` [s].
double grown(double rate, double seconds) {
  const double turns = rate * seconds;
  return turns == 0.0 ? seconds : std::expm1(turns) / rate;
}

/// Copper and iron at constant current (Eq. 7): two real rates, since heat only flows downhill. The
/// copper's rise is `first` times the integrals of both exponentials with these shares.
struct TwoRates {
  double first = unset;  ///< rate of the copper's rise at the start [K/s]
  double slow = unset;   ///< [1/s]; positive: copper heats faster than all of it cools
  double fast = unset;   ///< [1/s]
  double slow_share = 1.0;
  double fast_share = 0.0;

  [[nodiscard]] double rise(double seconds) const {
    return first * (slow_share * grown(slow, seconds) + fast_share * grown(fast, seconds));
  }
  [[nodiscard]] double rate(double seconds) const {
    return first * (slow_share * std::exp(slow * seconds) + fast_share * std::exp(fast * seconds));
  }
  /// Infinity where it never settles [K].
  [[nodiscard]] double steady_rise() const {
    if (slow >= 0.0) return std::numeric_limits<double>::infinity();
    return -first * (slow_share / slow + fast_share / fast);
  }
};

TwoRates two_rates(const Prepared& drive, const Running& running) {
  const double loss = running.winding_loss;
  const double copper = drive.copper_heat_share * drive.winding_heat_capacity;
  const double iron = (1.0 - drive.copper_heat_share) * drive.winding_heat_capacity;
  const double to_iron = drive.winding_conductance / drive.copper_drop_share;
  const double to_air = drive.winding_conductance / (1.0 - drive.copper_drop_share);
  const double own_copper = (drive.temperature_coefficient * loss - to_iron) / copper;
  const double own_iron = -(to_iron + to_air) / iron;
  const double mean = 0.5 * (own_copper + own_iron);
  const double half = 0.5 * (own_copper - own_iron);
  const double root = std::sqrt(half * half + to_iron * to_iron / (copper * iron));
  TwoRates result{.first = loss / copper, .slow = mean + root, .fast = mean - root};
  if (root > 0.0) {
    result.slow_share = 0.5 * (1.0 + half / root);
    result.fast_share = 0.5 * (1.0 - half / root);
  }
  return result;
}

}  // namespace

double burst_temperature_rise(const Prepared& drive, const Running& running, double seconds) {
  return two_rates(drive, running).rise(seconds);
}

double allowed_burst(const Prepared& drive, const Running& running, double air_temperature) {
  constexpr double never = std::numeric_limits<double>::infinity();
  constexpr int most_steps = 80;
  constexpr double tolerance = 1e-12;
  const double room = drive.winding_temperature_limit - air_temperature;
  if (room <= 0.0) return 0.0;
  if (running.winding_loss <= 0.0) return never;
  const auto course = two_rates(drive, running);
  if (course.steady_rise() <= room) return never;
  // The copper rises steadily; Newton's steps, kept between a time too short and one too long.
  double low = 0.0;
  double high = room / course.first;
  while (course.rise(high) < room) {
    low = high;
    high *= 2.0;
  }
  double time = high;
  for (int step = 0; step < most_steps; ++step) {
    const double miss = course.rise(time) - room;
    (miss > 0.0 ? high : low) = time;
    double next = time - miss / course.rate(time);
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    const double change = std::abs(next - time);
    time = next;
    if (change <= tolerance * time) break;
  }
  return time;
}

}  // namespace windgap::drive
