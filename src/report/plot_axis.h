#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "report/plot_frame.h"

/// An axis as the plotting library is told of it; the same looks in every plot.
namespace windgap::report {

[[nodiscard]] inline nlohmann::ordered_json axis_json(std::string_view orient,
                                                      std::string_view scale,
                                                      const std::string& title) {
  return {{"orient", orient},
          {"scale", scale},
          {"title", title},
          {"tickCount", 5},
          {"grid", true},
          {"gridColor", "#dddddd"},
          {"domainColor", ink},
          {"tickColor", ink},
          {"labelColor", ink},
          {"titleColor", ink},
          {"labelFontSize", 11},
          {"titleFontSize", 12},
          {"titleFontWeight", "normal"},
          {"labelFlush", true}};
}

}  // namespace windgap::report
