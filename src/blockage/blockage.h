#pragma once

#include "air/air.h"
#include "blockage/inlet_loss.h"
#include "blockage/screen_loss.h"
#include "units/table.h"

/// What the parked fan, its struts and the guard cost the running engine.
/// Equations and sources: models/blockage.md (numbers in the comments are the equations there).
namespace windgap::blockage {

/// Model coefficients, filled from models/physics/blockage.yaml.
struct Coefficients {
  Table rounded_flush;        ///< entry loss against lip radius over throat diameter, in a wall
  Table rounded_free;         ///< the same, free-standing
  Table sharp_free;           ///< entry loss against wall thickness over throat diameter
  double flush_face = unset;  ///< face ring's width over throat diameter that acts as a wall [-]
  Table wire_screen;          ///< beta against wire Reynolds number
  double wire_least_open = unset;  ///< open area, least [-]
  double wire_most_open = unset;   ///< open area, most [-]
  Table perforated_screen;         ///< K against open area
  double curtain_loss = unset;     ///< K_n on the curtain's velocity head, close [-]
  double curtain_reach = unset;   ///< h0: where near field turns to far field, throat diameters [-]
  double bore_loss_free = unset;  ///< through the fan on its annulus head, wheel turning free [-]
  double bore_loss_braked = unset;       ///< the same, wheel held [-]
  double strut_drag = unset;             ///< drag coefficient of a strut on its frontal area [-]
  double nozzle_pressure_ratio = unset;  ///< of the running engine, when not given [-]
  double nozzle_gamma = unset;           ///< of its exhaust [-]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  v("rounded_flush", c.rounded_flush);
  v("rounded_free", c.rounded_free);
  v("sharp_free", c.sharp_free);
  v("flush_face", c.flush_face);
  v("wire_screen", c.wire_screen);
  v("wire_least_open", c.wire_least_open);
  v("wire_most_open", c.wire_most_open);
  v("perforated_screen", c.perforated_screen);
  v("curtain_loss", c.curtain_loss);
  v("curtain_reach", c.curtain_reach);
  v("bore_loss_free", c.bore_loss_free);
  v("bore_loss_braked", c.bore_loss_braked);
  v("strut_drag", c.strut_drag);
  v("nozzle_pressure_ratio", c.nozzle_pressure_ratio);
  v("nozzle_gamma", c.nozzle_gamma);
}

/// How the fan stands while the engine runs. Closed: bore shut, the worst case.
enum class Parked { free, braked, closed };

/// The fan as an obstacle.
struct ParkedFan {
  double outer_diameter = unset;  ///< [m]
  double bore_diameter = unset;   ///< [m]
  double hub_diameter = unset;    ///< [m]
  Parked parked = Parked::braked;
};

/// Bracket arms crossing the stream that the mouth draws.
struct Struts {
  int count = 0;
  double width = unset;   ///< of one, across the stream [m]
  double length = unset;  ///< of one, inside the stream [m]
};

/// The running engine's inlet.
struct RunningInlet {
  double throat_diameter = unset;        ///< [m]
  double mouth_diameter = unset;         ///< [m]
  double mass_flow = unset;              ///< running [kg/s]
  double nozzle_pressure_ratio = unset;  ///< of the exhaust nozzle [-]; unset: coefficient
};

/// Everything that does not change with the stand-off; copying it allocates nothing.
struct Prepared {
  double throat_diameter = unset;   ///< [m]
  double throat_area = unset;       ///< [m^2]
  double throat_head = unset;       ///< rho V^2/2 at the throat's static density [Pa]
  double throat_mach = unset;       ///< [-]
  bool choked = false;              ///< the throat cannot pass the running flow
  double ambient_pressure = unset;  ///< [Pa]
  double mouth_radius = unset;      ///< [m]
  double obstacle_radius = unset;   ///< [m]
  double bore_coefficient = unset;  ///< through the fan, on the throat's head; infinity: closed [-]
  double strut_coefficient = 0.0;   ///< on the throat's head, at h = 0; falls with distance [-]
  double guard_pressure_loss = 0.0;  ///< [Pa]
  double curtain_loss = unset;       ///< [-]
  double curtain_reach = unset;      ///< [m]
  double thrust_per_pressure =
      unset;             ///< relative thrust lost per relative total pressure lost [-]
  bool present = true;   ///< false: nothing stands in front
  bool in_range = true;  ///< false: a handbook value was held at its table's end
};

/// @throws std::logic_error if a needed field is unset or out of sense.
[[nodiscard]] Prepared prepare(const RunningInlet& inlet,
                               const ParkedFan* fan,
                               const Struts& struts,
                               const Guard& guard,
                               const air::Ambient& ambient,
                               const Coefficients& c,
                               const air::Coefficients& a);

/// What stands in front costs this much.
struct Obstruction {
  double coefficient = unset;          ///< of fan and struts, on the throat's head [-]
  double curtain_coefficient = unset;  ///< of the gap alone, bore shut [-]
  double bore_share = unset;           ///< of the flow that comes through the fan [-]
  double total_pressure_loss = unset;  ///< of fan and struts [Pa]
  double running_loss = unset;         ///< the same over ambient pressure [-]
  double airflow_loss = unset;         ///< lost over running airflow [-]
  double thrust_loss = unset;          ///< lost over running thrust [-]
  double guard_pressure_loss = unset;  ///< there at any distance, not in the losses above [Pa]
};

/// Loss at a stand-off [m] (Eqs. 5 to 9): monotone falling, finite at 0 if the fan's bore is open.
[[nodiscard]] Obstruction obstruct(const Prepared& inlet, double stand_off);

}  // namespace windgap::blockage
