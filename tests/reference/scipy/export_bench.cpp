#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <ctime>
#include <exception>
#include <limits>
#include <map>
#include <nlohmann/json.hpp>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include "casefile/case.h"
#include "placement/placement.h"
#include "reference/scipy/bench_json.h"
#include "reference/scipy/spin_up.h"
#include "start/setup.h"

// Writes a case as it was understood, its coefficients, an ensemble of perturbed coefficients, the
// program's answers and its own processor time for each, as JSON. compare_bench.py runs it.
// Usage: windgap_export_bench CASE MEMBERS

namespace windgap::reference {
namespace {

constexpr std::size_t sweep_rows = 59;
constexpr double furthest_draw = 2.0;  // standard deviations, so that no loss turns negative
constexpr std::uint64_t seed = 20250101;

constexpr double never = std::numeric_limits<double>::infinity();

double processor_seconds() {
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// Standard normal draws, the same on every machine.
class Draw {
 public:
  double operator()() {
    for (;;) {
      const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform()));
      const double value = radius * std::cos(2.0 * std::numbers::pi * uniform());
      if (std::abs(value) <= furthest_draw) return value;
    }
  }

 private:
  double uniform() {
    constexpr int bits = 53;
    return std::ldexp(static_cast<double>(engine_() >> (64 - bits)), -bits);
  }
  std::mt19937_64 engine_{seed};
};

double drawn(double value, const casefile::Spread& spread, double normal) {
  switch (spread.distribution) {
    case casefile::Distribution::normal:
      return value + spread.width * normal;
    case casefile::Distribution::lognormal:
      return value * std::exp(spread.width * normal);
    case casefile::Distribution::uniform:
      return value + spread.width * std::erf(normal / std::numbers::sqrt2);
    case casefile::Distribution::none:
      break;
  }
  return value;
}

struct Ensemble {
  std::vector<std::string> names;
  std::vector<std::vector<double>> rows;
};

Ensemble draw_ensemble(const casefile::Case& bench, std::size_t members) {
  std::vector<const casefile::CoefficientInfo*> varied;
  auto models = bench.models.rig;
  rig::visit_modules(models, [&](const std::string& module, auto&) {
    for (const auto& info : bench.models.infos) {
      if (info.module == module && info.spread.distribution != casefile::Distribution::none) {
        varied.push_back(&info);
      }
    }
  });
  Ensemble ensemble;
  for (const auto* info : varied) ensemble.names.push_back(info->module + "." + info->key);
  Draw draw;
  for (std::size_t i = 0; i < members; ++i) {
    std::map<std::string, double> groups;
    auto& row = ensemble.rows.emplace_back();
    for (const auto* info : varied) {
      const auto& group = info->spread.group;
      double normal = unset;
      if (group == "none") {
        normal = draw();
      } else {
        const auto [entry, fresh] = groups.try_emplace(group, unset);
        if (fresh) entry->second = draw();
        normal = entry->second;
      }
      row.push_back(drawn(std::isnan(info->value) ? 1.0 : info->value, info->spread, normal));
    }
  }
  return ensemble;
}

struct Answers {
  std::vector<double> stand_off;
  std::vector<double> airflow;
  std::vector<double> rotor_speed;
  double seconds_each = unset;

  void add(const rig::Delivery& delivery) {
    stand_off.push_back(delivery.stand_off);
    airflow.push_back(delivery.airflow);
    rotor_speed.push_back(delivery.rotor_speed);
  }
  [[nodiscard]] nlohmann::json json() const {
    return {{"stand_off_m", stand_off},
            {"airflow_kg_s", airflow},
            {"rotor_speed_rad_s", rotor_speed},
            {"seconds_each", seconds_each}};
  }
};

/// The mount alone, solved again and again.
Answers solve(const rig::Rig& rig, double stand_off) {
  constexpr int repeats = 20000;
  Answers answers;
  answers.add(rig::deliver(rig, stand_off));
  double sum = 0.0;
  const double before = processor_seconds();
  for (int i = 0; i < repeats; ++i) {
    sum += rig::deliver(rig, stand_off * (1.0 + 1e-9 * i)).airflow;
  }
  answers.seconds_each = (processor_seconds() - before) / repeats;
  if (!std::isfinite(sum)) answers.airflow.clear();
  return answers;
}

Answers sweep(const rig::Rig& rig, double nearest, double farthest) {
  constexpr int repeats = 200;
  Answers answers;
  double before = processor_seconds();
  for (int i = 0; i < repeats; ++i) {
    Answers once;
    for (std::size_t row = 0; row < sweep_rows; ++row) {
      const double share = static_cast<double>(row) / static_cast<double>(sweep_rows - 1);
      once.add(rig::deliver(rig, nearest + share * (farthest - nearest)));
    }
    answers = once;
  }
  answers.seconds_each = (processor_seconds() - before) / (repeats * sweep_rows);
  return answers;
}

/// A rig for each member, and its airflow at the mount; the least time of some.
nlohmann::json run_ensemble(const casefile::Case& bench,
                            const Ensemble& ensemble,
                            rig::JetChoice choice,
                            double stand_off) {
  std::vector<rig::Coefficients> members;
  for (const auto& row : ensemble.rows) {
    auto& models = members.emplace_back(bench.models.rig);
    for (std::size_t i = 0; i < row.size(); ++i) replace(models, ensemble.names[i], row[i]);
  }
  constexpr int repeats = 3;
  const auto count = static_cast<double>(members.size());
  Answers answers;
  double assembly = never;
  double delivery = never;
  for (int repeat = 0; repeat < repeats; ++repeat) {
    std::vector<rig::Rig> rigs;
    rigs.reserve(members.size());
    const double before = processor_seconds();
    for (const auto& models : members) rigs.push_back(rig::assemble(bench.parts, models, choice));
    const double between = processor_seconds();
    answers = {};
    for (const auto& rig : rigs) answers.add(rig::deliver(rig, stand_off));
    assembly = std::min(assembly, (between - before) / count);
    delivery = std::min(delivery, (processor_seconds() - between) / count);
  }
  answers.seconds_each = delivery;
  auto out = answers.json();
  out["assembly_seconds_each"] = assembly;
  return out;
}

/// The rotor blown from rest at the mount.
nlohmann::json run_spin_up(const casefile::Case& bench, const rig::Rig& rig, double stand_off) {
  constexpr int repeats = 20;
  constexpr int samples = 25;
  constexpr double duration = 6.0;  // [s]
  constexpr double tolerance = 1e-8;
  start::Setup setup{
      .burner = {.flame_holder_velocity = bench.models.placement.flame_holder_velocity}};
  (void)start::fill_fallbacks(setup, bench.parts, bench.models.rig, bench.models.start);
  const auto prepared =
      start::prepare(setup, bench.parts, bench.models.rig, bench.models.fuels, bench.models.start);
  std::vector<double> times;
  for (int i = 0; i < samples; ++i) times.push_back(duration * i / (samples - 1));
  SpinUp course;
  const double before = processor_seconds();
  for (int i = 0; i < repeats; ++i) {
    start::Bench there(bench.parts, bench.models.rig, rig, prepared, stand_off);
    course = spin_up(there, times, tolerance);
  }
  return {{"seconds", (processor_seconds() - before) / repeats},
          {"stand_off_m", stand_off},
          {"tolerance", tolerance},
          {"time_s", course.time},
          {"speed_rad_s", course.speed},
          {"inertia_kg_m2", rig.engine.inertia},
          {"film_capacity_j_k", prepared.film_capacity},
          {"oil_conductance_w_k", prepared.oil_conductance},
          {"oil_temperature_k", prepared.oil_temperature}};
}

int run(const std::string& file, std::size_t members) {
  const auto bench =
      casefile::read_case(file, {.models = {WINDGAP_MODELS_DIR}, .scope = {.start = true}});
  const auto answer = placement::answer(
      bench.parts, bench.models.rig, bench.requirement, bench.models.placement, {.threads = 1});
  const double mount = answer.advice.stand_off;
  const auto ensemble = draw_ensemble(bench, members);
  nlohmann::json out;
  out["title"] = bench.title;
  out["parts"] = to_json(bench.parts);
  out["coefficients"] = to_json(bench.models.rig);
  out["members"] = {{"names", ensemble.names}, {"rows", ensemble.rows}};
  out["solve"] = solve(answer.rig, mount).json();
  out["sweep"] = sweep(answer.rig, bench.requirement.nearest, bench.requirement.farthest).json();
  out["ensemble"] = run_ensemble(bench, ensemble, answer.choice, mount);
  out["spin_up"] = run_spin_up(bench, answer.rig, mount);
  std::puts(out.dump().c_str());
  return 0;
}

}  // namespace
}  // namespace windgap::reference

int main(int argc, char** argv) {
  if (argc != 3) {
    std::fputs("usage: windgap_export_bench CASE MEMBERS\n", stderr);
    return 2;
  }
  try {
    return windgap::reference::run(argv[1], std::stoul(argv[2]));
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 1;
  }
}
