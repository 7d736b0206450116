#include "casefile/coefficients.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <functional>
#include <utility>

#include "units/quantity.h"

namespace windgap::casefile {
namespace {

constexpr Measure any_number{.dimension = units::Dimension::number};

std::string required_text(Reader& reader, std::string_view key) {
  auto text = reader.optional_text(key);
  reader.require(key, "a line of text");
  if (text && text->empty()) reader.refuse(key, "missing", "a line of text");
  return text.value_or("");
}

template <class Enum>
Enum required_choice(Reader& reader, std::string_view key, Reader::Names<Enum> names) {
  const auto choice = reader.optional_choice(key, names);
  reader.require(key);
  return choice.value_or(names.begin()->second);
}

Spread read_spread(Reader reader) {
  Spread spread;
  constexpr std::array<std::pair<std::string_view, Distribution>, 4> kinds{
      {{"none", Distribution::none},
       {"normal", Distribution::normal},
       {"lognormal", Distribution::lognormal},
       {"uniform", Distribution::uniform}}};
  int given = 0;
  for (const auto& [word, distribution] : kinds) {
    const double width = reader.optional(word, {.dimension = units::Dimension::number, .least = 0});
    if (!reader.has(word)) continue;
    ++given;
    spread.distribution = distribution;
    spread.width = width;
  }
  if (given != 1) {
    reader.refuse(
        "normal", "exactly one distribution is wanted", "none, normal, lognormal, uniform");
  }
  spread.group = required_text(reader, "group");
  spread.varies = required_choice<Varies>(
      reader, "varies", {{"bench", Varies::bench}, {"start", Varies::start}});
  return spread;
}

std::vector<double> read_numbers(Reader& reader, std::string_view key) {
  std::vector<double> numbers;
  for (const auto& text : reader.texts(key)) {
    const auto reading = units::parse(text, units::Dimension::number);
    if (!reading.quantity) {
      reader.refuse(key, fmt::format("\"{}\" is not a plain number", printable(text)));
      return {};
    }
    numbers.push_back(reading.quantity->value);
  }
  return numbers;
}

}  // namespace

ModuleReader::ModuleReader(const Node& tree,
                           std::string module,
                           const std::map<std::string, Source>& sources,
                           std::vector<CoefficientInfo>& infos,
                           Findings& findings)
    : tree_(&tree),
      module_(std::move(module)),
      sources_(&sources),
      infos_(&infos),
      findings_(&findings),
      reader_(&tree, module_, tree.place, findings) {}

CoefficientInfo ModuleReader::read_info(Reader& entry, std::string_view key) {
  CoefficientInfo info{.module = module_, .key = std::string(key)};
  info.unit = required_text(entry, "unit");
  info.validity = required_text(entry, "validity");
  info.spread = read_spread(entry.section("spread"));
  auto source = entry.section("source");
  info.source = required_text(source, "key");
  info.where = required_text(source, "where");
  info.kind = required_choice<SourceKind>(source,
                                          "kind",
                                          {{"measured", SourceKind::measured},
                                           {"digitised", SourceKind::digitised},
                                           {"derived", SourceKind::derived},
                                           {"estimated", SourceKind::estimated},
                                           {"standard", SourceKind::standard},
                                           {"convention", SourceKind::convention}});
  if (!info.source.empty() && !sources_->contains(info.source)) {
    source.refuse("key", "no such source in models/sources.yaml");
  }
  return info;
}

void ModuleReader::operator()(std::string_view key, double& field) {
  auto entry = reader_.section(key);
  if (!entry.given()) {
    if (!reader_.has(key)) reader_.refuse(key, "missing coefficient");
    return;
  }
  field = entry.required("value", any_number);
  auto info = read_info(entry, key);
  info.value = field;
  infos_->push_back(std::move(info));
}

void ModuleReader::operator()(std::string_view key, Table& field) {
  auto entry = reader_.section(key);
  if (!entry.given()) {
    if (!reader_.has(key)) reader_.refuse(key, "missing coefficient");
    return;
  }
  auto table = entry.section("table");
  field.x = read_numbers(table, "x");
  field.y = read_numbers(table, "y");
  const bool rises =
      std::adjacent_find(field.x.begin(), field.x.end(), std::greater_equal<>()) == field.x.end();
  if (field.x.size() < 2 || field.x.size() != field.y.size() || !rises) {
    entry.refuse("table", "two points or more are wanted, rising in x, with one y for each x");
  }
  infos_->push_back(read_info(entry, key));
}

void ModuleReader::finish() { report_unknown_keys(*tree_, module_, *findings_); }

CoefficientLoader::CoefficientLoader(std::vector<std::filesystem::path> folders, Problems& problems)
    : folders_(std::move(folders)), problems_(&problems) {
  read_sources();
}

std::optional<Node> CoefficientLoader::read_tree(const std::filesystem::path& file) {
  const auto folder = std::find_if(folders_.begin(), folders_.end(), [&](const auto& candidate) {
    std::error_code error;
    return std::filesystem::exists(candidate / file, error);
  });
  if (folder == folders_.end()) {
    if (std::exchange(told_, true)) return std::nullopt;
    std::vector<std::string> looked;
    for (const auto& candidate : folders_) looked.push_back(printable(candidate.string()));
    if (looked.empty()) looked.emplace_back("no folder, for the program has none beside it");
    problems_->add_file(file.string(),
                        fmt::format("not found in any models folder, so the models have no "
                                    "coefficients; looked in {}; --models names another",
                                    fmt::join(looked, ", ")));
    return std::nullopt;
  }
  const auto text = read_file(*folder / file, *problems_);
  if (!text) return std::nullopt;
  return parse_document(*text, *problems_);
}

void CoefficientLoader::read_sources() {
  const auto tree = read_tree("sources.yaml");
  if (!tree) return;
  Findings findings;
  Reader reader(&*tree, "sources", tree->place, findings);
  for (const auto& entry : tree->entries) {
    auto source = reader.section(entry.key);
    sources_[entry.key] = {.authors = required_text(source, "authors"),
                           .year = source.optional_text("year").value_or(""),
                           .title = required_text(source, "title"),
                           .publication = source.optional_text("publication").value_or(""),
                           .page = source.optional_text("page").value_or(""),
                           .status = required_text(source, "status")};
    (void)source.optional_text("doi");
  }
  report_unknown_keys(*tree, "sources", findings);
  for (const auto& problem : findings.problems.list()) problems_->add(problem);
}

}  // namespace windgap::casefile
