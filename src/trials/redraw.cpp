#include "trials/redraw.h"

#include <tbb/blocked_range.h>
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

/// Mode of standard normals under linear normal observations.
Vector most_plausible(const Matrix& slopes, const Vector& variances, const Vector& observed) {
  Matrix inner = slopes * slopes.transpose();
  inner.diagonal() += variances;
  return slopes.transpose() * inner.llt().solve(observed);
}

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
    const Vector target = most_plausible(
        here.slopes, found.variances, values - here.shown + here.slopes * found.centre);
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

/// Draws from a fit, and what makes them the prior again.
struct Draws {
  spread::Points normals;
  std::vector<double> base;  ///< prior density over that drawn from [-]
};

constexpr double kept = 0.1;  // share that stays with the prior

/// Bench axes of normal points; start axes at 0.
Vector bench_axes(std::span<const double> row, const spread::Plan& plan) {
  Vector z = Vector::Zero(static_cast<Eigen::Index>(plan.axes.size()));
  for (std::size_t j = 0; j < plan.axes.size(); ++j) {
    if (plan.axes[j].varies == spread::Varies::bench) z[static_cast<Eigen::Index>(j)] = row[j];
  }
  return z;
}

Draws draw(const Fit& found, const spread::Plan& plan, std::size_t count, std::uint64_t seed) {
  const auto dimensions = plan.axes.size();
  const auto extra = static_cast<std::size_t>(found.variances.size());
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

  const auto points =
      spread::normal_points({.count = count, .dimensions = dimensions + extra, .seed = seed});
  Draws draws{.normals = {.count = points.count, .dimensions = dimensions, .values = {}},
              .base = std::vector<double>(points.count)};
  draws.normals.values.resize(points.count * dimensions);
  const auto keep_every = static_cast<std::size_t>(1.0 / kept);
  for (std::size_t i = 0; i < points.count; ++i) {
    const auto row = points.row(i);
    Vector z = bench_axes(row, plan);
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
    draws.base[i] = 1.0 / (kept + (1.0 - kept) * std::exp(log_drawn - log_prior));
    for (std::size_t j = 0; j < dimensions; ++j) {
      draws.normals.row(i)[j] = z[static_cast<Eigen::Index>(j)];
    }
  }
  return draws;
}

/// What every draw shows for every piece of evidence; a column of NaN where it makes no bench.
Matrix show_all(const Draws& draws, std::span<const Evidence> evidence, const Setting& setting) {
  constexpr std::size_t grain = 32;
  Matrix shown(static_cast<Eigen::Index>(evidence.size()),
               static_cast<Eigen::Index>(draws.normals.count));
  tbb::parallel_for(tbb::blocked_range<std::size_t>(0, draws.normals.count, grain),
                    [&](const auto& range) {
                      spread::Maker maker(setting.survey.plan, setting.survey.subject);
                      for (std::size_t i = range.begin(); i < range.end(); ++i) {
                        auto column = shown.col(static_cast<Eigen::Index>(i));
                        try {
                          column = show(maker.make(draws.normals.row(i)), evidence, setting);
                        } catch (const std::logic_error&) {
                          column.setConstant(unset);
                        }
                      }
                    });
  return shown;
}

/// Logarithms of what draws weigh; `never` where they are no bench.
constexpr double never = -1e9;
Vector log_weights(const Draws& draws,
                   const Matrix& shown,
                   std::span<const Evidence> evidence,
                   const Setting& setting) {
  Vector logs = Vector::Constant(shown.cols(), never);
  for (Eigen::Index i = 0; i < shown.cols(); ++i) {
    if (!shown.col(i).allFinite()) continue;
    logs[i] = std::log(draws.base[static_cast<std::size_t>(i)]);
    for (std::size_t k = 0; k < evidence.size(); ++k) {
      logs[i] += log_likelihood(evidence[k], shown(static_cast<Eigen::Index>(k), i), setting.c);
    }
  }
  return logs;
}

/// Weights, flattened by a power until a share of the draws counts.
Vector flattened(const Vector& logs) {
  constexpr double counting = 0.3;
  constexpr double flatter = 0.8;
  constexpr double flattest = 0.01;
  const double enough = counting * static_cast<double>(logs.size());
  Vector weights;
  for (double power = 1.0; power > flattest; power *= flatter) {
    weights = (power * (logs.array() - logs.maxCoeff())).exp();
    if (weights.sum() * weights.sum() >= enough * weights.squaredNorm()) break;
  }
  return weights / weights.sum();
}

/// The fit over the whole width of what is plausible instead of about one point: what pilots drawn
/// from `first` show is regressed on their axes; what the regression leaves adds to the variances.
Fit regress(const Fit& first,
            std::span<const Evidence> evidence,
            const Setting& setting,
            std::uint64_t seed) {
  constexpr std::size_t pilots = 512;
  constexpr double pull = 0.02;  // towards the first slopes, where pilots say little
  constexpr int steps = 12;
  const auto draws = draw(first, setting.survey.plan, pilots, seed);
  Matrix shown = show_all(draws, evidence, setting);
  const Vector logs = log_weights(draws, shown, evidence, setting);
  const Vector weights = flattened(logs);
  Matrix z(first.centre.size(), shown.cols());
  for (Eigen::Index i = 0; i < z.cols(); ++i) {
    const auto row = draws.normals.row(static_cast<std::size_t>(i));
    z.col(i) = Eigen::Map<const Vector>(row.data(), z.rows());
    if (logs[i] <= never) shown.col(i).setZero();
  }
  const Vector z_mean = z * weights;
  const Vector shown_mean = shown * weights;
  const Matrix z_off = z.colwise() - z_mean;
  const Matrix shown_off = shown.colwise() - shown_mean;
  const Matrix weighted = z_off * weights.asDiagonal();
  Matrix spread = weighted * z_off.transpose();
  spread.diagonal().array() += pull;
  const Matrix not_first = shown_off - first.slopes * z_off;
  Fit found;
  found.slopes = first.slopes + spread.llt().solve(weighted * not_first.transpose()).transpose();
  const Vector left = (shown_off - found.slopes * z_off).array().square().matrix() * weights;

  const auto observe = [&](const Vector& here, Use use) {
    Vector values(here.size());
    found.variances.resize(here.size());
    for (Eigen::Index k = 0; k < here.size(); ++k) {
      const auto normal = normal_at(evidence[static_cast<std::size_t>(k)], here[k], setting.c, use);
      values[k] = normal.value;
      found.variances[k] = normal.variance + left[k];
    }
    return values;
  };
  found.centre = z_mean;
  for (int step = 0; step < steps; ++step) {
    const Vector here = shown_mean + found.slopes * (found.centre - z_mean);
    const Vector values = observe(here, Use::steps);
    found.centre =
        most_plausible(found.slopes, found.variances, values - here + found.slopes * found.centre);
  }
  observe(shown_mean + found.slopes * (found.centre - z_mean), Use::shape);
  return found;
}

}  // namespace

Redrawn redraw(std::span<const Attempt> attempts,
               std::span<const double> stand_offs,
               const Setting& setting,
               const placement::Outlook& outlook) {
  constexpr double widening = 1.3;  // of the observations' variances
  constexpr std::uint64_t rounds = 2;
  constexpr std::uint64_t apart = 1000003;
  const auto evidence = evidence_of(attempts, outlook, setting);
  // Points of the whole sequence that the prior has not used, others for every round of pilots.
  const auto seed = setting.survey.seed + attempts.size();
  auto found = fit(evidence, setting);
  found.variances *= widening;
  for (std::uint64_t round = 1; round <= rounds; ++round) {
    found = regress(found, evidence, setting, seed + round * apart);
    found.variances *= widening;
  }
  auto draws = draw(found, setting.survey.plan, setting.survey.members, seed);
  Redrawn result{.outlook = look_out(setting.survey, stand_offs, std::move(draws.normals)),
                 .base = std::move(draws.base)};
  for (std::size_t i = 0; i < result.base.size(); ++i) {
    if (!result.outlook.sound[i]) result.base[i] = 0.0;
  }
  return result;
}

}  // namespace windgap::trials
