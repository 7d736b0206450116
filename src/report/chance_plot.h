#pragma once

#include <string>
#include <vector>

#include "placement/chance.h"
#include "trials/attempt.h"
#include "units/format.h"

/// Drawings of an ensemble along the travel, as SVG that opens anywhere and prints.
namespace windgap::report {

/// What one drawing shows.
struct ChanceDrawing {
  std::vector<placement::Prospect> now;     ///< drawn full
  std::vector<placement::Prospect> before;  ///< drawn dashed; empty: none
  std::vector<trials::Attempt> attempts;    ///< lit ones are drawn at the probability's ends
  double mount = unset;                     ///< marked if set [m]
  std::string_view mount_word = "drill here";
  double next = unset;   ///< proposed attempt, marked if set [m]
  double asked = unset;  ///< reliability, drawn as a level; unset: none
  units::System system = units::System::metric;
};

/// Probability of enough air against the distance, with twice the sampling error as a band.
[[nodiscard]] std::string reliability_svg(const ChanceDrawing& drawing);

/// Airflow against the distance: median and the band that holds nine benches of ten.
[[nodiscard]] std::string airflow_svg(const ChanceDrawing& drawing);

}  // namespace windgap::report
