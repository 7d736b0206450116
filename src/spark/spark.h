#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "spark/charge.h"
#include "spark/coefficients.h"
#include "spark/gap.h"
#include "spark/ignition.h"
#include "spark/source.h"

/// One igniter at one place in the engine: does it spark, is the spark enough, when is it safe.
namespace windgap::spark {

/// Two igniters on one engine are two of these.
struct Igniter {
  Gap gap;
  Source source;
  Bleed bleed = NoBleed{};                         ///< across the stored charge
  std::optional<double> indicator_threshold = {};  ///< a charged-indicator goes dark below it [V]
};

/// Gaps that jump with the wanted margin and do not quench the flame; empty where longest is
/// shorter than shortest.
struct GapRange {
  double shortest = unset;  ///< the quench distance [m]
  double longest = unset;   ///< that jumps with the wanted margin, no longer than was checked [m]
  bool ends_with_the_check = false;  ///< the source has voltage for more than was checked
};

/// Whether the gap breaks down.
enum class Jump {
  no,      ///< less than it asks for is there
  unsure,  ///< enough, but less than the wanted margin over it
  yes,
};

/// Resistors that would make the charge harmless in time, and what they would do to the source if
/// they stayed connected while it runs.
struct AdvisedBleeder {
  BleederAdvice chain;
  Connection connection = Connection::self_closing;  ///< permanent only where the source bears it
  double peak_voltage = unset;  ///< of the source with the chain always across it [V]
  double margin = unset;        ///< the same over the gap [-]
};

/// The stored charge of the source.
struct ChargeVerdict {
  Store store;
  double energy = unset;  ///< at switch-off [J]
  Hazard hazard = Hazard::none;
  Discharge fitted;                           ///< through what is fitted
  double unaided = unset;                     ///< to the safe voltage by leakage alone, rough [s]
  double unaided_least = unset;               ///< end of the range that leakage is known in [s]
  double unaided_most = unset;                ///< the other end [s]
  bool small = false;                         ///< nothing need be fitted
  std::optional<AdvisedBleeder> advice = {};  ///< none: nothing to bleed, or no sensible chain
  std::optional<Indicator> indicator = {};    ///< as fitted, or a plain neon lamp where one fits
};

/// A bleeder fitted for good that takes what the source needs to light, and what would leave it.
struct StarvingBleeder {
  double peak_without = unset;  ///< of the source with nothing across it [V]
  double resistance = unset;  ///< of a chain with which it lights, the least [Ohm]; infinite: none
  double safe_after = unset;  ///< with that chain, or by leakage where there is none [s]
};

struct Assessment {
  std::vector<Finding> findings;  ///< of the source; the charge has its own
  bool refused = false;           ///< then nothing below is filled but the need
  Supply supply = Supply::isolated_low_voltage;

  Breakdown breakdown;              ///< of the gap, slowly rising
  double required_voltage = unset;  ///< in this source's pulse [V]
  Output output;
  double margin = unset;         ///< available over required less one [-]
  double wanted_margin = unset;  ///< [-]
  Jump jump = Jump::no;
  bool jumps = false;  ///< the margin is at least the wanted one
  CheckedGap checked;
  GapRange gaps;

  Need need;
  double energy_in_gas = unset;        ///< of a spark if it jumps, less the electrodes' share [J]
  double energy_ratio = unset;         ///< that over the need [-]
  double wanted_energy_ratio = unset;  ///< [-]
  bool enough = false;                 ///< a spark, if it jumps, has the wanted ratio
  bool quenches = false;               ///< the gap is shorter than the quench distance
  double wanted_rate = unset;          ///< sparks a second [1/s]
  bool rare = false;     ///< it sparks, but less often: no spark may come while the mixture burns
  bool ignites = false;  ///< jumps, enough, and does not quench: whenever a spark comes
  bool lights = false;   ///< ignites, and not too rarely

  std::optional<ChargeVerdict> charge = {};      ///< none: nothing stays after switch-off
  std::optional<StarvingBleeder> starving = {};  ///< where it would light without its bleeder
  double safe_after = unset;                     ///< switch-off to harmless [s]
  bool keep_shorted = false;  ///< harmless then only while its terminals are kept shorted
};

/// @throws std::logic_error where a needed number is unset, or the gap or the gas is impossible.
[[nodiscard]] Assessment assess(const Igniter& igniter,
                                const Conditions& conditions,
                                const Coefficients& c);

/// Best first: a spark that lights before one that only jumps, that before one that may jump, those
/// before none, refused last;
/// among equals an isolated low-voltage source before one fed from the mains, then the margin.
[[nodiscard]] std::vector<std::size_t> ranked(std::span<const Assessment> assessments);

/// What `source_curve` varies.
enum class Setting { primary_voltage, load_current, dwell, firing_angle, sparks_per_second };

struct SourceCurve {
  Setting setting = Setting::primary_voltage;
  std::vector<double> settings;       ///< SI
  std::vector<double> peak_voltages;  ///< available [V]
};
/// Available voltage over the source's own knob, `count` points.
/// @throws std::logic_error unless count > 1 and `check` refuses nothing.
[[nodiscard]] SourceCurve source_curve(const Source& source,
                                       std::size_t count,
                                       const SourceCoefficients& c,
                                       double across = nothing_across);

struct BreakdownPoint {
  double length = unset;   ///< [m]
  double voltage = unset;  ///< [V]
};
/// Breakdown against gap, `count` points up to `longest`.
/// @throws std::logic_error unless count > 1 and longest > 0.
[[nodiscard]] std::vector<BreakdownPoint> breakdown_curve(Electrodes electrodes,
                                                          double longest,
                                                          std::size_t count,
                                                          const Gas& gas,
                                                          const GapCoefficients& c);

}  // namespace windgap::spark
