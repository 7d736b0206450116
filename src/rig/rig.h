#pragma once

#include <array>
#include <cstddef>

#include "rig/parts.h"

/// One bench as one value, and the airflow it delivers at a stand-off: drive, fan, jet, capture and
/// engine solved together. Equations and the choice of roots: models/rig.md.
namespace windgap::rig {

/// Which jet the rig is computed with.
enum class JetChoice {
  nozzle_like,     ///< the clean nozzle: the farthest a jet can reach
  propeller_like,  ///< the open propeller, or as near to it as vanes allow: the nearest
  estimated        ///< measured readings, the case's word, or what vanes, hub and swirl suggest
};

/// Where the rig's regime comes from.
enum class JetSource { bound, readings, stated, estimated };

/// The fan's answer to back-pressure, tabulated over it.
struct Response {
  static constexpr std::size_t points = 17;
  static constexpr double greatest = 60.0;  ///< back-pressure ratio at the last point [-]
  std::array<double, points> velocity{};    ///< exit velocity over that in the open [-]
  std::array<double, points> slope{};       ///< its derivative by table position [-]
};

/// Everything a solve needs; copying it allocates nothing.
struct Rig {
  air::Ambient ambient;
  fan::Prepared fan;
  double throttle = unset;  ///< [-]
  fan::Operating open;      ///< the fan blowing into the open
  Response response;
  jet::Shape jet;
  JetSource jet_source = JetSource::estimated;
  JetChoice jet_choice = JetChoice::estimated;
  bool straightened = true;        ///< vanes behind the rotor, or a measured stream
  double propeller_share = unset;  ///< of the regime in `jet` [-]
  double readings_misfit = unset;  ///< of the axis readings [-]
  bool readings_at_bound = false;
  jet::Coefficients jet_coefficients;
  capture::Coefficients capture_coefficients;
  capture::Mouth mouth;
  Mounting mounting;
  double throat_area = unset;  ///< of the inlet [m^2]
  double entry_loss = unset;   ///< K0 on the throat's head, sucking still air [-]
  double guard_loss = 0.0;     ///< on the throat's head [-]
  double swirl_sense = 0.0;    ///< +1 with the rotor, -1 against, 0 without swirl [-]
  engine::Prepared engine;
  blockage::Prepared blockage;
  double starting_airflow = unset;  ///< cold, delivered [kg/s]; unset: unreachable
  double lightoff_speed = unset;    ///< the speed that goes with it [rad/s]; unset: none asked
};

/// Prepares a bench. Unset fields must have been filled (fill_fallbacks of fan, drive, engine).
/// @throws std::logic_error if something needed is unset or out of sense.
[[nodiscard]] Rig assemble(const Parts& parts, const Coefficients& c, JetChoice choice);

/// Dynamic head behind the fan while its jet was read at a throttle [Pa]: on this drive, the pack
/// charged and as warm as when its resistance was read. For a ducted fan.
[[nodiscard]] double readings_head(const Parts& parts, const Coefficients& c, double throttle);

/// The same rig at another throttle or with another nozzle [m]; tables are made anew, and the jet's
/// regime where nobody measured or stated it: a narrower exit swirls more.
[[nodiscard]] Rig with_throttle(const Rig& rig, double throttle);
[[nodiscard]] Rig with_nozzle(const Rig& rig, double nozzle_diameter);

/// What the rotor does in the delivered air.
enum class Settling {
  turning,    ///< at the first speed from rest where the torques balance
  at_rest,    ///< blown through, but the torque at rest stays below breakaway
  runs_away,  ///< accelerates through the whole range of the model
  no_rotor,   ///< a resistance stands for the engine
  no_flow     ///< nothing is delivered
};

/// The bench at one stand-off.
struct Delivery {
  double stand_off = unset;            ///< [m]
  double airflow = unset;              ///< delivered into the inducer [kg/s]
  double rotor_speed = 0.0;            ///< windmilling [rad/s]; 0 at rest or without rotor
  double total_pressure = unset;       ///< gauge, mean of what is swallowed [Pa]
  double inducer_pressure = unset;     ///< gauge, total, after guard and entry loss [Pa]
  double wheel_pressure = unset;       ///< the same with the swirl's kinetic pressure [Pa]
  double back_pressure = unset;        ///< excess static pressure at the fan's exit [Pa]
  double capture_ratio = unset;        ///< swallowed over exit flow [-]
  double jet_speed = unset;            ///< of the air before the mouth [m/s]
  double inlet_swirl = 0.0;            ///< radius x tangential speed, + with the rotor [m^2/s]
  double flame_holder_velocity = 0.0;  ///< cold [m/s]
  Settling settling = Settling::no_flow;
  bool converged = false;  ///< every root closed to its tolerance
  bool choked = false;     ///< a station of the engine chokes
  int marches = 0;         ///< engine evaluations spent
};

/// Delivered airflow at `stand_off` > 0 [m]. No allocation; about 5 to 10 microseconds.
[[nodiscard]] Delivery deliver(const Rig& rig, double stand_off);

/// The fan in that delivery: currents, stall margin, thrust.
[[nodiscard]] fan::Operating fan_operation(const Rig& rig, const Delivery& delivery);

/// Higher speeds than the settled one at which the torques balance again and stably: a second
/// branch that a push could reach. Scans; for reports, not for searches.
[[nodiscard]] bool has_second_branch(const Rig& rig, double stand_off);

/// The fan's exit velocity over its free one at a back-pressure ratio [-].
struct ResponsePoint {
  double velocity = unset;
  double slope = unset;
};
[[nodiscard]] ResponsePoint respond(const Response& response, double back_pressure_ratio);

}  // namespace windgap::rig
