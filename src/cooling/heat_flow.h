#pragma once

#include <array>
#include <optional>

#include "cooling/network.h"
#include "cooling/purge_flow.h"

/// Where the heat goes at one moment, under one condition. Numbers in the comments are the
/// equations of models/cooling.md.
namespace windgap::cooling {

enum class Pump { off, on };

/// The engine at load: its own air and fire (Eq. 16).
struct Fire {
  double airflow = unset;               ///< [kg/s]
  double delivery_temperature = unset;  ///< behind the compressor [K]
  double gas_temperature = unset;       ///< ahead of the turbine [K]
};

/// Loss of one part's outside, tabulated over the root of its excess temperature, finest near the
/// room's: natural convection with stray air, and radiation (Eqs. 1 to 3, 8).
struct OutsideLoss {
  static constexpr std::size_t steps = 64;
  std::array<double, steps + 1> convection{};  ///< [W]
  std::array<double, steps + 1> radiation{};   ///< [W]
};

/// What goes on around and inside the engine; constant while a course is followed.
struct Condition {
  std::optional<PurgeFlow> purge;  ///< air blown through
  std::optional<Fire> fire;
  Pump pump = Pump::off;
  PerPart<OutsideLoss> outside;
};

/// Nothing blown through.
[[nodiscard]] Condition standing(const Network& network, Pump pump);
[[nodiscard]] Condition purging(const Network& network, const PurgeFlow& purge, Pump pump);
[[nodiscard]] Condition running(const Network& network, const Fire& fire);

struct HeatFlows {
  PerPart<double> into{};              ///< net into each part [W]
  double to_air = 0.0;                 ///< carried off by what is blown through [W]
  double to_room_by_convection = 0.0;  ///< [W]
  double to_room_by_radiation = 0.0;   ///< [W]
  double to_oil = 0.0;                 ///< [W]
  double airflow = 0.0;                ///< [kg/s]
  double turbine_temperature = unset;  ///< of the air ahead of the turbine [K]
  double exit_temperature = unset;     ///< of the air behind it [K]
};

/// No allocation.
[[nodiscard]] HeatFlows heat_flows(const Network& network,
                                   const Condition& condition,
                                   const Temperatures& temperatures) noexcept;

/// The turbine-side bearing: hotter than its housing's middle by what flows in past it (Eq. 17).
[[nodiscard]] double bearing_temperature(const Network& network,
                                         const Temperatures& temperatures) noexcept;

/// Largest Biot number of any part with air blown through it [-] (Eq. 18).
[[nodiscard]] double largest_biot(const Network& network,
                                  const Condition& condition,
                                  const Temperatures& temperatures);

}  // namespace windgap::cooling
