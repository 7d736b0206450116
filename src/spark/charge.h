#pragma once

#include <limits>
#include <optional>
#include <span>
#include <variant>
#include <vector>

#include "spark/coefficients.h"
#include "spark/finding.h"
#include "units/table.h"

/// Stored charge: how it leaves through a resistor chain, an incandescent lamp or only its own
/// leakage, and when what is left is harmless (Eq. 24 to 32 of models/spark.md).
namespace windgap::spark {

/// What lies between the plates: decides leakage, absorbed charge and whether polarity matters.
enum class Dielectric { film, ceramic, paper_oil, electrolytic };

/// Charge as a person meets it between two terminals.
struct Store {
  double capacitance = unset;  ///< seen from the terminals [F]
  double voltage = unset;      ///< at switch-off [V]
  Dielectric dielectric = Dielectric::film;
};

/// How resistors come to lie across the terminals.
enum class Connection {
  permanent,     ///< always there: they load the source too
  self_closing,  ///< through a contact that rests closed and opens only while the source runs
  switched,      ///< somebody must connect them
};

/// Equal resistors in series.
struct ResistorChain {
  double resistance = unset;  ///< of each [Ohm]
  int count = 1;
  double rated_voltage = unset;  ///< of each [V]
  double rated_power = unset;    ///< of each [W]
  Connection connection = Connection::permanent;
};

/// Equal incandescent lamps in series.
struct Lamp {
  double rated_voltage = unset;  ///< of each [V]
  double rated_power = unset;    ///< of each [W]
  int count = 1;
};

/// Nothing fitted: only the capacitor's own leakage.
struct NoBleed {};

using Bleed = std::variant<NoBleed, ResistorChain, Lamp>;

/// Across a source that nothing loads [Ohm].
inline constexpr double nothing_across = std::numeric_limits<double>::infinity();

/// Resistance that lies across the terminals while the source runs [Ohm]; `nothing_across` where
/// the bleed is connected only afterwards.
[[nodiscard]] double always_across(const Bleed& bleed);

/// A lamp's tungsten wire, derived from its label (Eq. 27).
struct Filament {
  double diameter = unset;         ///< [m]
  double length = unset;           ///< uncoiled [m]
  double mass = unset;             ///< [kg]
  double hot_resistance = unset;   ///< at rated voltage [Ohm]
  double cold_resistance = unset;  ///< [Ohm]
};

/// @throws std::logic_error unless rated voltage, power and count are above zero.
[[nodiscard]] Filament filament(const Lamp& lamp, const ChargeCoefficients& c);

/// Stored energy, C V^2 / 2 [J] (Eq. 24).
[[nodiscard]] double stored_energy(const Store& store);

/// Time from switch-off until the terminals are at `voltage` [s] (Eq. 25, 28); 0 if they already
/// are. The capacitor's own leakage lies beside whatever is fitted.
/// @throws std::logic_error unless all numbers it needs are above zero.
[[nodiscard]] double time_to(double voltage,
                             const Store& store,
                             const Bleed& bleed,
                             const ChargeCoefficients& c);

/// Highest voltage at which the charge left is within the limit for accessible parts: a charge up
/// to some kilovolts, an energy above [V] (Eq. 29).
[[nodiscard]] double charge_limit_voltage(double capacitance, const ChargeCoefficients& c);

/// Highest voltage below which the energy left stays within the banded limits [V] (Eq. 30).
[[nodiscard]] double energy_limit_voltage(double capacitance, const ChargeCoefficients& c);

/// A label, no permission to touch.
enum class Hazard {
  none,           ///< at or below the safe voltage
  within_limits,  ///< a shock, below the energy limits
  above_limits,   ///< enough for a reflex or a burn
  may_kill,       ///< at or above the energy taken as able to kill
};
[[nodiscard]] Hazard hazard(const Store& store, const ChargeCoefficients& c);

/// What the worst resistor of a chain bears at switch-off, or always if it stays (Eq. 26, 36).
struct ChainShare {
  double voltage = unset;      ///< [V]
  double power = unset;        ///< [W]
  double energy = unset;       ///< until the store is empty [J]
  double asked_power = unset;  ///< rating that bears it, as the chain is connected [W]
};
/// @throws std::logic_error unless resistance and count are above zero.
[[nodiscard]] ChainShare chain_share(const ResistorChain& chain,
                                     const Store& store,
                                     const ChargeCoefficients& c);

struct Discharge {
  double safe_after = unset;          ///< at or below the safe voltage [s]
  double charge_limit_after = unset;  ///< within the limit of charge [s]
  double energy_limit_after = unset;  ///< within the banded energy limits [s]
  double recovery_voltage = unset;    ///< may come back by itself after a short [V]
  bool keep_shorted = false;          ///< what comes back is above the safe voltage
  double hottest_filament = unset;    ///< [K]; unset unless a lamp is fitted
  std::vector<Finding> findings = {};
};
[[nodiscard]] Discharge discharge(const Store& store,
                                  const Bleed& bleed,
                                  const ChargeCoefficients& c);

/// Resistors that make the store harmless within the safe time (Eq. 31).
struct BleederAdvice {
  double resistance = unset;       ///< of the whole chain, at most [Ohm]
  double power = unset;            ///< of the whole chain while charged [W]
  int count = 0;                   ///< resistors in series
  double resistance_each = unset;  ///< [Ohm]
  double voltage_each = unset;     ///< worst one within tolerance [V]
  double power_each = unset;       ///< the same while it stays charged [W]
  ResistorRating rating;           ///< what each is to be good for
};

/// Whether the store is so small that no bleeder can be built for it, and the limits of charge and
/// energy hold from the start.
[[nodiscard]] bool needs_no_bleeder(const Store& store, const ChargeCoefficients& c);

/// Common resistors where a sensible number of them does it, else tall or cased ones, whichever are
/// fewer. Nothing where the store is never above the safe voltage or needs none, or where no such
/// chain exists.
[[nodiscard]] std::optional<BleederAdvice> advise_bleeder(const Store& store,
                                                          const ChargeCoefficients& c);

/// What a charged-indicator that goes dark at `threshold` leaves behind (Eq. 32).
struct Indicator {
  double dark_after = unset;   ///< [s]
  double charge_left = unset;  ///< [C]
  double energy_left = unset;  ///< [J]
  bool truthful = false;       ///< dark means at or below the safe voltage, and stays so
};
[[nodiscard]] Indicator indicator(double threshold,
                                  const Store& store,
                                  const Bleed& bleed,
                                  const ChargeCoefficients& c);

struct DischargePoint {
  double time = unset;     ///< from switch-off [s]
  double voltage = unset;  ///< [V]
};

/// `count` points from switch-off down to `end_voltage`, equal steps in the voltage's logarithm.
/// @throws std::logic_error unless count > 1 and 0 < end_voltage < the store's voltage.
[[nodiscard]] std::vector<DischargePoint> discharge_curve(const Store& store,
                                                          const Bleed& bleed,
                                                          double end_voltage,
                                                          std::size_t count,
                                                          const ChargeCoefficients& c);

}  // namespace windgap::spark
