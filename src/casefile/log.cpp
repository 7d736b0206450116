#include "casefile/log.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <optional>
#include <sstream>

#include "casefile/fields.h"
#include "casefile/reader.h"

namespace windgap::casefile {
namespace {

constexpr std::string_view format_name = "windgap log 1";
constexpr std::string_view set_aside_key = "set_aside";
constexpr int most_attempts = 100000;

/// What another value of makes another bench. A thing measured again, or better, is still the same.
bool of_the_bench(std::string_view key) {
  constexpr std::array<std::string_view, 3> sections{"fan.", "engine.", "drive."};
  constexpr std::array<std::string_view, 4> knowledge{
      ".measured", ".axis_readings", ".state_of_charge", ".inlet_temperature"};
  return std::any_of(sections.begin(),
                     sections.end(),
                     [&](std::string_view section) { return key.starts_with(section); }) &&
         std::none_of(knowledge.begin(), knowledge.end(), [&](std::string_view part) {
           return key.find(part) != std::string_view::npos;
         });
}

/// A part that is there or not: adding it makes another bench, however little was known before.
bool of_a_part(std::string_view key) {
  return key == "fan.nozzle_diameter" || key.starts_with("fan.stream.") ||
         key.starts_with("engine.guard.") || key.starts_with("engine.resistance.");
}

/// In the units of results, with its tolerance.
std::string shown_of(const GivenValue& value, const Case& bench) {
  const auto found =
      std::find_if(bench.tolerances.begin(), bench.tolerances.end(), [&](const Tolerance& one) {
        return one.key == value.key && one.half_width > 0.0;
      });
  if (found == bench.tolerances.end()) return value.shown;
  return fmt::format("{} (± {:.3g} %)", value.shown, 100.0 * found->half_width / found->value);
}

/// Text for people only, which no answer hangs on.
bool of_no_matter(std::string_view key) {
  return key == "title" || key == "units" || key.ends_with(".name") || key.ends_with(".origin") ||
         key.ends_with(".model") || key == "drive.pack" || key == "drive.controller";
}

/// A YAML scalar in double quotes.
std::string in_quotes(std::string_view text) {
  std::string safe = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') safe += '\\';
    safe += c;
  }
  return safe + '"';
}

void check_failure(Reader& reader, const trials::Attempt& attempt) {
  if (attempt.kind == trials::Kind::cold) {
    if (reader.has("caught")) reader.refuse("caught", "a run without fuel cannot catch");
    if (reader.has("failure")) reader.refuse("failure", "a run without fuel cannot fail to start");
    if (!reader.has("speed") && !reader.has("pressure")) {
      reader.refuse("speed", "a cold run tells nothing without speed or pressure");
    }
    return;
  }
  if (attempt.outcome == trials::Outcome::caught && reader.has("failure")) {
    reader.refuse("failure", "it caught and it failed: one of the two is wrong");
  }
}

LogEntry read_one(Reader& reader) {
  using trials::Failure;
  using trials::Kind;
  using trials::Outcome;
  using trials::Tap;
  LogEntry entry;
  auto& attempt = entry.attempt;
  attempt.stand_off = reader.required("at", measure({D::length, 1, 10000, "mm"}));
  attempt.kind = reader.optional_choice<Kind>("kind", {{"lit", Kind::lit}, {"cold", Kind::cold}})
                     .value_or(Kind::lit);
  reader.require("kind", "lit, cold");
  const auto caught = reader.optional_flag("caught");
  if (attempt.kind == Kind::lit) {
    reader.require("caught", "yes, no");
    attempt.outcome = caught.value_or(false) ? Outcome::caught : Outcome::failed;
  }
  attempt.failure = reader
                        .optional_choice<Failure>("failure",
                                                  {{"no_light", Failure::no_light},
                                                   {"hung", Failure::hung},
                                                   {"too_hot", Failure::too_hot},
                                                   {"too_slow", Failure::slow}})
                        .value_or(Failure::unstated);
  attempt.speed = reader.optional("speed", measure({D::angular_speed, 10, 200000, "rpm"}));
  attempt.pressure = reader.optional("pressure", measure({D::pressure, 0.01, 500, "mbar"}));
  attempt.tap =
      reader.optional_choice<Tap>("tap", {{"mouth", Tap::mouth}, {"inducer", Tap::inducer}})
          .value_or(Tap::mouth);
  attempt.voltage = reader.optional("voltage", measure({D::voltage, 1, 120, "V"}));
  attempt.oil_temperature = reader.optional("oil", measure({D::temperature, -30, 150, "degC"}));
  entry.when = reader.optional_text("when").value_or("");
  entry.note = reader.optional_text("note").value_or("");
  if (reader.has("pressure")) reader.require("tap", "mouth, inducer");
  if (reader.has("tap") && !reader.has("pressure")) reader.refuse("tap", "a tap without pressure");
  check_failure(reader, attempt);
  return entry;
}

/// An entry that says of an earlier attempt that it counts no more, and why.
void set_aside(Reader& reader, Log& log) {
  const auto number = reader.optional_count(set_aside_key, 1, most_attempts);
  reader.require("note", "why it counts no more");
  const auto note = reader.optional_text("note").value_or("");
  (void)reader.optional_text("when");
  if (!number) return;
  if (static_cast<std::size_t>(*number) > log.entries.size()) {
    reader.refuse(set_aside_key,
                  fmt::format("there are {} attempts before it", log.entries.size()));
    return;
  }
  auto& entry = log.entries[static_cast<std::size_t>(*number) - 1];
  entry.attempt.counts = false;
  entry.aside = note.empty() ? "no reason given" : note;
}

void read_head(const Node& root, Log& log, Findings& findings) {
  Reader reader(&root, "", root.place, findings);
  const auto format = reader.optional_text("format");
  if (!format || *format != format_name) {
    reader.refuse("format", "this is no log of attempts", std::string(format_name));
  }
  auto bench = reader.section("bench");
  log.title = bench.optional_text("title").value_or("");
  log.units = bench.optional_text("units").value_or("metric");
  if (log.units != "metric" && log.units != "inch") {
    bench.refuse("units", "no system of units has this name", "metric, inch");
  }
  for (const auto& entry : root.entries) {
    constexpr std::array<std::string_view, 3> known{"format", "bench", "attempts"};
    if (std::find(known.begin(), known.end(), entry.key) != known.end()) continue;
    findings.problems.add({.place = entry.place,
                           .key = entry.key,
                           .what = "a log has no such section",
                           .allowed = "format, bench, attempts"});
  }
  if (root.find("attempts") == nullptr) {
    reader.refuse("attempts", "the section is missing", "the attempts, written by `windgap trial`");
  }
  (void)bench.section("values");
  const auto* const head = root.find("bench");
  const auto* const values = head == nullptr ? nullptr : head->find("values");
  if (values == nullptr || values->kind != Node::Kind::map) {
    bench.refuse("values", "the values of the case are missing", "written at the first entry");
    return;
  }
  for (const auto& value : values->entries) log.values.emplace_back(value.key, value.value.text);
}

[[noreturn]] void throw_sorted(Findings& findings, const std::string& name) {
  findings.problems.sort({name});
  throw InputError(findings.problems.list());
}

}  // namespace

std::vector<trials::Attempt> Log::attempts() const {
  std::vector<trials::Attempt> list;
  for (const auto& entry : entries) list.push_back(entry.attempt);
  return list;
}

Log read_log(const std::filesystem::path& path) {
  Problems problems;
  const auto file = read_file(path, problems);
  problems.throw_if_any();
  return read_log(*file);
}

namespace {

/// Column, from 1, of a quotation mark that its own line does not close; 0: none. A mark opens only
/// where a value may begin, and a comment ends the line.
std::size_t open_quote(std::string_view line) {
  char quote = 0;
  std::size_t opened = 0;
  char before = ' ';  // last that was no space
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (quote != 0) {
      if (quote == '"' && c == '\\') {
        ++i;
      } else if (c == quote) {
        if (quote == '\'' && i + 1 < line.size() && line[i + 1] == quote) {
          ++i;
        } else {
          quote = 0;
        }
      }
    } else if (c == '#' && (i == 0 || line[i - 1] == ' ')) {
      break;
    } else if ((c == '"' || c == '\'') &&
               std::string_view(" :,[{-").find(before) != std::string_view::npos) {
      quote = c;
      opened = i + 1;
    }
    if (c != ' ') before = c;
  }
  return quote != 0 ? opened : 0;
}

/// An entry that a mark leaves open takes the next ones into its text: they would be lost unseen.
void require_closed_quotes(const File& file, Findings& findings) {
  std::istringstream lines(file.text);
  int number = 0;
  for (std::string line; std::getline(lines, line);) {
    ++number;
    if (!line.empty() && line.back() == '\r') line.pop_back();
    const auto column = open_quote(line);
    if (column == 0) continue;
    findings.problems.add({.place = {.origin = std::make_shared<const std::string>(file.name),
                                     .line = number,
                                     .column = static_cast<int>(column)},
                           .what = "this quotation mark is not closed on its line",
                           .allowed = "text in marks on one line"});
    return;
  }
}

}  // namespace

Log read_log(const File& file) {
  Findings findings;
  require_closed_quotes(file, findings);
  findings.problems.throw_if_any();
  const auto root = parse_document(file, findings.problems);
  if (root && root->kind != Node::Kind::map) {
    findings.problems.add({.place = root->place, .what = "this is no log of attempts"});
  }
  findings.problems.throw_if_any();
  findings.files.push_back(file);
  Log log;
  read_head(*root, log, findings);
  Reader reader(&*root, "", root->place, findings);
  auto items = reader.list("attempts");
  const auto* const list = root->find("attempts");
  for (std::size_t i = 0; i < items.size(); ++i) {
    const auto& node = list->items[i];
    if (node.kind != Node::Kind::map) {
      findings.problems.add({.place = node.place, .what = "an attempt holds keys and values"});
      continue;
    }
    ++log.records;
    if (items[i].has(set_aside_key)) {
      set_aside(items[i], log);
    } else {
      auto entry = read_one(items[i]);
      entry.place = node.place;
      log.entries.push_back(std::move(entry));
    }
    report_unknown_keys(node, items[i].path(), findings);
  }
  if (!findings.problems.empty()) throw_sorted(findings, file.name);
  return log;
}

LogEntry read_entry(const EntryWords& words) {
  Findings findings;
  Node map;
  map.kind = Node::Kind::map;
  map.place.origin = std::make_shared<const std::string>("windgap trial");
  for (const auto& [key, text] : words) {
    Place place;
    place.origin = std::make_shared<const std::string>("--" + key);
    Node value;
    value.kind = Node::Kind::scalar;
    value.place = place;
    value.text = text;
    map.entries.push_back({.key = key, .place = place, .value = std::move(value)});
  }
  Reader reader(&map, "", map.place, findings);
  auto entry = read_one(reader);
  findings.problems.throw_if_any();
  return entry;
}

std::string log_head(const Case& bench) {
  std::string text = fmt::format(
      "# Attempts on one bench, each written down by `windgap trial`. Notes are yours to add; "
      "what\n"
      "# was read stays as it was read. Entries follow each other in time.\n"
      "format: {}\nbench:\n  title: {}\n  units: {}\n"
      "  values:  # of the case at the first entry; the attempts belong to this bench\n",
      format_name,
      in_quotes(bench.title),
      bench.system == units::System::metric ? "metric" : "inch");
  std::vector<std::string> written;
  for (const auto& value : bench.given) {
    if (of_no_matter(value.key)) continue;
    if (std::find(written.begin(), written.end(), value.key) != written.end()) continue;
    written.push_back(value.key);
    text += fmt::format("    {}: {}\n", value.key, in_quotes(shown_of(value, bench)));
  }
  return text + "attempts:\n";
}

namespace {

/// Whether a value reads as itself without quotes: all but free text do, and the usual days and
/// times.
bool is_plain(std::string_view key, std::string_view value) {
  if (key == "note") return false;
  if (key != "when") return true;
  return !value.empty() && value.front() != ' ' && value.back() != ':' && value.back() != ' ' &&
         value.find(": ") == std::string_view::npos &&
         value.find_first_not_of("0123456789-: T+.") == std::string_view::npos;
}

}  // namespace

std::string entry_text(const EntryWords& words) {
  std::string text;
  for (const auto& [key, value] : words) {
    text += fmt::format("  {} {}: {}\n",
                        text.empty() ? "-" : " ",
                        key,
                        is_plain(key, value) ? value : in_quotes(value));
  }
  return text;
}

std::vector<Difference> differences(const Log& log, const Case& bench) {
  std::vector<Difference> list;
  const auto now = [&](const std::string& key) -> std::optional<std::string> {
    const auto found = std::find_if(bench.given.begin(),
                                    bench.given.end(),
                                    [&](const GivenValue& value) { return value.key == key; });
    if (found == bench.given.end()) return std::nullopt;
    return shown_of(*found, bench);
  };
  // NOLINTNEXTLINE(bugprone-easily-swappable-parameters): as they are written
  const auto add = [&](const std::string& key, std::string logged, std::string current) {
    list.push_back({.key = key,
                    .logged = std::move(logged),
                    .now = std::move(current),
                    .another_bench = of_the_bench(key)});
    // What was not given then, or is not now, tells of knowledge and not of another part.
    const bool one_sided = list.back().logged.empty() || list.back().now.empty();
    if (one_sided && !of_a_part(key)) list.back().another_bench = false;
  };
  for (const auto& [key, logged] : log.values) {
    if (of_no_matter(key)) continue;
    const auto current = now(key);
    if (!current) {
      add(key, logged, "");
    } else if (*current != logged) {
      add(key, logged, *current);
    }
  }
  for (const auto& value : bench.given) {
    if (of_no_matter(value.key)) continue;
    const bool known = std::any_of(log.values.begin(), log.values.end(), [&](const auto& one) {
      return one.first == value.key;
    });
    if (!known) add(value.key, "", shown_of(value, bench));
  }
  return list;
}

}  // namespace windgap::casefile
