#include "cooling/network.h"

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "engine/rotor.h"

namespace windgap::cooling {
namespace {

constexpr double pi = std::numbers::pi;

double square(double x) { return x * x; }
double disc(double diameter) { return pi * square(diameter) / 4.0; }

/// Flame tube and case from the combustor's areas and volume.
struct Can {
  double case_diameter = unset;  ///< [m]
  double tube_diameter = unset;  ///< [m]
  double length = unset;         ///< of the tube [m]
};

Can can(const engine::Engine& engine, const engine::CombustorCoefficients& k) {
  const auto& b = engine.combustor;
  const double tube_area = k.tube_area_ratio * b.reference_area;
  return {.case_diameter = std::sqrt(4.0 * b.reference_area / pi),
          .tube_diameter = std::sqrt(4.0 * tube_area / pi),
          .length = b.volume / tube_area};
}

double tube_area(const Can& can) { return pi * can.tube_diameter * can.length; }
double case_area(const Can& can) {
  return pi * can.case_diameter * can.length + 2.0 * disc(can.case_diameter);
}

double turbine_rotor_mass(const engine::Engine& engine, const engine::EngineCoefficients& e) {
  const double r2 = 0.5 * engine.compressor.exducer_diameter;
  return engine::rotor_mass(engine, e) -
         e.compressor_wheel_mass * e.compressor_wheel_density * r2 * r2 * r2;
}

constexpr PerPart<Material> usual_material{Material::nickel_alloy,
                                           Material::iron,
                                           Material::stainless,
                                           Material::iron,
                                           Material::aluminium,
                                           Material::stainless,
                                           Material::steel};

double positive(double value, const char* what) {
  if (!(value > 0.0) || !std::isfinite(value)) {
    throw std::logic_error(std::string("heat network: ") + what + " must be positive");
  }
  return value;
}

double in_series(double a, double b) { return a * b / (a + b); }

/// Dimensions that several paths share.
struct Sizes {
  double wheel = unset;      ///< turbine inducer diameter [m]
  double exducer = unset;    ///< compressor exducer diameter [m]
  double shaft = unset;      ///< diameter [m]
  double throat = unset;     ///< scroll's section [m^2]
  double thickness = unset;  ///< of the case's wall [m]
  Can can;
};

Sizes sizes(const engine::Engine& engine, const engine::Coefficients& e, const Coefficients& c) {
  const auto& b = engine.bearings;
  const double wheel = positive(engine.turbine.inducer_diameter, "turbine inducer diameter");
  return {.wheel = wheel,
          .exducer = positive(engine.compressor.exducer_diameter, "compressor exducer diameter"),
          .shaft = positive(b.kind == engine::BearingKind::journal
                                ? b.journal_diameter
                                : e.engine.ball_shaft_share * b.ball_mean_diameter,
                            "shaft diameter"),
          .throat = positive(engine.turbine.volute_area_over_radius, "turbine A/R") *
                    c.volute_radius * 0.5 * wheel,
          .thickness = c.casing_thickness,
          .can = can(engine, e.combustor)};
}

/// Conductivities and emissivities at the temperature at which soak-back happens, half way
/// between a hot and a cold part, so that one number serves the whole cooling.
struct At {
  const Build& build;
  const Materials& materials;
  double temperature;
  [[nodiscard]] const MaterialData& data(Part p) const {
    return materials[*build.material[index(p)]];
  }
  [[nodiscard]] double conductivity(Part p) const {
    return interpolate(data(p).conductivity, temperature);
  }
  [[nodiscard]] double emissivity(Part p) const {
    return interpolate(data(p).emissivity, temperature);
  }
};

double exchange(const At& at, Part inner, Part outer, double area_ratio) {
  return enclosure_exchange({.inner_emissivity = at.emissivity(inner),
                             .outer_emissivity = at.emissivity(outer),
                             .area_ratio = area_ratio});
}

void set_links(Network& n, const Sizes& s, const At& at, const Coefficients& c, double contact) {
  const double half = 0.5 * c.centre_length * s.exducer;
  const double volume = n.mass[index(Part::centre_housing)] / at.data(Part::centre_housing).density;
  const double neck = at.conductivity(Part::centre_housing) * volume / (2.0 * half) / half;
  const double shield = c.heat_shield_area * square(s.wheel);
  const double seat = pi * c.flange_diameter * s.wheel * c.seat_width * s.wheel * contact;
  const double flange = pi * c.flange_diameter * s.wheel * c.flange_width * s.wheel * contact;
  const double backplate = pi * s.exducer * c.backplate_width * s.exducer * contact;
  const double shroud = c.wheel_shroud_area * square(s.wheel);
  const double pipe = std::sqrt(4.0 * s.throat / pi);
  const double ratio = s.can.tube_diameter / s.can.case_diameter;
  n.links = {{
      {.from = Part::rotor,
       .to = Part::heat_shield,
       .gap = disc(s.wheel) / c.wheel_gap,
       .radiation = disc(s.wheel) * exchange(at, Part::rotor, Part::heat_shield, 1.0)},
      {.from = Part::rotor,
       .to = Part::turbine_housing,
       .gap = shroud / c.wheel_gap,
       .radiation = shroud * exchange(at, Part::rotor, Part::turbine_housing, 1.0)},
      {.from = Part::rotor,
       .to = Part::centre_housing,
       .conductance = at.conductivity(Part::rotor) * disc(s.shaft) / (c.shaft_length * s.exducer)},
      {.from = Part::turbine_housing, .to = Part::heat_shield, .conductance = seat},
      {.from = Part::heat_shield,
       .to = Part::centre_housing,
       .conductance = in_series(seat, neck),
       .radiation = shield * exchange(at, Part::heat_shield, Part::centre_housing, 1.0)},
      {.from = Part::turbine_housing,
       .to = Part::centre_housing,
       .conductance = in_series(flange, neck)},
      {.from = Part::casing,
       .to = Part::turbine_housing,
       .conductance = at.conductivity(Part::casing) * pi * pipe * s.thickness /
                      (c.transfer_length * s.can.case_diameter)},
      {.from = Part::centre_housing,
       .to = Part::compressor,
       .conductance = in_series(backplate, neck)},
      {.from = Part::liner,
       .to = Part::casing,
       .gap = 2.0 * pi * s.can.length / std::log(1.0 / ratio),
       .radiation = tube_area(s.can) * exchange(at, Part::liner, Part::casing, ratio)},
  }};
  n.bearing_resistance = c.bearing_depth / neck;
}

void set_outside(Network& n, const Sizes& s, const At& at, const Coefficients& c) {
  const auto set = [&](Part p, double area, double diameter) {
    n.outside[index(p)] = {.area = area, .diameter = diameter, .emissivity = at.data(p).emissivity};
  };
  set(Part::turbine_housing, c.housing_outer_area * square(s.wheel), c.housing_diameter * s.wheel);
  set(Part::centre_housing, c.centre_outer_area * square(s.exducer), c.centre_diameter * s.exducer);
  set(Part::compressor,
      c.compressor_outer_area * square(s.exducer),
      c.compressor_diameter * s.exducer);
  set(Part::casing, case_area(s.can), s.can.case_diameter);
}

void set_passages(Network& n, const Sizes& s, const engine::Engine& engine, const Coefficients& c) {
  const auto& can = s.can;
  const double inducer = engine.compressor.inducer_diameter;
  n.compressor = {.area = c.compressor_inner_area * square(s.exducer),
                  .diameter = inducer,
                  .section = disc(inducer),
                  .enhancement = c.scroll_enhancement};
  n.annulus = {.area = tube_area(can),
               .diameter = can.case_diameter - can.tube_diameter,
               .section = disc(can.case_diameter) - disc(can.tube_diameter),
               .enhancement = c.combustor_enhancement,
               .flow_share = c.combustor_flow_share};
  n.casing_area = case_area(can);
  n.tube = {.area = tube_area(can),
            .diameter = can.tube_diameter,
            .section = disc(can.tube_diameter),
            .enhancement = c.combustor_enhancement,
            .flow_share = c.combustor_flow_share};
  n.scroll = {.area = c.housing_inner_area * square(s.wheel),
              .diameter = std::sqrt(4.0 * s.throat / pi),
              .section = s.throat,
              .enhancement = c.scroll_enhancement};
  const auto& t = engine.turbine;
  n.wheel = {.area = c.wheel_area * square(s.wheel),
             .diameter = c.wheel_passage * s.wheel,
             .section = (disc(t.exducer_diameter) - disc(t.exducer_hub_diameter)) *
                        std::cos(t.exit_blade_angle),
             .enhancement = 1.0};
}

/// Volume over all wetted and outer surface is half a wall's thickness.
void set_half_walls(Network& n, const Sizes& s, const At& at, const Coefficients& c) {
  const auto set = [&](Part p, double area) {
    const double volume = n.mass[index(p)] / at.data(p).density;
    n.half_wall[index(p)] = volume / area / at.conductivity(p);
  };
  set(Part::rotor, n.wheel.area);
  set(Part::turbine_housing, n.scroll.area + n.outside[index(Part::turbine_housing)].area);
  set(Part::heat_shield, 2.0 * c.heat_shield_area * square(s.wheel));
  set(Part::centre_housing,
      n.outside[index(Part::centre_housing)].area + c.oil_wetted_area * square(s.exducer));
  set(Part::compressor, n.compressor.area + n.outside[index(Part::compressor)].area);
  set(Part::liner, n.annulus.area + n.tube.area);
  set(Part::casing, 2.0 * n.casing_area);
}

}  // namespace

std::string_view name(Part part) {
  constexpr PerPart<std::string_view> names{
      "rotor", "turbine_housing", "heat_shield", "centre_housing", "compressor", "liner", "casing"};
  return names[index(part)];
}

std::vector<Assumed> fill_fallbacks(Build& build,
                                    const engine::Engine& engine,
                                    const engine::Coefficients& e,
                                    const Coefficients& c,
                                    const Materials& materials) {
  if (engine.resistance) throw std::logic_error("a resistance has no parts to cool");
  std::vector<Assumed> assumed;
  const auto density = [&](Part p) { return materials[*build.material[index(p)]].density; };
  for (std::size_t i = 0; i < part_count; ++i) {
    if (!build.material[i]) build.material[i] = usual_material[i];
  }
  const auto fill = [&](Part p, double value, const char* why) {
    double& field = build.mass[index(p)];
    if (!std::isnan(field)) return;
    field = value;
    assumed.push_back(
        {.field = std::string("cooling.mass.") + std::string(name(p)), .value = value, .why = why});
  };
  const double wheel = engine.turbine.inducer_diameter;
  const double exducer = engine.compressor.exducer_diameter;
  const auto cube = [](double x) { return x * x * x; };
  const Can k = can(engine, e.combustor);
  fill(Part::rotor, turbine_rotor_mass(engine, e.engine), "rotor less the compressor's wheel");
  fill(Part::turbine_housing,
       c.turbine_housing_mass * density(Part::turbine_housing) * cube(wheel),
       "usual housing of that wheel (turbine_housing_mass)");
  fill(Part::heat_shield,
       c.heat_shield_area * square(wheel) * c.heat_shield_thickness * density(Part::heat_shield),
       "usual sheet (heat_shield_thickness)");
  fill(Part::centre_housing,
       c.centre_housing_mass * density(Part::centre_housing) * cube(exducer),
       "usual housing of that wheel (centre_housing_mass)");
  fill(Part::compressor,
       c.compressor_mass * density(Part::compressor) * cube(exducer),
       "usual housing of that wheel (compressor_mass)");
  fill(Part::liner,
       tube_area(k) * c.liner_thickness * density(Part::liner),
       "usual sheet (liner_thickness)");
  fill(Part::casing,
       case_area(k) * c.casing_thickness * density(Part::casing),
       "usual tube (casing_thickness)");
  if (std::isnan(build.contact_conductance)) {
    build.contact_conductance = c.contact_conductance;
    assumed.push_back({.field = "cooling.contact_conductance",
                       .value = c.contact_conductance,
                       .why = "clamped dry joints (contact_conductance)"});
  }
  return assumed;
}

Network prepare_network(const Build& build,
                        const engine::Engine& engine,
                        const engine::Coefficients& e,
                        const Coefficients& c,
                        const Materials& materials,
                        const air::Ambient& ambient,
                        const air::Coefficients& air) {
  Network n;
  n.ambient = ambient;
  n.air = air;
  n.coefficients = c;
  for (std::size_t i = 0; i < part_count; ++i) {
    if (!build.material[i]) throw std::logic_error("heat network: a part has no material");
    n.mass[i] = positive(build.mass[i], "a part's mass");
    n.content[i] = HeatContent(materials[*build.material[i]].specific_heat);
  }
  const double contact = positive(build.contact_conductance, "contact conductance");
  const Sizes s = sizes(engine, e, c);
  const At at{build, materials, c.reference_temperature};
  set_links(n, s, at, c, contact);
  set_outside(n, s, at, c);
  set_passages(n, s, engine, c);
  set_half_walls(n, s, at, c);
  const auto& oil = engine.bearings.oil;
  n.oil_flow = positive(oil.mass_flow, "oil flow");
  n.oil_specific_heat = positive(oil.specific_heat, "the oil's specific heat");
  n.oil_temperature = positive(oil.inlet_temperature, "the oil's temperature");
  n.oil_conductance = c.oil_coefficient * c.oil_wetted_area * square(s.exducer);
  n.duct = duct_law(c.convection,
                    air::viscosity(air, ambient.temperature) *
                        air::specific_heat(air, ambient.temperature) /
                        air::conductivity(air, ambient.temperature));
  return n;
}

double stored_heat(const Network& n, const Temperatures& temperatures) {
  double heat = 0.0;
  for (std::size_t i = 0; i < part_count; ++i) {
    heat += n.mass[i] *
            (n.content[i].enthalpy(temperatures[i]) - n.content[i].enthalpy(n.ambient.temperature));
  }
  return heat;
}

}  // namespace windgap::cooling
