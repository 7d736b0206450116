#include "spark/spark.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>
#include <stdexcept>
#include <tuple>
#include <utility>

namespace windgap::spark {
namespace {

Jump jump_of(double margin, double wanted) {
  if (margin < 0.0) return Jump::no;
  return margin < wanted ? Jump::unsure : Jump::yes;
}

double energy_in_gas(const Output& output, const IgnitionCoefficients& c) {
  return (1.0 - c.cathode_share) * output.spark_energy;
}

double energy_ratio(const Output& output, const Need& need, const IgnitionCoefficients& c) {
  return energy_in_gas(output, c) / need.energy;
}

/// Whether the source bears the chain across it all the time: it loses little of its peak and does
/// what it did before.
bool bears(const Source& source,
           const Assessment& before,
           AdvisedBleeder& advised,
           const Coefficients& c) {
  const double across = advised.chain.resistance;
  if (refused(check(source, c.source, across))) return false;
  const auto with = output(source, before.required_voltage, c.source, across);
  advised.peak_voltage = with.peak_voltage;
  advised.margin = with.peak_voltage / before.required_voltage - 1.0;
  const double lost = 1.0 - with.peak_voltage / before.output.peak_voltage;
  return lost <= c.charge.bleeder_loss &&
         jump_of(advised.margin, before.wanted_margin) == before.jump &&
         with.sparks_per_second >= std::min(before.output.sparks_per_second, before.wanted_rate) &&
         energy_ratio(with, before.need, c.ignition) >=
             std::min(before.energy_ratio, before.wanted_energy_ratio);
}

/// Whether the source lights with `across` always over its charge.
bool lights_with(double across,
                 const Source& source,
                 const Assessment& one,
                 const Coefficients& c) {
  if (one.quenches || refused(check(source, c.source, across))) return false;
  const auto with = output(source, one.required_voltage, c.source, across);
  return jump_of(with.peak_voltage / one.required_voltage - 1.0, one.wanted_margin) == Jump::yes &&
         with.sparks_per_second >= one.wanted_rate &&
         energy_ratio(with, one.need, c.ignition) >= one.wanted_energy_ratio;
}

std::optional<StarvingBleeder> starving(const Store& store,
                                        const Source& source,
                                        double fitted,
                                        const Assessment& one,
                                        const Coefficients& c) {
  if (!std::isfinite(fitted) || one.lights) return std::nullopt;
  if (!lights_with(nothing_across, source, one, c)) return std::nullopt;
  constexpr double fine = 1.001;
  double starves = fitted;
  double leaves = c.charge.bleeder_highest;
  StarvingBleeder result{
      .peak_without = output(source, one.required_voltage, c.source).peak_voltage,
      .resistance = nothing_across,
      .safe_after = time_to(c.charge.safe_voltage, store, NoBleed{}, c.charge)};
  if (leaves <= starves || !lights_with(leaves, source, one, c)) return result;
  while (leaves > fine * starves) {
    const double middle = std::sqrt(starves * leaves);
    (lights_with(middle, source, one, c) ? leaves : starves) = middle;
  }
  result.resistance = leaves;
  result.safe_after =
      time_to(c.charge.safe_voltage, store, ResistorChain{.resistance = leaves}, c.charge);
  return result;
}

std::optional<AdvisedBleeder> advise(const Store& store,
                                     const Source& source,
                                     const Assessment& before,
                                     const Coefficients& c) {
  const auto chain = advise_bleeder(store, c.charge);
  if (!chain) return std::nullopt;
  AdvisedBleeder advised{.chain = *chain};
  if (bears(source, before, advised, c)) advised.connection = Connection::permanent;
  return advised;
}

ChargeVerdict assess_charge(const Store& store,
                            const Igniter& igniter,
                            const Assessment& before,
                            const Coefficients& coefficients) {
  const auto& c = coefficients.charge;
  const double threshold = igniter.indicator_threshold.value_or(c.neon_dark_voltage);
  const bool lights_up = store.voltage > c.safe_voltage &&
                         (igniter.indicator_threshold || store.voltage <= c.neon_highest_voltage);
  const double unaided = time_to(c.safe_voltage, store, NoBleed{}, c);
  return {.store = store,
          .energy = stored_energy(store),
          .hazard = hazard(store, c),
          .fitted = discharge(store, igniter.bleed, c),
          .unaided = unaided,
          .unaided_least = unaided / c.leakage_range,
          .unaided_most = unaided * c.leakage_range,
          .small = needs_no_bleeder(store, c),
          .advice = advise(store, igniter.source, before, coefficients),
          .indicator = lights_up ? std::optional(indicator(threshold, store, igniter.bleed, c))
                                 : std::nullopt};
}

/// Available voltage at one position of the knob; `share` runs from 0 to 1.
struct KnobPosition {
  double share = unset;
  double across = unset;  ///< always over the stored charge [Ohm]
  const SourceCoefficients& c;

  /// The gap takes no part: a voltage no source fails to reach.
  [[nodiscard]] double peak(const Source& source) const {
    return output(source, std::numeric_limits<double>::max(), c, across).peak_voltage;
  }

  std::pair<double, double> operator()(StepUpTransformer source) const {
    source.primary_voltage *= share;
    return {source.primary_voltage, peak(source)};
  }
  std::pair<double, double> operator()(Ladder source) const {
    source.load_current = 0.0;
    const double most =
        source.supply_current / diode_count(source) - ladder_state(source, across).current;
    source.load_current = share * most;
    return {source.load_current, peak(source)};
  }
  std::pair<double, double> operator()(DwellCoil source) const {
    source.dwell *= share;
    return {source.dwell, peak(source)};
  }
  std::pair<double, double> operator()(StorageCoil source) const {
    source.firing_angle = share * std::numbers::pi;
    return {source.firing_angle, peak(source)};
  }
  std::pair<double, double> operator()(ConverterDischarge source) const {
    source.sparks_per_second *= share;
    return {source.sparks_per_second, peak(source)};
  }
};

Setting setting_of(const Source& source) {
  constexpr std::array settings{Setting::primary_voltage,
                                Setting::load_current,
                                Setting::dwell,
                                Setting::firing_angle,
                                Setting::sparks_per_second};
  return settings.at(source.index());
}

}  // namespace

Assessment assess(const Igniter& igniter, const Conditions& conditions, const Coefficients& c) {
  Assessment result;
  result.supply = supply(igniter.source);
  const double across = always_across(igniter.bleed);
  result.findings = check(igniter.source, c.source, across);
  result.breakdown = breakdown(igniter.gap, conditions.gas, c.gap);
  result.need = ignition_need(conditions, c.ignition);
  result.wanted_margin = c.ignition.voltage_margin;
  result.wanted_energy_ratio = c.ignition.energy_margin;
  result.wanted_rate = c.ignition.least_rate;
  const double rise = rise_factor(igniter.source, c.source);
  result.required_voltage = rise * result.breakdown.voltage;
  result.checked = checked_gap(conditions.gas, c.gap);
  result.quenches = igniter.gap.length < result.need.quench_distance;
  result.refused = refused(result.findings);
  if (result.refused) return result;

  result.output = output(igniter.source, result.required_voltage, c.source, across);
  const double available = result.output.peak_voltage;
  result.margin = available / result.required_voltage - 1.0;
  result.jump = jump_of(result.margin, result.wanted_margin);
  result.jumps = result.jump == Jump::yes;
  const double usable = available / ((1.0 + result.wanted_margin) * rise);
  const double longest =
      usable > 0.0 ? longest_gap(usable, igniter.gap.electrodes, conditions.gas, c.gap) : 0.0;
  result.gaps = {.shortest = result.need.quench_distance,
                 .longest = std::min(longest, result.checked.longest),
                 .ends_with_the_check = longest > result.checked.longest};

  result.energy_in_gas = energy_in_gas(result.output, c.ignition);
  result.energy_ratio = energy_ratio(result.output, result.need, c.ignition);
  result.enough = result.energy_ratio >= result.wanted_energy_ratio;
  result.rare = result.jump != Jump::no && result.output.sparks_per_second < result.wanted_rate;
  result.ignites = result.jumps && result.enough && !result.quenches;
  result.lights = result.ignites && !result.rare;

  result.safe_after = 0.0;
  if (result.output.store) {
    result.charge = assess_charge(*result.output.store, igniter, result, c);
    result.starving = starving(*result.output.store, igniter.source, across, result, c);
    result.safe_after = result.charge->fitted.safe_after;
    result.keep_shorted = result.charge->fitted.keep_shorted;
  }
  return result;
}

std::vector<std::size_t> ranked(std::span<const Assessment> assessments) {
  std::vector<std::size_t> order(assessments.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto merit = [&](std::size_t i) {
    const auto& a = assessments[i];
    return std::tuple{a.refused,
                      !a.lights,
                      -static_cast<int>(a.jump),
                      static_cast<int>(a.supply),
                      a.refused ? 0.0 : -a.margin};
  };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t left, std::size_t right) {
    return merit(left) < merit(right);
  });
  return order;
}

SourceCurve source_curve(const Source& source,
                         std::size_t count,
                         const SourceCoefficients& c,
                         double across) {
  if (count < 2 || refused(check(source, c, across))) {
    throw std::logic_error("a source's curve needs two points or more and a possible source");
  }
  SourceCurve curve{.setting = setting_of(source), .settings = {}, .peak_voltages = {}};
  for (std::size_t i = 0; i < count; ++i) {
    const double share = (static_cast<double>(i) + 0.5) / static_cast<double>(count);
    const auto [setting, peak] = std::visit(KnobPosition{share, across, c}, source);
    curve.settings.push_back(setting);
    curve.peak_voltages.push_back(peak);
  }
  return curve;
}

std::vector<BreakdownPoint> breakdown_curve(Electrodes electrodes,
                                            double longest,
                                            std::size_t count,
                                            const Gas& gas,
                                            const GapCoefficients& c) {
  if (count < 2 || !(longest > 0.0)) {
    throw std::logic_error("a breakdown curve needs two points or more and a length");
  }
  std::vector<BreakdownPoint> points;
  points.reserve(count);
  for (std::size_t i = 1; i <= count; ++i) {
    const double length = longest * static_cast<double>(i) / static_cast<double>(count);
    points.push_back(
        {.length = length, .voltage = breakdown({length, electrodes}, gas, c).voltage});
  }
  return points;
}

}  // namespace windgap::spark
