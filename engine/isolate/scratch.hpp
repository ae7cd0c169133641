// Working memory for cuts, kept between questions so that a question costs what it touches and not
// what the town is big. One for each lane.
//
// Nothing is ever cleared: an entry holds only if it carries the stamp of the moment.
#pragma once

#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include "isolate/layout.hpp"

namespace bellhole::isolate {

using Stamp = std::uint64_t;

enum class Role : std::uint8_t {
  open,    ///< free to be lost or served
  source,  ///< lost in this subproblem
  served,  ///< kept in this subproblem
};

/// What one subproblem knows of a place.
struct Mark {
  Stamp solve = 0;   ///< the subproblem for which the rest holds
  Stamp seen = 0;    ///< breadth-first search that met it last
  Stamp zone = 0;    ///< zone that it belongs to
  Stamp border = 0;  ///< zone that it borders, from outside
  Cost rest = 0;     ///< cost of losing it that no flow has used yet
  Cost slack = 0;    ///< flow that could still reach it; set for the zone by its last search
  std::int32_t level = 0;
  std::int32_t next = 0;  ///< arc to try next
  std::int32_t last = 0;  ///< end of the arcs that matter
  Place parent = nowhere;
  Role role = Role::open;
};

/// Net flow from the lower place of an edge to the higher.
struct Flow {
  Stamp solve = 0;
  Cost amount = 0;
};

struct Scratch {
  std::vector<Mark> marks;  ///< by place
  std::vector<Flow> flows;  ///< by edge, supplies after the edges
  Stamp stamp = 0;
  std::vector<Place> lost, served;  ///< labels of the subproblem in hand
  std::vector<Place> queue, path, inner, outer, pocket, shore, tree;
  std::vector<std::pair<Place, Place>> runs;

  void fit(const Layout& layout) {
    if (marks.size() < layout.spots.size()) marks.resize(layout.spots.size());
    if (flows.size() < layout.shut.size()) flows.resize(layout.shut.size());
  }
};

}  // namespace bellhole::isolate
