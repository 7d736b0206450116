#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "casefile/findings.h"
#include "casefile/reader.h"
#include "units/table.h"

namespace windgap::casefile {

enum class Distribution { none, normal, lognormal, uniform };
enum class Varies { bench, start };
enum class SourceKind { measured, digitised, derived, estimated, standard, convention };

/// How a coefficient may differ from its value.
struct Spread {
  Distribution distribution = Distribution::none;
  double width = 0.0;  ///< standard deviation (lognormal: of the logarithm) or half width; for a
                       ///< table a share of its ordinates
  std::string group = {};         ///< coefficients of one group move together
  Varies varies = Varies::bench;  ///< from bench to bench, or from start to start on one bench
};

/// Everything a coefficient's entry says besides the number the model uses.
struct CoefficientInfo {
  std::string module = {};
  std::string key = {};
  double value = unset;  ///< unset for a table
  std::string unit = {};
  Spread spread = {};
  std::string source = {};  ///< key in models/sources.yaml
  std::string where = {};
  SourceKind kind = SourceKind::estimated;
  std::string validity = {};
};

/// An entry of models/sources.yaml.
struct Source {
  std::string authors = {};
  std::string year = {};
  std::string title = {};
  std::string publication = {};
  std::string page = {};
  std::string status = {};
};

/// Fills the coefficients of one module: the visitor that its `visit` calls with every field.
/// A key that is missing, unknown or incomplete is a problem.
class ModuleReader {
 public:
  ModuleReader(const Node& tree,
               std::string module,
               const std::map<std::string, Source>& sources,
               std::vector<CoefficientInfo>& infos,
               Findings& findings);

  void operator()(std::string_view key, double& field);
  void operator()(std::string_view key, Table& field);
  /// Reports the keys that no field asked for.
  void finish();

 private:
  [[nodiscard]] CoefficientInfo read_info(Reader& entry, std::string_view key);

  const Node* tree_;
  std::string module_;
  const std::map<std::string, Source>* sources_;
  std::vector<CoefficientInfo>* infos_;
  Findings* findings_;
  Reader reader_;
};

/// Reads models/physics/<module>.yaml into coefficient structs.
class CoefficientLoader {
 public:
  /// A file is read from the first of the models folders that has it.
  CoefficientLoader(std::vector<std::filesystem::path> folders, Problems& problems);

  /// The struct of a module; `visit(C&, visitor)` is found beside it. Fields of what could not be
  /// read stay unset and the problems say why.
  template <class C>
  [[nodiscard]] C load(const std::string& module) {
    C coefficients;
    load_into(coefficients, module);
    return coefficients;
  }
  template <class C>
  void load_into(C& coefficients, const std::string& module) {
    const auto tree = read_tree(std::filesystem::path("physics") / (module + ".yaml"));
    if (!tree) return;
    Findings findings;  // of coefficients nothing but the problems concerns the case
    ModuleReader reader(*tree, module, sources_, infos_, findings);
    visit(coefficients, reader);
    reader.finish();
    for (const auto& problem : findings.problems.list()) problems_->add(problem);
  }

  /// What was read so far, in reading order.
  [[nodiscard]] const std::vector<CoefficientInfo>& infos() const noexcept { return infos_; }
  [[nodiscard]] const std::map<std::string, Source>& sources() const noexcept { return sources_; }

 private:
  [[nodiscard]] std::optional<Node> read_tree(const std::filesystem::path& file);
  void read_sources();

  std::vector<std::filesystem::path> folders_;
  Problems* problems_;
  std::map<std::string, Source> sources_;
  std::vector<CoefficientInfo> infos_;
  bool told_ = false;  ///< that a file is in none of the folders; one such error is enough
};

}  // namespace windgap::casefile
