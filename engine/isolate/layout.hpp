// How a prepared graph lies in memory: fed vertices renumbered so that whatever hangs on one vertex
// is one run of numbers.
//
// All supplies hang on one added vertex, the root, which is gas itself and is never lost. The
// blocks (2-connected parts) and the vertices where they meet form a tree from the root down. Every
// vertex but the root belongs, as a lower member, to exactly one block; the vertex at the top of
// that block is the last one that every path from gas to it must pass. So "x hangs on u" means:
// lose u and x is lost.
//
// A place is a vertex's position in an order in which u comes first and all that hangs on u follows
// at once: places (u, past). Blocks below u are runs inside that.
#pragma once

#include <cstdint>
#include <vector>

#include "isolate/cost.hpp"

namespace bellhole::isolate {

using Place = std::int32_t;
inline constexpr Place nowhere = -1;
inline constexpr Place root = 0;

/// One end of an edge, seen from the other. `edge` counts the supplies on after the edges.
struct Arc {
  Place to = root;
  EdgeIndex edge = 0;
  Cost shut = forbidden;
};

struct Spot {
  Place past = 0;  ///< [own place, past): the vertex and all that hangs on it
  Place block_first = 0, block_past = 0;  ///< run of the block in which it is a lower member
  std::int32_t arcs = 0;                  ///< arcs [arcs, below) stay in that block ...
  std::int32_t below = 0;  ///< ... and [below, next spot's arcs) lead to blocks that hang here
  Place tour_first = 0,
        tour_past = 0;  ///< run of its subtree in a shortest-path tree from the root
};

struct Layout {
  std::vector<Spot> spots;  ///< by place, and one more to end the last one's arcs
  std::vector<Arc> arcs;
  std::vector<Vertex> vertex_at;    ///< by place; the root is vertex n
  std::vector<Place> place_of;      ///< by vertex, nowhere if not fed; n + 1 entries
  std::vector<Cost> finite_before;  ///< sum of finite vertex costs at places < p
  std::vector<std::int32_t>
      forbidden_before;    ///< number of vertices that may not be lost at places < p
  std::vector<Cost> shut;  ///< by edge, supplies after the edges
};

}  // namespace bellhole::isolate
