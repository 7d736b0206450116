#include "spread/plan.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "engine/calibration.h"
#include "start/need.h"

namespace windgap::spread {
namespace {

/// Moves the fields of one struct after another, each by its entry of the list.
class Drawing {
 public:
  Drawing(std::span<const Move> moves, std::span<const double> z) : moves_(moves), z_(z) {}

  void operator()(std::string_view /*key*/, double& field) {
    const Move& move = moves_[next_++];
    if (move.shape.distribution != Distribution::none) field = moved(field, move.shape, z(move));
  }
  /// A table's ordinates move by one share.
  void operator()(std::string_view /*key*/, Table& field) {
    const Move& move = moves_[next_++];
    if (move.shape.distribution == Distribution::none) return;
    const double factor = moved(1.0, move.shape, z(move));
    for (double& y : field.y) y *= factor;
  }

 private:
  [[nodiscard]] double z(const Move& move) const { return z_[move.axis]; }

  std::span<const Move> moves_;
  std::span<const double> z_;
  std::size_t next_ = 0;
};

double jet_share(const JetMove& jet, double z) {
  const double place = 2.0 * normal_share(z) - 1.0;
  return jet.middle +
         (place < 0.0 ? place * (jet.middle - jet.least) : place * (jet.most - jet.middle));
}

}  // namespace

std::size_t Plan::axis(const std::string& name, Varies varies) {
  const auto found = std::find_if(axes.begin(), axes.end(), [&](const Axis& axis) {
    return axis.name == name && axis.varies == varies;
  });
  if (found != axes.end()) return static_cast<std::size_t>(found - axes.begin());
  axes.push_back({.name = name, .varies = varies});
  return axes.size() - 1;
}

Maker::Maker(const Plan& plan, const Subject& subject)
    : plan_(&plan),
      subject_(&subject),
      parts_(subject.parts),
      models_(subject.models),
      start_(subject.start) {}

rig::Rig Maker::make(std::span<const double> z, const std::function<void(rig::Parts&)>& adjust) {
  if (z.size() != plan_->axes.size()) throw std::logic_error("one normal for each axis is wanted");
  parts_ = subject_->parts;
  for (const auto& part : plan_->parts) {
    double& field = *part.find(parts_);
    field = moved(field, part.move.shape, z[part.move.axis]);
    if (std::isfinite(part.least)) field = std::max(field, part.least);
    if (std::isfinite(part.most)) field = std::min(field, part.most);
  }
  if (plan_->jet) parts_.propeller_share = jet_share(*plan_->jet, z[plan_->jet->axis]);
  if (adjust) adjust(parts_);
  models_ = subject_->models;
  Drawing drawing(plan_->coefficients, z);
  rig::visit_modules(models_, [&](std::string_view, auto& module) { visit(module, drawing); });
  // What was measured holds for every bench that this one may be.
  if (!engine::recalibrate(parts_.engine,
                           models_.engine,
                           models_.air,
                           air::make_ambient(models_.air, subject_->parts.site))) {
    throw std::logic_error("no such bench explains the measured run");
  }
  if (start_) {
    start_->models = subject_->start->models;
    Drawing starts(plan_->starts, z);
    visit(start_->models, starts);
    start_->fuels = subject_->start->fuels;
    Drawing fuels(plan_->fuels, z);
    visit(start_->fuels, fuels);
  }
  auto rig =
      start::assemble(parts_, models_, rig::JetChoice::estimated, start_ ? &*start_ : nullptr);
  if (std::isfinite(subject_->throttle)) rig = rig::with_throttle(rig, subject_->throttle);
  if (std::isfinite(subject_->nozzle)) rig = rig::with_nozzle(rig, subject_->nozzle);
  return rig;
}

}  // namespace windgap::spread
