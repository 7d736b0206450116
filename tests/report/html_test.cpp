#include "report/html.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <regex>

#include "report/cautions.h"
#include "report/examples.h"
#include "report/html_text.h"
#include "report/verdict.h"

namespace windgap::report {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

std::string page(const std::string& name) {
  return html_page(test::solved(name), test::surveyed(name));
}

/// What a reader sees: the page up to the plotting library.
std::string shown(const std::string& page) { return page.substr(0, page.find("<!-- Terms")); }

class EveryPage : public ::testing::TestWithParam<std::string> {};
INSTANTIATE_TEST_SUITE_P(Html,
                         EveryPage,
                         ::testing::Values("demo", "too-small", "measured-inches"),
                         [](const auto& test) {
                           return std::regex_replace(test.param, std::regex("-"), "_");
                         });

TEST_P(EveryPage, PutsTheVerdictFirst) {
  const auto text = page(GetParam());
  const auto verdict = text.find("<h2>" + headline(test::solved(GetParam())) + "</h2>");
  ASSERT_NE(verdict, std::string::npos);
  EXPECT_EQ(text.find("<h2>"), verdict);
}

TEST_P(EveryPage, HasEverySection) {
  const auto text = shown(page(GetParam()));
  for (const auto* title : {"Side view",
                            "Against the distance",
                            "Cold check",
                            "Limits at",
                            "Cautions",
                            "Assumed",
                            "Sources of the coefficients"}) {
    EXPECT_THAT(text, HasSubstr(std::string("<h2>") + title));
  }
  for (const auto& caution : cautions()) EXPECT_THAT(text, HasSubstr(escaped(caution.full)));
}

TEST_P(EveryPage, NeverShowsANumberThatIsNone) {
  const auto text = shown(page(GetParam()));
  EXPECT_FALSE(std::regex_search(text, std::regex("[^a-z](nan|inf|n/a|null)[^a-z]")));
}

TEST_P(EveryPage, NeedsNothingFromOutside) {
  const auto text = shown(page(GetParam()));
  EXPECT_THAT(text, Not(HasSubstr(" src=")));
  EXPECT_THAT(text, Not(HasSubstr("href=\"http")));
  EXPECT_THAT(text, Not(HasSubstr("url(")));
  EXPECT_THAT(text, Not(HasSubstr("@import")));
  EXPECT_THAT(text, Not(HasSubstr(WINDGAP_SOURCE_DIR)));
}

TEST_P(EveryPage, IsTheSameTwice) { EXPECT_EQ(page(GetParam()), page(GetParam())); }

TEST_P(EveryPage, CanBeWrittenDown) {
  const auto file = std::filesystem::path(::testing::TempDir()) / (GetParam() + ".html");
  const auto text = page(GetParam());
  std::ofstream(file, std::ios::binary) << text;
  EXPECT_EQ(std::filesystem::file_size(file), text.size());
}

TEST(Html, CarriesThePlottingLibraryAndItsTerms) {
  const auto text = page("demo");
  EXPECT_THAT(text, HasSubstr("part(\"vega-parser\""));
  const auto terms = text.find("<!-- Terms of the plotting library");
  ASSERT_NE(terms, std::string::npos);
  EXPECT_THAT(text.substr(terms, text.find("-->", terms) - terms), HasSubstr("Copyright"));
}

TEST(Html, TakesNoMarkupFromACase) {
  auto outcome = test::solved("demo");
  outcome.bench.title = "<script>\"a\" & 'b'</script>";
  const auto text = html_page(outcome, test::surveyed("demo"));
  EXPECT_THAT(text, Not(HasSubstr("<script>\"a\"")));
  EXPECT_THAT(text, HasSubstr("&lt;script&gt;&quot;a&quot; &amp; &#39;b&#39;&lt;/script&gt;"));
}

TEST(Html, SaysNothingOfARotorThatIsNotDescribed) {
  EXPECT_THAT(shown(page("demo")), HasSubstr("rotor speed"));
  const auto text = shown(page("measured-inches"));
  EXPECT_THAT(text, Not(HasSubstr("rotor speed")));
  EXPECT_THAT(text, Not(HasSubstr("the fan on its curve")));
}

TEST(Html, ShadesNoSlotWhereThereIsNone) {
  EXPECT_THAT(shown(page("demo")), HasSubstr("class=\"slot\""));
  EXPECT_THAT(shown(page("too-small")), Not(HasSubstr("class=\"slot\"")));
}

}  // namespace
}  // namespace windgap::report
