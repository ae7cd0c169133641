// Where mains meet. Ends that lie at one place, or near enough, become one joint; ends that stop on
// the middle of another main split it there. Nothing else is joined.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "maps/geometry.hpp"
#include "maps/mains.hpp"

namespace bellhole::maps {

/// A place where mains of one tier meet or end.
struct Joint {
  XY at;
  network::Index tier = network::none;
  std::size_t ends = 0;       ///< ends of mains here
  bool exact = false;         ///< two ends or more are drawn at one place, or the map has the node
  bool merged = false;        ///< went over into another joint; it is no node
  std::string id;             ///< the map's own, or "" until assembled
  std::size_t map_order = 0;  ///< of the map's own nodes: their order there, from 1; else 0
  Length elevation;           ///< nan: unknown
};

/// A node that the map has of its own.
struct MapNode {
  std::string id;
  XY at;
  network::Index tier = network::none;  ///< none: whichever tier meets it
  Length elevation;
};

/// Mains with their ends on joints.
struct Joined {
  std::vector<Joint> joints;
  std::vector<std::array<std::size_t, 2>>
      ends;  ///< of each main: joint at the first and last point
};

/// What counts as one place when a person drew it: the map says the same to a centimetre.
inline constexpr double exact_m = 0.01;

/// Joins ends within the snap tolerance: nearest pairs first; never two tiers, never both ends of
/// one main unless they are drawn at one place, and never a string of ends wider than twice the
/// tolerance. Ends are moved onto their joint. The map's own nodes draw ends to themselves.
Joined join_ends(std::vector<Main>& mains, const std::vector<MapNode>& nodes, double snap,
                 Report& report);

}  // namespace bellhole::maps
