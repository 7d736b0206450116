#include <benchmark/benchmark.h>

#include <algorithm>

#include "casefile/catalogue.h"
#include "choice/sizing.h"

/// Two hundred fans on six packs: a library of copies of one shipped fan in forty sizes, wound for
/// three to twelve cells.
namespace windgap {
namespace {

struct Market {
  choice::Question question;
  std::vector<choice::ListedFan> fans;
  std::vector<choice::ListedPack> packs;
};

/// The same wheel wound for another voltage.
void rewind(fan::Fan& fan, drive::Motor& motor, double factor) {
  fan.datasheet.voltage *= factor;
  fan.datasheet.current /= factor;
  motor.speed_constant /= factor;
  motor.resistance *= factor * factor;
  motor.no_load_current /= factor;
  motor.max_current /= factor;
}

Market market() {
  constexpr double wound_for = 6.0;
  constexpr int sizes = 40;
  const casefile::ReadOptions options{.installed = WINDGAP_MODELS_DIR, .scope = {.choice = true}};
  const auto bench = casefile::read_case(WINDGAP_SOURCE_DIR "/cases/no-fan-yet.yaml", options);
  auto list = casefile::catalogue(bench, options);
  Market made{.question = casefile::question(bench), .fans = {}, .packs = {}};
  for (const auto& pack : list.packs) {
    const bool small = pack.file == "packs/4s-2200.yaml" || pack.file == "packs/6s-2200.yaml";
    if (!small) made.packs.push_back(pack);
  }
  const auto& original =
      *std::find_if(list.fans.begin(), list.fans.end(), [](const choice::ListedFan& fan) {
        return fan.file == "fans/ducted-64.yaml";
      });
  for (const double cells : {3.0, 4.0, 6.0, 8.0, 12.0}) {
    for (int i = 0; i < sizes; ++i) {
      drive::Drive parts;
      parts.motor = original.motor;
      auto copy = original;
      const auto other = choice::scaled(
          std::get<fan::Fan>(original.source), parts, 0.6 + 1.3 * static_cast<double>(i) / sizes);
      auto fan = other.fan;
      copy.motor = other.drive.motor;
      rewind(fan, copy.motor, cells / wound_for);
      copy.source = fan;
      made.fans.push_back(copy);
    }
  }
  return made;
}

void choose(benchmark::State& state) {
  const auto list = market();
  std::size_t placed = 0;
  std::size_t fit = 0;
  std::size_t pairs = 0;
  for (auto _ : state) {
    const auto ranking = choice::rank(
        list.question, list.fans, list.packs, {.threads = static_cast<unsigned>(state.range(0))});
    pairs = ranking.choices.size();
    placed = fit = 0;
    for (const auto& choice : ranking.choices) {
      if (choice.fitness <= choice::Fitness::flat_pack) ++placed;
      if (choice.fitness == choice::Fitness::fits) ++fit;
    }
  }
  state.counters["pairs"] = static_cast<double>(pairs);
  state.counters["placed"] = static_cast<double>(placed);
  state.counters["fit"] = static_cast<double>(fit);
}
BENCHMARK(choose)->Arg(1)->Arg(2)->Unit(benchmark::kSecond)->UseRealTime()->Iterations(1);

}  // namespace
}  // namespace windgap
