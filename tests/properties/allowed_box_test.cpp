#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <sstream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "app/app.h"
#include "blockage/blockage.h"
#include "casefile/attempt_fields.h"
#include "casefile/bench_fields.h"
#include "casefile/case.h"
#include "casefile/engine_fields.h"
#include "casefile/fan_fields.h"
#include "placement/placement.h"
#include "properties/scenes.h"
#include "report/text.h"
#include "start/setup.h"
#include "support/models.h"
#include "support/nonsense.h"

/// Every number of a case drawn from the whole of its allowed range, a few at a time, its ends as
/// often as what lies between: the case is refused with a reason, or all that is told is finite.
namespace windgap::casefile {
namespace {

/// A number of a case, by its key path.
struct Key {
  std::string path;
  Allowed allowed;
};

/// Walks the lists of fields and notes them.
class KeyLister {
 public:
  void operator()(std::string_view key, const double& /*field*/, const Allowed& allowed) {
    keys_.push_back({within_ + std::string(key), allowed});
  }
  template <class Function>
  void in(std::string_view key, Function&& function) {
    const auto outside = within_;
    within_ += std::string(key) + '.';
    function(*this);
    within_ = outside;
  }
  [[nodiscard]] const std::vector<Key>& keys() const noexcept { return keys_; }

 private:
  std::string within_;
  std::vector<Key> keys_;
};

/// What every bench may say.
void visit_surroundings(KeyLister& v, rig::Parts& parts) {
  v.in("site", [&](auto& w) { visit_site(w, parts.site); });
  v.in("mount", [&](auto& w) {
    visit_mounting(w, parts.mounting);
    w.in("struts", [&](auto& x) { visit_struts(x, parts.struts); });
    constexpr Allowed travel{D::length, 1, 10000, "mm"};
    w("nearest", 0.0, travel);
    w("farthest", 0.0, travel);
  });
  v.in("start", [&](auto& w) { visit_start(w, parts.start); });
  v.in("running", [&](auto& w) { visit_running(w, parts.running); });
  v.in("engine", [&](auto& w) {
    w.in("mouth", [&](auto& x) {
      visit_mouth(x, parts.engine.mouth);
      visit_wall(x, parts);
    });
    w.in("guard", [&](auto& x) { visit_guard(x, parts.guard); });
  });
}

/// A ducted fan before an engine.
std::vector<Key> keys_of_a_fan_and_an_engine() {
  rig::Parts parts;
  fan::Fan fan;
  KeyLister v;
  visit_surroundings(v, parts);
  v.in("fan", [&](auto& w) {
    visit_fan(w, fan);
    visit_nozzle(w, fan);
    visit_jet(w, parts);
    w.in("motor", [&](auto& x) { visit_motor(x, parts.drive.motor); });
  });
  v.in("drive", [&](auto& w) {
    visit_drive(w, parts.drive);
    visit_throttle(w, parts);
  });
  v.in("engine", [&](auto& w) { visit_engine(w, parts.engine); });
  return v.keys();
}

/// A stated jet before a stated resistance.
std::vector<Key> keys_of_a_stream_and_a_resistance() {
  rig::Parts parts;
  fan::Stream stream;
  engine::Resistance resistance;
  KeyLister v;
  visit_surroundings(v, parts);
  v.in("fan", [&](auto& w) {
    w.in("stream", [&](auto& x) { visit_stream(x, stream); });
    visit_jet(w, parts);
  });
  v.in("engine",
       [&](auto& w) { w.in("resistance", [&](auto& x) { visit_resistance(x, resistance); }); });
  return v.keys();
}

/// A start by a fan: what turns, lights and feeds it besides.
std::vector<Key> keys_of_a_start() {
  rig::Parts parts;
  start::Setup setup;
  start::Preheat preheat;
  KeyLister v;
  v.in("fuel", [&](auto& w) {
    visit_supply(w, setup.fuel);
    w.in("preheat", [&](auto& x) { visit_preheat(x, preheat); });
  });
  v.in("start", [&](auto& w) { visit_sequence(w, setup); });
  v.in("site", [&](auto& w) { visit_site(w, parts.site); });
  v.in("drive", [&](auto& w) { visit_drive(w, parts.drive); });
  v.in("engine", [&](auto& w) {
    visit_engine(w, parts.engine);
    w.in("combustor", [&](auto& x) { visit_flame_tube(x, setup.burner); });
    w.in("turbine", [&](auto& x) { visit_housing(x, setup.housing); });
  });
  return v.keys();
}

/// A place in a range: an end, or anywhere between, in proportion where the range spans decades.
double value_at(const Allowed& allowed, int place) {
  constexpr int places = 1000;
  const double share = std::clamp((place - 0.5 * places) / places, 0.0, 1.0);
  if (share == 0.0) return allowed.least;
  if (share == 1.0) return allowed.most;
  if (allowed.least > 0.0 && allowed.most > 10.0 * allowed.least) {
    return allowed.least * std::pow(allowed.most / allowed.least, share);
  }
  return allowed.least + share * (allowed.most - allowed.least);
}

/// One to four settings of different places in the ranges.
std::vector<std::string> any_settings(const std::vector<Key>& keys) {
  const auto which = *rc::gen::container<std::vector<std::size_t>>(
      *rc::gen::inRange<std::size_t>(1, 5),
      rc::gen::resize(rc::kNominalSize, rc::gen::inRange<std::size_t>(0, keys.size())));
  std::vector<std::string> settings;
  for (const auto i : which) {
    const auto& key = keys[i];
    const int place = *rc::gen::resize(rc::kNominalSize, rc::gen::inRange(0, 2001));
    settings.push_back(
        fmt::format("{}={} {}", key.path, value_at(key.allowed, place), key.allowed.unit));
  }
  return settings;
}

bool finite(const rig::Delivery& d) {
  return std::isfinite(d.airflow) && std::isfinite(d.rotor_speed) &&
         std::isfinite(d.total_pressure) && std::isfinite(d.inducer_pressure) &&
         std::isfinite(d.back_pressure) && std::isfinite(d.capture_ratio) &&
         std::isfinite(d.jet_speed) && std::isfinite(d.flame_holder_velocity);
}

void try_out(const char* name, const std::vector<Key>& keys) {
  const auto settings = any_settings(keys);
  RC_LOG() << fmt::format("{} {}", name, fmt::join(settings, ", "));
  Case bench;
  try {
    bench = read_case(
        std::string(WINDGAP_SOURCE_DIR "/cases/") + name,
        {.settings = settings, .installed = WINDGAP_MODELS_DIR, .loaded = &test::case_models()});
  } catch (const InputError& refused) {
    RC_TAG("refused");
    RC_ASSERT(!refused.problems().empty());
    return;
  }
  RC_TAG("computed");
  const double nearest = bench.requirement.nearest;
  const double farthest = bench.requirement.farthest;
  for (const auto choice :
       {rig::JetChoice::nozzle_like, rig::JetChoice::propeller_like, rig::JetChoice::estimated}) {
    const auto rig = rig::assemble(bench.parts, bench.models.rig, choice);
    for (const double stand_off : {nearest, std::sqrt(nearest * farthest), farthest}) {
      const auto d = rig::deliver(rig, stand_off);
      RC_ASSERT(finite(d));
      RC_ASSERT(d.airflow >= 0.0);
      RC_ASSERT(d.rotor_speed >= 0.0);
      const auto fan = rig::fan_operation(rig, d);
      RC_ASSERT(std::isfinite(fan.thrust) && std::isfinite(fan.mass_flow));
      const auto lost = blockage::obstruct(rig.blockage, stand_off).running_loss;
      RC_ASSERT(std::isfinite(lost) && lost >= 0.0);
    }
  }
  auto answer = placement::answer(
      bench.parts, bench.models.rig, bench.requirement, bench.models.placement, {.threads = 1});
  RC_ASSERT(answer.advice.feasible == std::isfinite(answer.advice.stand_off));
  const report::Outcome outcome{
      .bench = std::move(bench), .answer = std::move(answer), .asked = {}};
  RC_ASSERT(!test::tells_nonsense(report::place_text(outcome)));
}

RC_GTEST_PROP(AllowedBox, AFanAndAnEngineAreRefusedOrComputed, ()) {
  static const auto keys = keys_of_a_fan_and_an_engine();
  try_out("demo.yaml", keys);
}

RC_GTEST_PROP(AllowedBox, AFanThatIsTooSmallIsRefusedOrComputed, ()) {
  static const auto keys = keys_of_a_fan_and_an_engine();
  try_out("too-small.yaml", keys);
}

RC_GTEST_PROP(AllowedBox, AStreamAndAResistanceAreRefusedOrComputed, ()) {
  static const auto keys = keys_of_a_stream_and_a_resistance();
  try_out("measured-inches.yaml", keys);
}

/// The program from outside: yes, no or a refusal, never a failure of its own.
RC_GTEST_PROP(AllowedBox, EveryQuestionHasAnAnswerOrARefusal, ()) {
  static const auto keys = keys_of_a_start();
  const std::string question = *rc::gen::element<std::string>("check", "place", "spin", "cool");
  auto settings = any_settings(keys);
  RC_LOG() << fmt::format("{} {}", question, fmt::join(settings, ", "));
  std::vector<const char*> words{"windgap",
                                 question.c_str(),
                                 WINDGAP_SOURCE_DIR "/cases/demo.yaml",
                                 "--models",
                                 WINDGAP_MODELS_DIR,
                                 "--threads",
                                 "1"};
  for (const auto& setting : settings) {
    words.push_back("--set");
    words.push_back(setting.c_str());
  }
  std::ostringstream out;
  std::ostringstream err;
  const int exit = app::run(static_cast<int>(words.size()), words.data(), out, err);
  RC_TAG(fmt::format("exit {}", exit));
  RC_ASSERT(exit >= 0);
  RC_ASSERT(exit <= 2);
  RC_ASSERT((exit == 2) == !err.str().empty());
  RC_ASSERT(!test::tells_nonsense(out.str()));
}

}  // namespace
}  // namespace windgap::casefile
