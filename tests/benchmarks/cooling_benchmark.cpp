// Time of a cooldown and of a plan: at most 5 ms and 300 ms.
#include <benchmark/benchmark.h>

#include <array>

#include "cooling/scene.h"
#include "cooling/setup.h"

namespace windgap {
namespace {

constexpr double stand_off = 0.15;

cooling::Scene oiled() {
  auto scene = test::garden_scene();
  scene.pump = cooling::PumpUse::while_purging;
  return scene;
}

constexpr cooling::PlanNeed need{.stand_off = stand_off, .least_throttle = 0.15, .charge = 8000.0};

/// A quarter of an hour of purging, then standing until all is cool: tables included.
void cooldown(benchmark::State& state) {
  const auto scene = oiled();
  const auto rig = rig::with_throttle(test::garden_rig(), 0.3);
  std::size_t knots = 0;
  for (auto _ : state) {
    const std::array steps{cooling::PurgeStep{
        .flow = cooling::purge_of(scene.network, scene.start, rig, stand_off), .seconds = 900.0}};
    auto course = cooling::purge_course(scene, steps);
    cooling::append(course, cooling::standing_course(scene, course.knots.back().at, course.end()));
    benchmark::DoNotOptimize(cooling::verdict(scene, course));
    knots = course.knots.size();
  }
  state.counters["knots"] = static_cast<double>(knots);
}
BENCHMARK(cooldown)->Unit(benchmark::kMillisecond);

void standing(benchmark::State& state) {
  const auto scene = oiled();
  for (auto _ : state) {
    benchmark::DoNotOptimize(cooling::standing_course(scene, scene.start, 0.0));
  }
}
BENCHMARK(standing)->Unit(benchmark::kMillisecond);

void plan(benchmark::State& state) {
  const auto scene = oiled();
  auto own = need;
  if (state.range(0) == 1) own.cooling_rate = 1.0;  // bound: two steps are tried
  int trials = 0;
  for (auto _ : state) trials = cooling::plan(scene, test::garden_rig(), own).trials;
  state.counters["trials"] = trials;
}
BENCHMARK(plan)->Unit(benchmark::kMillisecond)->Arg(0)->Arg(1);

void demand(benchmark::State& state) {
  const auto scene = oiled();
  for (auto _ : state) {
    benchmark::DoNotOptimize(cooling::cooldown_demand(scene, test::garden_rig(), need));
  }
}
BENCHMARK(demand)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace windgap
