#include <cmath>

#include "fan/fan.h"
#include "fan/static_point.h"

namespace windgap::fan {
namespace {

void fill(std::vector<Assumed>& notes, double& field, Assumed assumed) {
  if (!std::isnan(field)) {
    return;
  }
  field = assumed.value;
  notes.push_back(std::move(assumed));
}

void fill_shape(std::vector<Assumed>& notes, Fan& fan, const Coefficients& c) {
  const double bore = fan.bore_diameter;
  fill(notes, fan.exit_diameter, {"exit_diameter", bore, "the bore's"});
  fill(notes,
       fan.hub_diameter,
       {"hub_diameter", c.usual_hub_ratio * bore, "usual share of the bore"});
  fill(notes,
       fan.outer_diameter,
       {"outer_diameter", c.usual_outer_ratio * bore, "bore and a thin shroud"});
  fill(notes, fan.length, {"length", c.usual_length_ratio * bore, "about one bore"});
}

void fill_static_point(std::vector<Assumed>& notes,
                       Fan& fan,
                       const drive::Pack& pack,
                       const Coefficients& c) {
  auto& sheet = fan.datasheet;
  auto& measured = fan.measured;
  fill(notes,
       sheet.voltage,
       {"voltage", c.usual_cell_voltage * pack.cells, "loaded voltage of the pack's cells"});
  if (!std::isnan(measured.thrust)) {
    fill(notes, measured.voltage, {"measured.voltage", sheet.voltage, "the datasheet's"});
  }
  if (std::isnan(current_of(sheet)) && std::isnan(current_of(measured))) {
    const bool is_measured = !std::isnan(measured.thrust);
    const auto believed = believed_thrust(fan, c);
    const double power = believed.thrust * believed.velocity / (2.0 * c.usual_jet_power);
    auto& point = is_measured ? measured : sheet;
    fill(notes,
         point.current,
         {is_measured ? "measured.current" : "current",
          power / point.voltage,
          "usual share of electrical power that becomes jet power"});
  }
}

/// Of the believed thrust [W]. A measured thrust without current: the datasheet's power carried to
/// the measured voltage as if speed followed it (affinity law).
double electrical_power(const Fan& fan) {
  const auto& sheet = fan.datasheet;
  const auto& measured = fan.measured;
  const double printed = sheet.voltage * current_of(sheet);
  if (std::isnan(measured.thrust)) {
    return printed;
  }
  const double own = measured.voltage * current_of(measured);
  if (!std::isnan(own)) {
    return own;
  }
  const double ratio = measured.voltage / sheet.voltage;
  return printed * ratio * ratio * ratio;
}

/// The static point as the motor saw it.
struct Load {
  double voltage;  ///< at the motor's terminals [V]
  double current;  ///< [A]
  double speed;    ///< [rad/s]; NaN if nobody measured it
};

Load motor_load(const Fan& fan, const drive::Drive& drive) {
  const bool complete = !std::isnan(fan.measured.voltage) && !std::isnan(current_of(fan.measured));
  const auto& point = complete ? fan.measured : fan.datasheet;
  const double current = current_of(point);
  return {.voltage = point.voltage - current * drive.controller.resistance,
          .current = current,
          .speed = point.speed};
}

void fill_motor(std::vector<Assumed>& notes,
                const Fan& fan,
                drive::Motor& motor,
                const Load& load,
                const Coefficients& c,
                const drive::Coefficients& d) {
  const double power = load.voltage * load.current;
  const double loss = (1.0 - d.motor_efficiency) * power;
  if (std::isnan(motor.resistance) && !std::isnan(motor.speed_constant)) {
    const double fits = (load.voltage - load.speed / motor.speed_constant) / load.current;
    if (fits > 0.0) {
      motor.resistance = fits;  // NaN without a speed
    }
  }
  fill(notes,
       motor.resistance,
       {"motor.resistance",
        d.copper_share * loss / (load.current * load.current),
        "usual efficiency, usual share of copper loss"});
  const double back_voltage = load.voltage - load.current * motor.resistance;
  fill(notes,
       motor.no_load_current,
       {"motor.no_load_current",
        (1.0 - d.copper_share) * loss / back_voltage,
        "usual efficiency, usual share of copper loss"});
  if (!std::isnan(motor.speed_constant)) {
    return;
  }
  if (!std::isnan(load.speed)) {
    motor.speed_constant = load.speed / back_voltage;
    return;
  }
  const double shaft_power = back_voltage * (load.current - motor.no_load_current);
  const double square =
      shaft_power / (believed_thrust(fan, c).mass_flow * c.usual_work * mean_square_radius(fan));
  fill(notes,
       motor.speed_constant,
       {"motor.speed_constant",
        std::sqrt(square) / back_voltage,
        "usual work of an axial wheel at its blade speed"});
}

}  // namespace

std::vector<Assumed> fill_fallbacks(Fan& fan,
                                    drive::Drive& drive,
                                    const Coefficients& c,
                                    const drive::Coefficients& d) {
  std::vector<Assumed> notes;
  fill_shape(notes, fan, c);
  fill_static_point(notes, fan, drive.pack, c);
  const bool winding_known = !std::isnan(drive.motor.winding_heat_capacity);
  if (!winding_known) {
    const double current = current_of(fan.datasheet);
    const double power = std::isnan(current) ? current_of(fan.measured) * fan.measured.voltage
                                             : current * fan.datasheet.voltage;
    fill(notes,
         drive.motor.mass,
         {"motor.mass", power / d.motor_specific_power, "usual power of such a mass"});
  }
  for (auto& note : drive::fill_fallbacks(drive, d)) {
    notes.push_back(std::move(note));
  }
  const auto load = motor_load(fan, drive);
  fill_motor(notes, fan, drive.motor, load, c, d);
  fill(notes, drive.motor.winding_conductance, drive::cooling_at(drive.motor, load.current, d));
  return notes;
}

std::vector<std::string> contradictions(const Fan& fan,
                                        const drive::Drive& drive,
                                        const Coefficients& c) {
  std::vector<std::string> found;
  const auto need = [&](bool holds, const char* sentence) {
    if (!holds) {
      found.emplace_back(sentence);
    }
  };
  const auto& motor = drive.motor;
  need(fan.hub_diameter < fan.bore_diameter, "the hub is as wide as the bore");
  need(fan.hub_diameter < fan.exit_diameter, "the hub is as wide as the exit");
  need(std::isnan(fan.nozzle_diameter) || fan.nozzle_diameter <= fan.exit_diameter,
       "the nozzle is wider than the fan's exit, so it does not converge");
  need(std::isnan(fan.outer_diameter) || fan.outer_diameter >= fan.bore_diameter,
       "the shroud's outer diameter is smaller than its bore");
  const auto load = motor_load(fan, drive);
  need(load.current > motor.no_load_current,
       "the current at full thrust does not exceed the motor's no-load current");
  need(load.voltage > load.current * motor.resistance,
       "the motor's resistance would eat the whole voltage at full thrust");
  const bool has_thrust = !std::isnan(fan.measured.thrust) || !std::isnan(fan.datasheet.thrust);
  need(has_thrust || !fan.curve.points.empty(), "neither a static thrust nor a measured curve");
  need(!has_thrust || jet_power_share(fan, c).plausible,
       "the thrust needs more jet power than the electrical power can give");
  const auto points = fan.curve.points.size();
  need(points == 0 ||
           (points >= Characteristic::fewest_points && points <= Characteristic::most_points),
       "a measured curve needs 4 to 24 points");
  return found;
}

Plausibility jet_power_share(const Fan& fan, const Coefficients& c) {
  const auto believed = believed_thrust(fan, c);
  Plausibility check;
  check.jet_power = believed.thrust * believed.velocity / 2.0;  // Eq. 4
  check.electrical_power = electrical_power(fan);
  check.ratio = check.jet_power / check.electrical_power;
  check.limit = c.plausible_jet_power;
  check.plausible = check.ratio <= check.limit;
  return check;
}

}  // namespace windgap::fan
