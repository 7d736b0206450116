#include "support/models.h"

namespace windgap::test {

const casefile::Models& case_models() {
  static const auto once = [] {
    casefile::Problems problems;
    auto models = casefile::load_models(
        {WINDGAP_MODELS_DIR}, problems, {.spark = true, .start = true, .cooling = true});
    problems.throw_if_any();
    return models;
  }();
  return once;
}

const rig::Coefficients& models() { return case_models().rig; }
const placement::Coefficients& placement_models() { return case_models().placement; }
const spark::Coefficients& spark_models() { return case_models().spark; }
const start::Coefficients& start_models() { return case_models().start; }
const start::FuelCoefficients& fuel_models() { return case_models().fuels; }
const cooling::Coefficients& cooling_models() { return case_models().cooling; }
const cooling::Materials& material_models() { return case_models().materials; }

}  // namespace windgap::test
