#pragma once

#include <optional>
#include <variant>
#include <vector>

#include "air/air.h"
#include "blockage/blockage.h"
#include "capture/capture.h"
#include "drive/drive.h"
#include "engine/engine.h"
#include "fan/fan.h"
#include "jet/jet.h"

/// One bench as a person describes it, and every model coefficient, before anything is prepared.
namespace windgap::rig {

/// Rules of the bench itself, filled from models/physics/bench.yaml.
struct BenchCoefficients {
  double running_inducer_mach = unset;  ///< at the throat of a running engine, no airflow given [-]
  double usual_throat_share = unset;    ///< throat over exit velocity at which a guard is rated [-]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(BenchCoefficients& c, Visitor&& v) {
  v("running_inducer_mach", c.running_inducer_mach);
  v("usual_throat_share", c.usual_throat_share);
}

/// The coefficients of all models a rig uses.
struct Coefficients {
  BenchCoefficients bench;
  air::Coefficients air;
  drive::Coefficients drive;
  fan::Coefficients fan;
  jet::Coefficients jet;
  capture::Coefficients capture;
  blockage::Coefficients blockage;
  engine::Coefficients engine;
};

/// Calls v(module, coefficients) for every struct, by the name of its file in models/physics.
template <class Visitor>
void visit_modules(Coefficients& c, Visitor&& v) {
  v("air", c.air);
  v("drive", c.drive);
  v("fan", c.fan);
  v("jet", c.jet);
  v("capture", c.capture);
  v("blockage", c.blockage);
  v("compressor", c.engine.compressor);
  v("combustor", c.engine.combustor);
  v("turbine", c.engine.turbine);
  v("bearings", c.engine.bearings);
  v("engine", c.engine.engine);
  v("bench", c.bench);
}

/// Which way the fan turns against the engine's rotor, both seen along the stream.
enum class Sense { same, opposite, unknown };

/// A pressure read in the free jet with a tube facing the stream, engine out of the way.
struct AxisReading {
  double distance = unset;  ///< from the exit plane [m]
  double radius = 0.0;      ///< off the axis [m]
  double pressure = unset;  ///< gauge, total [Pa]
  double throttle = 1.0;    ///< of the controller, while it was read; unused with a Stream
};

/// How the fan stands before the mouth, the stand-off apart.
struct Mounting {
  double offset = 0.0;  ///< of the fan's axis beside the mouth's centre [m]
  double tilt = 0.0;    ///< of the fan's axis against the engine's, about the exit's centre [rad]
};

/// The running engine, as far as the parked fan matters to it.
struct Running {
  double airflow = unset;                ///< [kg/s]; unset: from the inducer
  double nozzle_pressure_ratio = unset;  ///< of the exhaust nozzle [-]; unset: coefficient
};

/// What starts the engine. Airflow given: that. Else the airflow at the given rotor speed. Else
/// that at the light-off speed.
struct StartNeed {
  double airflow = unset;      ///< cold, delivered [kg/s]
  double rotor_speed = unset;  ///< [rad/s]
};

struct Parts {
  air::Site site;
  std::variant<fan::Fan, fan::Stream> source;
  drive::Drive drive;     ///< unused with a Stream
  double throttle = 1.0;  ///< of the controller, 0 to 1; unused with a Stream
  std::vector<AxisReading> axis_readings;
  double propeller_share = unset;  ///< the case's word on the jet's regime, 0 to 1 [-]
  engine::Engine engine;
  double wall_thickness = 0.0;  ///< of a sharp, unflanged inlet pipe [m]
  Sense sense = Sense::unknown;
  Mounting mounting;
  blockage::Guard guard;
  blockage::Struts struts;
  blockage::Parked parked = blockage::Parked::braked;
  double fan_outer_diameter = unset;  ///< of a Stream's housing as an obstacle [m]
  Running running;
  StartNeed start;
};

}  // namespace windgap::rig
