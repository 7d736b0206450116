#include "trials/redraw.h"

#include <tbb/parallel_for.h>

#include <Eigen/Dense>
#include <cmath>

namespace windgap::trials {
namespace {

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

/// A normal observation that stands for a piece of evidence near a bench.
struct Normal {
  double value = unset;
  double variance = unset;
};

/// What a normal observation is for.
enum class Use {
  first_steps,  ///< from far away, where heavy tails would hold a step back
  steps,        ///< no outcome may throw a step far by being nearly certain
  shape         ///< as flat as the likelihood is
};

/// Curvature of the log likelihood by differences, with a floor.
Normal normal_at(const Evidence& evidence, double expected, const Coefficients& c, Use use) {
  const double variance = evidence.deviation * evidence.deviation;
  if (evidence.kind == Evidence::Kind::reading) {
    if (use == Use::first_steps) return {.value = evidence.read, .variance = variance};
    // A Student reading is a normal one of a variance that grows with its departure.
    const double departure = (evidence.read - expected) / evidence.deviation;
    return {.value = evidence.read,
            .variance = variance * (c.freedom + departure * departure) / (c.freedom + 1.0)};
  }
  const double least = use == Use::shape ? 0.02 : 0.5;
  const double step = 0.1 * evidence.deviation;
  const double below = log_likelihood(evidence, expected - step, c);
  const double here = log_likelihood(evidence, expected, c);
  const double above = log_likelihood(evidence, expected + step, c);
  const double slope = (above - below) / (2.0 * step);
  const double curvature = std::max(least / variance, (2.0 * here - above - below) / (step * step));
  return {.value = expected + slope / curvature, .variance = 1.0 / curvature};
}

/// What one bench shows for every piece of evidence.
Vector show(const rig::Rig& rig, std::span<const Evidence> evidence, const Setting& setting) {
  Vector shown(static_cast<Eigen::Index>(evidence.size()));
  placement::Seen seen{};
  double last = unset;
  for (std::size_t k = 0; k < evidence.size(); ++k) {
    if (evidence[k].stand_off != last) {
      last = evidence[k].stand_off;
      seen = placement::seen(rig, look(rig, last, setting.survey.requirement));
    }
    shown[static_cast<Eigen::Index>(k)] = expected(evidence[k], seen);
  }
  return shown;
}

/// The exact model about one bench: values and slopes by every bench axis.
struct Tangent {
  Vector shown;
  Matrix slopes;
};

Tangent tangent(const Vector& z, std::span<const Evidence> evidence, const Setting& setting) {
  constexpr double step = 0.25;
  const auto& axes = setting.survey.plan.axes;
  const auto at = [&](const Vector& point) {
    spread::Maker maker(setting.survey.plan, setting.survey.subject);
    return show(
        maker.make({point.data(), static_cast<std::size_t>(point.size())}), evidence, setting);
  };
  Tangent result{.shown = at(z),
                 .slopes = Matrix::Zero(static_cast<Eigen::Index>(evidence.size()), z.size())};
  tbb::parallel_for(std::size_t{0}, axes.size(), [&](std::size_t j) {
    if (axes[j].varies == spread::Varies::start) return;
    const auto column = static_cast<Eigen::Index>(j);
    Vector aside = z;
    aside[column] += z[column] > 0.0 ? -step : step;
    try {
      result.slopes.col(column) = (at(aside) - result.shown) / (aside[column] - z[column]);
    } catch (const std::logic_error&) {
      // No bench a quarter of a deviation away: the axis is left where it is.
      result.slopes.col(column).setZero();
    }
  });
  return result;
}

/// The normal distribution that fits about the most plausible bench.
struct Fit {
  Vector centre;
  Matrix slopes;
  Vector variances;
};

Fit fit(std::span<const Evidence> evidence, const Setting& setting) {
  constexpr int first_steps = 3;
  constexpr int steps = 9;
  constexpr double longest = 2.5;
  constexpr double settled = 0.05;
  Fit found;
  found.centre = Vector::Zero(static_cast<Eigen::Index>(setting.survey.plan.axes.size()));
  const auto count = static_cast<Eigen::Index>(evidence.size());
  Vector values(count);
  const auto observe = [&](const Tangent& here, Use use) {
    found.slopes = here.slopes;
    found.variances.resize(count);
    for (Eigen::Index k = 0; k < count; ++k) {
      const auto normal =
          normal_at(evidence[static_cast<std::size_t>(k)], here.shown[k], setting.c, use);
      values[k] = normal.value;
      found.variances[k] = normal.variance;
    }
  };
  auto here = tangent(found.centre, evidence, setting);
  for (int step = 0; step < steps; ++step) {
    observe(here, step < first_steps ? Use::first_steps : Use::steps);
    Matrix inner = here.slopes * here.slopes.transpose();
    inner.diagonal() += found.variances;
    const Vector target = here.slopes.transpose() *
                          inner.llt().solve(values - here.shown + here.slopes * found.centre);
    Vector move = target - found.centre;
    const bool done = step >= first_steps && move.norm() < settled;
    if (move.norm() > longest) move *= longest / move.norm();
    found.centre += move;
    here = tangent(found.centre, evidence, setting);
    if (done) break;
  }
  observe(here, Use::shape);
  return found;
}

}  // namespace

Redrawn redraw(std::span<const Attempt> attempts,
               std::span<const double> stand_offs,
               const Setting& setting,
               const placement::Outlook& outlook) {
  constexpr double widening = 1.3;  // of the observations' variances
  constexpr double kept = 0.1;      // share that stays with the prior
  const auto evidence = evidence_of(attempts, outlook, setting);
  auto found = fit(evidence, setting);
  found.variances *= widening;
  const auto dimensions = setting.survey.plan.axes.size();
  const auto extra = evidence.size();
  const auto& h = found.slopes;
  Matrix inner = h * h.transpose();
  inner.diagonal() += found.variances;
  const Eigen::LLT<Matrix> solver(inner);
  const Vector scale = found.variances.cwiseSqrt();
  Matrix relative =
      scale.cwiseInverse().asDiagonal() * (h * h.transpose()) * scale.cwiseInverse().asDiagonal();
  relative.diagonal().array() += 1.0;
  const Matrix factor = relative.llt().matrixL();
  const double half_log_determinant = factor.diagonal().array().log().sum();

  // Points of the whole sequence that the prior has not used.
  const auto draws = spread::normal_points({.count = setting.survey.members,
                                            .dimensions = dimensions + extra,
                                            .seed = setting.survey.seed + attempts.size()});
  spread::Points normals{.count = draws.count, .dimensions = dimensions, .values = {}};
  normals.values.resize(draws.count * dimensions);
  std::vector<double> base(draws.count);
  const auto keep_every = static_cast<std::size_t>(1.0 / kept);
  for (std::size_t i = 0; i < draws.count; ++i) {
    const auto row = draws.row(i);
    Vector z = Vector::Zero(static_cast<Eigen::Index>(dimensions));
    for (std::size_t j = 0; j < dimensions; ++j) {
      if (setting.survey.plan.axes[j].varies == spread::Varies::bench) {
        z[static_cast<Eigen::Index>(j)] = row[j];
      }
    }
    if (i % keep_every != 0) {
      Vector off = -(h * z);
      for (std::size_t k = 0; k < extra; ++k) {
        const auto place = static_cast<Eigen::Index>(k);
        off[place] -= scale[place] * row[dimensions + k];
      }
      z += found.centre + h.transpose() * solver.solve(off);
    }
    const Vector away = z - found.centre;
    const double log_prior = -0.5 * z.squaredNorm();
    const double log_drawn = -0.5 * away.squaredNorm() -
                             0.5 * (h * away).cwiseQuotient(scale).squaredNorm() +
                             half_log_determinant;
    base[i] = 1.0 / (kept + (1.0 - kept) * std::exp(log_drawn - log_prior));
    for (std::size_t j = 0; j < dimensions; ++j) {
      normals.row(i)[j] = z[static_cast<Eigen::Index>(j)];
    }
  }
  Redrawn result{.outlook = look_out(setting.survey, stand_offs, std::move(normals)),
                 .base = std::move(base)};
  for (std::size_t i = 0; i < result.base.size(); ++i) {
    if (!result.outlook.sound[i]) result.base[i] = 0.0;
  }
  return result;
}

}  // namespace windgap::trials
