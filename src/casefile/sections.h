#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "casefile/case.h"
#include "casefile/fields.h"
#include "casefile/reader.h"
#include "units/assumed.h"

/// The sections of a case, one function each. Every function asks for all keys of its section,
/// given or not, so that the accepted keys are the same for every case.
namespace windgap::casefile {

/// A case while it is read.
struct Draft {
  Case result;
  fan::Fan fan;
  fan::Stream stream;
  bool has_stream = false;
  bool fan_is_open = false;   ///< to be chosen: the case need not describe one
  bool pack_is_open = false;  ///< the same
  engine::Resistance resistance;
  engine::Measurement measured;
  bool has_measured = false;
  Attempt attempt;
  fan::Rotation engine_rotation = fan::Rotation::unknown;
};

/// Reads the lists of fields.h into structs.
class FieldReader {
 public:
  explicit FieldReader(Reader& reader) : reader_(&reader) {}

  void operator()(std::string_view key, double& field, const Allowed& allowed) {
    const double value = reader_->optional(key, measure(allowed));
    if (reader_->has(key)) field = value;
  }
  template <class Function>
  void in(std::string_view key, Function&& function) {
    Reader inner = reader_->section(key);
    FieldReader v(inner);
    function(v);
  }

 private:
  Reader* reader_;
};

/// Lists `value` as assumed if the case does not give the key.
void note_default(Reader& reader, std::string_view key, double value, std::string why);
/// The same for a word.
void note_default(Reader& reader, std::string_view key, std::string_view word, std::string why);

/// Lists what a module filled in; `path_of` turns its field names into key paths.
template <class PathOf>
void note_fallbacks(Findings& findings, const std::vector<Assumed>& fallbacks, PathOf&& path_of) {
  for (const auto& fallback : fallbacks) {
    assume(findings, path_of(fallback.field), fallback.value, fallback.why);
  }
}

/// Keys of a component that say where it comes from. `model` has been replaced by its file's keys.
void accept_component_keys(Reader& reader);

/// How the fan turns against the engine's rotor, both seen along the stream.
[[nodiscard]] rig::Sense sense_of(fan::Rotation fan, fan::Rotation engine);

void read_site(Reader reader, Draft& draft);
void read_fan(Reader reader, Draft& draft);
void read_drive(Reader reader, Draft& draft);
void read_engine(Reader reader, Draft& draft);
void read_mount(Reader reader, Draft& draft);
void read_start(Reader reader, Draft& draft);
void read_running(Reader reader, Draft& draft);
void read_igniters(Reader& root, Draft& draft);
void read_cool(Reader reader, Draft& draft);
/// What the last run was, for the cooling; with the keys of `running`.
void read_last_run(Reader& reader, Draft& draft);
void read_choose(Reader reader, Draft& draft);

/// Fuel, valve, throttle, starter: `fuel`, and what else of `start` and `engine` a start needs.
void read_attempt(Reader& root, Draft& draft);

/// Whether the starting airflow must be derived: the case gives no number.
[[nodiscard]] bool needs_start(Reader& root, const Draft& draft);

/// Fallbacks and contradictions of fan and drive together; for sections without problems.
void complete_fan(Reader& root, Draft& draft, const Models& models);
/// The same for the engine.
void complete_engine(Reader& root, Draft& draft, const Models& models);
/// Air outside.
void complete_site(Reader& root, Draft& draft, const Models& models);
/// The same with start and running airflow; for a case without problems.
void complete_bench(Reader& root, Draft& draft, const Models& models);
/// What the igniters leave open, and combinations of parts that are refused; after the bench.
void complete_igniters(Reader& root, Draft& draft, const Models& models);
/// The hot engine and its purge; after `complete_bench`, where the cooling models were read.
void complete_cool(Reader& root, Draft& draft, const Models& models);
/// Fallbacks and contradictions of the start; after complete_bench, for a case without problems.
void complete_attempt(Reader& root, Draft& draft, const Models& models);

}  // namespace windgap::casefile
