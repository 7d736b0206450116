#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "rig/rig.h"
#include "spread/distribution.h"
#include "start/need.h"

/// Everything uncertain about one bench, and the rigs it might be (models/spread.md).
namespace windgap::spread {

/// One independent standard normal; everything in one correlation group hangs on the same.
struct Axis {
  std::string name;  ///< of the group, or of the one thing
  Varies varies = Varies::bench;
};

/// Names of the axes of what an attempt may state.
inline constexpr const char* oil_axis = "engine.bearings.oil.inlet_temperature";
inline constexpr const char* charge_axis = "drive.pack.state_of_charge";
inline constexpr const char* wind_axis = "site.wind";

/// A field and the axis it hangs on; Distribution::none: it does not move.
struct Move {
  std::size_t axis = 0;
  Shape shape;
};

/// A number of the case, found again in a copy of its parts.
struct PartMove {
  Move move;
  std::function<double*(rig::Parts&)> find;
  double least = unset;  ///< bounds that a draw keeps; unset: none
  double most = unset;
};

/// The jet that nobody measured: the median is what the fan's build suggests, the bounds are those
/// of `rig::JetChoice` (Eq. 4).
struct JetMove {
  std::size_t axis = 0;
  double least = unset;
  double middle = unset;
  double most = unset;
};

/// One bench as it is described.
struct Subject {
  rig::Parts parts;
  rig::Coefficients models;
  std::optional<start::Deriving> start;  ///< set: the starting airflow is derived
  double throttle = unset;               ///< chosen in place of the case's; unset: the case's
  double nozzle = unset;                 ///< the same [m]
};

struct Plan {
  std::vector<Axis> axes;
  std::vector<Move> coefficients;  ///< one for each field, in the order of rig::visit_modules
  std::vector<Move> starts;        ///< one for each of start::Coefficients
  std::vector<Move> fuels;         ///< one for each of start::FuelCoefficients
  std::vector<PartMove> parts;
  std::optional<JetMove> jet;

  /// The axis of that name, made if there is none.
  [[nodiscard]] std::size_t axis(const std::string& name, Varies varies);
};

/// Makes members. Holds copies to draw in, so one for each thread.
class Maker {
 public:
  Maker(const Plan& plan, const Subject& subject);

  /// The rig at standard normals `z`, one for each axis; 0 is the nominal value. `adjust` changes
  /// the drawn parts last; unset: none.
  /// @throws std::logic_error where the draw makes no bench.
  [[nodiscard]] rig::Rig make(std::span<const double> z,
                              const std::function<void(rig::Parts&)>& adjust = {});

 private:
  const Plan* plan_;
  const Subject* subject_;
  rig::Parts parts_;
  rig::Coefficients models_;
  std::optional<start::Deriving> start_;
};

}  // namespace windgap::spread
