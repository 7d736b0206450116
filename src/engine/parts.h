#pragma once

#include <optional>
#include <string>
#include <vector>

#include "units/table.h"

/// The parts of a turbocharger engine as a person measures them. A field left `unset` is filled by
/// `fill_fallbacks` (engine/fallbacks.h) unless its comment says *needed*.
namespace windgap::engine {

/// The inlet mouth: bellmouth, lip or bare pipe end ahead of the inducer.
struct Mouth {
  double diameter = unset;         ///< largest opening of the lip [m]
  double lip_radius = unset;       ///< rounding of the lip; 0 is a bare edge [m]
  double face_diameter = unset;    ///< of the flange or flare around it [m]
  double throat_diameter = unset;  ///< narrowest bore, usually the inducer's [m]
};

struct Compressor {
  double inducer_diameter = unset;         ///< blade tip at the inlet [m], needed
  double inducer_hub_diameter = unset;     ///< nut or hub at the inlet [m]
  double exducer_diameter = unset;         ///< wheel tip [m], needed
  double tip_width = unset;                ///< blade height at the wheel tip [m]
  double blades = unset;                   ///< full blades [-]
  double splitters = unset;                ///< half-length blades [-]
  double backsweep = unset;                ///< blade from radial at the tip, against rotation [rad]
  double inducer_tip_angle = unset;        ///< blade from axial at the inducer tip [rad]
  double clearance = unset;                ///< blade to shroud at the wheel tip [m]
  double diffuser_diameter = unset;        ///< where the open diffuser ends [m]
  double volute_area_over_radius = unset;  ///< A/R of the compressor housing [m]
};

struct Turbine {
  double inducer_diameter = unset;         ///< wheel tip, where gas enters [m], needed
  double tip_width = unset;                ///< blade height there [m]
  double exducer_diameter = unset;         ///< blade tip at the outlet [m], needed
  double exducer_hub_diameter = unset;     ///< hub at the outlet [m]
  double blades = unset;                   ///< [-]
  double exit_blade_angle = unset;         ///< from axial at the outlet's mean radius [rad]
  double clearance = unset;                ///< blade to shroud at the outlet [m]
  double volute_area_over_radius = unset;  ///< A/R of the turbine housing [m], needed
};

struct Combustor {
  double reference_area = unset;     ///< largest cross-section of the case [m^2]
  double flame_holder_area = unset;  ///< open to the flow where the flame sits [m^2]
  double volume = unset;             ///< of the flame tube [m^3]
  double cold_loss_factor = unset;   ///< on the reference dynamic head [-]
  double hot_loss_factor = unset;    ///< on the same, for each unit of T4/T3 - 1 [-]
};

struct Exhaust {
  double area = unset;         ///< exit cross-section of pipe or nozzle [m^2]
  double loss_factor = unset;  ///< on the exit dynamic head, the head itself not counted [-]
};

enum class BearingKind { journal, ball };

/// One label point of an oil.
struct ViscosityPoint {
  double temperature = unset;          ///< [K]
  double kinematic_viscosity = unset;  ///< [m^2/s]
};

struct Oil {
  ViscosityPoint cold;               ///< usually 40 degC
  ViscosityPoint hot;                ///< usually 100 degC
  double density = unset;            ///< [kg/m^3]
  double specific_heat = unset;      ///< [J/(kg K)]
  double inlet_temperature = unset;  ///< as it enters the bearings [K]
  double mass_flow = unset;          ///< through all films together [kg/s]
};

struct Bearings {
  BearingKind kind = BearingKind::journal;
  double journal_diameter = unset;       ///< shaft in a journal [m]
  double journal_length = unset;         ///< of one inner film [m]
  double inner_clearance = unset;        ///< radial, shaft to ring [m]
  double outer_clearance = unset;        ///< radial, ring to housing [m]
  double ring_outer_diameter = unset;    ///< [m]
  double ring_outer_length = unset;      ///< [m]
  double thrust_inner_diameter = unset;  ///< of one thrust face [m]
  double thrust_outer_diameter = unset;  ///< [m]
  double thrust_film = unset;            ///< oil film on one thrust face [m]
  double ball_mean_diameter = unset;     ///< mean of bore and outside, ball bearings only [m]
  double ball_preload = unset;           ///< load on one ball bearing [N]
  Oil oil;
};

struct Rotor {
  double inertia = unset;  ///< polar [kg m^2]
  double mass = unset;     ///< [kg]
};

/// In place of the parts: mouth total pressure minus ambient = loss_factor x throat dynamic head.
struct Resistance {
  double throat_diameter = unset;  ///< [m]
  double loss_factor = unset;      ///< [-]
};

/// What one measured run changed, 1 where nothing was measured (engine/calibration.h).
struct Calibration {
  double turbine_area = 1.0;  ///< multiplies the turbine's A/R and outlet area [-]
  double friction = 1.0;      ///< multiplies the bearing drag [-]
};

/// One measured cold run. The total pressure is needed, and one or both of airflow and speed; a
/// static pressure at a wall tap in the throat stands for the airflow.
struct Measurement {
  double total_pressure = unset;          ///< gauge, just ahead of the inducer [Pa]
  double throat_static_pressure = unset;  ///< gauge, wall tap in the mouth's throat [Pa]
  double mass_flow = unset;               ///< [kg/s]
  double speed = unset;                   ///< [rad/s]
};

struct Engine {
  std::string name;
  Mouth mouth;
  Compressor compressor;
  Combustor combustor;
  Turbine turbine;
  Exhaust exhaust;
  Bearings bearings;
  Rotor rotor;
  double design_tip_speed = unset;       ///< compressor tip at full speed [m/s]
  std::optional<Resistance> resistance;  ///< when set, nothing but the mouth is read besides it
  Measurement measured;                  ///< the run that `calibration` was found from; unset: none
  Calibration calibration;
};

}  // namespace windgap::engine
