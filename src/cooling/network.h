#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "air/air.h"
#include "cooling/coefficients.h"
#include "cooling/materials.h"
#include "cooling/purge_flow.h"
#include "engine/coefficients.h"
#include "engine/parts.h"
#include "units/assumed.h"

/// The hot engine as seven parts of one temperature each: how much heat flows between them, into
/// the air blown through, into the oil and into the room. Equations and sources: models/cooling.md
/// (numbers in the comments are the equations there).
namespace windgap::cooling {

enum class Part {
  rotor,  ///< turbine wheel and shaft
  turbine_housing,
  heat_shield,
  centre_housing,  ///< with the bearings
  compressor,      ///< housing, backplate and wheel
  liner,           ///< flame tube
  casing           ///< combustor case
};
inline constexpr std::size_t part_count = 7;

template <class T>
using PerPart = std::array<T, part_count>;
using Temperatures = PerPart<double>;  ///< [K]

[[nodiscard]] constexpr std::size_t index(Part part) { return static_cast<std::size_t>(part); }
[[nodiscard]] std::string_view name(Part part);

/// Parts a hand can reach.
inline constexpr std::array touchable{
    Part::turbine_housing, Part::centre_housing, Part::compressor, Part::casing};

/// What the case may say about the parts; what it leaves open comes from the engine's dimensions.
struct Build {
  PerPart<double> mass{unset, unset, unset, unset, unset, unset, unset};  ///< [kg]
  PerPart<std::optional<Material>> material{};
  double contact_conductance = unset;  ///< of the clamped joints [W/(m^2 K)]
};

/// Fills masses and materials and says so. The engine's own fallbacks must be filled.
/// @throws std::logic_error if the engine has no dimensions (only a resistance).
std::vector<Assumed> fill_fallbacks(Build& build,
                                    const engine::Engine& engine,
                                    const engine::Coefficients& e,
                                    const Coefficients& c,
                                    const Materials& materials);

/// Heat path between two parts (Eqs. 11 to 13).
struct Link {
  Part from = Part::rotor;
  Part to = Part::rotor;
  double conductance = 0.0;  ///< through metal and joint [W/K]
  double gap = 0.0;          ///< area over width of an air gap [m]
  double radiation = 0.0;    ///< over the difference of fourth powers [W/K^4]
};
inline constexpr std::size_t link_count = 9;

/// A part's outside in the room's air.
struct Outside {
  double area = 0.0;      ///< [m^2]; 0: covered
  double diameter = 0.0;  ///< as a horizontal cylinder [m]
  Table emissivity;
};

/// A wetted passage (Eqs. 4 to 7, 14).
struct Passage {
  double area = unset;         ///< wetted [m^2]
  double diameter = unset;     ///< hydraulic [m]
  double section = unset;      ///< across the flow [m^2]
  double enhancement = unset;  ///< of the smooth duct's coefficient [-]
  double flow_share = 1.0;     ///< of the whole flow, on average along it [-]
};

/// Everything the heat flows need.
struct Network {
  air::Ambient ambient;
  air::Coefficients air;
  Coefficients coefficients;
  PerPart<double> mass{};
  PerPart<HeatContent> content{};
  std::array<Link, link_count> links{};
  PerPart<Outside> outside{};
  Passage compressor;
  Passage annulus;  ///< between liner and case; `area` is the liner's outside
  double casing_area = unset;
  Passage tube;  ///< inside of the liner
  Passage scroll;
  Passage wheel;
  double bearing_resistance = unset;  ///< bearing to the centre housing's middle [K/W]
  double oil_flow = unset;            ///< [kg/s]
  double oil_specific_heat = unset;   ///< [J/(kg K)]
  double oil_temperature = unset;     ///< as it enters [K]
  double oil_conductance = unset;     ///< film coefficient times area [W/K]
  DuctLaw duct;                       ///< at the room's Prandtl number, held constant
  PerPart<double> half_wall{};        ///< half thickness over conductivity [m^2 K/W], for Biot
};

/// @throws std::logic_error if a field is unset or out of sense (fill_fallbacks first).
[[nodiscard]] Network prepare_network(const Build& build,
                                      const engine::Engine& engine,
                                      const engine::Coefficients& e,
                                      const Coefficients& c,
                                      const Materials& materials,
                                      const air::Ambient& ambient,
                                      const air::Coefficients& air);

/// Heat stored over the room's temperature [J] (Eq. 15).
[[nodiscard]] double stored_heat(const Network& network, const Temperatures& temperatures);

}  // namespace windgap::cooling
