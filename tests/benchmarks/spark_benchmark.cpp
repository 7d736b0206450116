// The igniter's part of an answer; the whole of it, four sources, is to stay below a millisecond.
#include <benchmark/benchmark.h>

#include "casefile/case.h"
#include "report/spark_verdict.h"
#include "support/models.h"

namespace windgap {
namespace {

const casefile::Case& demo() {
  static const auto once = casefile::read_case(
      WINDGAP_SOURCE_DIR "/cases/demo.yaml",
      {.settings = {}, .models = {WINDGAP_MODELS_DIR}, .installed = {}, .scope = {.spark = true}});
  return once;
}

/// The four sources of the demo on its plug, gap, ignition, stored charge and ranking.
void spark_four_sources(benchmark::State& state) {
  const auto& igniter = demo().igniters.front();
  const spark::Conditions gas{.gas = {.pressure = 101700.0, .temperature = 285.0},
                              .velocity = 6.5,
                              .fuel = igniter.given.fuel};
  for (auto _ : state) {
    std::vector<spark::Assessment> each;
    for (const auto& source : igniter.sources) {
      each.push_back(spark::assess({.gap = igniter.gap,
                                    .source = source.source,
                                    .bleed = source.bleed,
                                    .indicator_threshold = source.indicator_threshold},
                                   gas,
                                   demo().models.spark));
    }
    benchmark::DoNotOptimize(spark::ranked(each));
  }
}
BENCHMARK(spark_four_sources)->Unit(benchmark::kMicrosecond);

/// The same with the gas of both states taken from the rig.
void judge_igniters(benchmark::State& state) {
  const auto rig = rig::assemble(demo().parts, demo().models.rig, rig::JetChoice::estimated);
  const auto delivery = rig::deliver(rig, 0.27);
  for (auto _ : state) benchmark::DoNotOptimize(report::judge_igniters(demo(), rig, delivery));
}
BENCHMARK(judge_igniters)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace windgap
