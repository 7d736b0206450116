#include "casefile/coefficients.h"

#include <gtest/gtest.h>

#include <string>

#include "folder.h"

namespace windgap::casefile {
namespace {

struct Sample {
  double loss = unset;
  Table curve;
};

template <class Visitor>
void visit(Sample& c, Visitor&& v) {
  v("loss", c.loss);
  v("curve", c.curve);
}

constexpr std::string_view sources = R"(
book1990: { authors: "A. Author", year: 1990, title: "A book", status: read }
)";

constexpr std::string_view good = R"(
loss:
  value: 0.05
  unit: "-"
  spread: { normal: 0.02, group: inlet, varies: start }
  source: { key: book1990, where: "Table 2", kind: digitised }
  validity: "rounded lips"
curve:
  table: { x: [0, 0.1, 0.2], y: [0.5, 0.3, 0.1] }
  unit: "-"
  spread: { lognormal: 0.1, group: inlet, varies: bench }
  source: { key: book1990, where: "Fig. 3", kind: measured }
  validity: "0 to 0.2"
)";

std::string replaced(std::string_view text, std::string_view from, std::string_view to) {
  std::string result(text);
  const auto at = result.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return result.replace(at, from.size(), to);
}

class Coefficients : public testing::Test {
 protected:
  Sample load(std::string_view text) {
    problems_ = {};
    folder_.write("sources.yaml", sources);
    folder_.write("physics/sample.yaml", text);
    CoefficientLoader loader({folder_.path()}, problems_);
    auto sample = loader.load<Sample>("sample");
    infos_ = loader.infos();
    return sample;
  }
  std::string problems(std::string_view text) {
    (void)load(text);
    std::string all;
    for (auto problem : problems_.list()) {
      problem.place = {};
      all += to_text(problem) + "\n";
    }
    return all;
  }

  Folder folder_;
  Problems problems_;
  std::vector<CoefficientInfo> infos_;
};

TEST_F(Coefficients, FillEveryField) {
  const auto sample = load(good);
  EXPECT_TRUE(problems_.empty());
  EXPECT_EQ(sample.loss, 0.05);
  EXPECT_EQ(sample.curve.x, (std::vector<double>{0, 0.1, 0.2}));
  EXPECT_EQ(sample.curve.y, (std::vector<double>{0.5, 0.3, 0.1}));
}

TEST_F(Coefficients, KeepTheirSpreadAndSource) {
  (void)load(good);
  ASSERT_EQ(infos_.size(), 2U);
  EXPECT_EQ(infos_[0].module, "sample");
  EXPECT_EQ(infos_[0].key, "loss");
  EXPECT_EQ(infos_[0].value, 0.05);
  EXPECT_EQ(infos_[0].spread.distribution, Distribution::normal);
  EXPECT_EQ(infos_[0].spread.width, 0.02);
  EXPECT_EQ(infos_[0].spread.group, "inlet");
  EXPECT_EQ(infos_[0].spread.varies, Varies::start);
  EXPECT_EQ(infos_[0].source, "book1990");
  EXPECT_EQ(infos_[0].where, "Table 2");
  EXPECT_EQ(infos_[0].kind, SourceKind::digitised);
  EXPECT_EQ(infos_[0].validity, "rounded lips");
  EXPECT_EQ(infos_[1].spread.distribution, Distribution::lognormal);
}

TEST_F(Coefficients, MustAllBeThere) {
  EXPECT_EQ(problems(replaced(good, "loss:", "lost:")),
            "sample.loss: missing coefficient\nsample.lost: unknown key; did you mean loss?\n");
  EXPECT_NE(problems("{}").find("sample.curve: missing coefficient"), std::string::npos);
}

TEST_F(Coefficients, MustBeComplete) {
  EXPECT_NE(problems(replaced(good, "value: 0.05", "value: ")).find("sample.loss.value: missing"),
            std::string::npos);
  EXPECT_NE(problems(replaced(good, "value: 0.05", "value: nan")).find("finite decimal number"),
            std::string::npos);
  EXPECT_NE(problems(replaced(good, "unit: \"-\"", "unit: ")).find("sample.loss.unit: missing"),
            std::string::npos);
  EXPECT_NE(problems(replaced(good, "validity: \"rounded lips\"", "validity: "))
                .find("sample.loss.validity: missing"),
            std::string::npos);
  EXPECT_NE(problems(replaced(good, "normal: 0.02, ", "")).find("exactly one distribution"),
            std::string::npos);
  EXPECT_NE(problems(replaced(good, "normal: 0.02", "normal: 0.02, none: 0"))
                .find("exactly one distribution"),
            std::string::npos);
  EXPECT_NE(problems(replaced(good, "normal: 0.02", "normal: -0.02")).find("too small"),
            std::string::npos);
  EXPECT_NE(
      problems(replaced(good, "group: inlet, ", "")).find("sample.loss.spread.group: missing"),
      std::string::npos);
  EXPECT_NE(
      problems(replaced(good, "varies: start", "varies: often")).find("allowed: bench, start"),
      std::string::npos);
  EXPECT_NE(problems(replaced(good, "where: \"Table 2\", ", "")).find("source.where: missing"),
            std::string::npos);
  EXPECT_NE(problems(replaced(good, "kind: digitised", "kind: guessed")).find("unknown word"),
            std::string::npos);
}

TEST_F(Coefficients, MustNameAKnownSource) {
  EXPECT_NE(problems(replaced(good, "key: book1990", "key: book1991"))
                .find("no such source in models/sources.yaml"),
            std::string::npos);
}

TEST_F(Coefficients, MustHaveRisingTables) {
  EXPECT_NE(problems(replaced(good, "x: [0, 0.1, 0.2]", "x: [0, 0.2, 0.1]")).find("rising in x"),
            std::string::npos);
  EXPECT_NE(problems(replaced(good, "x: [0, 0.1, 0.2]", "x: [0, 0.1]")).find("rising in x"),
            std::string::npos);
  EXPECT_NE(problems(replaced(good, "x: [0, 0.1, 0.2]", "x: [0, inf, 0.2]")).find("plain number"),
            std::string::npos);
}

TEST_F(Coefficients, ReportMissingFilesOnce) {
  CoefficientLoader loader({folder_.path() / "nowhere"}, problems_);
  (void)loader.load<Sample>("sample");
  (void)loader.load<Sample>("other");
  EXPECT_EQ(problems_.list().size(), 1U);
}

}  // namespace
}  // namespace windgap::casefile
