#include "casefile/fields.h"

#include <cstddef>
#include <stdexcept>
#include <string>
#include <variant>

#include "casefile/bench_fields.h"
#include "casefile/engine_fields.h"
#include "casefile/fan_fields.h"

namespace windgap::casefile {
namespace {

/// Walks the lists of fields down one path.
class FieldFinder {
 public:
  explicit FieldFinder(std::string_view path) : path_(path) {}

  void operator()(std::string_view key, double& field, const Allowed& /*allowed*/) {
    if (path_ == key) found_ = &field;
  }
  template <class Function>
  void in(std::string_view key, Function&& function) {
    if (path_.size() <= key.size() || !path_.starts_with(key) || path_[key.size()] != '.') return;
    const auto whole = path_;
    path_.remove_prefix(key.size() + 1);
    function(*this);
    path_ = whole;
  }
  [[nodiscard]] double* found() const noexcept { return found_; }

 private:
  std::string_view path_;
  double* found_ = nullptr;
};

void visit_source(FieldFinder& v, rig::Parts& parts) {
  if (auto* fan = std::get_if<fan::Fan>(&parts.source)) {
    visit_fan(v, *fan);
    visit_nozzle(v, *fan);
  }
  if (auto* stream = std::get_if<fan::Stream>(&parts.source)) {
    v.in("stream", [&](auto& w) { visit_stream(w, *stream); });
    v("outer_diameter", parts.fan_outer_diameter, {.dimension = D::length});
  }
  v.in("motor", [&](auto& w) { visit_motor(w, parts.drive.motor); });
  visit_jet(v, parts);
  v.in("axis_readings", [&](auto& w) {
    for (std::size_t i = 0; i < parts.axis_readings.size(); ++i) {
      w.in(std::to_string(i), [&](auto& x) { visit_reading(x, parts.axis_readings[i]); });
    }
  });
}

void visit_whole_engine(FieldFinder& v, rig::Parts& parts) {
  visit_engine(v, parts.engine);
  v.in("mouth", [&](auto& w) { visit_wall(w, parts); });
  v.in("guard", [&](auto& w) { visit_guard(w, parts.guard); });
  if (parts.engine.resistance) {
    v.in("resistance", [&](auto& w) { visit_resistance(w, *parts.engine.resistance); });
  }
}

}  // namespace

Measure measure(const Allowed& allowed) {
  const auto unit = units::find_unit(allowed.unit, allowed.dimension);
  if (!unit) throw std::logic_error("a range is written in a unit of another dimension");
  return {.dimension = allowed.dimension,
          .least = unit->offset + unit->factor * allowed.least,
          .most = unit->offset + unit->factor * allowed.most};
}

double* find_field(rig::Parts& parts, std::string_view key) {
  FieldFinder v(key);
  v.in("site", [&](auto& w) { visit_site(w, parts.site); });
  v.in("fan", [&](auto& w) { visit_source(w, parts); });
  v.in("drive", [&](auto& w) {
    visit_drive(w, parts.drive);
    visit_throttle(w, parts);
  });
  v.in("engine", [&](auto& w) { visit_whole_engine(w, parts); });
  v.in("mount", [&](auto& w) {
    visit_mounting(w, parts.mounting);
    w.in("struts", [&](auto& x) { visit_struts(x, parts.struts); });
  });
  v.in("start", [&](auto& w) { visit_start(w, parts.start); });
  v.in("running", [&](auto& w) { visit_running(w, parts.running); });
  return v.found();
}

}  // namespace windgap::casefile
