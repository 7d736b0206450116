#include "support/models.h"

#include "casefile/models.h"

namespace windgap::test {
namespace {

const casefile::Models& loaded() {
  static const auto once = [] {
    casefile::Problems problems;
    auto models = casefile::load_models(
        {WINDGAP_MODELS_DIR}, problems, {.spark = true, .start = true, .cooling = true});
    problems.throw_if_any();
    return models;
  }();
  return once;
}

}  // namespace

const rig::Coefficients& models() { return loaded().rig; }
const placement::Coefficients& placement_models() { return loaded().placement; }
const spark::Coefficients& spark_models() { return loaded().spark; }
const start::Coefficients& start_models() { return loaded().start; }
const start::FuelCoefficients& fuel_models() { return loaded().fuels; }
const cooling::Coefficients& cooling_models() { return loaded().cooling; }
const cooling::Materials& material_models() { return loaded().materials; }

}  // namespace windgap::test
