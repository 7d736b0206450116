#pragma once

#include "units/table.h"

/// Entry loss of a pipe or bellmouth in still air, from handbook tables.
/// Equations and sources: models/blockage.md.
namespace windgap::blockage {

struct Coefficients;

/// An inlet as a caliper sees it.
struct InletGeometry {
  double throat_diameter = unset;  ///< [m]
  double lip_radius = 0.0;         ///< of the rounding [m]; 0: sharp
  double mouth_diameter = unset;   ///< outermost edge of the rounding [m]; unset: a full quarter
  double face_diameter = unset;    ///< flange or wall around the mouth [m]; unset: none
  double wall_thickness = 0.0;     ///< of a sharp, unflanged pipe [m]
};

struct EntryLoss {
  double coefficient = unset;  ///< K0 on the throat's dynamic head [-]
  double flushness = unset;    ///< 0 free-standing, 1 flush in a wall [-]
  bool in_range = true;        ///< false: the lip stops short of the tables' quarter circle
};

/// Rounded or sharp entrance, blended between free-standing and flush by the width of the face
/// (Eqs. 1, 2). Interpolates tables: for prepare time. Beyond the largest radius the tables are
/// level, so a large lip is in range.
/// @throws std::logic_error if a diameter is not positive, or the mouth narrower than the throat.
[[nodiscard]] EntryLoss entry_loss(const InletGeometry& inlet, const Coefficients& c);

}  // namespace windgap::blockage
