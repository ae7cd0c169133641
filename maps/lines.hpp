// From the geometry of a feature to clean lines, with a row for each thing that was not as a main
// should be.
#pragma once

#include <vector>

#include "maps/cells.hpp"
#include "maps/geometry.hpp"

namespace bellhole::maps {

/// The lines of a feature: none where it has no usable geometry, one as a rule, several where its
/// parts lie apart. Parts whose ends lie within `snap` are strung together. Repeated points are
/// taken out.
std::vector<Line> clean_lines(const RawFeature& feature, double snap, Cells& cells);

/// Takes repeated points out of a line and answers how many there were. A line without length keeps
/// one point.
std::size_t drop_repeats(Line& line);

/// The place of a point feature, or nothing with a row that says why. Of several points the first
/// is taken.
std::optional<XY> clean_point(const RawFeature& feature, Cells& cells);

}  // namespace bellhole::maps
