#pragma once

#include <array>
#include <cstddef>

#include "air/air.h"
#include "engine/coefficients.h"
#include "engine/parts.h"
#include "units/table.h"

/// Flow through a turbocharger engine from standstill to full speed, cold and lit by the same
/// equations. Equations, sources, validity: models/engine.md (numbers in the comments are the
/// equations there); bearings: models/bearings.md.
///
/// `march` goes from the inducer to the exhaust for an assumed mass flow and speed; what pressure
/// is left over the room's says whether that flow is too small or too large. How a caller finds it:
///  - at standstill pressure_residual falls steadily with mass_flow, so the root is unique;
///  - at any speed pressure_residual is positive at mass_flow -> 0 (the wheel at shut-off never
///    loses pressure), so the *first* + to - crossing from zero flow is the root continued from
///    standstill with d(demand - supply)/dm > 0;
///  - the speed is the first + to - crossing of net_torque from rest, if the torque at rest exceeds
///    breakaway_torque.
/// The result is finite for every mass_flow >= 0 and speed >= 0, continuously differentiable up to
/// the first choked station and continuous beyond it.
namespace windgap::engine {

/// A throat with enthalpy loss coefficient K: constants of its flow function and of the polynomial
/// that inverts it (Eqs. 2 to 4).
struct Throat {
  double loss = 0.0;           ///< K on the throat's kinetic energy [-]
  double choke_speed = unset;  ///< over sqrt(2 cp T0) [-]
  double choke_flow = unset;   ///< flow function at choke [-]
  std::array<double, 7> shape{};
};

/// The same throat in gases of different cp/R.
struct ThroatFamily {
  static constexpr double first_exponent = 3.5;  ///< cp/R of cold air
  static constexpr double exponent_step = 0.5;
  std::array<Throat, 3> member;
  std::array<double, 3> choke_speed{};  ///< of the members, over the sonic speed [-]
  std::array<double, 3> choke_flow{};   ///< the same for the flow function [-]
};

struct PreparedCompressor {
  double tip_radius = unset;            ///< r2 [m]
  double inlet_radius = unset;          ///< r1, root mean square of the inducer [m]
  double inlet_area = unset;            ///< effective [m^2]
  double exit_area = unset;             ///< effective [m^2]
  double inlet_tangent = unset;         ///< tan of the blade angle at r1 [-]
  double exit_tangent = unset;          ///< tan of the backsweep [-]
  double slip = unset;                  ///< 1 - slip factor [-]
  double incidence_loss = unset;        ///< [-]
  double friction_loss = unset;         ///< on the mean relative head [-]
  double clearance_loss = unset;        ///< on the exit swirl squared [-]
  double diffuser_loss = unset;         ///< on the exit head [-]
  double per_diffuser_ratio = unset;    ///< tip over diffuser exit radius [-]
  double volute_ratio = unset;          ///< wheel exit area over that of the volute [-]
  double mixing_loss = unset;           ///< [-]
  double cone_loss = unset;             ///< [-]
  double disc_torque = unset;           ///< over density and speed squared [m^5]
  double reynolds_length = unset;       ///< [m]
  double reynolds_reference = unset;    ///< [-]
  double reynolds_fixed_share = unset;  ///< [-]
  double reynolds_exponent = unset;     ///< [-]
  double surge_swirl = unset;           ///< [-]
};

struct PreparedTurbine {
  double inlet_radius = unset;    ///< r3 [m]
  double outlet_radius = unset;   ///< r5, root mean square [m]
  double volute_area = unset;     ///< A_eff: mass flow over density and speed at r3 [m^2]
  double swirl_share = unset;     ///< c_theta3/c3 [-]
  double best_swirl = unset;      ///< over wheel speed at r3 [-]
  double outlet_area = unset;     ///< across the relative flow [m^2]
  double outlet_sine = unset;     ///< of the relative flow angle [-]
  double outlet_step = unset;     ///< axial speed less that in the exhaust, over relative speed [-]
  double inlet_loss = unset;      ///< of volute and wheel inlet, on the speed squared [-]
  double incidence_loss = unset;  ///< [-]
  double swirl_loss = unset;      ///< [-]
  double expansion_loss = unset;  ///< [-]
  double disc_torque = unset;     ///< over density and speed squared [m^5]
};

/// Bearing drag tabulated over the square root of the speed, where it starts flat and films that
/// warm up bend it least; cubic pieces with matched slopes.
struct DragTable {
  static constexpr std::size_t points = 33;
  double per_speed = unset;             ///< squared last index over the last speed [s/rad]
  std::array<double, points> torque{};  ///< [N m]
  std::array<double, points> slope{};   ///< by index [N m]
};

/// Everything the hot path needs; copying it allocates nothing.
struct Prepared {
  bool resistance_only = false;    ///< parts unknown, `resistance_area` and `resistance_loss` hold
  double resistance_area = unset;  ///< [m^2]
  double resistance_loss = unset;  ///< [-]
  PreparedCompressor compressor;
  double combustor_per_area_squared = unset;  ///< [1/m^4]
  double flame_holder_area = unset;           ///< [m^2]
  double combustor_cold_loss = unset;         ///< [-]
  double combustor_hot_loss = unset;          ///< [-]
  PreparedTurbine turbine;
  double exhaust_area = unset;  ///< [m^2]
  double exhaust_loss = unset;  ///< [-]
  Throat inducer_throat;
  ThroatFamily volute_throat;
  ThroatFamily outlet_throat;
  DragTable drag;
  double breakaway_torque = unset;  ///< [N m]
  double inertia = unset;           ///< [kg m^2]
  double lightoff_speed = unset;    ///< [rad/s]
  double design_speed = unset;      ///< [rad/s]
  air::Coefficients air;
};

/// @throws std::logic_error if a field needed here is unset or out of sense (fill_fallbacks first).
[[nodiscard]] Prepared prepare(const Engine& engine,
                               const Coefficients& c,
                               const air::Coefficients& air);

/// What is pushed through.
struct Flow {
  double mass_flow = unset;                ///< air [kg/s]
  double speed = unset;                    ///< of the rotor [rad/s]
  double inlet_total_pressure = unset;     ///< absolute, just ahead of the inducer [Pa]
  double inlet_total_temperature = unset;  ///< [K]
  double inlet_swirl = 0.0;  ///< radius times tangential speed, positive with the rotor [m^2/s]
  double turbine_inlet_temperature = 0.0;  ///< total [K]; at or below the compressor exit's: unlit
  double fuel_air_ratio = 0.0;             ///< burnt; read only when lit [-]
};

/// A station's total state.
struct Total {
  double pressure = 0.0;     ///< absolute [Pa]
  double temperature = 0.0;  ///< [K]
};

/// What the march found.
struct GasPath {
  double pressure_residual =
      unset;                       ///< exhaust exit static minus ambient [Pa]; > 0: more flow fits
  double compressor_torque = 0.0;  ///< of the gas on the rotor, disc friction included [N m]
  double turbine_torque = 0.0;     ///< the same [N m]
  Total compressor_exit;
  Total turbine_inlet;
  Total turbine_exit;
  double compressor_work = 0.0;        ///< given to the gas, disc friction left out [J/kg]
  double turbine_work = 0.0;           ///< taken from the gas, disc friction left out [J/kg]
  double inducer_velocity = 0.0;       ///< axial [m/s]
  double volute_velocity = 0.0;        ///< turbine volute, at the wheel's tip radius [m/s]
  double flame_holder_velocity = 0.0;  ///< cold, at the combustor's inlet state [m/s]
  double exhaust_velocity = 0.0;       ///< [m/s]
  double largest_choke_ratio = 0.0;    ///< highest of the stations' flow over its choked flow [-]
  bool choked = false;                 ///< largest_choke_ratio >= 1: this flow cannot pass
  bool exhaust_choked = false;         ///< sonic in the exhaust; more flow can still pass
  bool surge = false;                  ///< wheel exit flow too tangential for the diffuser
  bool lit = false;
};

/// Explicit march from inducer to exhaust (Eqs. 6 to 28). A resistance-only engine gives torques of
/// zero.
[[nodiscard]] GasPath march(const Prepared& engine,
                            const air::Ambient& ambient,
                            const Flow& flow) noexcept;

/// Bearing drag at a speed, oil films at their steady temperature [N m], >= 0, even in speed; 0 for
/// a resistance-only engine. Beyond the end of the table (tabulated_share times the design speed)
/// it goes on with the root of the speed.
[[nodiscard]] double bearing_torque(const Prepared& engine, double speed) noexcept;

/// Torque on the rotor that is left to turn it faster [N m].
[[nodiscard]] inline double net_torque(const Prepared& engine,
                                       const GasPath& path,
                                       double speed) noexcept {
  return path.compressor_torque + path.turbine_torque - bearing_torque(engine, speed);
}

}  // namespace windgap::engine
