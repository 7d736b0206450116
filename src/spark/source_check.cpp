#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <string>
#include <utility>

#include "spark/source.h"

namespace windgap::spark {
namespace {

/// Collects findings; an unset number is a mistake of the caller, not of the person asking.
class Checks {
 public:
  explicit Checks(const SourceCoefficients& c) : c_(c) {}

  void positive(std::string_view key, std::string_view unit, double value) {
    at_least_zero(key, unit, value);
    if (value == 0.0) add(Severity::refused, key, unit, value, 0.0, "must be above zero");
  }

  void at_least_zero(std::string_view key, std::string_view unit, double value) {
    if (std::isnan(value)) throw std::logic_error("unset: " + std::string(key));
    if (value < 0.0) add(Severity::refused, key, unit, value, 0.0, "cannot be negative");
  }

  void at_most(std::string_view key,
               std::string_view unit,
               double read,
               double allowed,
               std::string_view why) {
    if (read > allowed) add(Severity::refused, key, unit, read, allowed, why);
  }

  void rated(std::string_view key,
             std::string_view unit,
             double read,
             double rating,
             std::string_view why) {
    at_most(key, unit, read, rating, why);
    const double comfortable = c_.rating_share * rating;
    if (read <= rating && read > comfortable) {
      add(Severity::caution,
          key,
          unit,
          read,
          comfortable,
          "closer to its rating than a part in a pulse circuit should be");
    }
  }

  void caution(std::string_view key,
               std::string_view unit,
               double read,
               double allowed,
               std::string_view why) {
    if (read > allowed) add(Severity::caution, key, unit, read, allowed, why);
  }

  void polarity(const Capacitor& capacitor, double reverse_voltage, std::string_view why) {
    if (capacitor.dielectric == Dielectric::electrolytic) {
      at_most("capacitor.dielectric", "V", reverse_voltage, 0.0, why);
    }
  }

  void coil(const Coil& coil) {
    positive("coil.turns_ratio", "-", coil.turns_ratio);
    positive("coil.efficiency", "-", coil.efficiency.value_or(c_.coil_efficiency));
    at_most("coil.efficiency",
            "-",
            coil.efficiency.value_or(c_.coil_efficiency),
            1.0,
            "a coil cannot give more than was put in");
    positive("coil.secondary_capacitance",
             "F",
             coil.secondary_capacitance.value_or(c_.secondary_capacitance));
  }

  void capacitor(const Capacitor& capacitor) {
    positive("capacitor.capacitance", "F", capacitor.capacitance);
    positive("capacitor.rated_voltage", "V", capacitor.rated_voltage);
  }

  void energy(std::string_view key, double stored) {
    at_most(key,
            "J",
            stored,
            c_.highest_energy,
            "more energy for one spark than the strongest igniters store and than this advice "
            "covers");
  }

  void from_mains(std::string_view key, Supply supply, double current) {
    if (supply == Supply::isolated_low_voltage) return;
    at_most(key,
            "A",
            current,
            c_.mains_current,
            "it draws more from the mains than a usual circuit "
            "gives");
  }

  void from_battery(std::string_view key, double current) {
    caution(key,
            "A",
            current,
            c_.battery_current,
            "the battery and its leads are asked for more than bench leads carry");
  }

  void mains(Supply supply, double voltage) {
    if (supply != Supply::isolated_low_voltage) {
      caution("supply",
              "V",
              voltage,
              0.0,
              supply == Supply::tied_to_mains
                  ? "tied to the mains: every part is live, plug and engine included; an isolated "
                    "low-voltage source is the better choice"
                  : "fed from the mains through an isolating transformer; an isolated low-voltage "
                    "source is the better choice");
    }
  }

  void low_voltage(Supply supply, double rms) {
    if (supply != Supply::isolated_low_voltage) return;
    at_most("supply",
            "V",
            rms,
            c_.low_voltage,
            "no low voltage: a feed of more can kill and is isolated_mains or tied_to_mains");
  }

  [[nodiscard]] bool possible() const { return !refused(findings_); }
  [[nodiscard]] std::vector<Finding> findings() && { return std::move(findings_); }
  [[nodiscard]] double alternating_share() const { return c_.alternating_share; }
  [[nodiscard]] const SourceCoefficients& coefficients() const { return c_; }

 private:
  void add(Severity severity,
           std::string_view key,
           std::string_view unit,
           double read,
           double allowed,
           std::string_view why) {
    findings_.push_back({.severity = severity,
                         .key = key,
                         .unit = unit,
                         .read = read,
                         .allowed = allowed,
                         .why = why});
  }

  const SourceCoefficients& c_;
  std::vector<Finding> findings_;
};

void examine(const StepUpTransformer& source, double /*across*/, Checks& checks) {
  checks.positive("primary_voltage", "V", source.primary_voltage);
  checks.positive("turns_ratio", "-", source.turns_ratio);
  checks.positive("short_circuit_current", "A", source.short_circuit_current);
  checks.positive("frequency", "Hz", source.frequency);
  checks.low_voltage(source.supply, source.primary_voltage);
  checks.mains(source.supply, source.primary_voltage);
}

void examine(const Ladder& source, double across, Checks& checks) {
  checks.positive("supply_peak", "V", source.supply_peak);
  checks.positive("supply_current", "A", source.supply_current);
  checks.positive("frequency", "Hz", source.frequency);
  checks.positive("stages", "-", source.stages);
  checks.capacitor(source.capacitor);
  checks.positive("diode_rated_voltage", "V", source.diode_rated_voltage);
  checks.at_least_zero("load_current", "A", source.load_current);
  checks.at_least_zero("output_capacitance", "F", source.output_capacitance);
  if (!checks.possible()) return;
  const double step = 2.0 * source.supply_peak;
  checks.rated("capacitor.rated_voltage",
               "V",
               step,
               source.capacitor.rated_voltage,
               "each capacitor of a ladder holds twice the supply's peak");
  checks.rated("diode_rated_voltage",
               "V",
               step,
               source.diode_rated_voltage,
               "each diode of a ladder blocks twice the supply's peak");
  checks.polarity(
      source.capacitor, step, "the spark swings the columns: no electrolytic in a ladder");
  checks.at_most("load_current",
                 "A",
                 source.load_current,
                 source.supply_current / diode_count(source),
                 "a ladder divides its supply's current by the number of its diodes");
  if (std::isfinite(across)) {
    checks.at_most("bleed.resistance",
                   "A",
                   ladder_state(source, across).current,
                   source.supply_current / diode_count(source),
                   "a bleeder that stays connected draws more than the ladder's supply gives");
  }
  checks.mains(source.supply, source.supply_peak);
}

void examine(const DwellCoil& source, double /*across*/, Checks& checks) {
  checks.positive("battery_voltage", "V", source.battery_voltage);
  checks.positive("primary_resistance", "Ohm", source.primary_resistance);
  checks.positive("primary_inductance", "H", source.primary_inductance);
  checks.positive("dwell", "s", source.dwell);
  checks.positive("sparks_per_second", "1/s", source.sparks_per_second);
  checks.positive("current_limit", "A", source.current_limit.value_or(1.0));
  checks.positive("clamp_voltage", "V", source.clamp_voltage.value_or(1.0));
  checks.at_least_zero("primary_capacitance", "F", source.primary_capacitance);
  checks.positive("switch_rated_voltage", "V", source.switch_rated_voltage);
  checks.positive("switch_rated_current", "A", source.switch_rated_current);
  checks.coil(source.coil);
  if (!checks.possible()) return;
  checks.at_most("dwell",
                 "s",
                 source.dwell,
                 1.0 / source.sparks_per_second,
                 "the dwell is longer than the time between two sparks");
  checks.rated("switch_rated_current",
               "A",
               primary_current(source),
               source.switch_rated_current,
               "the primary current at the end of the dwell is more than the switch carries");
  const double unclamped = flyback_peak(source, checks.coefficients()) / source.coil.turns_ratio;
  checks.at_most("switch_rated_voltage",
                 "V",
                 std::min(unclamped, source.clamp_voltage.value_or(unclamped)),
                 source.switch_rated_voltage,
                 "with the plug lead open the primary swings above what the switch blocks");
}

void examine_pulse(const Capacitor& capacitor, Ringing ringing, double voltage, Checks& checks) {
  if (ringing == Ringing::free) {
    checks.polarity(capacitor,
                    voltage,
                    "the coil swings the capacitor's voltage below zero: no electrolytic without a "
                    "clamping diode");
  }
}

void examine(const StorageCoil& source, double /*across*/, Checks& checks) {
  checks.positive("mains_voltage", "V", source.mains_voltage);
  checks.positive("mains_frequency", "Hz", source.mains_frequency);
  checks.at_least_zero("firing_angle", "rad", source.firing_angle);
  checks.at_least_zero("charging_resistance", "Ohm", source.charging_resistance);
  checks.capacitor(source.capacitor);
  checks.positive("switch_rated_voltage", "V", source.switch_rated_voltage);
  checks.coil(source.coil);
  checks.at_most("firing_angle",
                 "rad",
                 source.firing_angle,
                 std::nextafter(std::numbers::pi, 0.0),
                 "after the end of the half-wave nothing is left to charge with");
  if (!checks.possible()) return;
  const double peak = std::numbers::sqrt2 * source.mains_voltage;
  if (source.feed == Feed::alternating) {
    checks.polarity(source.capacitor, peak, "no electrolytic on alternating voltage");
    checks.rated("capacitor.rated_voltage",
                 "V",
                 peak,
                 checks.alternating_share() * source.capacitor.rated_voltage,
                 "on alternating voltage a capacitor stands only a share of its direct rating");
  } else {
    checks.rated("capacitor.rated_voltage",
                 "V",
                 peak,
                 source.capacitor.rated_voltage,
                 "with the angle turned forward the capacitor charges to the mains peak");
    examine_pulse(source.capacitor, source.ringing, peak, checks);
  }
  checks.rated("switch_rated_voltage",
               "V",
               2.0 * peak,
               source.switch_rated_voltage,
               "the switch blocks the mains peak and the capacitor's charge in series");
  checks.low_voltage(source.supply, source.mains_voltage);
  checks.mains(source.supply, source.mains_voltage);
}

void examine(const ConverterDischarge& source, double across, Checks& checks) {
  checks.positive("battery_voltage", "V", source.battery_voltage);
  checks.positive("converter_voltage", "V", source.converter_voltage);
  checks.positive("converter_power", "W", source.converter_power);
  checks.positive("sparks_per_second", "1/s", source.sparks_per_second);
  checks.capacitor(source.capacitor);
  checks.positive("switch_rated_voltage", "V", source.switch_rated_voltage);
  checks.coil(source.coil);
  if (!checks.possible()) return;
  checks.rated("capacitor.rated_voltage",
               "V",
               source.converter_voltage,
               source.capacitor.rated_voltage,
               "the converter charges the capacitor beyond it");
  checks.rated("switch_rated_voltage",
               "V",
               source.converter_voltage,
               source.switch_rated_voltage,
               "the switch blocks the capacitor's voltage");
  examine_pulse(source.capacitor, source.ringing, source.converter_voltage, checks);
  auto strong = source;
  strong.converter_voltage = std::numeric_limits<double>::infinity();
  const double filled = charged_voltage(strong, across);
  const double short_by = source.converter_voltage / filled;
  checks.caution("converter_power",
                 "W",
                 source.converter_power * short_by * short_by,
                 source.converter_power,
                 "the converter cannot fill the capacitor between two sparks");
}

/// What the parts hold and draw, where their ratings and their peak are in order.
void examine_power(const StepUpTransformer& source, Checks& checks) {
  checks.from_mains(
      "short_circuit_current", source.supply, source.turns_ratio * source.short_circuit_current);
}

void examine_power(const Ladder& source, Checks& checks) {
  checks.energy("capacitor.capacitance", open_energy(source));
  if (source.supply != Supply::isolated_low_voltage) {
    checks.at_most("supply_current",
                   "W",
                   source.supply_peak / std::numbers::sqrt2 * source.supply_current,
                   checks.coefficients().mains_power,
                   "its supply draws more from the mains than a usual circuit gives");
  }
}

void examine_power(const DwellCoil& source, Checks& checks) {
  const double current = primary_current(source);
  checks.energy("dwell", source.primary_inductance * current * current / 2.0);
  checks.from_battery("dwell", source.sparks_per_second * dwell_charge(source));
  checks.caution("dwell",
                 "W",
                 dwell_heat(source, checks.coefficients()),
                 checks.coefficients().coil_heat,
                 "coil and switch overheat in steady use: a shorter dwell, fewer sparks, or only "
                 "moments of it");
}

void examine_power(const StorageCoil& source, Checks& checks) {
  const double peak = std::numbers::sqrt2 * source.mains_voltage;
  checks.energy("capacitor.capacitance", source.capacitor.capacitance * peak * peak / 2.0);
  checks.from_mains("capacitor.capacitance", source.supply, charging_current(source));
  if (source.supply != Supply::isolated_low_voltage) {
    checks.caution("charging_resistance",
                   "A",
                   peak / source.charging_resistance,
                   std::numbers::sqrt2 * checks.coefficients().mains_current,
                   "the switch closes on an empty capacitor with too little resistance before it: "
                   "the inrush may weld contacts or burst the switch");
  }
}

void examine_power(const ConverterDischarge& source, Checks& checks) {
  checks.energy(
      "capacitor.capacitance",
      source.capacitor.capacitance * source.converter_voltage * source.converter_voltage / 2.0);
  checks.from_battery("converter_power", source.converter_power / source.battery_voltage);
}

/// The key that a person would change to lower the peak.
std::string_view key_of_peak(const Source& source, double highest) {
  if (std::holds_alternative<StepUpTransformer>(source)) return "turns_ratio";
  if (const auto* const ladder = std::get_if<Ladder>(&source)) {
    return ladder->supply_peak > highest ? "supply_peak" : "stages";
  }
  const auto* const dwell = std::get_if<DwellCoil>(&source);
  return dwell != nullptr && !dwell->clamp_voltage ? "clamp_voltage" : "coil.turns_ratio";
}

void examine_peak(const Source& source, Checks& checks) {
  const auto& c = checks.coefficients();
  const double peak = open_peak(source, c);
  checks.at_most(key_of_peak(source, c.highest_voltage),
                 "V",
                 peak,
                 c.highest_voltage,
                 "the peak with the plug's lead off is more than any plug needs and than this "
                 "advice covers");
  if (peak <= c.highest_voltage) {
    checks.caution("peak_voltage",
                   "V",
                   peak,
                   c.xray_voltage,
                   "beyond the voltage up to which X-rays are no issue: ask somebody qualified "
                   "about radiation too, and keep glow tubes and anything evacuated away");
  }
}

}  // namespace

bool refused(const std::vector<Finding>& findings) {
  return std::any_of(findings.begin(), findings.end(), [](const Finding& finding) {
    return finding.severity == Severity::refused;
  });
}

std::vector<Finding> check(const Source& source, const SourceCoefficients& c, double across) {
  Checks checks(c);
  std::visit([&](const auto& kind) { examine(kind, across, checks); }, source);
  if (checks.possible()) examine_peak(source, checks);
  if (checks.possible()) {
    std::visit([&](const auto& kind) { examine_power(kind, checks); }, source);
  }
  return std::move(checks).findings();
}

}  // namespace windgap::spark
