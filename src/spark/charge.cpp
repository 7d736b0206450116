#include "spark/charge.h"

#include <algorithm>
#include <array>
#include <boost/numeric/odeint.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace windgap::spark {
namespace {

/// Exact since the 2019 definition of the kelvin [W/(m^2 K^4)].
constexpr double stefan_boltzmann = 5.670374419e-8;

void require(bool holds, const char* message) {
  if (!holds) throw std::logic_error(message);
}

void require_store(const Store& store) {
  require(store.capacitance > 0.0 && store.voltage > 0.0,
          "stored charge needs a capacitance and a voltage above zero");
}

double of(Dielectric dielectric, const ByDielectric& values) {
  switch (dielectric) {
    case Dielectric::film:
      return values.film;
    case Dielectric::ceramic:
      return values.ceramic;
    case Dielectric::paper_oil:
      return values.paper_oil;
    case Dielectric::electrolytic:
      return values.electrolytic;
  }
  throw std::logic_error("unknown dielectric");
}

/// Time constant of a store that leaks by itself too [s].
double beside_leakage(double time_constant, Dielectric dielectric, const ChargeCoefficients& c) {
  return time_constant / (1.0 + time_constant / of(dielectric, c.leakage));
}

/// What the dielectric gives back after a short [V].
double recovery_voltage(const Store& store, const ChargeCoefficients& c) {
  return of(store.dielectric, c.absorption) * store.voltage;
}

double fourth_power(double x) { return x * x * x * x; }

using Progress = std::array<double, 2>;  // time [s], filament temperature [K]

/// Eq. 28: time and filament temperature over s = ln(V0/V), so that the end is met exactly however
/// the resistance moves.
struct LampDischarge {
  const Store& store;
  const Lamp& lamp;
  const ChargeCoefficients& c;
  Filament wire;

  void operator()(const Progress& state, Progress& rate, double s) const {
    const double temperature = state[1];
    const double resistance = lamp.count * wire.hot_resistance *
                              std::pow(temperature / c.lamp_hot_temperature, c.tungsten_exponent);
    const double time_constant =
        beside_leakage(resistance * store.capacitance, store.dielectric, c);
    const double voltage = store.voltage * std::exp(-s);
    const double heating = voltage * voltage / (lamp.count * resistance);
    const double cold = fourth_power(c.lamp_cold_temperature);
    const double radiated = lamp.rated_power * (fourth_power(temperature) - cold) /
                            (fourth_power(c.lamp_hot_temperature) - cold);
    rate[0] = time_constant;
    rate[1] = rate[0] * (heating - radiated) / (wire.mass * c.tungsten_heat);
  }
};

/// The filament's progress at each voltage of `voltages`, which fall from the store's own.
std::vector<Progress> lamp_progress(const std::vector<double>& voltages,
                                    const Store& store,
                                    const Lamp& lamp,
                                    const ChargeCoefficients& c) {
  namespace odeint = boost::numeric::odeint;
  constexpr double error = 1e-9;  // of time [s] and temperature [K], absolute and relative
  constexpr double first_step = 1e-3;
  std::vector<double> stations;
  stations.reserve(voltages.size());
  for (const double voltage : voltages) stations.push_back(std::log(store.voltage / voltage));
  const LampDischarge model{store, lamp, c, filament(lamp, c)};
  Progress state{0.0, c.lamp_cold_temperature};
  std::vector<Progress> progress;
  progress.reserve(voltages.size());
  odeint::integrate_times(
      odeint::make_controlled<odeint::runge_kutta_dopri5<Progress>>(error, error),
      model,
      state,
      stations.begin(),
      stations.end(),
      first_step,
      [&progress](const Progress& reached, double) { progress.push_back(reached); });
  return progress;
}

/// `count` voltages from the store's own down to `end`, equal steps in the logarithm.
std::vector<double> falling_voltages(const Store& store, double end, std::size_t count) {
  std::vector<double> voltages(count, store.voltage);
  for (std::size_t i = 1; i < count; ++i) {
    const double share = static_cast<double>(i) / static_cast<double>(count - 1);
    voltages[i] = store.voltage * std::pow(end / store.voltage, share);
  }
  return voltages;
}

constexpr double burnt_through = std::numeric_limits<double>::infinity();

double hottest_filament(const Store& store, const Lamp& lamp, const ChargeCoefficients& c) {
  constexpr std::size_t stations = 65;
  double hottest = c.lamp_cold_temperature;
  for (const auto& state :
       lamp_progress(falling_voltages(store, c.safe_voltage, stations), store, lamp, c)) {
    // Far beyond melting the equations run away: no wire bears that.
    if (!std::isfinite(state[0]) || !std::isfinite(state[1])) return burnt_through;
    hottest = std::max(hottest, state[1]);
  }
  return hottest;
}

double chain_resistance(const ResistorChain& chain) {
  require(chain.resistance > 0.0 && chain.count > 0,
          "a resistor chain needs a resistance and a count above zero");
  return chain.count * chain.resistance;
}

/// Eq. 26: the worst of equal resistors, one high while all others are low.
double worst_voltage(double voltage, int count, const ChargeCoefficients& c) {
  const double high = 1.0 + c.resistor_tolerance;
  const double low = 1.0 - c.resistor_tolerance;
  return voltage * high / (high + (count - 1) * low);
}

/// Eq. 31: of the whole chain, at most [Ohm]; leakage is not counted on.
double bleeder_resistance(const Store& store, const ChargeCoefficients& c) {
  return c.safe_time / (store.capacitance * std::log(store.voltage / c.safe_voltage) *
                        (1.0 + c.resistor_tolerance));
}

void add(std::vector<Finding>& findings,
         Severity severity,
         std::string_view key,
         std::string_view unit,
         double read,
         double allowed,
         std::string_view why) {
  findings.push_back({.severity = severity,
                      .key = key,
                      .unit = unit,
                      .read = read,
                      .allowed = allowed,
                      .why = why});
}

void check_chain(const Store& store,
                 const ResistorChain& chain,
                 const ChargeCoefficients& c,
                 std::vector<Finding>& findings) {
  const auto share = chain_share(chain, store, c);
  const double voltage = share.voltage;
  const double power = share.power;
  if (chain.rated_voltage < voltage) {
    add(findings,
        Severity::refused,
        "bleed.rated_voltage",
        "V",
        voltage,
        chain.rated_voltage,
        "the worst resistor of the chain sees more than its rated voltage");
  }
  const bool stays = chain.connection == Connection::permanent;
  const bool by_hand = chain.connection == Connection::switched;
  if (stays && chain.rated_power < power) {
    add(findings,
        Severity::refused,
        "bleed.rated_power",
        "W",
        power,
        chain.rated_power,
        "a resistor that stays connected dissipates more than its rated power");
  }
  if (stays && chain.rated_power >= power && c.resistor_share * chain.rated_power < power) {
    add(findings,
        Severity::caution,
        "bleed.rated_power",
        "W",
        power,
        c.resistor_share * chain.rated_power,
        "a resistor runs hot above this share of its rated power");
  }
  if (!stays && chain.rated_power < share.asked_power) {
    add(findings,
        Severity::refused,
        "bleed.pulse_power",
        "W",
        share.asked_power,
        chain.rated_power,
        "the pulse is more than resistors of this rating are tested with, and a burst one leaves "
        "the charge in place");
  }
  if (!stays) {
    add(findings,
        Severity::caution,
        "bleed.connection",
        "V",
        store.voltage,
        c.safe_voltage,
        by_hand ? "a bleeder that somebody must connect is no bleeder until somebody does"
                : "a contact may stick or burn off without showing it: measure before touching");
  }
}

void check_lamp(double hottest,
                const Lamp& lamp,
                const Store& store,
                const ChargeCoefficients& c,
                std::vector<Finding>& findings) {
  if (hottest > c.lamp_limit_temperature) {
    add(findings,
        Severity::refused,
        "bleed.filament_temperature",
        "K",
        hottest,
        c.lamp_limit_temperature,
        "the filament may burn through and leave the capacitor charged");
  }
  const double each = store.voltage / lamp.count;
  const double bears = c.lamp_overvoltage * std::numbers::sqrt2 * lamp.rated_voltage;
  if (store.voltage > c.lamp_string_voltage) {
    add(findings,
        Severity::refused,
        "bleed.lamp_string",
        "V",
        store.voltage,
        c.lamp_string_voltage,
        "holders and leads of lamps are not made for such a voltage across a string of them, "
        "however many share it");
  } else if (each > bears) {
    add(findings,
        Severity::refused,
        "bleed.lamp_voltage",
        "V",
        each,
        bears,
        "a lamp so far above the crest of its rated voltage may arc over inside and burst");
  }
  add(findings,
      Severity::caution,
      "bleed.lamp",
      "V",
      store.voltage,
      c.safe_voltage,
      "a lamp is connected by a contact and may be broken without showing it: measure before "
      "touching");
}

}  // namespace

double always_across(const Bleed& bleed) {
  const auto* const chain = std::get_if<ResistorChain>(&bleed);
  const bool stays = chain != nullptr && chain->connection == Connection::permanent;
  return stays ? chain_resistance(*chain) : nothing_across;
}

Filament filament(const Lamp& lamp, const ChargeCoefficients& c) {
  require(lamp.rated_voltage > 0.0 && lamp.rated_power > 0.0 && lamp.count > 0,
          "a lamp needs a rated voltage, a rated power and a count above zero");
  constexpr double pi = std::numbers::pi;
  const double flux = c.coiled_share * c.tungsten_emissivity * stefan_boltzmann *
                      fourth_power(c.lamp_hot_temperature);
  const double hot = lamp.rated_voltage * lamp.rated_voltage / lamp.rated_power;
  const double diameter =
      std::cbrt(4.0 * c.tungsten_resistivity * lamp.rated_power / (pi * pi * flux * hot));
  const double length = lamp.rated_power / (pi * diameter * flux);
  return {.diameter = diameter,
          .length = length,
          .mass = c.tungsten_density * pi / 4.0 * diameter * diameter * length,
          .hot_resistance = hot,
          .cold_resistance = hot * std::pow(c.lamp_cold_temperature / c.lamp_hot_temperature,
                                            c.tungsten_exponent)};
}

double stored_energy(const Store& store) {
  require_store(store);
  return store.capacitance * store.voltage * store.voltage / 2.0;
}

double time_to(double voltage,
               const Store& store,
               const Bleed& bleed,
               const ChargeCoefficients& c) {
  require_store(store);
  require(voltage > 0.0, "a discharge ends at a voltage above zero");
  if (store.voltage <= voltage) return 0.0;
  const double fall = std::log(store.voltage / voltage);
  if (const auto* chain = std::get_if<ResistorChain>(&bleed)) {
    return beside_leakage(chain_resistance(*chain) * store.capacitance, store.dielectric, c) * fall;
  }
  if (const auto* lamp = std::get_if<Lamp>(&bleed)) {
    return lamp_progress({store.voltage, voltage}, store, *lamp, c).back()[0];
  }
  return of(store.dielectric, c.leakage) * fall;
}

double charge_limit_voltage(double capacitance, const ChargeCoefficients& c) {
  require(capacitance > 0.0, "a capacitance above zero is needed");
  const double by_charge = c.safe_charge / capacitance;
  if (by_charge <= c.charge_limit_voltage) return by_charge;
  return std::max(c.charge_limit_voltage, std::sqrt(2.0 * c.safe_energy / capacitance));
}

double energy_limit_voltage(double capacitance, const ChargeCoefficients& c) {
  require(capacitance > 0.0, "a capacitance above zero is needed");
  const auto reaches = [capacitance](double energy) {
    return std::sqrt(2.0 * energy / capacitance);
  };
  if (reaches(c.band_low_energy) < c.band_low_voltage) return reaches(c.band_low_energy);
  const double middle = std::max(c.band_low_voltage, reaches(c.band_middle_energy));
  if (middle < c.band_high_voltage) return middle;
  return std::max(c.band_high_voltage, reaches(c.band_high_energy));
}

Hazard hazard(const Store& store, const ChargeCoefficients& c) {
  const double energy = stored_energy(store);
  if (store.voltage <= c.safe_voltage) return Hazard::none;
  if (energy >= c.lethal_energy) return Hazard::may_kill;
  const bool within = store.voltage <= energy_limit_voltage(store.capacitance, c);
  return within ? Hazard::within_limits : Hazard::above_limits;
}

Discharge discharge(const Store& store, const Bleed& bleed, const ChargeCoefficients& c) {
  Discharge result{
      .safe_after = time_to(c.safe_voltage, store, bleed, c),
      .charge_limit_after = time_to(charge_limit_voltage(store.capacitance, c), store, bleed, c),
      .energy_limit_after = time_to(energy_limit_voltage(store.capacitance, c), store, bleed, c),
      .recovery_voltage = recovery_voltage(store, c)};
  result.keep_shorted = result.recovery_voltage > c.safe_voltage;
  if (const auto* chain = std::get_if<ResistorChain>(&bleed)) {
    check_chain(store, *chain, c, result.findings);
  }
  const auto* lamp = std::get_if<Lamp>(&bleed);
  if (lamp != nullptr && store.voltage > c.safe_voltage) {
    result.hottest_filament = hottest_filament(store, *lamp, c);
    check_lamp(result.hottest_filament, *lamp, store, c, result.findings);
  }
  if (result.safe_after > c.safe_time && !needs_no_bleeder(store, c)) {
    add(result.findings,
        Severity::caution,
        "safe_after",
        "s",
        result.safe_after,
        c.safe_time,
        "the charge outlasts the time within which it should be harmless");
  }
  if (result.keep_shorted) {
    add(result.findings,
        Severity::caution,
        "recovery_voltage",
        "V",
        result.recovery_voltage,
        c.safe_voltage,
        "the dielectric gives charge back after a short: leave the shorting strap on");
  }
  return result;
}

ChainShare chain_share(const ResistorChain& chain,
                       const Store& store,
                       const ChargeCoefficients& c) {
  const double current = store.voltage / chain_resistance(chain);
  const double power = current * current * chain.resistance * (1.0 + c.resistor_tolerance);
  const double energy = stored_energy(store) / chain.count * (1.0 + c.resistor_tolerance);
  // Eq. 36: the short overload test bounds power and energy; what it bears for ever it bears once.
  const double overload = c.overload_voltage * c.overload_voltage;
  const double in_pulse = std::min(power, std::max(power, energy / c.overload_time) / overload);
  return {.voltage = worst_voltage(store.voltage, chain.count, c),
          .power = power,
          .energy = energy,
          .asked_power = chain.connection == Connection::permanent ? power : in_pulse};
}

bool needs_no_bleeder(const Store& store, const ChargeCoefficients& c) {
  if (store.voltage <= c.safe_voltage) return true;
  const bool small = store.voltage <= charge_limit_voltage(store.capacitance, c) &&
                     store.voltage <= energy_limit_voltage(store.capacitance, c);
  return small && bleeder_resistance(store, c) > c.bleeder_highest;
}

std::optional<BleederAdvice> advise_bleeder(const Store& store, const ChargeCoefficients& c) {
  require_store(store);
  if (needs_no_bleeder(store, c)) return std::nullopt;
  const double slowest = 1.0 + c.resistor_tolerance;
  const double resistance = bleeder_resistance(store, c);
  const double power = store.voltage * store.voltage / resistance;
  const auto shortest = [&](const ResistorRating& rating) -> std::optional<BleederAdvice> {
    for (int count = 1; count <= c.resistor_most; ++count) {
      const BleederAdvice advice{.resistance = resistance,
                                 .power = power,
                                 .count = count,
                                 .resistance_each = resistance / count,
                                 .voltage_each = worst_voltage(store.voltage, count, c),
                                 .power_each = power / count * slowest,
                                 .rating = rating};
      if (advice.voltage_each <= c.resistor_share * rating.voltage &&
          advice.power_each <= c.resistor_share * rating.power) {
        return advice;
      }
    }
    return std::nullopt;
  };
  if (const auto small = shortest(c.small_resistor)) return small;
  const auto tall = shortest(c.tall_resistor);
  const auto cased = shortest(c.cased_resistor);
  return !tall || (cased && cased->count < tall->count) ? cased : tall;
}

Indicator indicator(double threshold,
                    const Store& store,
                    const Bleed& bleed,
                    const ChargeCoefficients& c) {
  const double left = std::min(threshold, store.voltage);
  return {.dark_after = time_to(threshold, store, bleed, c),
          .charge_left = store.capacitance * left,
          .energy_left = stored_energy({store.capacitance, left, store.dielectric}),
          .truthful = left <= c.safe_voltage && recovery_voltage(store, c) <= c.safe_voltage};
}

std::vector<DischargePoint> discharge_curve(const Store& store,
                                            const Bleed& bleed,
                                            double end_voltage,
                                            std::size_t count,
                                            const ChargeCoefficients& c) {
  require_store(store);
  require(count > 1 && end_voltage > 0.0 && end_voltage < store.voltage,
          "a discharge curve has two points or more and falls");
  const auto voltages = falling_voltages(store, end_voltage, count);
  std::vector<DischargePoint> points;
  points.reserve(count);
  if (const auto* lamp = std::get_if<Lamp>(&bleed)) {
    const auto progress = lamp_progress(voltages, store, *lamp, c);
    for (std::size_t i = 0; i < count; ++i) points.push_back({progress[i][0], voltages[i]});
    return points;
  }
  for (const double voltage : voltages) {
    points.push_back({.time = time_to(voltage, store, bleed, c), .voltage = voltage});
  }
  return points;
}

}  // namespace windgap::spark
