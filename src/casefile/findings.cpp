#include "casefile/findings.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "casefile/nearest.h"

namespace windgap::casefile {

std::string join_path(std::string_view path, std::string_view key) {
  return path.empty() ? std::string(key) : fmt::format("{}.{}", path, key);
}

const GivenValue* find_given(const Findings& findings, std::string_view key) {
  const auto found = std::find_if(findings.given.begin(),
                                  findings.given.end(),
                                  [&](const GivenValue& value) { return value.key == key; });
  return found == findings.given.end() ? nullptr : &*found;
}

void assume(Findings& findings, const std::string& key, double value, std::string source) {
  const auto measure = findings.measures.find(key);
  const auto dimension =
      measure == findings.measures.end() ? units::Dimension::number : measure->second.dimension;
  findings.assumed.push_back({.key = key,
                              .value = units::format(value, dimension, findings.system),
                              .source = std::move(source)});
}

void report_unknown_keys(const Node& node, const std::string& path, Findings& findings) {
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    report_unknown_keys(node.items[i], join_path(path, std::to_string(i)), findings);
  }
  const auto accepted = findings.accepted.find(path);
  if (accepted == findings.accepted.end()) return;
  const auto& keys = accepted->second;
  for (const auto& entry : node.entries) {
    const auto key = join_path(path, entry.key);
    if (std::find(keys.begin(), keys.end(), entry.key) != keys.end()) {
      report_unknown_keys(entry.value, key, findings);
      continue;
    }
    const auto meant = nearest(entry.key, keys);
    Problem problem{.place = entry.place, .key = key, .what = "unknown key"};
    if (meant.empty()) {
      problem.allowed = fmt::format("{}", fmt::join(keys, ", "));
    } else {
      problem.suggestion = meant;
    }
    findings.problems.add(std::move(problem));
  }
}

}  // namespace windgap::casefile
