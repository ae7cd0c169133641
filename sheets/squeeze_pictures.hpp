// The two pictures of a squeeze sheet: what the gap does to the wall, and the hole with the places
// where the squeeze may be put.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "sheets/canvas.hpp"
#include "units/print.hpp"

namespace bellhole::sheets {

/// One wall that the pipe may have, and what the gap does to it. Negative: the inner walls do not
/// meet.
struct WallBar {
  std::string name;  ///< "thinnest wall"
  std::optional<double> wall_m;
  std::optional<double> compression;
};

/// Bars on one scale with the most allowed as a line across them; without a limit the line is left
/// out and said to be missing. `basis` says which wall the limit is meant for: " on the minimum
/// wall".
double draw_compression(Canvas& canvas, const Box& at, const std::vector<WallBar>& bars,
                        std::optional<double> most, const std::string& basis, units::System system);

struct HoleFeature {
  std::string kind;
  double from_m = 0, to_m = 0;
};

/// Metres from the left end that was measured from.
struct HolePicture {
  double from_m = 0, to_m = 0;  ///< exposed
  std::vector<HoleFeature> features;
  std::vector<std::pair<double, double>> windows;  ///< allowed places of the bars' centreline
  std::optional<double> place_m;                   ///< suggested for one squeeze
  std::vector<double> two_m;  ///< suggested for two with a vent between; empty: not asked
};

double draw_hole(Canvas& canvas, const Box& at, const HolePicture& hole, units::System system);

}  // namespace bellhole::sheets
