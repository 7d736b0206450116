#pragma once

#include <optional>
#include <variant>
#include <vector>

#include "spark/charge.h"
#include "spark/coefficients.h"
#include "spark/finding.h"
#include "units/table.h"

/// Spark sources: what each can put on the plug, what each spark carries, how often, and which
/// combinations of parts are refused (Eq. 6 to 17 of models/spark.md).
namespace windgap::spark {

/// What a person touching the primary side is tied to.
enum class Supply { isolated_low_voltage, isolated_mains, tied_to_mains };

struct Capacitor {
  double capacitance = unset;    ///< [F]
  double rated_voltage = unset;  ///< direct [V]
  Dielectric dielectric = Dielectric::film;
};

/// An ignition coil as a pulse transformer.
struct Coil {
  double turns_ratio = unset;                        ///< secondary over primary [-]
  std::optional<double> efficiency = {};             ///< spark energy over energy put in [-]
  std::optional<double> secondary_capacitance = {};  ///< winding, lead and plug [F]
};

/// A leakage transformer straight on the plug.
struct StepUpTransformer {
  double primary_voltage = unset;        ///< rms [V]
  double turns_ratio = unset;            ///< secondary over primary [-]
  double short_circuit_current = unset;  ///< secondary, rms [A]
  double frequency = unset;              ///< [Hz]
  Supply supply = Supply::tied_to_mains;
};

/// The two ways to count a ladder: one doubler stage is two diodes and adds twice the peak.
enum class StageCount { doublers, diodes };

/// A half-wave voltage ladder on a high-voltage alternating supply.
struct Ladder {
  double supply_peak = unset;     ///< [V]
  double supply_current = unset;  ///< mean the supply can give [A]
  double frequency = unset;       ///< [Hz]
  int stages = 0;
  StageCount counted_in = StageCount::doublers;
  Capacitor capacitor;                 ///< each one
  double diode_rated_voltage = unset;  ///< reverse, each one [V]
  double load_current = 0.0;           ///< drawn without a spark: bleeder, meter, corona [A]
  double output_capacitance = 0.0;     ///< added across the output [F]
  Supply supply = Supply::isolated_mains;
};

/// A battery coil switched off at the end of a dwell.
struct DwellCoil {
  double battery_voltage = unset;            ///< at the coil under load [V]
  double primary_resistance = unset;         ///< of the whole loop [Ohm]
  double primary_inductance = unset;         ///< [H]
  double dwell = unset;                      ///< [s]
  double sparks_per_second = unset;          ///< [1/s]
  std::optional<double> current_limit = {};  ///< kept by the switch [A]
  std::optional<double> clamp_voltage = {};  ///< across the primary [V]
  double primary_capacitance = 0.0;          ///< across the switch [F]
  double switch_rated_voltage = unset;       ///< [V]
  double switch_rated_current = unset;       ///< [A]
  Coil coil;
};

enum class Feed {
  half_wave,    ///< through a diode: one polarity, one charge a cycle
  alternating,  ///< both polarities, two charges a cycle
};

/// Whether the discharge may swing the capacitor's voltage below zero.
enum class Ringing { free, clamped };

/// A capacitor charged from a phase-controlled mains half-wave and emptied into a coil.
struct StorageCoil {
  double mains_voltage = unset;      ///< rms [V]
  double mains_frequency = unset;    ///< [Hz]
  double firing_angle = unset;       ///< from the half-wave's zero, 0 to below pi [rad]
  double charging_resistance = 0.0;  ///< [Ohm]
  Feed feed = Feed::half_wave;
  Ringing ringing = Ringing::free;
  Capacitor capacitor;
  double switch_rated_voltage = unset;  ///< [V]
  Coil coil;
  Supply supply = Supply::tied_to_mains;
};

/// A capacitor charged by a battery's converter and emptied into a coil.
struct ConverterDischarge {
  double battery_voltage = unset;    ///< [V]
  double converter_voltage = unset;  ///< [V]
  double converter_power = unset;    ///< into the capacitor [W]
  double sparks_per_second = unset;  ///< [1/s]
  Ringing ringing = Ringing::free;
  Capacitor capacitor;
  double switch_rated_voltage = unset;  ///< [V]
  Coil coil;
};

using Source = std::variant<StepUpTransformer, Ladder, DwellCoil, StorageCoil, ConverterDischarge>;

/// Where a ladder's voltage goes.
struct LadderState {
  double open_voltage = unset;  ///< nothing drawn [V]
  double current = unset;       ///< drawn without a spark, bleeder included [A]
  double drop = unset;          ///< what that current costs [V]
  double ripple = unset;        ///< peak to peak (Eq. 9) [V]
  double other_ripple = unset;  ///< the same by a makers' rule (Eq. 10) [V]
};

struct Output {
  double peak_voltage = unset;             ///< available, no spark [V]
  double stored_energy = unset;            ///< that a spark can draw on [J]
  double spark_energy = unset;             ///< a spark carries at the plug, if one jumps [J]
  double sparks_per_second = unset;        ///< 0 where none jumps [1/s]
  double average_power = unset;            ///< of the sparks [W]
  std::optional<Store> store = {};         ///< charge that stays when it is switched off
  std::optional<LadderState> ladder = {};  ///< of a ladder only
};

/// What the source does on a gap that breaks down at `required_voltage` [V], with `across` [Ohm]
/// always over its stored charge (Eq. 33 to 35). The store is judged as if nothing lay there.
/// @throws std::logic_error unless `check` refuses nothing and the voltage is above zero.
[[nodiscard]] Output output(const Source& source,
                            double required_voltage,
                            const SourceCoefficients& c,
                            double across = nothing_across);

/// Impossible numbers and combinations that are refused, and cautions; empty is good.
/// @throws std::logic_error where a needed number is unset.
[[nodiscard]] std::vector<Finding> check(const Source& source,
                                         const SourceCoefficients& c,
                                         double across = nothing_across);

/// The highest peak of a possible source, its lead open and nothing drawn [V].
[[nodiscard]] double open_peak(const Source& source, const SourceCoefficients& c);

[[nodiscard]] bool refused(const std::vector<Finding>& findings);

[[nodiscard]] Supply supply(const Source& source);

/// Breakdown voltage in this source's pulse over that in a slow one [-] (Eq. 17).
[[nodiscard]] double rise_factor(const Source& source, const SourceCoefficients& c);

/// What a ladder's formulas need. `doublers` may be a half where the ladder ends on a single diode.
struct LadderLoad {
  double doublers = unset;     ///< doubler stages: half the diodes [-]
  double current = unset;      ///< [A]
  double frequency = unset;    ///< [Hz]
  double capacitance = unset;  ///< of each capacitor [F]
};
/// Without load [V] (Eq. 7).
[[nodiscard]] double ladder_open_voltage(int stages, StageCount counted_in, double supply_peak);
/// Fall of the output under load [V] (Eq. 8).
[[nodiscard]] double ladder_drop(const LadderLoad& load);
/// Ripple, peak to peak, of the doubler-stage theory [V] (Eq. 9).
[[nodiscard]] double ladder_ripple(const LadderLoad& load);
/// A makers' rule for the ripple, counted in diodes; a convention of its own [V] (Eq. 10).
[[nodiscard]] double ladder_ripple_by_diodes(int diodes, const LadderLoad& load);

[[nodiscard]] int diode_count(const Ladder& ladder);

/// Primary current at the end of the dwell [A] (Eq. 12).
[[nodiscard]] double primary_current(const DwellCoil& source);
/// Drawn from the battery for one spark [C] (Eq. 37).
[[nodiscard]] double dwell_charge(const DwellCoil& source);
/// Mean power that stays in the coil and its switch [W] (Eq. 37).
[[nodiscard]] double dwell_heat(const DwellCoil& source, const SourceCoefficients& c);
/// Current from the mains while it charges, rms [A] (Eq. 38).
[[nodiscard]] double charging_current(const StorageCoil& source);
/// Held behind the output with nothing drawn [J]: what a spark could draw on at most.
[[nodiscard]] double open_energy(const Ladder& source);
/// Peak on the secondary with the plug lead open and no clamp [V] (Eq. 13).
[[nodiscard]] double flyback_peak(const DwellCoil& source, const SourceCoefficients& c);
/// Voltage the half-wave leaves on the capacitor, empty at the start [V] (Eq. 14, 34).
[[nodiscard]] double charged_voltage(const StorageCoil& source, double across = nothing_across);
/// Voltage the converter reaches between two sparks [V] (Eq. 15, 35).
[[nodiscard]] double charged_voltage(const ConverterDischarge& source,
                                     double across = nothing_across);
/// What a ladder has on the plug without a spark, and what that costs (Eq. 8, 33).
[[nodiscard]] LadderState ladder_state(const Ladder& source, double across = nothing_across);

}  // namespace windgap::spark
