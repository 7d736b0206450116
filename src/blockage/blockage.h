#pragma once

#include "air/air.h"
#include "blockage/inlet_loss.h"
#include "blockage/screen_loss.h"
#include "units/table.h"

/// What the parked fan, its bracket and the guard cost the running engine.
/// Equations and sources: models/blockage.md (numbers in the comments are the equations there).
namespace windgap::blockage {

/// Model coefficients, filled from models/physics/blockage.yaml.
struct Coefficients {
  Table rounded_flush;              ///< entry loss against lip radius over throat, in a wall
  Table rounded_free;               ///< the same, free-standing
  Table sharp_free;                 ///< entry loss against wall thickness over throat
  double flush_face = unset;        ///< width of a face ring, over throat, that acts as a wall [-]
  double quarter_share = unset;     ///< least part of a quarter circle that counts as one [-]
  Table wire_screen;                ///< beta against wire Reynolds number
  double wire_least_open = unset;   ///< open area, least [-]
  double wire_most_open = unset;    ///< open area, most [-]
  Table perforated_screen;          ///< K against open area
  double curtain_loss = unset;      ///< K_n on the curtain's dynamic head, close [-]
  double curtain_reach = unset;     ///< h0, where near field turns to far field, over throat [-]
  double bore_loss_free = unset;    ///< through the fan, on its annulus head, wheel free [-]
  double bore_loss_braked = unset;  ///< the same, wheel held [-]
  double strut_drag = unset;        ///< of a bracket arm, on its frontal area [-]
  double nozzle_pressure_ratio = unset;  ///< of the running engine, when not given [-]
  double nozzle_gamma = unset;           ///< ratio of specific heats of its exhaust [-]
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  v("rounded_flush", c.rounded_flush);
  v("rounded_free", c.rounded_free);
  v("sharp_free", c.sharp_free);
  v("flush_face", c.flush_face);
  v("quarter_share", c.quarter_share);
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
  double outer_diameter = unset;  ///< [m]; unset: the bore's
  double bore_diameter = unset;   ///< [m]; unused when closed, if the outer diameter is known
  double hub_diameter = 0.0;      ///< [m]
  Parked parked = Parked::braked;
};

/// Bracket arms that cross the gap between fan and mouth. Without a fan there are none.
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
  double ambient_pressure = unset;       ///< [Pa]
  double throat_area = unset;            ///< [m^2]
  double throat_head = unset;            ///< rho V^2/2 with the throat's static density [Pa]
  double throat_mach = unset;            ///< [-]
  bool choked = false;                   ///< the throat cannot pass the running flow
  double mouth_radius = unset;           ///< [m]
  double obstacle_radius = 0.0;          ///< [m]; 0: nothing stands there
  double bore_coefficient = unset;       ///< through the fan, on the throat's head; may be infinite
  double curtain_loss = unset;           ///< K_n [-]
  double curtain_reach = unset;          ///< [m]
  double strut_width = 0.0;              ///< drag coefficient x count x width [m]
  double strut_length = 0.0;             ///< [m]
  double guard_pressure_loss = 0.0;      ///< [Pa]
  double nozzle_pressure_ratio = unset;  ///< [-]
  double nozzle_exponent = unset;        ///< (gamma - 1)/gamma of the exhaust [-]
  bool in_range = true;                  ///< false: the guard is outside its handbook table
};

/// `fan` may be null: nothing stands in front.
/// @throws std::logic_error if something needed is unset or out of sense.
[[nodiscard]] Prepared prepare(const RunningInlet& inlet,
                               const ParkedFan* fan,
                               const Struts& struts,
                               const Guard& guard,
                               const air::Ambient& ambient,
                               const Coefficients& c,
                               const air::Coefficients& a);

/// What stands in front costs this much.
struct Obstruction {
  double coefficient = 0.0;          ///< of fan and bracket, on the throat's head [-]
  double curtain_coefficient = 0.0;  ///< of the gap alone, as if the bore were shut [-]
  double bore_share = 0.0;           ///< of the flow that comes through the fan [-]
  double total_pressure_loss = 0.0;  ///< of fan and bracket [Pa]
  double running_loss = 0.0;         ///< the same over ambient pressure [-]
  double airflow_loss = 0.0;         ///< lost over running airflow, at equal corrected speed [-]
  double thrust_loss = 0.0;          ///< lost over running thrust (Eq. 12) [-]
  double guard_pressure_loss = 0.0;  ///< there at any distance, not in the losses above [Pa]
};

/// Loss at a stand-off >= 0 [m] (Eqs. 5 to 12): falls with distance, finite at 0 unless the bore is
/// closed and the fan covers the mouth.
[[nodiscard]] Obstruction obstruct(const Prepared& inlet, double stand_off);

}  // namespace windgap::blockage
