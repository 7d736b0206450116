#include "trials/redraw.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <utility>

#include "units/parallel.h"

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
  in_parallel(axes.size(), [&](std::size_t j) {
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

/// A fit made ready to draw from: the prior under linear normal observations.
class Hill {
 public:
  explicit Hill(Fit fit) : fit_(std::move(fit)), scale_(fit_.variances.cwiseSqrt()) {
    const auto& h = fit_.slopes;
    const Matrix product = h * h.transpose();
    Matrix inner = product;
    inner.diagonal() += fit_.variances;
    solver_.compute(inner);
    const Vector inverse = scale_.cwiseInverse();
    Matrix relative = inverse.asDiagonal() * product * inverse.asDiagonal();
    relative.diagonal().array() += 1.0;
    const Matrix factor = relative.llt().matrixL();
    half_log_determinant_ = factor.diagonal().array().log().sum();
  }

  /// A point of the prior, and normal noise for every observation, to a point of the hill.
  void move(Vector& z, std::span<const double> noise) const {
    Vector off = -(fit_.slopes * z);
    for (Eigen::Index k = 0; k < off.size(); ++k) {
      off[k] -= scale_[k] * noise[static_cast<std::size_t>(k)];
    }
    z += fit_.centre + fit_.slopes.transpose() * solver_.solve(off);
  }

  /// Its density over the prior's.
  [[nodiscard]] double over_prior(const Vector& z) const {
    const Vector away = z - fit_.centre;
    const double seen = (fit_.slopes * away).cwiseQuotient(scale_).squaredNorm();
    return std::exp(0.5 * (z.squaredNorm() - away.squaredNorm() - seen) + half_log_determinant_);
  }

  [[nodiscard]] const Fit& fit() const { return fit_; }
  [[nodiscard]] std::size_t observations() const { return static_cast<std::size_t>(scale_.size()); }

 private:
  Fit fit_;
  Vector scale_;
  Eigen::LLT<Matrix> solver_;
  double half_log_determinant_ = unset;
};

/// Draws from hills, and what makes them the prior again.
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

/// Where each point comes from is a coordinate of its own: a stride through a Sobol sequence would
/// leave out half of an axis.
Draws draw(std::span<const Hill> hills,
           const spread::Plan& plan,
           std::size_t count,
           std::uint64_t seed) {
  const auto dimensions = plan.axes.size();
  std::size_t extra = 0;
  for (const auto& hill : hills) extra = std::max(extra, hill.observations());
  const auto points =
      spread::normal_points({.count = count, .dimensions = dimensions + extra + 1, .seed = seed});
  Draws draws{.normals = {.count = points.count, .dimensions = dimensions, .values = {}},
              .base = std::vector<double>(points.count)};
  draws.normals.values.resize(points.count * dimensions);
  const double share = (1.0 - kept) / static_cast<double>(hills.size());
  for (std::size_t i = 0; i < points.count; ++i) {
    const auto row = points.row(i);
    Vector z = bench_axes(row, plan);
    const double lot = spread::normal_share(row[dimensions + extra]) - kept;
    if (lot > 0.0) {
      const auto drawn = std::min(static_cast<std::size_t>(lot / share), hills.size() - 1);
      hills[drawn].move(z, row.subspan(dimensions, hills[drawn].observations()));
    }
    double density = kept;
    for (const auto& hill : hills) density += share * hill.over_prior(z);
    draws.base[i] = 1.0 / density;
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
  in_blocks(draws.normals.count, grain, [&](std::size_t begin, std::size_t end) {
    spread::Maker maker(setting.survey.plan, setting.survey.subject);
    for (std::size_t i = begin; i < end; ++i) {
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
  double power = 1.0;
  while (power > flattest) {
    weights = (power * (logs.array() - logs.maxCoeff())).exp();
    if (weights.sum() * weights.sum() >= enough * weights.squaredNorm()) break;
    power *= flatter;
  }
  return weights / weights.sum();
}

/// The fit over the whole width of what is plausible instead of about one point: what pilots drawn
/// from `first` show is regressed on their axes; what the regression leaves adds to the variances.
Fit regress(const Hill& hill,
            std::span<const Evidence> evidence,
            const Setting& setting,
            std::uint64_t seed) {
  constexpr std::size_t pilots = 512;
  constexpr double pull = 0.02;  // towards the first slopes, where pilots say little
  constexpr int steps = 12;
  const auto& first = hill.fit();
  const auto draws = draw(std::span(&hill, 1), setting.survey.plan, pilots, seed);
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

/// The hill of some evidence, widened by pilots.
Hill raise(std::span<const Evidence> evidence, const Setting& setting, std::uint64_t seed) {
  constexpr double widening = 1.3;  // of the observations' variances
  constexpr std::uint64_t rounds = 2;
  constexpr std::uint64_t apart = 1000003;
  auto found = fit(evidence, setting);
  found.variances *= widening;
  for (std::uint64_t round = 1; round <= rounds; ++round) {
    found = regress(Hill(std::move(found)), evidence, setting, seed + round * apart);
    found.variances *= widening;
  }
  return Hill(std::move(found));
}

/// Evidence that the rest makes unlikely: it may be true of a rare bench, or a bad spark, a wild
/// reading, a slip of the pen on a usual one. Each reading of it is a hill of its own. At most two,
/// the most doubtful.
std::vector<std::size_t> doubtful(std::span<const Evidence> evidence,
                                  const placement::Outlook& outlook,
                                  const Coefficients& c) {
  constexpr double likely = 0.15;
  constexpr std::size_t most = 2;
  const std::vector<double> base(outlook.members(), 1.0);
  const auto found = agreements(outlook, base, evidence, c);
  std::vector<std::size_t> list;
  for (std::size_t k = 0; k < found.size(); ++k) {
    if (found[k].probability < likely) list.push_back(k);
  }
  std::stable_sort(list.begin(), list.end(), [&](std::size_t a, std::size_t b) {
    return found[a].probability < found[b].probability;
  });
  if (list.size() > most) list.resize(most);
  return list;
}

std::vector<Evidence> without(std::span<const Evidence> evidence,
                              std::span<const std::size_t> doubted) {
  std::vector<Evidence> rest;
  for (std::size_t k = 0; k < evidence.size(); ++k) {
    if (std::find(doubted.begin(), doubted.end(), k) == doubted.end()) rest.push_back(evidence[k]);
  }
  return rest;
}

}  // namespace

Redrawn redraw(std::span<const Attempt> attempts,
               std::span<const double> stand_offs,
               const Setting& setting,
               const placement::Outlook& outlook) {
  const auto evidence = evidence_of(attempts, outlook, setting);
  // Points of the whole sequence that the prior has not used, others for every round of pilots.
  const auto seed = setting.survey.seed + attempts.size();
  // What is plausible bends away from straight lines: beside each hill stands a lower, wider one.
  constexpr double wider = 5.0;
  std::vector<Hill> hills;
  const auto add = [&](std::span<const Evidence> some) {
    auto hill = raise(some, setting, seed);
    auto wide = hill.fit();
    wide.variances *= wider;
    hills.push_back(std::move(hill));
    hills.emplace_back(std::move(wide));
  };
  add(evidence);
  const auto doubted = doubtful(evidence, outlook, setting.c);
  const auto raise_without = [&](std::span<const std::size_t> some) {
    const auto rest = without(evidence, some);
    if (!rest.empty()) add(rest);
  };
  for (const auto k : doubted) raise_without(std::span(&k, 1));
  if (doubted.size() > 1) raise_without(doubted);
  auto draws = draw(hills, setting.survey.plan, setting.survey.members, seed);
  Redrawn result{.outlook = look_out(setting.survey, stand_offs, std::move(draws.normals)),
                 .base = std::move(draws.base)};
  for (std::size_t i = 0; i < result.base.size(); ++i) {
    if (!result.outlook.sound[i]) result.base[i] = 0.0;
  }
  return result;
}

}  // namespace windgap::trials
