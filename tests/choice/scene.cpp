#include "choice/scene.h"

#include <map>

namespace windgap::test {
namespace {

Market opened(const std::string& engine) {
  // Started alike: the airflow goes with the inducer's area.
  const std::map<std::string, std::string> airflow{
      {"shed-34", "13.1 g/s"}, {"garden-46", "24 g/s"}, {"field-76", "65.5 g/s"}};
  const casefile::ReadOptions options{
      .settings = {"engine=engines/" + engine + ".yaml", "start.airflow=" + airflow.at(engine)},
      .installed = WINDGAP_MODELS_DIR,
      .scope = {.choice = true}};
  Market made{.bench = casefile::read_case(WINDGAP_SOURCE_DIR "/cases/no-fan-yet.yaml", options),
              .list = {},
              .question = {},
              .ranking = {}};
  made.list = casefile::catalogue(made.bench, options);
  made.question = casefile::question(made.bench);
  made.ranking = choice::rank(made.question, made.list.fans, made.list.packs, {});
  return made;
}

}  // namespace

const Market& market(const std::string& engine) {
  static std::map<std::string, Market> known;
  const auto found = known.find(engine);
  return found != known.end() ? found->second : known.emplace(engine, opened(engine)).first->second;
}

}  // namespace windgap::test
