#pragma once

#include "units/table.h"

/// Handbook and estimated values of the spark model, filled from models/physics/spark.yaml.
namespace windgap::spark {

/// Breakdown of an air gap; filled from models/physics/spark.yaml.
struct GapCoefficients {
  double reference_pressure = unset;     ///< at which the relative density is 1 [Pa]
  double reference_temperature = unset;  ///< the same [K]
  double uniform_field = unset;          ///< slope of the uniform-field form [V/m]
  double uniform_root = unset;           ///< its square-root term [V/m^0.5]
  double paschen_a = unset;              ///< saturated ionization [1/(Pa m)]
  double paschen_b = unset;              ///< excitation and ionization [V/(Pa m)]
  double paschen_gamma = unset;          ///< secondary electrons for each ion [-]
  double paschen_join = unset;           ///< pressure times gap where the two forms meet [Pa m]
  double minimum_voltage = unset;        ///< no gap breaks down below it [V]
  double minimum_product = unset;        ///< pressure times gap at that minimum [Pa m]
  double longest_gap = unset;            ///< checked length times relative density [m]
  double lowest_density = unset;         ///< relative density, lower end of the checked range [-]
  double highest_density = unset;        ///< the same, upper end [-]
  double shape_edged = unset;            ///< sharp-edged plug over a uniform field [-]
  double shape_worn = unset;             ///< rounded plug over a uniform field [-]
  double shape_points = unset;           ///< needle points, long gap, over a uniform field [-]
  double points_length = unset;          ///< over which the points' factor falls to that [m]
};

/// Calls v(key, field) for every coefficient of the gap, in the order of the YAML file.
template <class Visitor>
void visit(GapCoefficients& c, Visitor&& v) {
  v("reference_pressure", c.reference_pressure);
  v("reference_temperature", c.reference_temperature);
  v("uniform_field", c.uniform_field);
  v("uniform_root", c.uniform_root);
  v("paschen_a", c.paschen_a);
  v("paschen_b", c.paschen_b);
  v("paschen_gamma", c.paschen_gamma);
  v("paschen_join", c.paschen_join);
  v("minimum_voltage", c.minimum_voltage);
  v("minimum_product", c.minimum_product);
  v("longest_gap", c.longest_gap);
  v("lowest_density", c.lowest_density);
  v("highest_density", c.highest_density);
  v("shape_edged", c.shape_edged);
  v("shape_worn", c.shape_worn);
  v("shape_points", c.shape_points);
  v("points_length", c.points_length);
}

/// The sources; filled from models/physics/spark.yaml.
struct SourceCoefficients {
  double burning_voltage = unset;        ///< across the plug while a weak current flows [V]
  double coil_efficiency = unset;        ///< spark energy over energy put in, unless given [-]
  double secondary_capacitance = unset;  ///< winding, lead and plug, unless given [F]
  double fast_rise = unset;              ///< breakdown in a steep pulse over a slow one [-]
  double rating_share = unset;           ///< of a rating, above it a caution [-]
  double alternating_share = unset;      ///< alternating peak over direct rating [-]
  double xray_voltage = unset;           ///< up to it X-rays are no issue [V]
  double highest_voltage = unset;        ///< beyond it a source is refused [V]
  double highest_energy = unset;         ///< stored for one spark, beyond it refused [J]
  double mains_current = unset;          ///< of a usual circuit [A]
  double mains_power = unset;            ///< of the same [W]
  double battery_current = unset;        ///< mean, above it a caution [A]
  double coil_heat = unset;              ///< mean, left in a coil and its switch, the same [W]
  double low_voltage = unset;            ///< rms, beyond it no feed is a low-voltage one [V]
};

/// Calls v(key, field) for every coefficient of the sources, in the order of the YAML file.
template <class Visitor>
void visit(SourceCoefficients& c, Visitor&& v) {
  v("burning_voltage", c.burning_voltage);
  v("coil_efficiency", c.coil_efficiency);
  v("secondary_capacitance", c.secondary_capacitance);
  v("fast_rise", c.fast_rise);
  v("rating_share", c.rating_share);
  v("alternating_share", c.alternating_share);
  v("xray_voltage", c.xray_voltage);
  v("highest_voltage", c.highest_voltage);
  v("highest_energy", c.highest_energy);
  v("mains_current", c.mains_current);
  v("mains_power", c.mains_power);
  v("battery_current", c.battery_current);
  v("coil_heat", c.coil_heat);
  v("low_voltage", c.low_voltage);
}

/// A liquid fuel; filled from models/physics/spark.yaml.
struct LiquidFuel {
  double flash_point = unset;      ///< unless given [K]
  double density = unset;          ///< [kg/m^3]
  double transfer_number = unset;  ///< of its burning drops [-]
};

/// Ignition; filled from models/physics/spark.yaml.
struct IgnitionCoefficients {
  double ignition_pressure = unset;         ///< at which energies and distances were measured [Pa]
  double ignition_temperature = unset;      ///< the same [K]
  double propane_energy = unset;            ///< least spark energy, best mixture at rest [J]
  double propane_quench = unset;            ///< quench distance, the same mixture [m]
  double vapour_quench = unset;             ///< of kerosene or diesel vapour [m]
  double quench_pressure_exponent = unset;  ///< of the distance, over pressure [-]
  double quench_temperature_exponent = unset;  ///< of the distance, over temperature [-]
  double velocity_growth = unset;              ///< of the energy, for each m/s of gas speed [s/m]
  double highest_velocity = unset;             ///< end of the range that growth is meant for [m/s]
  double vapour_cold_offset = unset;           ///< fuel temperature less flash point, cold end [K]
  double vapour_cold_energy = unset;           ///< needed there by the vapour [J]
  double vapour_warm_offset = unset;           ///< the same, warm end [K]
  double vapour_warm_energy = unset;           ///< needed there and above [J]
  double vapour_pressure = unset;              ///< absolute, of that test [Pa]
  double vapour_slope = unset;                 ///< d ln(vapour pressure)/dT of the fuel [1/K]
  LiquidFuel kerosene;
  LiquidFuel diesel;
  double mist_heat = unset;       ///< specific heat of the heated air [J/(kg K)]
  double mist_rise = unset;       ///< of temperature to a flame [K]
  double gas_constant = unset;    ///< of air [J/(kg K)]
  double cathode_share = unset;   ///< of the spark's energy, lost to the electrodes [-]
  double energy_margin = unset;   ///< wanted, energy in the gas over the least [-]
  double voltage_margin = unset;  ///< wanted, available over required less one [-]
  double least_rate = unset;      ///< fewer sparks may miss the mixture [1/s]
};

/// Calls v(key, field) for every coefficient of ignition, in the order of the YAML file.
template <class Visitor>
void visit(IgnitionCoefficients& c, Visitor&& v) {
  v("ignition_pressure", c.ignition_pressure);
  v("ignition_temperature", c.ignition_temperature);
  v("propane_energy", c.propane_energy);
  v("propane_quench", c.propane_quench);
  v("vapour_quench", c.vapour_quench);
  v("quench_pressure_exponent", c.quench_pressure_exponent);
  v("quench_temperature_exponent", c.quench_temperature_exponent);
  v("velocity_growth", c.velocity_growth);
  v("highest_velocity", c.highest_velocity);
  v("vapour_cold_offset", c.vapour_cold_offset);
  v("vapour_cold_energy", c.vapour_cold_energy);
  v("vapour_warm_offset", c.vapour_warm_offset);
  v("vapour_warm_energy", c.vapour_warm_energy);
  v("vapour_pressure", c.vapour_pressure);
  v("vapour_slope", c.vapour_slope);
  v("kerosene_flash_point", c.kerosene.flash_point);
  v("kerosene_density", c.kerosene.density);
  v("kerosene_transfer_number", c.kerosene.transfer_number);
  v("diesel_flash_point", c.diesel.flash_point);
  v("diesel_density", c.diesel.density);
  v("diesel_transfer_number", c.diesel.transfer_number);
  v("mist_heat", c.mist_heat);
  v("mist_rise", c.mist_rise);
  v("gas_constant", c.gas_constant);
  v("cathode_share", c.cathode_share);
  v("energy_margin", c.energy_margin);
  v("voltage_margin", c.voltage_margin);
  v("least_rate", c.least_rate);
}

/// A time or a share for each dielectric.
struct ByDielectric {
  double film = unset;
  double ceramic = unset;
  double paper_oil = unset;
  double electrolytic = unset;
};

/// Ratings of one resistor as sold.
struct ResistorRating {
  double voltage = unset;  ///< [V]
  double power = unset;    ///< [W]
};

/// Stored charge; filled from models/physics/spark.yaml.
struct ChargeCoefficients {
  double safe_voltage = unset;            ///< harmless to touch, direct voltage [V]
  double safe_time = unset;               ///< after switch-off, to be below it [s]
  double safe_charge = unset;             ///< alternative limit up to charge_limit_voltage [C]
  double charge_limit_voltage = unset;    ///< above it an energy counts instead of the charge [V]
  double safe_energy = unset;             ///< that energy [J]
  double band_low_voltage = unset;        ///< upper end of the low band of the energy limits [V]
  double band_high_voltage = unset;       ///< lower end of their high band [V]
  double band_low_energy = unset;         ///< energy limit in the low band [J]
  double band_middle_energy = unset;      ///< in the middle band [J]
  double band_high_energy = unset;        ///< in the high band [J]
  double lethal_energy = unset;           ///< generally taken as able to kill [J]
  ByDielectric leakage;                   ///< self-discharge time constant [s]
  double leakage_range = unset;           ///< it is known within, up or down, as a factor [-]
  ByDielectric absorption;                ///< voltage that comes back after a short, share [-]
  double lamp_cold_temperature = unset;   ///< filament before the discharge [K]
  double lamp_hot_temperature = unset;    ///< filament at rated voltage [K]
  double lamp_limit_temperature = unset;  ///< filament above it is likely to fail [K]
  double lamp_overvoltage = unset;        ///< crest it bears over its rated one [-]
  double lamp_string_voltage = unset;     ///< that a string's holders and leads bear [V]
  double tungsten_resistivity = unset;    ///< at the hot temperature [Ohm m]
  double tungsten_exponent = unset;       ///< of resistance over absolute temperature [-]
  double tungsten_emissivity = unset;     ///< total, at the hot temperature [-]
  double coiled_share = unset;            ///< of the wire's surface that radiates once coiled [-]
  double tungsten_density = unset;        ///< [kg/m^3]
  double tungsten_heat = unset;           ///< specific heat, mean over the rise [J/(kg K)]
  ResistorRating small_resistor;          ///< a common film resistor
  ResistorRating tall_resistor;           ///< one made for high voltage
  ResistorRating cased_resistor;          ///< a wirewound one in a metal case
  double resistor_most = unset;           ///< in one chain that is still sensible [-]
  double resistor_share = unset;          ///< of both ratings to be used [-]
  double resistor_tolerance = unset;      ///< of one resistor's value, one side [-]
  double overload_voltage = unset;        ///< of the short overload test, over the rated one [-]
  double overload_time = unset;           ///< length of that test [s]
  double bleeder_loss = unset;            ///< peak voltage that a permanent bleeder may cost [-]
  double bleeder_highest = unset;         ///< chain above it leaks more over its surface [Ohm]
  double neon_dark_voltage = unset;       ///< a small neon lamp may go dark there [V]
  double neon_highest_voltage = unset;    ///< a plain one with its resistor is fitted up to it [V]
};

/// Calls v(key, field) for every coefficient of the stored charge, in the order of the YAML file.
template <class Visitor>
void visit(ChargeCoefficients& c, Visitor&& v) {
  v("safe_voltage", c.safe_voltage);
  v("safe_time", c.safe_time);
  v("safe_charge", c.safe_charge);
  v("charge_limit_voltage", c.charge_limit_voltage);
  v("safe_energy", c.safe_energy);
  v("band_low_voltage", c.band_low_voltage);
  v("band_high_voltage", c.band_high_voltage);
  v("band_low_energy", c.band_low_energy);
  v("band_middle_energy", c.band_middle_energy);
  v("band_high_energy", c.band_high_energy);
  v("lethal_energy", c.lethal_energy);
  v("leakage_film", c.leakage.film);
  v("leakage_ceramic", c.leakage.ceramic);
  v("leakage_paper_oil", c.leakage.paper_oil);
  v("leakage_electrolytic", c.leakage.electrolytic);
  v("leakage_range", c.leakage_range);
  v("absorption_film", c.absorption.film);
  v("absorption_ceramic", c.absorption.ceramic);
  v("absorption_paper_oil", c.absorption.paper_oil);
  v("absorption_electrolytic", c.absorption.electrolytic);
  v("lamp_cold_temperature", c.lamp_cold_temperature);
  v("lamp_hot_temperature", c.lamp_hot_temperature);
  v("lamp_limit_temperature", c.lamp_limit_temperature);
  v("lamp_overvoltage", c.lamp_overvoltage);
  v("lamp_string_voltage", c.lamp_string_voltage);
  v("tungsten_resistivity", c.tungsten_resistivity);
  v("tungsten_exponent", c.tungsten_exponent);
  v("tungsten_emissivity", c.tungsten_emissivity);
  v("coiled_share", c.coiled_share);
  v("tungsten_density", c.tungsten_density);
  v("tungsten_heat", c.tungsten_heat);
  v("resistor_voltage", c.small_resistor.voltage);
  v("resistor_power", c.small_resistor.power);
  v("tall_resistor_voltage", c.tall_resistor.voltage);
  v("tall_resistor_power", c.tall_resistor.power);
  v("cased_resistor_voltage", c.cased_resistor.voltage);
  v("cased_resistor_power", c.cased_resistor.power);
  v("resistor_most", c.resistor_most);
  v("resistor_share", c.resistor_share);
  v("resistor_tolerance", c.resistor_tolerance);
  v("overload_voltage", c.overload_voltage);
  v("overload_time", c.overload_time);
  v("bleeder_loss", c.bleeder_loss);
  v("bleeder_highest", c.bleeder_highest);
  v("neon_dark_voltage", c.neon_dark_voltage);
  v("neon_highest_voltage", c.neon_highest_voltage);
}

struct Coefficients {
  GapCoefficients gap;
  SourceCoefficients source;
  IgnitionCoefficients ignition;
  ChargeCoefficients charge;
};

/// Calls v(key, field) for every coefficient, in the order of the YAML file.
template <class Visitor>
void visit(Coefficients& c, Visitor&& v) {
  visit(c.gap, v);
  visit(c.source, v);
  visit(c.ignition, v);
  visit(c.charge, v);
}

}  // namespace windgap::spark
