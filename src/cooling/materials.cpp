#include "cooling/materials.h"

#include <algorithm>

namespace windgap::cooling {

std::string_view name(Material material) {
  constexpr std::array<std::string_view, material_count> names{
      "iron", "steel", "stainless", "nickel_alloy", "aluminium"};
  return names[static_cast<std::size_t>(material)];
}

HeatContent::HeatContent(const Table& specific_heat) {
  for (std::size_t i = 0; i <= steps_; ++i) {
    heat_[i] = interpolate(specific_heat, coldest_tabulated + step_ * static_cast<double>(i));
    if (i > 0) enthalpy_[i] = enthalpy_[i - 1] + 0.5 * step_ * (heat_[i - 1] + heat_[i]);
  }
}

double HeatContent::specific_heat(double temperature) const noexcept {
  const double place =
      std::clamp((temperature - coldest_tabulated) / step_, 0.0, static_cast<double>(steps_));
  const auto i = std::min(static_cast<std::size_t>(place), steps_ - 1);
  const double share = place - static_cast<double>(i);
  return heat_[i] + share * (heat_[i + 1] - heat_[i]);
}

double HeatContent::enthalpy(double temperature) const noexcept {
  if (temperature <= coldest_tabulated) {
    return heat_.front() * (temperature - coldest_tabulated);
  }
  if (temperature >= hottest_tabulated) {
    return enthalpy_.back() + heat_.back() * (temperature - hottest_tabulated);
  }
  const double place = (temperature - coldest_tabulated) / step_;
  const auto i = std::min(static_cast<std::size_t>(place), steps_ - 1);
  const double share = place - static_cast<double>(i);
  return enthalpy_[i] + step_ * share * (heat_[i] + 0.5 * share * (heat_[i + 1] - heat_[i]));
}

}  // namespace windgap::cooling
