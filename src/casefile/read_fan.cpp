#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "casefile/fan_fields.h"
#include "casefile/sections.h"
#include "fan/characteristic.h"

namespace windgap::casefile {
namespace {

/// Voltage times current may differ from a printed power by rounding and losses, not by more.
constexpr double power_mismatch = 0.15;
/// Nearer than this many hub diameters an axis reading finds the hub's wake.
constexpr double wake_reach = 6.0;

std::string_view word(blockage::Parked parked) {
  switch (parked) {
    case blockage::Parked::free:
      return "free";
    case blockage::Parked::braked:
      return "braked";
    case blockage::Parked::closed:
      break;
  }
  return "closed";
}

void read_hub_end(Reader& reader, jet::HubEnd& hub_end, bool matters) {
  const auto given = reader.optional_choice<jet::HubEnd>(
      "hub_end", {{"tail_cone", jet::HubEnd::tail_cone}, {"blunt", jet::HubEnd::blunt}});
  if (given) {
    hub_end = *given;
  } else if (matters) {
    note_default(
        reader, "hub_end", "tail_cone", "most ducted fans have one; look behind the motor");
  }
}

fan::Rotation read_rotation(Reader& reader) {
  return reader
      .optional_choice<fan::Rotation>("rotation",
                                      {{"clockwise", fan::Rotation::clockwise},
                                       {"counterclockwise", fan::Rotation::counterclockwise},
                                       {"unknown", fan::Rotation::unknown}})
      .value_or(fan::Rotation::unknown);
}

void check_static_point(Reader& reader, const fan::StaticPoint& point) {
  const double product = point.voltage * point.current;
  if (std::abs(point.electrical_power - product) > power_mismatch * product) {
    reader.refuse(
        "electrical_power",
        "this contradicts voltage times current",
        fmt::format("about {}",
                    units::format(product, units::Dimension::power, reader.findings().system)));
  }
}

void read_curve_points(Reader& reader, fan::Curve& curve) {
  for (auto& item : reader.list("points")) {
    const fan::CurvePoint point{
        .flow = item.optional("flow", measure({D::volume_flow, 0, 5000, "L/s"})),
        .pressure_rise = item.optional("pressure_rise", measure({D::pressure, -50, 500, "mbar"}))};
    if (!item.given()) continue;
    item.require("flow");
    item.require("pressure_rise");
    if (!curve.points.empty() && point.flow <= curve.points.back().flow) {
      item.refuse("flow", "the flows of a curve must rise from point to point");
    }
    curve.points.push_back(point);
  }
  const auto count = curve.points.size();
  if (count > 0 &&
      (count < fan::Characteristic::fewest_points || count > fan::Characteristic::most_points)) {
    reader.refuse("points",
                  fmt::format("{} points do not make a curve", count),
                  fmt::format("{} to {} points",
                              fan::Characteristic::fewest_points,
                              fan::Characteristic::most_points));
  }
}

void read_axis_readings(Reader& reader, Draft& draft) {
  for (auto& item : reader.list("axis_readings")) {
    rig::AxisReading reading;
    FieldReader v(item);
    visit_reading(v, reading);
    if (!item.given()) continue;
    item.require("at");
    item.require("pressure");
    note_default(item, "radius", 0.0, "taken on the axis");
    if (!draft.has_stream) note_default(item, "throttle", 1.0, "read at full throttle");
    draft.result.parts.axis_readings.push_back(reading);
  }
}

void check_shape(Reader& reader, const fan::Fan& fan) {
  reader.require_order(
      "hub_diameter", fan.hub_diameter, Order::below, "bore_diameter", fan.bore_diameter);
  reader.require_order(
      "hub_diameter", fan.hub_diameter, Order::below, "exit_diameter", fan.exit_diameter);
  const bool has_exit = reader.has("exit_diameter");
  reader.require_order("nozzle_diameter",
                       fan.nozzle_diameter,
                       Order::at_most,
                       has_exit ? "exit_diameter" : "bore_diameter",
                       has_exit ? fan.exit_diameter : fan.bore_diameter);
  reader.require_order(
      "bore_diameter", fan.bore_diameter, Order::at_most, "outer_diameter", fan.outer_diameter);
}

void read_ducted_fan(Reader& reader, Draft& draft) {
  auto& fan = draft.fan;
  FieldReader v(reader);
  visit_fan(v, fan);
  if (const auto range = reader.range("nozzle_diameter", measure({D::length, 5, 500, "mm"}))) {
    draft.result.requirement.nozzle = {.lower = range->first, .upper = range->second};
    fan.nozzle_diameter = range->second;
  } else {
    visit_nozzle(v, fan);
  }
  fan.blades = reader.optional_count("blades", 2, 60).value_or(0);
  fan.rotation = read_rotation(reader);
  read_hub_end(reader, fan.hub_end, !draft.has_stream && !draft.fan_is_open);
  const auto vanes = reader.optional_choice<fan::Vanes>(
      "vanes",
      {{"yes", fan::Vanes::yes}, {"no", fan::Vanes::no}, {"unknown", fan::Vanes::unknown}});
  fan.vanes = vanes.value_or(fan::Vanes::unknown);
  if (!vanes && !draft.has_stream && !draft.fan_is_open) {
    note_default(reader, "vanes", "unknown", "nobody looked for straightening vanes");
  }
  auto measured = reader.section("measured");
  auto curve = reader.section("curve");
  read_curve_points(curve, fan.curve);
  auto motor = reader.section("motor");
  FieldReader w(motor);
  visit_motor(w, draft.result.parts.drive.motor);
  if (draft.has_stream || draft.fan_is_open) return;
  reader.require("bore_diameter");
  if (measured.given()) measured.require("thrust");
  if (!measured.has("thrust") && fan.curve.points.empty()) reader.require("thrust");
  const bool has_power = reader.has("current") || reader.has("electrical_power");
  if (!fan.curve.points.empty() && !has_power) reader.require("current");
  check_static_point(reader, fan.datasheet);
  check_static_point(measured, fan.measured);
  check_shape(reader, fan);
}

/// What a datasheet says has no meaning beside a measured stream.
void warn_of_unused(Reader& reader, const std::vector<std::string_view>& keys, std::string why) {
  std::vector<std::string_view> unused;
  for (const auto key : keys) {
    if (reader.has(key)) unused.push_back(key);
  }
  if (unused.empty()) return;
  reader.findings().warnings.push_back(
      fmt::format("{}: {} not used, {}", reader.path(), fmt::join(unused, ", "), why));
}

void read_stream(Reader& reader, Draft& draft) {
  auto section = reader.section("stream");
  FieldReader v(section);
  visit_stream(v, draft.stream);
  read_hub_end(section, draft.stream.hub_end, draft.stream.hub_diameter > 0.0);
  if (!draft.has_stream) return;
  section.require("exit_diameter");
  section.require("velocity");
  section.require_order("hub_diameter",
                        draft.stream.hub_diameter,
                        Order::below,
                        "exit_diameter",
                        draft.stream.exit_diameter);
  note_default(section, "hub_diameter", 0.0, "no hub stated in a measured stream");
  note_default(section, "swirl_number", 0.0, "no swirl stated in a measured stream");
  warn_of_unused(reader,
                 {"thrust",
                  "voltage",
                  "current",
                  "bore_diameter",
                  "hub_diameter",
                  "measured",
                  "curve",
                  "nozzle_diameter",
                  "motor"},
                 "the measured stream stands for the fan");
}

std::string path_of_fan_field(const std::string& field) {
  for (const std::string_view part : {"pack.", "leads.", "controller."}) {
    if (field.starts_with(part)) return "drive." + field;
  }
  return "fan." + field;
}

/// More power in the jet than electricity can have put there. Jet power goes with thrust^(3/2).
void refuse_jet_power(Reader& fan_reader, const fan::Fan& fan, const fan::Plausibility& share) {
  const bool is_measured = !std::isnan(fan.measured.thrust);
  const double thrust = is_measured ? fan.measured.thrust : fan.datasheet.thrust;
  const double most = thrust * std::pow(share.limit / share.ratio, 2.0 / 3.0);
  const auto system = fan_reader.findings().system;
  const auto key = std::string(is_measured ? "measured.thrust" : "thrust");
  const auto* const given = find_given(fan_reader.findings(), join_path(fan_reader.path(), key));
  auto measured = fan_reader.section("measured");
  (is_measured ? measured : fan_reader)
      .refuse("thrust",
              fmt::format("the jet would carry {} of {} electrical power",
                          units::format(share.jet_power, units::Dimension::power, system),
                          units::format(share.electrical_power, units::Dimension::power, system)),
              fmt::format("up to {}, so that the jet carries no more than {} of that",
                          given == nullptr
                              ? units::format(most, units::Dimension::force, system)
                              : units::format_in(most, units::Dimension::force, given->unit),
                          units::format(share.limit, units::Dimension::ratio, system)));
}

/// An axis reading in the hub's wake says nothing of the jet.
void warn_of_wake(Draft& draft) {
  const double hub = draft.has_stream ? draft.stream.hub_diameter : draft.fan.hub_diameter;
  for (const auto& reading : draft.result.parts.axis_readings) {
    if (reading.distance >= wake_reach * hub || reading.radius > hub / 2) continue;
    draft.result.warnings.push_back(fmt::format(
        "fan.axis_readings: the reading at {} stands in the hub's wake; nearer than {} take it at "
        "0.7 of the exit radius",
        units::format(reading.distance, units::Dimension::length, draft.result.system),
        units::format(wake_reach * hub, units::Dimension::length, draft.result.system)));
  }
}

}  // namespace

void read_fan(Reader reader, Draft& draft) {
  auto& parts = draft.result.parts;
  draft.has_stream = reader.section("stream").given();
  draft.result.fan_name = reader.optional_text("name").value_or("");
  accept_component_keys(reader);
  read_ducted_fan(reader, draft);
  read_stream(reader, draft);
  read_axis_readings(reader, draft);
  FieldReader v(reader);
  visit_jet(v, parts);
  parts.fan_outer_diameter = draft.fan.outer_diameter;
  const auto parked =
      reader.optional_choice<blockage::Parked>("parked",
                                               {{"free", blockage::Parked::free},
                                                {"braked", blockage::Parked::braked},
                                                {"closed", blockage::Parked::closed}});
  if (parked) {
    parts.parked = *parked;
  } else {
    note_default(reader, "parked", word(parts.parked), "nobody said how the fan stands meanwhile");
  }
}

void read_drive(Reader reader, Draft& draft) {
  auto& parts = draft.result.parts;
  auto& drive = parts.drive;
  if (const auto range = reader.range("throttle", measure({D::ratio, 5, 100, "%"}))) {
    draft.result.requirement.throttle = {.lower = range->first, .upper = range->second};
    parts.throttle = range->second;
  } else {
    FieldReader v(reader);
    visit_throttle(v, parts);
  }
  FieldReader v(reader);
  visit_drive(v, drive);
  auto pack = reader.section("pack");
  auto controller = reader.section("controller");
  for (auto* part : {&pack, &controller}) {
    const auto name = part->optional_text("name");
    if (part == &pack) draft.result.choosing.pack_name = name.value_or("");
    accept_component_keys(*part);
  }
  auto leads = reader.section("leads");
  drive.leads.plugs = leads.optional_count("plugs", 0, 12).value_or(0);
  if (leads.has("length") || leads.has("wire_area")) {
    leads.require("length");
    leads.require("wire_area");
  }
  drive.pack.cells = pack.optional_count("cells", 1, 40).value_or(0);
  drive.controller.most_cells = controller.optional_count("most_cells", 1, 40).value_or(0);
  const auto chemistry = pack.optional_choice<drive::Chemistry>(
      "chemistry",
      {{"lithium_polymer", drive::Chemistry::lithium_polymer},
       {"lithium_ion", drive::Chemistry::lithium_ion},
       {"iron_phosphate", drive::Chemistry::iron_phosphate}});
  drive.pack.chemistry = chemistry.value_or(drive::Chemistry::lithium_polymer);
  if (draft.has_stream) {
    if (reader.given()) {
      draft.result.warnings.emplace_back("drive: not used, the measured stream stands for the fan");
    }
    return;
  }
  if (!draft.pack_is_open) {
    pack.require("cells", "a whole number from 1 to 40");
    pack.require("capacity");
  }
  if (!chemistry && !draft.pack_is_open)
    note_default(pack, "chemistry", "lithium_polymer", "the usual pack of such fans");
  if (!draft.pack_is_open)
    note_default(pack, "state_of_charge", drive.pack.state_of_charge, "started with a full pack");
  note_default(reader, "throttle", parts.throttle, "started at full throttle");
  if (drive.controller.most_cells > 0 && drive.pack.cells > drive.controller.most_cells) {
    pack.refuse("cells",
                "more cells than the controller stands",
                fmt::format("up to {} (controller.most_cells)", drive.controller.most_cells));
  }
  pack.require_order("continuous_current",
                     drive.pack.continuous_current,
                     Order::at_most,
                     "burst_current",
                     drive.pack.burst_current);
  controller.require_order("rated_current",
                           drive.controller.rated_current,
                           Order::at_most,
                           "burst_current",
                           drive.controller.burst_current);
}

namespace {

/// A motor that stands still makes no jet, and nothing can be asked of it.
void refuse_standstill(Reader& root, const Draft& draft, const drive::Coefficients& c) {
  using drive::Standstill;
  const auto& parts = draft.result.parts;
  auto drive = parts.drive;
  const auto turns = [&](double throttle, std::string_view when) {
    switch (drive::standstill(drive, c, throttle)) {
      case Standstill::none:
        return true;
      case Standstill::current_limit:
        root.section("drive")
            .section("controller")
            .refuse("current_limit",
                    "the motor does not turn: it takes as much at no load",
                    "more than the motor's no-load current, " +
                        units::format(drive.motor.no_load_current,
                                      units::Dimension::current,
                                      draft.result.system));
        return false;
      case Standstill::voltage:
        root.section("fan").section("motor").refuse(
            "no_load_current",
            fmt::format("the motor does not turn {}: at no load the resistances of winding, leads, "
                        "controller and cells take all of the pack's voltage",
                        when));
        return false;
    }
    return true;
  };
  if (!turns(parts.throttle, "at this throttle")) return;
  // Readings are compared with the fan on a charged pack as warm as when its resistance was read.
  drive.pack.state_of_charge = 1.0;
  drive.pack.temperature = unset;
  for (const auto& reading : parts.axis_readings) {
    if (!turns(reading.throttle, "at the throttle of a reading")) return;
  }
}

}  // namespace

void complete_fan(Reader& root, Draft& draft, const Models& models) {
  auto& parts = draft.result.parts;
  if (draft.has_stream) {
    parts.source = draft.stream;
    warn_of_wake(draft);
    return;
  }
  if (draft.fan_is_open || draft.pack_is_open) return;
  auto reader = root.section("fan");
  const auto fallbacks =
      fan::fill_fallbacks(draft.fan, parts.drive, models.rig.fan, models.rig.drive);
  note_fallbacks(root.findings(), fallbacks, path_of_fan_field);
  const auto share = fan::jet_power_share(draft.fan, models.rig.fan);
  if (share.ratio > share.limit) {
    refuse_jet_power(reader, draft.fan, share);
  } else {
    for (auto& sentence : fan::contradictions(draft.fan, parts.drive, models.rig.fan)) {
      reader.refuse("thrust", std::move(sentence));
    }
    if (root.findings().problems.empty()) refuse_standstill(root, draft, models.rig.drive);
  }
  parts.source = draft.fan;
  warn_of_wake(draft);
}

}  // namespace windgap::casefile
