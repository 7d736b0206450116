// Time of a start: the algebra that placement asks, and the run in time. Compare within one run.
#include <benchmark/benchmark.h>

#include "benchmarks/allocations.h"
#include "placement/placement.h"
#include "start/examples.h"
#include "start/need.h"

namespace windgap::start {
namespace {

using examples::Example;

Deriving deriving() {
  return {.setup = Example().setup, .models = test::start_models(), .fuels = test::fuel_models()};
}

/// The hook of one bench; `allocations` must be 0.
void starting_airflow_of_a_bench(benchmark::State& state) {
  const Example example;
  const auto rig = example.rig();
  const auto start = example.prepared();
  const std::size_t before = benchmarks::allocations();
  double marches = 0.0;
  for (auto _ : state) {
    const auto found = starting_airflow(rig, start);
    benchmark::DoNotOptimize(found.airflow);
    marches += found.marches;
  }
  const auto runs = static_cast<double>(state.iterations());
  state.counters["allocations"] = static_cast<double>(benchmarks::allocations() - before) / runs;
  state.counters["marches"] = marches / runs;
}
BENCHMARK(starting_airflow_of_a_bench)->Unit(benchmark::kMicrosecond);

void assemble_and_derive(benchmark::State& state) {
  const Example example;
  const auto models = deriving();
  for (auto _ : state) {
    benchmark::DoNotOptimize(
        assemble(example.parts, test::models(), rig::JetChoice::nozzle_like, &models)
            .starting_airflow);
  }
}
BENCHMARK(assemble_and_derive)->Unit(benchmark::kMicrosecond);

/// From fan on to idle or the end, near, far and hanging; `seconds` of the start.
void whole_start(benchmark::State& state) {
  const Example example;
  const double stand_off = static_cast<double>(state.range(0)) / 1000.0;
  double seconds = 0.0;
  for (auto _ : state) {
    auto bench = example.bench(stand_off);
    const auto attempt = run(bench);
    seconds = attempt.samples.back().time;
    benchmark::DoNotOptimize(attempt.samples.data());
  }
  state.counters["seconds"] = seconds;
}
BENCHMARK(whole_start)->Arg(150)->Arg(400)->Arg(900)->Unit(benchmark::kMillisecond);

/// Three placements with the starting airflow derived.
void answer_deriving(benchmark::State& state) {
  const Example example;
  const auto models = deriving();
  for (auto _ : state) {
    benchmark::DoNotOptimize(placement::answer(example.parts,
                                               test::models(),
                                               test::usual_requirement(),
                                               test::placement_models(),
                                               {},
                                               &models));
  }
}
BENCHMARK(answer_deriving)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace windgap::start
