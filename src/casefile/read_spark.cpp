#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "casefile/igniter_fields.h"
#include "casefile/sections.h"

namespace windgap::casefile {
namespace {

enum class Kind { transformer, ladder, dwell_coil, storage_coil, converter };
enum class BleedKind { none, resistors, lamp };

constexpr std::array<std::string_view, 5> kinds{
    "transformer", "ladder", "dwell_coil", "storage_coil", "converter"};

/// Everything a source may say; `take` hands out what its kind has a use for, and what nobody took
/// is refused at the end.
class SourceReader {
 public:
  explicit SourceReader(Reader& reader)
      : reader_(reader),
        capacitor_(reader.section("capacitor")),
        coil_(reader.section("coil")),
        bleed_(reader.section("bleed")),
        indicator_(reader.section("indicator")) {
    for (const auto& number : source_numbers) {
      const double value = at(number.group).optional(number.key, measure(number.allowed));
      numbers_.push_back({join_path(number.group, number.key), value, false});
    }
    supply_ = word<spark::Supply>("",
                                  "supply",
                                  {{"isolated_low_voltage", spark::Supply::isolated_low_voltage},
                                   {"isolated_mains", spark::Supply::isolated_mains},
                                   {"tied_to_mains", spark::Supply::tied_to_mains}});
    constexpr int most_stages = 60;
    stages_ = reader.optional_count("stages", 1, most_stages);
    words_.push_back({"stages", unset, false});
    counted_ = word<spark::StageCount>(
        "",
        "counted_in",
        {{"doublers", spark::StageCount::doublers}, {"diodes", spark::StageCount::diodes}});
    feed_ = word<spark::Feed>(
        "",
        "feed",
        {{"half_wave", spark::Feed::half_wave}, {"alternating", spark::Feed::alternating}});
    ringing_ = word<spark::Ringing>(
        "", "ringing", {{"free", spark::Ringing::free}, {"clamped", spark::Ringing::clamped}});
    dielectric_ = word<spark::Dielectric>("capacitor",
                                          "dielectric",
                                          {{"film", spark::Dielectric::film},
                                           {"ceramic", spark::Dielectric::ceramic},
                                           {"paper_oil", spark::Dielectric::paper_oil},
                                           {"electrolytic", spark::Dielectric::electrolytic}});
    bleed_kind_ = word<BleedKind>("bleed",
                                  "kind",
                                  {{"none", BleedKind::none},
                                   {"resistors", BleedKind::resistors},
                                   {"lamp", BleedKind::lamp}});
    constexpr int most_in_series = 1000;
    bleed_count_ = bleed_.optional_count("count", 1, most_in_series);
    words_.push_back({"bleed.count", unset, false});
    connection_ = word<spark::Connection>("bleed",
                                          "connection",
                                          {{"permanent", spark::Connection::permanent},
                                           {"self_closing", spark::Connection::self_closing},
                                           {"switched", spark::Connection::switched}});
  }

  spark::Source source(Kind kind) {
    switch (kind) {
      case Kind::transformer:
        return transformer();
      case Kind::ladder:
        return ladder();
      case Kind::dwell_coil:
        return dwell_coil();
      case Kind::storage_coil:
        return storage_coil();
      case Kind::converter:
        break;
    }
    return converter();
  }

  spark::Bleed bleed() {
    take("bleed.kind");
    const auto kind = bleed_kind_.value_or(BleedKind::none);
    if (kind == BleedKind::none) {
      if (bleed_.given() && !bleed_.has("kind")) bleed_.require("kind", "none, resistors, lamp");
      return spark::NoBleed{};
    }
    take("bleed.count");
    const int count = bleed_count_.value_or(1);
    if (kind == BleedKind::lamp) {
      return spark::Lamp{.rated_voltage = needed("bleed.rated_voltage"),
                         .rated_power = needed("bleed.rated_power"),
                         .count = count};
    }
    take("bleed.connection");
    bleed_.require("connection", "permanent, self_closing, switched");
    return spark::ResistorChain{.resistance = needed("bleed.resistance"),
                                .count = count,
                                .rated_voltage = needed("bleed.rated_voltage"),
                                .rated_power = needed("bleed.rated_power"),
                                .connection = connection_.value_or(spark::Connection::permanent)};
  }

  std::optional<double> threshold() { return maybe("indicator.dark_below"); }

  /// Refuses what this kind of source has no use for.
  void finish(std::string_view kind) {
    for (const auto* list : {&numbers_, &words_}) {
      for (const auto& value : *list) {
        if (value.taken || !reader_.has(value.key)) continue;
        auto [group, key] = split(value.key);
        const bool of_bleed = group == "bleed";
        at(group).refuse(key,
                         of_bleed ? std::string("this bleed has no use for it")
                                  : fmt::format("a {} has no use for it", kind));
      }
    }
  }

 private:
  struct Value {
    std::string key;
    double value = unset;
    bool taken = false;
  };

  static std::pair<std::string_view, std::string_view> split(std::string_view path) {
    const auto point = path.find('.');
    if (point == std::string_view::npos) return {std::string_view(), path};
    return {path.substr(0, point), path.substr(point + 1)};
  }

  Reader& at(std::string_view group) {
    if (group == "capacitor") return capacitor_;
    if (group == "coil") return coil_;
    if (group == "bleed") return bleed_;
    return group == "indicator" ? indicator_ : reader_;
  }

  template <class Enum>
  std::optional<Enum> word(std::string_view group,
                           std::string_view key,
                           Reader::Names<Enum> names) {
    words_.push_back({join_path(group, key), unset, false});
    return at(group).optional_choice<Enum>(key, names);
  }

  double take(std::string_view path) {
    for (auto* list : {&numbers_, &words_}) {
      const auto found = std::find_if(
          list->begin(), list->end(), [&](const Value& value) { return value.key == path; });
      if (found == list->end()) continue;
      found->taken = true;
      return found->value;
    }
    return unset;
  }

  double needed(std::string_view path) {
    const auto [group, key] = split(path);
    at(group).require(key);
    return take(path);
  }

  std::optional<double> maybe(std::string_view path) {
    const double value = take(path);
    return std::isnan(value) ? std::nullopt : std::optional(value);
  }

  spark::Supply supply() {
    take("supply");
    return supply_.value_or(spark::Supply::tied_to_mains);
  }

  spark::Capacitor capacitor() {
    take("capacitor.dielectric");
    return {.capacitance = needed("capacitor.capacitance"),
            .rated_voltage = needed("capacitor.rated_voltage"),
            .dielectric = dielectric_.value_or(spark::Dielectric::film)};
  }

  spark::Coil coil() {
    return {.turns_ratio = needed("coil.turns_ratio"),
            .efficiency = maybe("coil.efficiency"),
            .secondary_capacitance = maybe("coil.secondary_capacitance")};
  }

  spark::Ringing ringing() {
    take("ringing");
    return ringing_.value_or(spark::Ringing::free);
  }

  spark::StepUpTransformer transformer() {
    return {.primary_voltage = needed("primary_voltage"),
            .turns_ratio = needed("turns_ratio"),
            .short_circuit_current = needed("short_circuit_current"),
            .frequency = needed("frequency"),
            .supply = supply()};
  }

  spark::Ladder ladder() {
    take("stages");
    take("counted_in");
    reader_.require("stages", "a whole number from 1 to 60");
    return {.supply_peak = needed("supply_peak"),
            .supply_current = needed("supply_current"),
            .frequency = needed("frequency"),
            .stages = stages_.value_or(1),
            .counted_in = counted_.value_or(spark::StageCount::diodes),
            .capacitor = capacitor(),
            .diode_rated_voltage = needed("diode_rated_voltage"),
            .load_current = maybe("load_current").value_or(0.0),
            .output_capacitance = maybe("output_capacitance").value_or(0.0),
            .supply = supply()};
  }

  spark::DwellCoil dwell_coil() {
    return {.battery_voltage = needed("battery_voltage"),
            .primary_resistance = needed("primary_resistance"),
            .primary_inductance = needed("primary_inductance"),
            .dwell = needed("dwell"),
            .sparks_per_second = needed("sparks_per_second"),
            .current_limit = maybe("current_limit"),
            .clamp_voltage = maybe("clamp_voltage"),
            .primary_capacitance = maybe("primary_capacitance").value_or(0.0),
            .switch_rated_voltage = needed("switch_rated_voltage"),
            .switch_rated_current = needed("switch_rated_current"),
            .coil = coil()};
  }

  spark::StorageCoil storage_coil() {
    take("feed");
    return {.mains_voltage = needed("mains_voltage"),
            .mains_frequency = needed("mains_frequency"),
            .firing_angle = maybe("firing_angle").value_or(std::numbers::pi / 2.0),
            .charging_resistance = maybe("charging_resistance").value_or(0.0),
            .feed = feed_.value_or(spark::Feed::half_wave),
            .ringing = ringing(),
            .capacitor = capacitor(),
            .switch_rated_voltage = needed("switch_rated_voltage"),
            .coil = coil(),
            .supply = supply()};
  }

  spark::ConverterDischarge converter() {
    return {.battery_voltage = needed("battery_voltage"),
            .converter_voltage = needed("converter_voltage"),
            .converter_power = needed("converter_power"),
            .sparks_per_second = needed("sparks_per_second"),
            .ringing = ringing(),
            .capacitor = capacitor(),
            .switch_rated_voltage = needed("switch_rated_voltage"),
            .coil = coil()};
  }

  Reader& reader_;
  Reader capacitor_;
  Reader coil_;
  Reader bleed_;
  Reader indicator_;
  std::vector<Value> numbers_;
  std::vector<Value> words_;
  std::optional<spark::Supply> supply_;
  std::optional<int> stages_;
  std::optional<spark::StageCount> counted_;
  std::optional<spark::Feed> feed_;
  std::optional<spark::Ringing> ringing_;
  std::optional<spark::Dielectric> dielectric_;
  std::optional<BleedKind> bleed_kind_;
  std::optional<int> bleed_count_;
  std::optional<spark::Connection> connection_;
};

template <class Named>
bool is_taken(const std::vector<Named>& list, const std::string& name) {
  return std::any_of(
      list.begin(), list.end(), [&](const Named& other) { return other.name == name; });
}

/// The name itself, or with the first number behind it that makes it one of its own.
template <class Named>
std::string free_name(const std::vector<Named>& list, const std::string& name) {
  auto free = name;
  for (std::size_t i = 2; is_taken(list, free); ++i) free = fmt::format("{} {}", name, i);
  return free;
}

/// Whether the case gives any.
bool read_sources(Reader& reader, std::vector<SparkSource>& sources) {
  bool any = false;
  for (auto& item : reader.list("sources")) {
    const auto name = item.optional_text("name");
    const auto read_before = item.findings().given.size();
    const auto kind = item.optional_choice<Kind>("kind",
                                                 {{kinds[0], Kind::transformer},
                                                  {kinds[1], Kind::ladder},
                                                  {kinds[2], Kind::dwell_coil},
                                                  {kinds[3], Kind::storage_coil},
                                                  {kinds[4], Kind::converter}});
    // A wrong word stands for the first kind: what that one lacks is no news.
    const bool kind_read = item.findings().given.size() > read_before;
    SourceReader parts(item);
    if (!item.given()) continue;
    any = true;
    item.require("kind", fmt::format("{}", fmt::join(kinds, ", ")));
    if (!kind_read) continue;
    SparkSource source{.source = parts.source(*kind),
                       .bleed = parts.bleed(),
                       .indicator_threshold = parts.threshold()};
    source.name = name.value_or(std::string(kind_name(source.source)));
    parts.finish(kind_name(source.source));
    if (name && is_taken(sources, *name)) {
      item.refuse("name", "another source of this igniter has it", "a name of its own");
    } else {
      source.name = free_name(sources, source.name);
    }
    sources.push_back(std::move(source));
  }
  return any;
}

void read_gap(Reader reader, spark::Gap& gap) {
  gap.length = reader.optional("length", measure({D::length, 0.01, 30, "mm"}));
  const auto electrodes =
      reader.optional_choice<spark::Electrodes>("electrodes",
                                                {{"worn", spark::Electrodes::plug_worn},
                                                 {"edged", spark::Electrodes::plug_edged},
                                                 {"points", spark::Electrodes::points},
                                                 {"plates", spark::Electrodes::uniform}});
  gap.electrodes = electrodes.value_or(spark::Electrodes::plug_worn);
}

void read_conditions(Reader& reader, spark::Conditions& given) {
  auto gas = reader.section("gas");
  given.gas.pressure = gas.optional("pressure", measure({D::pressure, 100, 6000, "mbar"}));
  given.gas.temperature = gas.optional("temperature", measure({D::temperature, -40, 1500, "degC"}));
  given.velocity = gas.optional("velocity", measure({D::speed, 0, 300, "m/s"}));
  auto fuel = reader.section("fuel");
  const auto kind = fuel.optional_choice<spark::Fuel>("kind",
                                                      {{"propane", spark::Fuel::propane},
                                                       {"kerosene", spark::Fuel::kerosene},
                                                       {"diesel", spark::Fuel::diesel}});
  given.fuel = kind.value_or(spark::Fuel::kerosene);
  given.fuel_temperature =
      fuel.optional("temperature", measure({D::temperature, -40, 200, "degC"}));
  const double drops = fuel.optional("drop_diameter", measure({D::length, 0.005, 1, "mm"}));
  if (std::isfinite(drops)) given.drop_diameter = drops;
  const double flash = fuel.optional("flash_point", measure({D::temperature, 0, 150, "degC"}));
  if (std::isfinite(flash)) given.flash_point = flash;
  if (given.fuel == spark::Fuel::propane) {
    for (const auto* key : {"temperature", "drop_diameter", "flash_point"}) {
      if (fuel.has(key)) fuel.refuse(key, "propane is a gas: it has no use for it");
    }
  }
}

}  // namespace

std::string_view kind_name(const spark::Source& source) {
  constexpr std::array<std::string_view, kinds.size()> names{
      "transformer", "ladder", "dwell coil", "storage coil", "converter"};
  return names.at(source.index());
}

void read_igniters(Reader& root, Draft& draft) {
  for (auto& item : root.list("igniters")) {
    Igniter igniter;
    const auto name = item.optional_text("name");
    igniter.place =
        item.optional_choice<PlugPlace>(
                "place", {{"chamber", PlugPlace::chamber}, {"afterburner", PlugPlace::afterburner}})
            .value_or(PlugPlace::chamber);
    igniter.name = name.value_or(igniter.place == PlugPlace::chamber ? "main" : "afterburner");
    const auto& others = draft.result.igniters;
    if (name && is_taken(others, *name)) {
      item.refuse("name", "another igniter of this engine has it", "a name of its own");
    } else {
      igniter.name = free_name(others, igniter.name);
    }
    read_gap(item.section("gap"), igniter.gap);
    read_conditions(item, igniter.given);
    const bool any_source = read_sources(item, igniter.sources);
    if (!item.given()) continue;
    item.section("gap").require("length");
    item.section("fuel").require("kind", "propane, kerosene, diesel");
    if (!any_source) {
      item.refuse("sources",
                  item.has("sources") ? "empty, nothing feeds this plug" : "missing",
                  fmt::format("a list of one source or more, each with its kind: {}",
                              fmt::join(kinds, ", ")));
    }
    draft.result.igniters.push_back(std::move(igniter));
  }
}

}  // namespace windgap::casefile
