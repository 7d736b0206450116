#pragma once

#include <string>

#include "casefile/catalogue.h"

/// The shipped library as candidates for a shipped engine, and their ranking, each computed once.
namespace windgap::test {

struct Market {
  casefile::Case bench;
  casefile::Catalogue list;
  choice::Question question;
  choice::Ranking ranking;
};

/// @param engine file name without `.yaml` in models/engines
[[nodiscard]] const Market& market(const std::string& engine);

}  // namespace windgap::test
