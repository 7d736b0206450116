#pragma once

#include <vector>

#include "rig/rig.h"
#include "start/prepare.h"
#include "start/starting_airflow.h"

/// The burning or cold engine on its bench at one instant: all that follows from speed, metal, oil,
/// winding and charge (Eqs. 19 to 27 of models/start.md). `run` integrates it.
namespace windgap::start {

/// What changes with time by itself.
struct State {
  double speed = 0.0;                    ///< of the rotor [rad/s]
  double tube_temperature = unset;       ///< flame tube [K]
  double vaporizer_temperature = unset;  ///< vaporizer tubes in the flame [K]
  double housing_temperature = unset;    ///< turbine housing [K]
  double film_temperature = unset;       ///< oil films and the metal about them [K]
  double winding_temperature = unset;    ///< of the fan's motor [K]
  double charge_used = 0.0;              ///< out of the pack since the start [C]
};

/// How one fuel flows at an instant.
struct Valve {
  enum class Kind { shut, set, controlled };
  Kind kind = Kind::shut;
  double flow = 0.0;  ///< when set [kg/s]
};

/// What a person or a controller does at an instant.
struct Controls {
  double throttle = 0.0;  ///< of the fan [-]
  bool clutch = false;    ///< a shaft motor drives
  bool resting = false;   ///< the rotor has not broken away
  bool lit = false;
  Valve preheat = {};
  Valve main = {};
};

/// Powers of the energy balance about the engine [W]; into the engine is positive in `in`.
struct Powers {
  double fuel = 0.0;     ///< in: heat of what burns
  double air = 0.0;      ///< in: enthalpy of the air at the inlet
  double starter = 0.0;  ///< in: shaft motor
  double exhaust = 0.0;  ///< out: enthalpy of the gas
  double oil = 0.0;      ///< out: with the oil
  double discs = 0.0;    ///< out: windage of the wheels' backs, left in the casings
  double room = 0.0;     ///< out: from the housing
};

/// What can be read at an instant.
struct Reading {
  double airflow = 0.0;                ///< through the engine [kg/s]
  double net_torque = 0.0;             ///< on the rotor, starter included [N m]
  double gas_torque = 0.0;             ///< of both wheels [N m]
  double drag_torque = 0.0;            ///< of the bearings [N m]
  double starter_torque = 0.0;         ///< [N m]
  double burner_temperature = 0.0;     ///< gas behind the burner [K]
  double turbine_temperature = 0.0;    ///< gas at the turbine wheel [K]
  double exhaust_temperature = 0.0;    ///< total, behind the turbine [K]
  double compressor_pressure = 0.0;    ///< total, behind the compressor, gauge [Pa]
  double inducer_pressure = 0.0;       ///< total, gauge [Pa]
  double fuel_flow = 0.0;              ///< of both fuels [kg/s]
  double preheat_flow = 0.0;           ///< of the gas [kg/s]
  double primary_equivalence = 0.0;    ///< [-]
  double burner_efficiency = 0.0;      ///< burnt over supplied fuel [-]
  double loading = 0.0;                ///< [kg/(s m^3)]
  double flame_holder_velocity = 0.0;  ///< [m/s]
  Flame flame = Flame::too_lean;       ///< would it light, or does it hold
  double fan_flow = 0.0;               ///< out of the fan [kg/s]
  double pack_current = 0.0;           ///< [A]
  double pack_voltage = 0.0;           ///< [V]
  bool sagged = false;                 ///< the pack is below its lowest voltage
  bool surge = false;
  bool choked = false;
  bool converged = true;  ///< the flow closed
  Powers powers;
};

/// Time derivatives of State.
struct Rates {
  double speed = 0.0;
  double tube_temperature = 0.0;
  double vaporizer_temperature = 0.0;
  double housing_temperature = 0.0;
  double film_temperature = 0.0;
  double winding_temperature = 0.0;
  double charge_used = 0.0;
};

struct Instant {
  Reading reading;
  Rates rates;
};

/// A rig at one stand-off, ready to be asked again and again. Keeps the last flow as a guess for
/// the next, which changes answers by less than 1e-9; not for several threads at once.
class Bench {
 public:
  /// @throws std::logic_error if stand_off is not positive or the rig has no rotor.
  Bench(const rig::Parts& parts,
        const rig::Coefficients& models,
        const rig::Rig& rig,
        const Prepared& start,
        double stand_off);

  [[nodiscard]] Instant at(const State& state, const Controls& controls);

  /// At which the oil carries off what its films' friction makes [K].
  [[nodiscard]] double steady_film(double speed) const;

  /// Cold and at rest, everything at the room's temperature, oil at its inlet's.
  [[nodiscard]] State at_rest() const;

  [[nodiscard]] const rig::Rig& rig() const { return rig_; }
  [[nodiscard]] const Prepared& start() const { return start_; }
  [[nodiscard]] double stand_off() const { return stand_off_; }
  [[nodiscard]] double full_throttle() const { return full_throttle_; }
  [[nodiscard]] long evaluations() const { return evaluations_; }

 private:
  struct Burning;

  void set_fan(const State& state, double throttle);
  [[nodiscard]] double open_circuit_voltage(double charge_used) const;
  struct Radiance;
  [[nodiscard]] Radiance radiance(const State& state, double pressure, double m) const;
  Burning burn(const State& state, const Controls& controls, const engine::GasPath& path, double m);
  void close(const State& state, const Controls& controls, Instant& now);
  void heat(const State& state,
            const Controls& controls,
            const Burning& burning,
            Instant& now) const;

  rig::Rig rig_;  ///< with the fan of the last instant
  Prepared start_;
  double stand_off_;
  double full_throttle_;
  bool has_pack_ = false;
  fan::Prepared new_fan_;  ///< pack full, winding cold
  rig::Response weak_;     ///< response at the least throttle used
  rig::Response strong_;   ///< at full throttle
  double weak_throttle_ = unset;
  std::vector<double> open_circuit_;  ///< pack voltage over charge used, equal steps [V]
  double charge_step_ = unset;        ///< [C]
  engine::Bearings bearings_;
  engine::BearingCoefficients bearing_coefficients_;
  double friction_ = 1.0;
  double guess_ = unset;
  double slope_ = unset;
  engine::GasPath path_;  ///< of the last march
  long evaluations_ = 0;
};

}  // namespace windgap::start
