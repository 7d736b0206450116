#include <gtest/gtest.h>

#include "air/air.h"
#include "capture/capture.h"
#include "casefile/coefficients.h"
#include "drive/drive.h"
#include "jet/jet.h"

namespace windgap::casefile {
namespace {

template <class C>
class PhysicsFile : public testing::Test {};

template <class C>
constexpr const char* module_name = nullptr;
template <>
constexpr const char* module_name<air::Coefficients> = "air";
template <>
constexpr const char* module_name<drive::Coefficients> = "drive";
template <>
constexpr const char* module_name<jet::Coefficients> = "jet";
template <>
constexpr const char* module_name<capture::Coefficients> = "capture";

using Modules = testing::
    Types<air::Coefficients, drive::Coefficients, jet::Coefficients, capture::Coefficients>;
TYPED_TEST_SUITE(PhysicsFile, Modules);

TYPED_TEST(PhysicsFile, HoldsEveryCoefficientWithItsSource) {
  Findings findings;
  CoefficientLoader loader(WINDGAP_MODELS_DIR, findings);
  (void)loader.load<TypeParam>(module_name<TypeParam>);
  for (const auto& problem : findings.problems.list()) ADD_FAILURE() << to_text(problem);
  EXPECT_FALSE(loader.infos().empty());
}

}  // namespace
}  // namespace windgap::casefile
