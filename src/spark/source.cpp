#include "spark/source.h"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <stdexcept>

namespace windgap::spark {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double sqrt2 = std::numbers::sqrt2;

template <class... Handlers>
struct Overloaded : Handlers... {
  using Handlers::operator()...;
};
template <class... Handlers>
Overloaded(Handlers...) -> Overloaded<Handlers...>;

double magnetic_energy(double inductance, double current) {
  return inductance * current * current / 2.0;
}

LadderLoad load_of(const Ladder& ladder, double current) {
  return {.doublers = diode_count(ladder) / 2.0,
          .current = current,
          .frequency = ladder.frequency,
          .capacitance = ladder.capacitor.capacitance};
}

/// Capacitors in series from ground to the output, and in the other column.
struct Columns {
  int output = 0;
  int other = 0;
};
Columns columns(const Ladder& ladder) {
  const int output = (diode_count(ladder) + 1) / 2;
  return {.output = output, .other = diode_count(ladder) - output};
}

double efficiency(const Coil& coil, const SourceCoefficients& c) {
  return coil.efficiency.value_or(c.coil_efficiency);
}

double secondary_capacitance(const Coil& coil, const SourceCoefficients& c) {
  return coil.secondary_capacitance.value_or(c.secondary_capacitance);
}

/// Eq. 16: the storage capacitor shares its charge with what hangs on the secondary.
double pulse_peak(const Coil& coil,
                  const Capacitor& capacitor,
                  double voltage,
                  const SourceCoefficients& c) {
  const double reflected = coil.turns_ratio * coil.turns_ratio * secondary_capacitance(coil, c);
  const double kept =
      efficiency(coil, c) * capacitor.capacitance / (capacitor.capacitance + reflected);
  return coil.turns_ratio * voltage * std::sqrt(kept);
}

struct Energies {
  double stored = unset;  ///< that a spark can draw on [J]
  double spark = unset;   ///< that one carries, if it jumps [J]
};

Output without_spark(double peak_voltage, const Energies& energies) {
  return {.peak_voltage = peak_voltage,
          .stored_energy = energies.stored,
          .spark_energy = energies.spark,
          .sparks_per_second = 0.0,
          .average_power = 0.0,
          .store = {},
          .ladder = {}};
}

Output with_sparks(Output result, double sparks_per_second) {
  result.sparks_per_second = sparks_per_second;
  result.average_power = result.spark_energy * sparks_per_second;
  return result;
}

/// Eq. 6.
double open_voltage(const StepUpTransformer& source) {
  return sqrt2 * source.primary_voltage * source.turns_ratio;
}

Output evaluate(const StepUpTransformer& source,
                double required,
                const SourceCoefficients& c,
                double /*across*/) {
  const double peak = open_voltage(source);
  const double half_waves = 2.0 * source.frequency;
  const double mean_current = 2.0 * sqrt2 / pi * source.short_circuit_current;
  const Output result =
      without_spark(peak, {.stored = 0.0, .spark = c.burning_voltage * mean_current / half_waves});
  return peak < required ? result : with_sparks(result, half_waves);
}

struct Recharge {
  double available = unset;    ///< [V]
  double required = unset;     ///< [V]
  double capacitance = unset;  ///< of both columns [F]
};

/// Sparks a second of a ladder that recharges both columns through its own drop, and no faster than
/// its supply allows (Eq. 11).
double ladder_rate(const Ladder& source, const Recharge& recharge, double across) {
  const double through = ladder_drop(load_of(source, 1.0));
  const double resistance = through / (1.0 + through / across);
  const double by_drop = resistance * recharge.capacitance *
                         std::log(recharge.available / (recharge.available - recharge.required));
  const double spare = source.supply_current / diode_count(source) - source.load_current -
                       recharge.required / across;
  const double by_supply = recharge.capacitance * recharge.required / spare;
  return std::min(source.frequency, 1.0 / std::max(by_drop, by_supply));
}

Output evaluate(const Ladder& source,
                double required,
                const SourceCoefficients& /*unused*/,
                double across) {
  const auto state = ladder_state(source, across);
  const double available = std::max(0.0, state.open_voltage - state.drop);
  const auto column = columns(source);
  const double across_output =
      source.capacitor.capacitance / column.output + source.output_capacitance;
  const double other = column.other > 0 ? source.capacitor.capacitance / column.other : 0.0;
  const auto held = [&](double voltage) { return across_output * voltage * voltage / 2.0; };
  Output result = without_spark(
      available, {.stored = held(available), .spark = held(std::min(available, required))});
  result.ladder = state;
  result.store = Store{.capacitance = across_output + other,
                       .voltage = state.open_voltage,
                       .dielectric = source.capacitor.dielectric};
  if (available <= required) return result;
  const Recharge recharge{
      .available = available, .required = required, .capacitance = across_output + other};
  return with_sparks(result, ladder_rate(source, recharge, across));
}

double open_voltage(const DwellCoil& source, const SourceCoefficients& c) {
  const double peak = flyback_peak(source, c);
  return source.clamp_voltage ? std::min(peak, source.coil.turns_ratio * *source.clamp_voltage)
                              : peak;
}

Output evaluate(const DwellCoil& source,
                double required,
                const SourceCoefficients& c,
                double /*across*/) {
  const double stored = magnetic_energy(source.primary_inductance, primary_current(source));
  const double peak = open_voltage(source, c);
  const Output result =
      without_spark(peak, {.stored = stored, .spark = efficiency(source.coil, c) * stored});
  return peak < required ? result : with_sparks(result, source.sparks_per_second);
}

/// A capacitor emptied into a coil; `idle_voltage` is the most it can hold when switched off.
struct CapacitorPulse {
  const Capacitor& capacitor;
  const Coil& coil;
  double voltage = unset;
  double rate = unset;
  double idle_voltage = unset;
};

Output evaluate(const CapacitorPulse& pulse, double required, const SourceCoefficients& c) {
  const double stored = pulse.capacitor.capacitance * pulse.voltage * pulse.voltage / 2.0;
  const double peak = pulse_peak(pulse.coil, pulse.capacitor, pulse.voltage, c);
  Output result =
      without_spark(peak, {.stored = stored, .spark = efficiency(pulse.coil, c) * stored});
  result.store = Store{.capacitance = pulse.capacitor.capacitance,
                       .voltage = pulse.idle_voltage,
                       .dielectric = pulse.capacitor.dielectric};
  return peak < required ? result : with_sparks(result, pulse.rate);
}

/// Share of a capacitor's voltage that is left after `wait` [s] with `across` over it.
double kept(const Capacitor& capacitor, double across, double wait) {
  return std::exp(-wait / (across * capacitor.capacitance));
}

Output evaluate(const StorageCoil& source,
                double required,
                const SourceCoefficients& c,
                double across) {
  const double charges = source.feed == Feed::alternating ? 2.0 : 1.0;
  const double rate = charges * source.mains_frequency;
  // The spark may come as late as just before the next charge.
  const double voltage =
      charged_voltage(source, across) * kept(source.capacitor, across, 1.0 / rate);
  return evaluate(CapacitorPulse{.capacitor = source.capacitor,
                                 .coil = source.coil,
                                 .voltage = voltage,
                                 .rate = rate,
                                 .idle_voltage = sqrt2 * source.mains_voltage},
                  required,
                  c);
}

Output evaluate(const ConverterDischarge& source,
                double required,
                const SourceCoefficients& c,
                double across) {
  return evaluate(CapacitorPulse{.capacitor = source.capacitor,
                                 .coil = source.coil,
                                 .voltage = charged_voltage(source, across),
                                 .rate = source.sparks_per_second,
                                 .idle_voltage = source.converter_voltage},
                  required,
                  c);
}

}  // namespace

int diode_count(const Ladder& ladder) {
  return ladder.counted_in == StageCount::diodes ? ladder.stages : 2 * ladder.stages;
}

double ladder_open_voltage(int stages, StageCount counted_in, double supply_peak) {
  return supply_peak * (counted_in == StageCount::diodes ? stages : 2 * stages);
}

double ladder_drop(const LadderLoad& load) {
  const double n = load.doublers;
  return load.current / (6.0 * load.frequency * load.capacitance) *
         (4.0 * n * n * n + 3.0 * n * n - n);
}

double ladder_ripple(const LadderLoad& load) {
  const double n = load.doublers;
  return load.current / (2.0 * load.frequency * load.capacitance) * n * (n + 1.0);
}

double ladder_ripple_by_diodes(int diodes, const LadderLoad& load) {
  const double n = diodes;
  return load.current * (n * n + n / 2.0) / (8.0 * load.frequency * load.capacitance);
}

double primary_current(const DwellCoil& source) {
  const double settled = source.battery_voltage / source.primary_resistance;
  const double reached =
      -settled * std::expm1(-source.dwell * source.primary_resistance / source.primary_inductance);
  return std::min(reached, source.current_limit.value_or(reached));
}

double dwell_charge(const DwellCoil& source) {
  const double settled = source.battery_voltage / source.primary_resistance;
  const double limit = source.current_limit.value_or(settled);
  const double time_constant = source.primary_inductance / source.primary_resistance;
  const double rising = limit < settled
                            ? std::min(source.dwell, -time_constant * std::log1p(-limit / settled))
                            : source.dwell;
  return settled * (rising + time_constant * std::expm1(-rising / time_constant)) +
         limit * (source.dwell - rising);
}

double dwell_heat(const DwellCoil& source, const SourceCoefficients& c) {
  const double drawn = source.battery_voltage * dwell_charge(source);
  const double given = efficiency(source.coil, c) *
                       magnetic_energy(source.primary_inductance, primary_current(source));
  return source.sparks_per_second * (drawn - given);
}

double charging_current(const StorageCoil& source) {
  // A sine through the capacitor for a quarter of a cycle, or for half of it both ways.
  const double share = source.feed == Feed::alternating ? 1.0 / sqrt2 : 0.5;
  const double by_capacitor = share * 2.0 * pi * source.mains_frequency *
                              source.capacitor.capacitance * source.mains_voltage;
  return std::min(by_capacitor, source.mains_voltage / source.charging_resistance);
}

double open_energy(const Ladder& source) {
  const double open = ladder_open_voltage(source.stages, source.counted_in, source.supply_peak);
  return (source.capacitor.capacitance / columns(source).output + source.output_capacitance) *
         open * open / 2.0;
}

double flyback_peak(const DwellCoil& source, const SourceCoefficients& c) {
  const double ratio = source.coil.turns_ratio;
  const double seen =
      secondary_capacitance(source.coil, c) + source.primary_capacitance / (ratio * ratio);
  return primary_current(source) *
         std::sqrt(efficiency(source.coil, c) * source.primary_inductance / seen);
}

double charged_voltage(const StorageCoil& source, double across) {
  const double peak = sqrt2 * source.mains_voltage;
  const double start = std::max(source.firing_angle, pi / 2.0);
  if (source.charging_resistance == 0.0) return peak * std::sin(start);
  // Eq. 14: the linear circuit solved from the firing angle until the mains falls below the
  // capacitor and the diode blocks. A bleeder divides what drives it (Eq. 34).
  const double divided = 1.0 / (1.0 + source.charging_resistance / across);
  const double lag = 2.0 * pi * source.mains_frequency * divided * source.charging_resistance *
                     source.capacitor.capacitance;
  const auto driven = [&](double angle) {
    return divided * peak * (std::sin(angle) - lag * std::cos(angle)) / (1.0 + lag * lag);
  };
  const auto charged = [&](double angle) {
    return driven(angle) -
           driven(source.firing_angle) * std::exp((source.firing_angle - angle) / lag);
  };
  const auto excess = [&](double angle) { return peak * std::sin(angle) - charged(angle); };
  std::uintmax_t evaluations = 100;
  const auto blocks = boost::math::tools::toms748_solve(
      excess, start, pi, boost::math::tools::eps_tolerance<double>(40), evaluations);
  return charged(blocks.second);
}

double charged_voltage(const ConverterDischarge& source, double across) {
  const double wait = 1.0 / source.sparks_per_second;
  const double capacitance = source.capacitor.capacitance;
  // Seconds for which the power would have to be stored without loss (Eq. 35).
  const double time_constant = across * capacitance / 2.0;
  const double counted =
      std::isfinite(across) ? -time_constant * std::expm1(-wait / time_constant) : wait;
  const double filled = std::sqrt(2.0 * source.converter_power * counted / capacitance);
  return std::min(source.converter_voltage, filled);
}

LadderState ladder_state(const Ladder& source, double across) {
  const double open = ladder_open_voltage(source.stages, source.counted_in, source.supply_peak);
  const double resistance = ladder_drop(load_of(source, 1.0));
  const double left =
      std::max(0.0, open - resistance * source.load_current) / (1.0 + resistance / across);
  const double current = source.load_current + left / across;
  return {.open_voltage = open,
          .current = current,
          .drop = open - left,
          .ripple = ladder_ripple(load_of(source, current)),
          .other_ripple = ladder_ripple_by_diodes(diode_count(source), load_of(source, current))};
}

double open_peak(const Source& source, const SourceCoefficients& c) {
  return std::visit(
      Overloaded{[](const StepUpTransformer& kind) { return open_voltage(kind); },
                 [](const Ladder& kind) {
                   return ladder_open_voltage(kind.stages, kind.counted_in, kind.supply_peak);
                 },
                 [&c](const DwellCoil& kind) { return open_voltage(kind, c); },
                 [&c](const StorageCoil& kind) {
                   return pulse_peak(kind.coil, kind.capacitor, sqrt2 * kind.mains_voltage, c);
                 },
                 [&c](const ConverterDischarge& kind) {
                   return pulse_peak(kind.coil, kind.capacitor, kind.converter_voltage, c);
                 }},
      source);
}

Output output(const Source& source,
              double required_voltage,
              const SourceCoefficients& c,
              double across) {
  if (!(required_voltage > 0.0) || !(across > 0.0) || refused(check(source, c, across))) {
    throw std::logic_error("a source is evaluated only after its check, on a gap that can spark");
  }
  return std::visit([&](const auto& kind) { return evaluate(kind, required_voltage, c, across); },
                    source);
}

Supply supply(const Source& source) {
  return std::visit(
      Overloaded{[](const StepUpTransformer& kind) { return kind.supply; },
                 [](const Ladder& kind) { return kind.supply; },
                 [](const StorageCoil& kind) { return kind.supply; },
                 [](const DwellCoil&) { return Supply::isolated_low_voltage; },
                 [](const ConverterDischarge&) { return Supply::isolated_low_voltage; }},
      source);
}

double rise_factor(const Source& source, const SourceCoefficients& c) {
  const bool steep = std::holds_alternative<StorageCoil>(source) ||
                     std::holds_alternative<ConverterDischarge>(source);
  return steep ? c.fast_rise : 1.0;
}

}  // namespace windgap::spark
