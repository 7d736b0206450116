#include "casefile/case.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <memory>
#include <utility>

#include "casefile/components.h"
#include "casefile/overrides.h"
#include "casefile/sections.h"

namespace windgap::casefile {
namespace {

std::vector<std::filesystem::path> model_folders(const ReadOptions& options) {
  auto folders = options.models;
  if (!options.installed.empty()) folders.push_back(options.installed);
  return folders;
}

/// The case's tree with settings applied.
Node read_tree(const std::filesystem::path& path, const ReadOptions& options, Findings& findings) {
  auto file = read_file(path, findings.problems);
  findings.problems.throw_if_any();
  auto root = parse_document(*file, findings.problems);
  if (root && root->kind != Node::Kind::map) {
    findings.problems.add({.place = root->place,
                           .what = "a case holds keys and values, such as title: Orchard bench"});
    root.reset();
  }
  findings.files.push_back(std::move(*file));
  if (!root) findings.problems.throw_if_any();
  apply_overrides(*root, options.settings, findings.problems);
  return std::move(*root);
}

void resolve_components(Node& root,
                        const std::filesystem::path& path,
                        const ReadOptions& options,
                        Findings& findings) {
  Roots roots{{path.parent_path()}};
  for (auto& folder : model_folders(options)) roots.folders.push_back(std::move(folder));
  for (const auto* const key : {"fan", "engine"}) {
    if (auto* value = root.find(key)) resolve_component(*value, key, roots, findings);
  }
  auto* const drive = root.find("drive");
  if (drive == nullptr) return;
  for (const std::string key : {"pack", "controller"}) {
    if (auto* value = drive->find(key)) resolve_component(*value, "drive." + key, roots, findings);
  }
}

std::string component_name(const Node* value) {
  if (value == nullptr) return {};
  const Node* const name = value->kind == Node::Kind::map ? value->find("model") : value;
  return name != nullptr && name->kind == Node::Kind::scalar ? name->text : std::string();
}

/// Files that the case names for its fan and pack, before they are replaced by what they hold.
void note_components(const Node& root, Choosing& choosing) {
  choosing.fan_file = component_name(root.find("fan"));
  choosing.engine_file = component_name(root.find("engine"));
  const auto* const drive = root.find("drive");
  if (drive != nullptr) choosing.pack_file = component_name(drive->find("pack"));
}

/// Whether the case describes a fan and a pack of its own; if not, and they are to be chosen, it
/// need not.
void look_for_candidates(Reader& root, const Scope& scope, Draft& draft) {
  auto fan = root.section("fan");
  auto pack = root.section("drive").section("pack");
  auto& choosing = draft.result.choosing;
  choosing.has_fan = fan.refused() || fan.has("bore_diameter") || fan.section("stream").given();
  choosing.has_pack = pack.refused() || pack.has("cells") || pack.has("capacity");
  draft.fan_is_open = scope.choice && !scope.own_fan && !choosing.has_fan;
  draft.pack_is_open = scope.choice && !scope.own_fan && !choosing.has_pack;
}

/// What a fan and its drive are before anything is filled in.
void keep_as_described(Draft& draft) {
  auto& choosing = draft.result.choosing;
  if (draft.has_stream) {
    choosing.fan = draft.stream;
  } else {
    choosing.fan = draft.fan;
  }
  choosing.drive = draft.result.parts.drive;
  choosing.engine_rotation = draft.engine_rotation;
}

void read_head(Reader& root, Draft& draft) {
  auto& result = draft.result;
  result.title = root.optional_text("title").value_or(result.path.stem().string());
  const auto system = root.optional_choice<units::System>(
      "units", {{"metric", units::System::metric}, {"inch", units::System::inch}});
  result.system = system.value_or(units::System::metric);
  root.findings().system = result.system;
}

/// Whether a plug's gas is written down.
bool gas_is_stated(const Node& igniter) {
  const auto* const gas = igniter.find("gas");
  const auto* const place = igniter.find("place");
  const auto stated = [gas](const char* key) {
    const auto* const value = gas == nullptr ? nullptr : gas->find(key);
    return value != nullptr && value->kind == Node::Kind::scalar;
  };
  const bool outside = place != nullptr && place->text == "afterburner";
  return stated("velocity") && (outside || (stated("pressure") && stated("temperature")));
}

/// The first plug whose gas the rig is to tell; as many as there are plugs where there is none, so
/// that nothing of the rig is asked for.
std::size_t first_open_plug(const Node& tree) {
  const auto* const list = tree.find("igniters");
  if (list == nullptr || list->kind != Node::Kind::list) return 0;
  const auto open = std::find_if(list->items.begin(), list->items.end(), [](const Node& igniter) {
    return !gas_is_stated(igniter);
  });
  return static_cast<std::size_t>(open - list->items.begin());
}

bool every_gas_is_stated(const Node& tree) {
  const auto* const list = tree.find("igniters");
  return list != nullptr && list->kind == Node::Kind::list && !list->items.empty() &&
         first_open_plug(tree) == list->items.size();
}

/// What is missing of the rig is missing only because a plug's gas is.
Problem rig_is_asked_for(std::size_t plug, const std::string& file) {
  Problem problem;
  problem.place.origin = std::make_shared<const std::string>(file);
  problem.key = fmt::format("igniters.{}.gas", plug);
  problem.what = "not stated in full, so that the rig must tell it and is asked for below";
  problem.allowed =
      "pressure, temperature and velocity at every plug (in an afterburner the velocity): then "
      "fan, drive, engine and mount are not needed";
  return problem;
}

bool lacks_rig(const std::vector<Problem>& problems) {
  return std::any_of(problems.begin(), problems.end(), [](const Problem& problem) {
    const auto of = [&](std::string_view section) { return problem.key.starts_with(section); };
    return problem.read.empty() && (of("fan") || of("drive") || of("engine") || of("mount"));
  });
}

void sort_problems(Findings& findings) {
  std::vector<std::string> origins;
  for (const auto& file : findings.files) origins.push_back(file.name);
  findings.problems.sort(origins);
}

[[noreturn]] void throw_problems(Findings& findings) {
  sort_problems(findings);
  throw InputError(findings.problems.list());
}

/// The same, led by what spares a person all that is missing of the rig.
[[noreturn]] void throw_problems_of_plug(Findings& findings,
                                         const Node& tree,
                                         const std::filesystem::path& path) {
  sort_problems(findings);
  auto problems = findings.problems.list();
  if (lacks_rig(problems)) {
    problems.insert(problems.begin(), rig_is_asked_for(first_open_plug(tree), path.string()));
  }
  throw InputError(problems);
}

[[noreturn]] void throw_no_igniter(const std::filesystem::path& path) {
  Problems problems;
  problems.add_file(path.string(),
                    "igniters: missing or empty, nothing in the case makes a spark and there is "
                    "none to judge",
                    "a list of one igniter or more, as cases/blank.yaml asks for them");
  throw InputError(problems.list());
}

/// What the first flame burns: the gas of a preheat, else the engine's fuel.
spark::Fuel lit_fuel(const start::Setup& setup) {
  const auto kind = setup.preheat.empty() ? setup.fuel.kind : setup.preheat.front().gas.kind;
  switch (kind) {
    case start::FuelKind::kerosene:
      return spark::Fuel::kerosene;
    case start::FuelKind::diesel:
      return spark::Fuel::diesel;
    case start::FuelKind::propane:
      break;
  }
  return spark::Fuel::propane;
}

/// Whether a step adds no problem.
template <class Step>
bool clean(const Findings& findings, Step&& step) {
  const auto before = findings.problems.list().size();
  step();
  return findings.problems.list().size() == before;
}

}  // namespace

Case read_case(const std::filesystem::path& path, const ReadOptions& options) {
  Findings findings;
  auto tree = read_tree(path, options, findings);
  Draft draft;
  note_components(tree, draft.result.choosing);
  resolve_components(tree, path, options, findings);
  draft.result.path = path;
  Reader root(&tree, "", tree.place, findings);
  read_head(root, draft);
  look_for_candidates(root, options.scope, draft);
  read_site(root.section("site"), draft);
  const bool rig_is_open = options.scope.spark_alone && every_gas_is_stated(tree);
  draft.result.rig_is_open = rig_is_open;
  findings.may_lack = rig_is_open;
  const bool fan_is_clean = clean(findings, [&] {
    read_fan(root.section("fan"), draft);
    read_drive(root.section("drive"), draft);
  });
  const bool engine_is_clean = clean(findings, [&] { read_engine(root.section("engine"), draft); });
  read_mount(root.section("mount"), draft);
  read_start(root.section("start"), draft);
  read_running(root.section("running"), draft);
  findings.may_lack = false;
  const bool igniters_are_clean = clean(findings, [&] { read_igniters(root, draft); });
  if (options.scope.spark_needed && igniters_are_clean && draft.result.igniters.empty()) {
    throw_no_igniter(path);
  }
  findings.may_lack = rig_is_open;
  read_cool(root.section("cool"), draft);
  read_attempt(root, draft);
  draft.result.choosing.purge = draft.attempt.given.setup.sequence.purge;
  read_choose(root.section("choose"), draft);
  findings.may_lack = false;
  report_unknown_keys(tree, "", findings);
  keep_as_described(draft);

  Problems model_problems;
  auto scope = options.scope;
  scope.spark = scope.spark && !draft.result.igniters.empty();
  scope.start = !rig_is_open && (scope.start || needs_start(root, draft));
  if (scope.start || root.section("fuel").has("kind")) {
    draft.result.lit_fuel = lit_fuel(draft.attempt.given.setup);
  }
  auto wanted = scope;
  wanted.spark = options.scope.spark;  // flash points, for a start without an igniter described
  auto models = options.loaded != nullptr
                    ? *options.loaded
                    : load_models(model_folders(options), model_problems, wanted);
  if (model_problems.empty() && rig_is_open) {
    complete_site(root, draft, models);
    if (igniters_are_clean) complete_igniters(root, draft, models);
  } else if (model_problems.empty()) {
    if (fan_is_clean && !root.section("fan").refused()) complete_fan(root, draft, models);
    if (engine_is_clean && !root.section("engine").refused()) {
      complete_engine(root, draft, models);
      complete_bench(root, draft, models);
      if (scope.spark && igniters_are_clean) complete_igniters(root, draft, models);
      if (!scope.spark) draft.result.igniters.clear();
      if (options.scope.cooling && findings.problems.empty()) complete_cool(root, draft, models);
      if (scope.start && findings.problems.empty()) complete_attempt(root, draft, models);
    }
  }
  for (const auto& problem : model_problems.list()) findings.problems.add(problem);
  if (!findings.problems.empty()) {
    if (options.scope.spark_alone && !rig_is_open) throw_problems_of_plug(findings, tree, path);
    throw_problems(findings);
  }

  auto& result = draft.result;
  result.models = std::move(models);
  result.given = std::move(findings.given);
  result.assumed = std::move(findings.assumed);
  result.tolerances = std::move(findings.tolerances);
  result.files = std::move(findings.files);
  result.accepted = std::move(findings.accepted);
  for (auto& warning : findings.warnings) result.warnings.push_back(std::move(warning));
  return std::move(result);
}

}  // namespace windgap::casefile
