// The algebra of a squeeze: gap between the bars, wall, wall compression.
//
//   compression = 1 - gap / (2 wall)          gap = 2 wall (1 - compression)
//
// The terms are those of ASTM F1734 and F1041. Nought is where the inner walls just meet; a
// negative compression is a pipe that is not closed, the walls standing gap - 2 wall apart.
#pragma once

#include "units/quantity.hpp"

namespace bellhole::squeeze {

/// REQUIRES: wall > 0.
constexpr Fraction compression(Length gap, Length wall) {
  return Fraction::from_si(1.0 - gap / (2.0 * wall));
}

constexpr Length gap_for(Fraction compression, Length wall) {
  return 2.0 * wall * (1.0 - compression.si());
}

/// Width of the flattened pipe across the bars: half the mid-wall circumference and one wall.
/// Derived, wall thickness taken as unchanged.
constexpr Length flat_width(Length od, Length wall) {
  constexpr double half_pi = 1.5707963267948966;
  return half_pi * (od - wall) + wall;
}

}  // namespace bellhole::squeeze
