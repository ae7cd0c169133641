// The force that flattens a PE pipe between two bars, by hand formulas.
//
//   bending    until the inner walls meet: four hinges, rising as the hinges come closer,
//                F_pl = F_2t x^-0.7,  x = gap / 2 wall;  F_2t = k s t2, k = 9.4 + (DR - 9) / 3
//              and before that an elastic ring of effective length 1.45 OD,
//                F_el = 6.72 E' I / r3 x (OD - gap) x 1.45 OD,  E' = E / (1 - nu2), I = t3 / 12,
//              (ring between flat plates, plane strain; the 0.149 of ASTM D2412), together
//                1 / F2 = 1 / F_el2 + 1 / F_pl2.
//   pressing   once they meet, a strip under the round bar of radius R:
//                F = F_2t + 0.8 s W 2a,  a = sqrt(2 R p - p2),  p = (2 t - gap) / 2, W = 1.46 OD
//   gas        pressure in the pipe adds 12.7 p / s of the bending force, 1.2 p / s at the stops.
//
// k, x^-0.7, 0.8, 1.46 and the effect of the gas are fits to own 3-D finite-element runs of IPS 8
// pipe, DR 9 to 17, bars of 16 to 38 mm radius; they agree with those runs within 13 % from half
// travel on and within 20 % before, but for the first tenth of the travel, where the force is small
// and they are up to 60 % high. No published force-gap curve is known: nothing here is checked
// against a measured pipe. Similarity: only gap/OD, DR, R/OD, p/s count, so sizes scale.
//
// The band. Low: the thinnest wall, material 15 % below its grade; high: the thickest wall, 15 %
// above; formula 13 % either way (30 % before half travel); the two shares combined as the root of
// the sum of their squares.
#pragma once

#include <optional>
#include <vector>

#include "flatten/strength.hpp"
#include "units/quantity.hpp"

namespace bellhole::flatten {

/// One pipe between bars.
struct Jaws {
  Length od, wall;
  Length bar_radius;
  Stress yield, modulus;
  GaugePressure pressure;  ///< of the gas
};

/// Force at a gap. 0 at or above the outside diameter. REQUIRES: 0 < wall < od / 2, bar_radius > 0,
/// yield > 0, gap > 0.
Force force_at(const Jaws& jaws, Length gap);

/// Where the inner walls meet: twice the wall.
constexpr Length walls_meet(Length wall) { return 2.0 * wall; }

struct Band {
  Force low, expected, high;
};

struct Walls {
  Length minimum, nominal, maximum;
};

/// The band at a gap: see above. `jaws.wall` is not read.
Band band_at(const Jaws& jaws, const Walls& walls, Length gap);

struct Point {
  Length gap;
  Band force;
};

/// From the outside diameter to `stop`, `points` + 1 of them, evenly. REQUIRES: points > 0.
std::vector<Point> curve(const Jaws& jaws, const Walls& walls, Length stop, int points);

}  // namespace bellhole::flatten
