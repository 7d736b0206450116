#include "spark/spark.h"

#include <algorithm>
#include <array>
#include <limits>
#include <numbers>
#include <numeric>
#include <stdexcept>
#include <tuple>
#include <utility>

namespace windgap::spark {
namespace {

ChargeVerdict assess_charge(const Store& store,
                            const Igniter& igniter,
                            const ChargeCoefficients& c) {
  const double threshold = igniter.indicator_threshold.value_or(c.neon_dark_voltage);
  return {.store = store,
          .energy = stored_energy(store),
          .hazard = hazard(store, c),
          .fitted = discharge(store, igniter.bleed, c),
          .unaided = time_to(c.safe_voltage, store, NoBleed{}, c),
          .advice = advise_bleeder(store, c),
          .indicator = indicator(threshold, store, igniter.bleed, c)};
}

/// Available voltage at one position of the knob; `share` runs from 0 to 1.
struct KnobPosition {
  double share = unset;
  const SourceCoefficients& c;

  /// The gap takes no part: a voltage no source fails to reach.
  [[nodiscard]] double peak(const Source& source) const {
    return output(source, std::numeric_limits<double>::max(), c).peak_voltage;
  }

  std::pair<double, double> operator()(StepUpTransformer source) const {
    source.primary_voltage *= share;
    return {source.primary_voltage, peak(source)};
  }
  std::pair<double, double> operator()(Ladder source) const {
    const double most = source.supply_current / diode_count(source);
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
  result.findings = check(igniter.source, c.source);
  result.breakdown = breakdown(igniter.gap, conditions.gas, c.gap);
  result.need = ignition_need(conditions, c.ignition);
  result.wanted_margin = c.ignition.voltage_margin;
  result.wanted_energy_ratio = c.ignition.energy_margin;
  const double rise = rise_factor(igniter.source, c.source);
  result.required_voltage = rise * result.breakdown.voltage;
  result.refused = refused(result.findings);
  if (result.refused) return result;

  result.output = output(igniter.source, result.required_voltage, c.source);
  const double available = result.output.peak_voltage;
  result.margin = available / result.required_voltage - 1.0;
  result.jumps = result.margin >= result.wanted_margin;
  const double usable = available / ((1.0 + result.wanted_margin) * rise);
  result.gaps = {.shortest = result.need.quench_distance,
                 .longest = usable > 0.0
                                ? longest_gap(usable, igniter.gap.electrodes, conditions.gas, c.gap)
                                : 0.0};

  result.energy_in_gas = (1.0 - c.ignition.cathode_share) * result.output.spark_energy;
  result.energy_ratio = result.energy_in_gas / result.need.energy;
  result.enough = result.jumps && result.energy_ratio >= result.wanted_energy_ratio &&
                  igniter.gap.length >= result.need.quench_distance;

  result.safe_after = 0.0;
  if (result.output.store) {
    result.charge = assess_charge(*result.output.store, igniter, c.charge);
    result.safe_after = result.charge->fitted.safe_after;
  }
  return result;
}

std::vector<std::size_t> ranked(std::span<const Assessment> assessments) {
  std::vector<std::size_t> order(assessments.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto merit = [&](std::size_t i) {
    const auto& a = assessments[i];
    return std::tuple{
        a.refused, !a.enough, !a.jumps, static_cast<int>(a.supply), a.refused ? 0.0 : -a.margin};
  };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t left, std::size_t right) {
    return merit(left) < merit(right);
  });
  return order;
}

SourceCurve source_curve(const Source& source, std::size_t count, const SourceCoefficients& c) {
  if (count < 2 || refused(check(source, c))) {
    throw std::logic_error("a source's curve needs two points or more and a possible source");
  }
  SourceCurve curve{.setting = setting_of(source), .settings = {}, .peak_voltages = {}};
  for (std::size_t i = 0; i < count; ++i) {
    const double share = (static_cast<double>(i) + 0.5) / static_cast<double>(count);
    const auto [setting, peak] = std::visit(KnobPosition{share, c}, source);
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
