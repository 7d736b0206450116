// Time of the main job's parts. Compare ratios within one run; absolute times are the machine's.
#include <benchmark/benchmark.h>

#include "benchmarks/allocations.h"
#include "placement/placement.h"
#include "support/bench.h"
#include "support/models.h"

namespace windgap {
namespace {

rig::Rig garden() {
  return rig::assemble(test::garden_parts(), test::models(), rig::JetChoice::nozzle_like);
}

/// One full solve; `allocations` must be 0, `marches` counts engine evaluations.
void deliver(benchmark::State& state) {
  const auto rig = garden();
  double stand_off = 0.05;
  double marches = 0.0;
  const std::size_t before = benchmarks::allocations();
  for (auto _ : state) {
    const auto delivery = rig::deliver(rig, stand_off);
    benchmark::DoNotOptimize(delivery.airflow);
    marches += delivery.marches;
    stand_off = stand_off < 0.5 ? stand_off + 1e-4 : 0.05;
  }
  const auto runs = static_cast<double>(state.iterations());
  state.counters["allocations"] = static_cast<double>(benchmarks::allocations() - before) / runs;
  state.counters["marches"] = marches / runs;
}
BENCHMARK(deliver)->Unit(benchmark::kMicrosecond);

void march(benchmark::State& state) {
  const auto rig = garden();
  engine::Flow flow{.mass_flow = 0.02,
                    .speed = 1200.0,
                    .inlet_total_pressure = rig.ambient.pressure + 2500.0,
                    .inlet_total_temperature = rig.ambient.temperature};
  for (auto _ : state) {
    flow.mass_flow = flow.mass_flow < 0.021 ? flow.mass_flow + 1e-8 : 0.02;
    benchmark::DoNotOptimize(engine::march(rig.engine, rig.ambient, flow));
  }
}
BENCHMARK(march);

void tube(benchmark::State& state) {
  const auto rig = garden();
  const double offset = static_cast<double>(state.range(0)) / 100.0;
  const auto section = jet::section(rig.jet, 0.1, rig.jet_coefficients);
  for (auto _ : state) {
    benchmark::DoNotOptimize(capture::tube(section, offset, rig.capture_coefficients));
  }
}
BENCHMARK(tube)->Arg(0)->Arg(10)->Arg(50);

/// A row of a sweep: delivery, fan, obstruction, constraints.
void look(benchmark::State& state) {
  const auto rig = garden();
  const auto need = test::usual_requirement();
  double stand_off = 0.05;
  for (auto _ : state) {
    benchmark::DoNotOptimize(placement::look(rig, stand_off, need));
    stand_off = stand_off < 0.5 ? stand_off + 1e-4 : 0.05;
  }
}
BENCHMARK(look)->Unit(benchmark::kMicrosecond);

void assemble(benchmark::State& state) {
  const auto parts = test::garden_parts();
  for (auto _ : state) {
    benchmark::DoNotOptimize(
        rig::assemble(parts, test::models(), rig::JetChoice::nozzle_like).starting_airflow);
  }
}
BENCHMARK(assemble)->Unit(benchmark::kMicrosecond);

/// Three placements: both bounds and the estimate.
void answer(benchmark::State& state) {
  auto parts = test::garden_parts();
  parts.start.airflow = 0.018;
  for (auto _ : state) {
    benchmark::DoNotOptimize(placement::answer(
        parts, test::models(), test::usual_requirement(), test::placement_models(), {}));
  }
}
BENCHMARK(answer)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace windgap

BENCHMARK_MAIN();
