#pragma once

#include <array>
#include <cstddef>
#include <string_view>

#include "units/table.h"

/// What the parts of an engine are made of.
namespace windgap::cooling {

enum class Material { iron, steel, stainless, nickel_alloy, aluminium };
inline constexpr std::size_t material_count = 5;

[[nodiscard]] std::string_view name(Material material);

/// Tables run over temperature [K].
struct MaterialData {
  double density = unset;  ///< [kg/m^3]
  Table conductivity;      ///< [W/(m K)]
  Table specific_heat;     ///< [J/(kg K)]
  Table emissivity;        ///< total, of a surface that has been hot in air before [-]
};

/// Filled from models/physics/materials.yaml.
struct Materials {
  std::array<MaterialData, material_count> data;
  [[nodiscard]] const MaterialData& operator[](Material m) const {
    return data[static_cast<std::size_t>(m)];
  }
  [[nodiscard]] MaterialData& operator[](Material m) { return data[static_cast<std::size_t>(m)]; }
};

/// Calls v(key, field) for every value, in the order of the YAML file.
template <class Visitor>
void visit(Materials& m, Visitor&& v) {
  v("iron_density", m[Material::iron].density);
  v("iron_conductivity", m[Material::iron].conductivity);
  v("iron_specific_heat", m[Material::iron].specific_heat);
  v("iron_emissivity", m[Material::iron].emissivity);
  v("steel_density", m[Material::steel].density);
  v("steel_conductivity", m[Material::steel].conductivity);
  v("steel_specific_heat", m[Material::steel].specific_heat);
  v("steel_emissivity", m[Material::steel].emissivity);
  v("stainless_density", m[Material::stainless].density);
  v("stainless_conductivity", m[Material::stainless].conductivity);
  v("stainless_specific_heat", m[Material::stainless].specific_heat);
  v("stainless_emissivity", m[Material::stainless].emissivity);
  v("nickel_alloy_density", m[Material::nickel_alloy].density);
  v("nickel_alloy_conductivity", m[Material::nickel_alloy].conductivity);
  v("nickel_alloy_specific_heat", m[Material::nickel_alloy].specific_heat);
  v("nickel_alloy_emissivity", m[Material::nickel_alloy].emissivity);
  v("aluminium_density", m[Material::aluminium].density);
  v("aluminium_conductivity", m[Material::aluminium].conductivity);
  v("aluminium_specific_heat", m[Material::aluminium].specific_heat);
  v("aluminium_emissivity", m[Material::aluminium].emissivity);
}

/// Temperatures between which properties are tabulated [K]; the tables' end values hold outside.
inline constexpr double coldest_tabulated = 200.0;
inline constexpr double hottest_tabulated = 1400.0;

/// Specific heat and enthalpy of one material, quick to read: straight pieces of specific heat on
/// even steps of temperature, and their exact integral.
class HeatContent {
 public:
  HeatContent() = default;
  explicit HeatContent(const Table& specific_heat);

  [[nodiscard]] double specific_heat(double temperature) const noexcept;  ///< [J/(kg K)]
  /// Over `coldest_tabulated` [J/kg].
  [[nodiscard]] double enthalpy(double temperature) const noexcept;

 private:
  static constexpr std::size_t steps_ = 48;
  static constexpr double step_ = (hottest_tabulated - coldest_tabulated) / steps_;
  std::array<double, steps_ + 1> heat_{};
  std::array<double, steps_ + 1> enthalpy_{};
};

}  // namespace windgap::cooling
