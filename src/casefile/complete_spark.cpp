#include <fmt/format.h>

#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "casefile/sections.h"

namespace windgap::casefile {
namespace {

units::Dimension dimension_of(std::string_view unit) {
  constexpr auto dimensions =
      std::to_array<std::pair<std::string_view, units::Dimension>>({{"V", D::voltage},
                                                                    {"A", D::current},
                                                                    {"W", D::power},
                                                                    {"J", D::energy},
                                                                    {"s", D::time},
                                                                    {"K", D::temperature},
                                                                    {"rad", D::angle},
                                                                    {"F", D::capacitance},
                                                                    {"-", D::number}});
  for (const auto& [symbol, dimension] : dimensions) {
    if (symbol == unit) return dimension;
  }
  return D::number;
}

/// Inner maps of a source by the first part of a finding's key.
std::pair<Reader, std::string> place_of(Reader& source, std::string_view key) {
  const auto point = key.find('.');
  if (point == std::string_view::npos) return {source, std::string(key)};
  return {source.section(key.substr(0, point)), std::string(key.substr(point + 1))};
}

/// A refused combination as a problem with the key that a person would change.
void refuse(Reader& source, const spark::Finding& finding) {
  const auto shown = [&](double value) {
    return units::format(value, dimension_of(finding.unit), source.findings().system);
  };
  const std::string why(finding.why);
  if (finding.key == "bleed.filament_temperature") {
    auto bleed = source.section("bleed");
    bleed.refuse("rated_power", why, "a larger lamp, or more of them in series");
    return;
  }
  if (finding.key == "bleed.lamp_voltage") {
    auto bleed = source.section("bleed");
    bleed.refuse("rated_voltage",
                 fmt::format("{}: {} on each", why, shown(finding.read)),
                 fmt::format("up to {} on each: more of them in series", shown(finding.allowed)));
    return;
  }
  if (finding.key == "bleed.lamp_string") {
    auto bleed = source.section("bleed");
    bleed.refuse("kind",
                 fmt::format("{}: {} asked", why, shown(finding.read)),
                 fmt::format("lamps up to {}; resistors above", shown(finding.allowed)));
    return;
  }
  if (finding.key == "bleed.pulse_power") {
    auto bleed = source.section("bleed");
    bleed.refuse("rated_power",
                 fmt::format("{}: for this pulse a rating of {}", why, shown(finding.read)),
                 fmt::format("{} or more, or a larger resistance", shown(finding.read)));
    return;
  }
  auto [reader, key] = place_of(source, finding.key);
  if (key == "dielectric") {
    reader.refuse(key, why, "film, ceramic, paper_oil");
  } else if (key.find("rated") != std::string::npos) {
    reader.refuse(
        key,
        fmt::format("{}: {} asked, good for {}", why, shown(finding.read), shown(finding.allowed)),
        fmt::format("a part good for {} here", shown(finding.read)));
  } else {
    reader.refuse(key,
                  fmt::format("{}: {} asked", why, shown(finding.read)),
                  fmt::format("up to {}", shown(finding.allowed)));
  }
}

/// Whether anything is refused; cautions are the verdict's matter.
bool refuse_all(Reader& source, const std::vector<spark::Finding>& findings) {
  for (const auto& finding : findings) {
    if (finding.severity == spark::Severity::refused) refuse(source, finding);
  }
  return spark::refused(findings);
}

/// Charge that the source leaves behind does not depend on the gap.
std::optional<spark::Store> store_of(const spark::Source& source, const Models& models) {
  return spark::output(source, std::numeric_limits<double>::max(), models.spark.source).store;
}

void note_coil(Reader& source, const Models& models) {
  auto coil = source.section("coil");
  const auto& c = models.spark.source;
  note_default(coil, "efficiency", c.coil_efficiency, models.why("spark", "coil_efficiency"));
  note_default(coil,
               "secondary_capacitance",
               c.secondary_capacitance,
               models.why("spark", "secondary_capacitance"));
}

void note_supply(Reader& source) {
  note_default(source, "supply", "tied_to_mains", "the most dangerous one, as none is stated");
}

void note_capacitor(Reader& source) {
  auto capacitor = source.section("capacitor");
  note_default(capacitor, "dielectric", "film", "none stated; it keeps its charge longest");
}

/// Lists what each kind takes for granted.
struct Defaults {
  Reader& reader;
  const Models& models;

  void operator()(const spark::StepUpTransformer& /*unused*/) const { note_supply(reader); }
  void operator()(const spark::Ladder& /*unused*/) const {
    note_supply(reader);
    note_capacitor(reader);
    note_default(reader, "counted_in", "diodes", "the weaker reading of the number of stages");
    note_default(reader, "load_current", 0.0, "nothing drawn without a spark");
    note_default(reader, "output_capacitance", 0.0, "nothing added across the output");
  }
  void operator()(const spark::DwellCoil& /*unused*/) const {
    note_coil(reader, models);
    note_default(reader, "primary_capacitance", 0.0, "none stated across the switch");
    note_default(reader, "current_limit", "none", "the resistance alone holds the current");
    note_default(reader, "clamp_voltage", "none", "none stated across the primary");
  }
  void operator()(const spark::StorageCoil& source) const {
    note_supply(reader);
    note_capacitor(reader);
    note_coil(reader, models);
    note_default(reader, "firing_angle", source.firing_angle, "at the crest: the whole mains peak");
    note_default(reader, "charging_resistance", 0.0, "none stated");
    note_default(reader, "feed", "half_wave", "through a diode");
    note_default(reader, "ringing", "free", "no clamping diode stated");
  }
  void operator()(const spark::ConverterDischarge& /*unused*/) const {
    note_capacitor(reader);
    note_coil(reader, models);
    note_default(reader, "ringing", "free", "no clamping diode stated");
  }
};

void complete_source(Reader& reader, const SparkSource& source, const Models& models) {
  std::visit(Defaults{reader, models}, source.source);
  const double across = spark::always_across(source.bleed);
  if (refuse_all(reader, spark::check(source.source, models.spark.source, across))) return;
  const auto store = store_of(source.source, models);
  auto bleed = reader.section("bleed");
  if (!store) {
    if (bleed.has("kind") && !std::holds_alternative<spark::NoBleed>(source.bleed)) {
      bleed.refuse("kind", "this source keeps no charge that could be bled", "none");
    }
    return;
  }
  note_default(bleed, "kind", "none", "nothing stated across the stored charge");
  const auto& c = models.spark.charge;
  if (store->voltage > c.safe_voltage && store->voltage <= c.neon_highest_voltage) {
    auto indicator = reader.section("indicator");
    note_default(
        indicator, "dark_below", c.neon_dark_voltage, models.why("spark", "neon_dark_voltage"));
  }
  refuse_all(reader, spark::discharge(*store, source.bleed, models.spark.charge).findings);
}

/// The density is what counts; what the rig is to tell is close to the site's.
void check_density(Reader& gas, const spark::Gas& given, const Draft& draft, const Models& models) {
  const bool by_pressure = !std::isnan(given.pressure);
  if (!by_pressure && std::isnan(given.temperature)) return;
  const auto room = air::make_ambient(models.rig.air, draft.result.parts.site);
  const double pressure = by_pressure ? given.pressure : room.pressure;
  const double temperature = std::isnan(given.temperature) ? room.temperature : given.temperature;
  const auto& c = models.spark.gap;
  const double density = spark::relative_density({pressure, temperature}, c);
  if (density >= c.lowest_density && density <= c.highest_density) return;
  const auto text = [&](double value, D dimension) {
    return units::format(value, dimension, gas.findings().system);
  };
  const double least = c.lowest_density / density;
  const double most = c.highest_density / density;
  constexpr const char* outside = "outside the densities that breakdown was checked for";
  if (by_pressure) {
    gas.refuse("pressure",
               outside,
               fmt::format("{} to {} at {}",
                           text(pressure * least, D::pressure),
                           text(pressure * most, D::pressure),
                           text(temperature, D::temperature)));
  } else {
    gas.refuse("temperature",
               outside,
               fmt::format("{} to {} at {}",
                           text(temperature / most, D::temperature),
                           text(temperature / least, D::temperature),
                           text(pressure, D::pressure)));
  }
}

void check_velocity(Reader& gas, const Igniter& igniter, const Models& models) {
  const double most = models.spark.ignition.highest_velocity;
  if (std::isnan(igniter.given.velocity) || igniter.given.velocity <= most) return;
  gas.refuse("velocity",
             "faster than the speeds at which ignition was measured",
             fmt::format("at most {}", units::format(most, D::speed, gas.findings().system)));
}

void complete_gas(Reader& item, Igniter& igniter, const Draft& draft, const Models& models) {
  auto gas = item.section("gas");
  auto& given = igniter.given;
  const auto& parts = draft.result.parts;
  if (igniter.place == PlugPlace::afterburner) {
    gas.require("velocity");
    if (std::isnan(given.gas.pressure)) {
      given.gas.pressure = air::make_ambient(models.rig.air, parts.site).pressure;
      note_default(gas, "pressure", given.gas.pressure, "the afterburner is open to outside");
    }
    if (std::isnan(given.gas.temperature)) {
      given.gas.temperature = parts.site.temperature;
      note_default(gas,
                   "temperature",
                   given.gas.temperature,
                   "as cold as outside; hot gas is easier to jump");
    }
  } else if (parts.engine.resistance) {
    gas.require("velocity");
  }
  check_density(gas, given.gas, draft, models);
  check_velocity(gas, igniter, models);
}

void complete_fuel(Reader& item, Igniter& igniter, const Draft& draft, const Models& models) {
  auto& given = igniter.given;
  if (given.fuel == spark::Fuel::propane) return;
  auto fuel = item.section("fuel");
  if (std::isnan(given.fuel_temperature)) {
    given.fuel_temperature = draft.result.parts.site.temperature;
    note_default(fuel, "temperature", given.fuel_temperature, "as cold as outside");
  }
  const bool diesel = given.fuel == spark::Fuel::diesel;
  const auto& liquid = diesel ? models.spark.ignition.diesel : models.spark.ignition.kerosene;
  note_default(fuel,
               "flash_point",
               liquid.flash_point,
               models.why("spark", diesel ? "diesel_flash_point" : "kerosene_flash_point"));
  note_default(fuel, "drop_diameter", "not sprayed", "no drops stated: vapour must do");
}

}  // namespace

void complete_igniters(Reader& root, Draft& draft, const Models& models) {
  auto& igniters = draft.result.igniters;
  auto igniter = igniters.begin();
  for (auto& item : root.list("igniters")) {
    if (!item.given()) continue;
    auto gap = item.section("gap");
    note_default(gap, "electrodes", "worn", "a used plug asks for more than a new one");
    complete_gas(item, *igniter, draft, models);
    complete_fuel(item, *igniter, draft, models);
    auto source = igniter->sources.begin();
    for (auto& reader : item.list("sources")) {
      if (reader.given()) complete_source(reader, *source++, models);
    }
    ++igniter;
  }
}

}  // namespace windgap::casefile
