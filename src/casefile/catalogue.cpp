#include "casefile/catalogue.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <system_error>
#include <utility>

#include "casefile/components.h"
#include "casefile/sections.h"

namespace windgap::casefile {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_files = 5000;

Roots roots_of(const Case& bench, const ReadOptions& options) {
  Roots roots{{bench.path.parent_path()}};
  for (const auto& folder : options.models) roots.folders.push_back(folder);
  if (!options.installed.empty()) roots.folders.push_back(options.installed);
  return roots;
}

/// `kind/*.yaml` of all folders by name, each name once; what a leading dot hides stays hidden.
std::vector<std::string> library_files(const Roots& roots, const std::string& kind) {
  std::set<std::string> names;
  for (const auto& root : roots.folders) {
    std::error_code error;
    const auto folder = (root.empty() ? fs::path(".") : root) / kind;
    for (fs::directory_iterator file(folder, error), end; !error && file != end;
         file.increment(error)) {
      const auto name = file->path().filename().string();
      const bool hidden = name.starts_with('.');
      if (hidden || file->path().extension() != ".yaml" || names.size() >= most_files) continue;
      names.insert((fs::path(kind) / name).string());
    }
  }
  return {names.begin(), names.end()};
}

/// The files of a kind, the user's own list first, each once and without the case's own.
std::vector<std::string> candidates(const std::vector<std::string>& own_list,
                                    const std::string& own_file,
                                    bool with_library,
                                    const Roots& roots,
                                    const std::string& kind) {
  std::vector<std::string> files;
  std::set<std::string> seen{own_file};
  const auto add = [&](const std::string& file) {
    if (seen.insert(file).second) files.push_back(file);
  };
  for (const auto& file : own_list) add(file);
  if (with_library) {
    for (const auto& file : library_files(roots, kind)) add(file);
  }
  return files;
}

/// A map that holds nothing but one component under its key path.
Node wrapped(std::string_view key, Node value) {
  Node map;
  map.kind = Node::Kind::map;
  map.place = value.place;
  map.entries.push_back({.key = std::string(key), .place = map.place, .value = std::move(value)});
  return map;
}

Node reference_to(const std::string& file) {
  Node node;
  node.kind = Node::Kind::scalar;
  node.text = file;
  node.place = {.origin = std::make_shared<const std::string>(file)};
  return node;
}

/// Reads one component as the sections of a case are read; whatever is wrong skips the file.
template <class Use>
void read_one(const std::string& file,
              const std::string& key,
              const Roots& roots,
              std::vector<Skipped>& skipped,
              Use&& use) {
  Findings findings;
  auto value = reference_to(file);
  resolve_component(value, key, roots, findings);
  if (findings.problems.empty()) use(std::move(value), findings);
  if (!findings.problems.empty()) {
    const auto& first = findings.problems.list().front();
    skipped.push_back({.file = file, .reason = to_text(first)});
  }
}

choice::ListedFan listed_fan(const Draft& draft, fan::Rotation engine_rotation) {
  choice::ListedFan listed{.name = draft.result.fan_name,
                           .file = {},
                           .source = draft.fan,
                           .motor = draft.result.parts.drive.motor,
                           .stream_outer_diameter = draft.fan.outer_diameter,
                           .sense = sense_of(draft.fan.rotation, engine_rotation),
                           .axis_readings = {},
                           .readings_heads = {}};
  if (draft.has_stream) {
    listed.source = draft.stream;
    listed.sense = rig::Sense::unknown;
  }
  return listed;
}

void add_fan(Catalogue& list, const std::string& file, const Case& bench, const Roots& roots) {
  read_one(file, "fan", roots, list.skipped, [&](Node value, Findings& findings) {
    const auto tree = wrapped("fan", std::move(value));
    Reader root(&tree, "", tree.place, findings);
    Draft draft;
    read_fan(root.section("fan"), draft);
    report_unknown_keys(tree, "", findings);
    if (!findings.problems.empty()) return;
    auto listed = listed_fan(draft, bench.choosing.engine_rotation);
    listed.axis_readings = draft.result.parts.axis_readings;
    listed.propeller_share = draft.result.parts.propeller_share;
    listed.file = file;
    if (listed.name.empty()) listed.name = fs::path(file).stem().string();
    list.fans.push_back(std::move(listed));
  });
}

void add_pack(Catalogue& list, const std::string& file, const Roots& roots) {
  read_one(file, "drive.pack", roots, list.skipped, [&](Node value, Findings& findings) {
    const auto* name = value.find("name");
    const auto shown = name != nullptr ? name->text : fs::path(file).stem().string();
    const auto tree = wrapped("drive", wrapped("pack", std::move(value)));
    Reader root(&tree, "", tree.place, findings);
    Draft draft;
    read_drive(root.section("drive"), draft);
    report_unknown_keys(tree, "", findings);
    if (!findings.problems.empty()) return;
    list.packs.push_back({.name = shown, .file = file, .pack = draft.result.parts.drive.pack});
  });
}

/// What another engine needs to start, if all are started alike: airflow goes with the inducer's
/// area, rotor speed with the inverse of the compressor's size.
rig::StartNeed need_of(const engine::Engine& other, const Case& bench) {
  const auto& own = bench.parts.engine;
  const double inlets = other.mouth.throat_diameter / own.mouth.throat_diameter;
  const double wheels = other.compressor.exducer_diameter / own.compressor.exducer_diameter;
  return {.airflow = bench.parts.start.airflow * inlets * inlets,
          .rotor_speed = bench.parts.start.rotor_speed / wheels};
}

void add_engine(Catalogue& list, const std::string& file, const Case& bench, const Roots& roots) {
  read_one(file, "engine", roots, list.skipped, [&](Node value, Findings& findings) {
    const auto tree = wrapped("engine", std::move(value));
    Reader root(&tree, "", tree.place, findings);
    Draft draft;
    draft.fan_is_open = true;
    read_engine(root.section("engine"), draft);
    report_unknown_keys(tree, "", findings);
    if (!findings.problems.empty()) return;
    complete_engine(root, draft, bench.models);
    if (!findings.problems.empty() || draft.result.parts.engine.resistance) return;
    list.engines.push_back({.name = draft.result.engine_name.empty()
                                        ? fs::path(file).stem().string()
                                        : draft.result.engine_name,
                            .engine = draft.result.parts.engine,
                            .start = need_of(draft.result.parts.engine, bench)});
  });
}

/// Dynamic heads behind the case's fan on the case's drive while it was read there.
std::vector<double> heads_of_readings(const Case& bench) {
  std::vector<double> heads;
  if (!bench.choosing.has_pack || !std::holds_alternative<fan::Fan>(bench.parts.source)) {
    return heads;
  }
  for (const auto& reading : bench.parts.axis_readings) {
    heads.push_back(rig::readings_head(bench.parts, bench.models.rig, reading.throttle));
  }
  return heads;
}

void add_own(Catalogue& list, const Case& bench) {
  const auto& choosing = bench.choosing;
  if (choosing.has_fan) {
    list.fans.push_back({.name = bench.fan_name.empty() ? "the case's fan" : bench.fan_name,
                         .file = choosing.fan_file,
                         .source = choosing.fan,
                         .motor = choosing.drive.motor,
                         .stream_outer_diameter = bench.parts.fan_outer_diameter,
                         .sense = bench.parts.sense,
                         .axis_readings = bench.parts.axis_readings,
                         .propeller_share = bench.parts.propeller_share,
                         .readings_heads = heads_of_readings(bench),
                         .own = true});
  }
  if (choosing.has_pack) {
    list.packs.push_back(
        {.name = choosing.pack_name.empty() ? "the case's pack" : choosing.pack_name,
         .file = choosing.pack_file,
         .pack = choosing.drive.pack,
         .own = true});
  }
  if (!bench.parts.engine.resistance) {
    list.engines.push_back({.name = bench.engine_name.empty() ? "this engine" : bench.engine_name,
                            .engine = bench.parts.engine,
                            .own = true,
                            .start = bench.parts.start});
  }
}

}  // namespace

Catalogue catalogue(const Case& bench, const ReadOptions& options) {
  const auto roots = roots_of(bench, options);
  const auto& asked = bench.choosing;
  Catalogue list;
  add_own(list, bench);
  for (const auto& file :
       candidates(asked.fans, asked.fan_file, asked.with_library, roots, "fans")) {
    add_fan(list, file, bench, roots);
  }
  for (const auto& file :
       candidates(asked.packs, asked.pack_file, asked.with_library, roots, "packs")) {
    add_pack(list, file, roots);
  }
  for (const auto& file : library_files(roots, "engines")) {
    if (file != asked.engine_file) add_engine(list, file, bench, roots);
  }
  return list;
}

start::Purge purge_before_ignition(const Case& bench) {
  return start::with_practice(
      bench.choosing.purge,
      bench.parts.engine.combustor.volume / bench.models.rig.engine.combustor.tube_area_ratio,
      bench.models.start.purge);
}

choice::Question question(const Case& bench) {
  choice::Question result{.parts = bench.parts,
                          .models = bench.models.rig,
                          .need = bench.requirement,
                          .limits = bench.models.placement,
                          .rules = bench.models.choice,
                          .purge = purge_before_ignition(bench),
                          .deriving = deriving(bench)};
  auto& drive = result.parts.drive;
  // What the case says of its pack's state holds for every pack that is tried.
  drive.pack = {.temperature = bench.choosing.drive.pack.temperature,
                .state_of_charge = bench.choosing.drive.pack.state_of_charge};
  drive.motor = {};
  drive.leads = bench.choosing.drive.leads;
  drive.controller = bench.choosing.drive.controller;
  return result;
}

}  // namespace windgap::casefile
