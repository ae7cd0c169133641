// Where along an exposed pipe the squeeze may be put.
//
// A window is a closed interval of positions of the squeeze bars' centreline. Clearance runs from
// the centreline (or the tool's edge, where the profile says so) to the near edge of a joint,
// fitting, earlier squeeze, planned joint or cut. The tool's half-width only has to fit the exposed
// length without touching anything.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "units/quantity.hpp"

namespace bellhole::squeeze {

/// Something to keep clear of, from its one edge to its other; equal for a point.
struct Feature {
  std::string kind;  ///< "joint", "fitting", "squeeze" …
  Length from, to;
};

using Window = std::pair<Length, Length>;

struct Hole {
  Window exposed;
  std::vector<Feature> features;
};

/// Windows for a clearance from the centreline and a half-width, from left to right, none touching
/// another.
std::vector<Window> windows(const Hole& hole, Length clearance, Length half_width);

/// The part of `windows` where everything within the clearance lies in the exposed length, so that
/// nothing hidden in the ground can be nearer than allowed.
std::vector<Window> seen_windows(const Hole& hole, std::span<const Window> windows,
                                 Length clearance);

/// As many places as fit, each `apart` from the next, from the left.
std::vector<Length> places(std::span<const Window> windows, Length apart);

/// Length to expose for `count` places in pipe with nothing else near: places `apart` from each
/// other, and the clearance (or the tool, if it is longer) seen at both ends.
Length hole_length(int count, Length apart, Length clearance, Length half_width);

/// Length to expose on one side of a new joint for `count` places: the clearance from the joint to
/// the first place, the places `apart` from each other, and the tool's half-width beyond the last.
/// What lies hidden beyond the last place is not seen in it.
Length hole_beside_joint(int count, Length apart, Length clearance, Length half_width);

}  // namespace bellhole::squeeze
