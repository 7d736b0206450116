#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "casefile/sections.h"
#include "cooling/settable.h"

namespace windgap::casefile {
namespace {

using cooling::Part;

constexpr Allowed throttle_allowed{D::ratio, 5, 100, "%"};
constexpr Allowed hot_allowed{D::temperature, -40, 1200, "degC"};

void read_part(Reader reader, Part part, Draft& draft) {
  auto& hot = draft.result.cool.engine;
  const auto i = cooling::index(part);
  hot.build.mass[i] = reader.optional("mass", measure({D::mass, 0.005, 100, "kg"}));
  hot.build.material[i] =
      reader.optional_choice<cooling::Material>("material",
                                                {{"iron", cooling::Material::iron},
                                                 {"steel", cooling::Material::steel},
                                                 {"stainless", cooling::Material::stainless},
                                                 {"nickel_alloy", cooling::Material::nickel_alloy},
                                                 {"aluminium", cooling::Material::aluminium}});
  hot.temperature[i] = reader.optional("temperature", measure(hot_allowed));
}

void read_limits(Reader& reader, Draft& draft) {
  auto& cool = draft.result.cool;
  auto& wishes = cool.engine.wishes;
  cool.need.goal = reader
                       .optional_choice<cooling::Goal>("goal",
                                                       {{"bearing", cooling::Goal::bearing},
                                                        {"handling", cooling::Goal::handling},
                                                        {"contact", cooling::Goal::contact}})
                       .value_or(cooling::Goal::handling);
  wishes.oil = reader
                   .optional_choice<cooling::OilKind>("oil",
                                                      {{"mineral", cooling::OilKind::mineral},
                                                       {"synthetic", cooling::OilKind::synthetic}})
                   .value_or(wishes.oil);
  if (const auto level = reader.optional_count("glove_level", 1, 4)) wishes.glove_level = *level;
  const double contact = reader.optional("contact_time", measure({D::time, 1, 28800, "s"}));
  if (reader.has("contact_time")) wishes.contact_time = contact;
}

/// Least and most throttle that the plan may use.
void read_throttle(Reader& reader, Draft& draft) {
  auto& need = draft.result.cool.need;
  const auto allowed = measure(throttle_allowed);
  if (const auto range = reader.range("throttle", allowed)) {
    need.least_throttle = range->first;
    need.most_throttle = range->second;
    if (draft.has_stream) {
      reader.refuse("throttle", "a measured stream has no throttle; leave it out");
    } else if (range->first < range->second &&
               cooling::whole_percents(range->first, range->second).empty()) {
      reader.refuse("throttle",
                    "the plan sets whole percents, and none lies in this range",
                    "a range that holds one, such as [20 %, 60 %]");
    }
    return;
  }
  (void)reader.optional("throttle", allowed);
  if (reader.has("throttle")) {
    reader.refuse("throttle",
                  "one throttle leaves nothing to plan",
                  "a range from least to most, such as [20 %, 60 %]");
  }
}

/// What `fill_fallbacks` calls a field, as a key of the case; empty for what is none.
std::string key_of(const std::string& field) {
  constexpr std::string_view mass = "cooling.mass.";
  if (field.starts_with(mass)) return fmt::format("cool.{}.mass", field.substr(mass.size()));
  if (field == "gas_temperature") return "running.gas_temperature";
  if (field == "run") return "running.duration";
  if (field == "dry_speed") return "cool.dry_speed";
  return {};
}

void note_words(Reader& reader, const cooling::HotEngine& hot) {
  note_default(reader, "goal", "handling", "bearing safe, and warm to handle with gloves");
  note_default(reader, "oil", "mineral", "it cokes first");
  note_default(reader, "oil_pump", "off", "nobody said that oil flows after the stop");
  note_default(reader, "glove_level", "1", "the thinnest glove that is made for heat");
  note_default(reader, "contact_time", hot.wishes.contact_time, "a hand that stays a while");
  note_default(reader, "cooling_per_minute", "no limit", "nobody asks for gentle cooling");
  for (std::size_t i = 0; i < cooling::part_count; ++i) {
    auto part = reader.section(name(static_cast<Part>(i)));
    note_default(part, "material", name(*hot.build.material[i]), "the usual one of this part");
  }
}

void refuse_cold_parts(Reader& reader, const Draft& draft, double room) {
  const auto& hot = draft.result.cool.engine;
  bool anything_hot = false;
  for (std::size_t i = 0; i < cooling::part_count; ++i) {
    const double temperature = hot.temperature[i];
    anything_hot = anything_hot || !(temperature <= room);
    if (!(temperature < room)) continue;
    auto part = reader.section(name(static_cast<Part>(i)));
    part.refuse("temperature",
                "colder than the room: there is nothing to cool",
                fmt::format("from {} (site.temperature) up",
                            units::format(room, D::temperature, draft.result.system)));
  }
  if (!anything_hot && reader.findings().problems.empty()) {
    reader.section(name(Part::turbine_housing))
        .refuse("temperature", "no part is hotter than the room: there is nothing to cool");
  }
}

}  // namespace

void read_last_run(Reader& reader, Draft& draft) {
  auto& hot = draft.result.cool.engine;
  hot.gas_temperature =
      reader.optional("gas_temperature", measure({D::temperature, 200, 1200, "degC"}));
  hot.run = reader.optional("duration", measure({D::time, 1, 36000, "s"}));
}

void read_cool(Reader reader, Draft& draft) {
  auto& cool = draft.result.cool;
  read_limits(reader, draft);
  cool.engine.pump =
      reader
          .optional_choice<cooling::PumpUse>("oil_pump",
                                             {{"off", cooling::PumpUse::off},
                                              {"while_purging", cooling::PumpUse::while_purging},
                                              {"always", cooling::PumpUse::always}})
          .value_or(cooling::PumpUse::off);
  cool.engine.dry_speed =
      reader.optional("dry_speed", measure({D::angular_speed, 1, 50000, "rpm"}));
  const double fall =
      reader.optional("cooling_per_minute", measure({D::temperature_difference, 1, 1000, "K"}));
  cool.need.cooling_rate = fall / units::find_unit("min", D::time)->factor;
  read_throttle(reader, draft);
  if (const auto starts = reader.optional_count("starts", 0, 100)) cool.starts = *starts;
  cool.charge_left = reader.optional("charge_left", measure({D::charge, 0, 200000, "mAh"}));
  for (std::size_t i = 0; i < cooling::part_count; ++i) {
    const auto part = static_cast<Part>(i);
    read_part(reader.section(name(part)), part, draft);
  }
}

void complete_cool(Reader& root, Draft& draft, const Models& models) {
  auto& parts = draft.result.parts;
  auto& cool = draft.result.cool;
  if (parts.engine.resistance) return;
  auto& findings = root.findings();
  auto reader = root.section("cool");
  cool.stated = cool.engine;
  const auto before = findings.assumed.size();
  const auto fallbacks =
      fill_fallbacks(cool.engine, parts, models.rig, models.cooling, models.materials);
  if (!(cool.engine.build.mass[cooling::index(Part::rotor)] > 0.0)) {
    root.section("engine").section("rotor").refuse(
        "mass",
        "no more than the compressor's wheel alone weighs by its size",
        "the whole rotor's, turbine wheel and shaft included; or give cool.rotor.mass");
    return;
  }
  const bool run_matters = std::any_of(cool.engine.temperature.begin(),
                                       cool.engine.temperature.end(),
                                       [](double t) { return std::isnan(t); });
  for (const auto& fallback : fallbacks) {
    const auto key = key_of(fallback.field);
    if (key.empty() || (key.starts_with("running.") && !run_matters)) continue;
    assume(findings, key, fallback.value, fallback.why);
  }
  note_words(reader, cool.engine);
  if (!draft.has_stream) {
    if (std::isnan(cool.need.least_throttle)) {
      cool.need.least_throttle = models.cooling.least_throttle;
      note_default(
          reader,
          "throttle",
          fmt::format("from {} to 100 %",
                      units::format(cool.need.least_throttle, D::ratio, draft.result.system)),
          models.why("cooling", "least_throttle"));
    }
    if (std::isnan(cool.charge_left)) {
      note_default(reader, "starts", fmt::format("{:.0f}", cool.starts), "it lit at once");
      note_default(
          reader,
          "charge_left",
          "what the starts leave",
          fmt::format("{} kept back: {}",
                      units::format(models.cooling.pack_reserve, D::ratio, draft.result.system),
                      models.why("cooling", "pack_reserve")));
    }
  } else {
    cool.need.least_throttle = models.cooling.least_throttle;
  }
  const auto tail = findings.assumed.begin() + static_cast<std::ptrdiff_t>(before);
  cool.assumed.assign(tail, findings.assumed.end());
  findings.assumed.erase(tail, findings.assumed.end());
  const double capacity = parts.drive.pack.capacity;
  if (!draft.has_stream && cool.charge_left > capacity) {
    reader.refuse("charge_left",
                  "more than the pack holds",
                  "up to " + units::format(capacity, D::charge, draft.result.system));
  }
  cool.need.pack_mass = parts.drive.pack.mass;
  refuse_cold_parts(reader, draft, parts.site.temperature);
  cool.possible = findings.problems.empty();
}

}  // namespace windgap::casefile
