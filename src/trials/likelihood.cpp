#include "trials/likelihood.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace windgap::trials {
namespace {

using placement::Quantity;

constexpr std::size_t index(Quantity quantity) { return static_cast<std::size_t>(quantity); }

/// The nominal bench's start effects of one quantity at a stand-off, one for each axis.
std::vector<double> effects_at(const placement::Outlook& outlook,
                               Quantity quantity,
                               const placement::Between& place) {
  std::vector<double> effects(outlook.normals.dimensions, 0.0);
  for (std::size_t k = 0; k < place.node.size(); ++k) {
    const auto& row = outlook.start_effects[index(quantity)][place.node[k]];
    for (std::size_t j = 0; j < effects.size(); ++j) effects[j] += place.weight[k] * row[j];
  }
  return effects;
}

double nominal_at(const placement::Outlook& outlook, Quantity quantity, double stand_off) {
  const auto place = outlook.between(stand_off);
  double sum = 0.0;
  for (std::size_t k = 0; k < place.node.size(); ++k) {
    sum += place.weight[k] * outlook.nominal[index(quantity)][place.node[k]];
  }
  return sum;
}

/// What is known of the state of the bench during one attempt.
class Condition {
 public:
  Condition(const Attempt& attempt, const placement::Outlook& outlook, const Setting& setting)
      : outlook_(outlook), attempt_(attempt), place_(outlook.between(attempt.stand_off)) {
    if (std::isfinite(attempt.oil_temperature)) look_at_oil(setting);
  }

  /// Fills place, shift, deviation and voltage of one quantity; `error` is that of the reading.
  void dress(Evidence& evidence, double error, const Setting& setting) const {
    const auto quantity = evidence.quantity;
    auto effects = effects_at(outlook_, quantity, place_);
    double shift = 0.0;
    double squares = error * error;
    if (oil_known_) {
      shift = oil_shift_[index(quantity)];
      squares += std::pow(oil_error_[index(quantity)], 2);
      const auto& axes = setting.survey.plan.axes;
      for (std::size_t j = 0; j < effects.size(); ++j) {
        if (axes[j].name == spread::oil_axis) effects[j] = 0.0;
      }
    }
    if (std::isfinite(attempt_.voltage)) {
      const auto volts = effects_at(outlook_, Quantity::voltage, place_);
      const double own = std::inner_product(volts.begin(), volts.end(), volts.begin(), 0.0);
      if (own > 0.0) {
        evidence.by_voltage =
            std::inner_product(volts.begin(), volts.end(), effects.begin(), 0.0) / own;
        evidence.log_voltage = std::log(attempt_.voltage);
        squares += std::pow(evidence.by_voltage * setting.c.voltage_error, 2);
        for (std::size_t j = 0; j < effects.size(); ++j) {
          effects[j] -= evidence.by_voltage * volts[j];
        }
      }
    }
    for (const double effect : effects) squares += effect * effect;
    const double step = setting.c.distance_error;
    const double slope = nominal_at(outlook_, quantity, attempt_.stand_off + step) -
                         nominal_at(outlook_, quantity, attempt_.stand_off - step);
    squares += 0.25 * slope * slope;
    evidence.place = place_;
    evidence.stand_off = attempt_.stand_off;
    evidence.deviation = std::sqrt(squares);
    evidence.shift = shift;
  }

 private:
  /// The nominal bench solved again with the oil as it was read, and a little warmer.
  void look_at_oil(const Setting& setting) {
    spread::Maker maker(setting.survey.plan, setting.survey.subject);
    const std::vector<double> middle(setting.survey.plan.axes.size(), 0.0);
    const auto at = [&](double warmer) {
      const auto rig = maker.make(middle, [&](rig::Parts& parts) {
        parts.engine.bearings.oil.inlet_temperature = attempt_.oil_temperature + warmer;
      });
      return seen(rig, look(rig, attempt_.stand_off, setting.survey.requirement));
    };
    const auto nominal = maker.make(middle);
    const auto usual = seen(nominal, look(nominal, attempt_.stand_off, setting.survey.requirement));
    const auto read = at(0.0);
    const auto warmer = at(setting.c.oil_error);
    for (std::size_t q = 0; q < placement::quantity_count; ++q) {
      oil_shift_[q] = read[q] - usual[q];
      oil_error_[q] = warmer[q] - read[q];
    }
    oil_known_ = true;
  }

  const placement::Outlook& outlook_;
  const Attempt& attempt_;
  placement::Between place_;
  bool oil_known_ = false;
  placement::Seen oil_shift_{};
  placement::Seen oil_error_{};
};

/// Student's log density without its constant.
double log_student(double departure, double freedom) {
  return -0.5 * (freedom + 1.0) * std::log1p(departure * departure / freedom);
}

Quantity quantity_of(Tap tap) {
  return tap == Tap::mouth ? Quantity::mouth_pressure : Quantity::inducer_pressure;
}

}  // namespace

std::vector<Evidence> evidence_of(std::span<const Attempt> attempts,
                                  const placement::Outlook& outlook,
                                  const Setting& setting) {
  const auto& c = setting.c;
  const auto readings = [&](double Attempt::*reading) {
    return static_cast<double>(
        std::count_if(attempts.begin(), attempts.end(), [&](const Attempt& a) {
          return a.counts && std::isfinite(a.*reading);
        }));
  };
  const double speeds = readings(&Attempt::speed);
  const double pressures = readings(&Attempt::pressure);
  std::vector<Evidence> list;
  for (std::size_t i = 0; i < attempts.size(); ++i) {
    const auto& attempt = attempts[i];
    if (!attempt.counts) continue;
    const Condition condition(attempt, outlook, setting);
    const auto add = [&](Evidence evidence, double error) {
      evidence.attempt = i;
      condition.dress(evidence, error, setting);
      list.push_back(evidence);
    };
    if (std::isfinite(attempt.speed)) {
      add({.quantity = Quantity::speed, .place = {}, .read = std::log(attempt.speed)},
          std::hypot(c.speed_error, std::sqrt(speeds) * c.speed_bias));
    }
    if (std::isfinite(attempt.pressure)) {
      add({.quantity = quantity_of(attempt.tap), .place = {}, .read = std::log(attempt.pressure)},
          std::hypot(c.pressure_error, std::sqrt(pressures) * c.pressure_bias));
    }
    if (attempt.kind == Kind::lit && attempt.outcome != Outcome::none) {
      add({.kind = Evidence::Kind::catching,
           .quantity = Quantity::supply,
           .place = {},
           .outcome = attempt.outcome,
           .failure = attempt.failure},
          setting.asked.start_scatter);
    }
  }
  return list;
}

double expected(const Evidence& evidence, const placement::Seen& seen) {
  double value = seen[index(evidence.quantity)];
  if (evidence.by_voltage != 0.0) {
    value += evidence.by_voltage * (evidence.log_voltage - seen[index(Quantity::voltage)]);
  }
  return value + evidence.shift;
}

double expected(const Evidence& evidence, const placement::Outlook& outlook, std::size_t member) {
  placement::Seen seen{};
  seen[index(evidence.quantity)] = outlook.at(evidence.quantity, evidence.place, member);
  if (evidence.by_voltage != 0.0) {
    seen[index(Quantity::voltage)] = outlook.at(Quantity::voltage, evidence.place, member);
  }
  return expected(evidence, seen);
}

double outcome_probability(const Evidence& evidence, double supply, const Coefficients& c) {
  const double air = spread::normal_share(supply / evidence.deviation);
  const double catches = (1.0 - c.lapse) * air;
  const double starved = (1.0 - c.lapse) * (1.0 - air);
  double probability = catches;
  if (evidence.outcome == Outcome::failed) {
    switch (evidence.failure) {
      case Failure::unstated:
        probability = 1.0 - catches;
        break;
      case Failure::no_light:
        probability = c.lapse + c.dark_share * starved;
        break;
      case Failure::hung:
      case Failure::too_hot:
      case Failure::slow:
        probability = (1.0 - c.dark_share) * starved;
        break;
    }
  }
  return (1.0 - c.misread_share) * probability + 0.5 * c.misread_share;
}

double log_likelihood(const Evidence& evidence, double expected, const Coefficients& c) {
  if (evidence.kind == Evidence::Kind::catching) {
    return std::log(outcome_probability(evidence, expected, c));
  }
  return log_student((evidence.read - expected) / evidence.deviation, c.freedom);
}

double effective_size(std::span<const double> weights) {
  double sum = 0.0;
  double squares = 0.0;
  for (const double weight : weights) {
    sum += weight;
    squares += weight * weight;
  }
  return squares > 0.0 ? sum * sum / squares : 0.0;
}

namespace {

/// Evidence against every member.
class Comparison {
 public:
  Comparison(const placement::Outlook& outlook,
             std::span<const double> base,
             std::span<const Evidence> evidence,
             const Coefficients& c)
      : outlook_(outlook), base_(base), total_(outlook.members(), 0.0) {
    for (const auto& one : evidence) {
      auto& row = values_.emplace_back(outlook.members());
      auto& logs = logs_.emplace_back(outlook.members());
      for (std::size_t i = 0; i < row.size(); ++i) {
        if (!counts(i)) continue;
        row[i] = expected(one, outlook, i);
        logs[i] = log_likelihood(one, row[i], c);
        total_[i] += logs[i];
      }
    }
  }

  /// Weights by all evidence, or by all but one piece.
  [[nodiscard]] std::vector<double> weights(const std::vector<double>* without = nullptr) const {
    std::vector<double> list(total_.size(), 0.0);
    double most = -std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < list.size(); ++i) {
      if (!counts(i)) continue;
      list[i] = total_[i] - (without != nullptr ? (*without)[i] : 0.0) + std::log(base_[i]);
      most = std::max(most, list[i]);
    }
    for (std::size_t i = 0; i < list.size(); ++i) {
      list[i] = counts(i) ? std::exp(list[i] - most) : 0.0;
    }
    return list;
  }

  [[nodiscard]] const std::vector<double>& values(std::size_t k) const { return values_[k]; }
  [[nodiscard]] const std::vector<double>& logs(std::size_t k) const { return logs_[k]; }

 private:
  [[nodiscard]] bool counts(std::size_t i) const { return outlook_.sound[i] && base_[i] > 0.0; }

  const placement::Outlook& outlook_;
  std::span<const double> base_;
  std::vector<double> total_;
  std::vector<std::vector<double>> values_;
  std::vector<std::vector<double>> logs_;
};

}  // namespace

std::vector<double> weigh(const placement::Outlook& outlook,
                          std::span<const double> base,
                          std::span<const Evidence> evidence,
                          const Coefficients& c) {
  return Comparison(outlook, base, evidence, c).weights();
}

std::vector<Agreement> agreements(const placement::Outlook& outlook,
                                  std::span<const double> base,
                                  std::span<const Evidence> evidence,
                                  const Coefficients& c) {
  const Comparison comparison(outlook, base, evidence, c);
  std::vector<Agreement> list;
  for (std::size_t k = 0; k < evidence.size(); ++k) {
    const auto& one = evidence[k];
    const auto& values = comparison.values(k);
    const auto others = comparison.weights(&comparison.logs(k));
    const double whole = std::accumulate(others.begin(), others.end(), 0.0);
    double below = 0.0;
    double mean = 0.0;
    double square = 0.0;
    for (std::size_t i = 0; i < others.size(); ++i) {
      if (others[i] <= 0.0) continue;
      const double w = others[i] / whole;
      mean += w * values[i];
      square += w * values[i] * values[i];
      below += w * (one.kind == Evidence::Kind::catching
                        ? outcome_probability(one, values[i], c)
                        : spread::normal_share((one.read - values[i]) / one.deviation));
    }
    Agreement agreement{.probability = below, .expected = mean, .departure = unset};
    if (one.kind == Evidence::Kind::reading) {
      const double variance = std::max(0.0, square - mean * mean) + one.deviation * one.deviation;
      agreement.probability = 2.0 * std::min(below, 1.0 - below);
      agreement.departure = (one.read - mean) / std::sqrt(variance);
    }
    list.push_back(agreement);
  }
  return list;
}

}  // namespace windgap::trials
