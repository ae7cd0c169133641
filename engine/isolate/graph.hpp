// The graph of places where a main may be shut, prepared once per network and asked many times.
//
// A vertex carries what it costs to lose it (its customers), an edge what it costs to shut it (a
// squeeze, a valve). Several places along one pipe are edges in series with a vertex between each
// two. Parallel edges, self loops (never shut, they part nothing) and vertices that no supply
// reaches are all allowed.
#pragma once

#include <cstddef>
#include <span>

#include "findings/trouble.hpp"
#include "isolate/cost.hpp"
#include "isolate/layout.hpp"

namespace bellhole::isolate {

struct Edge {
  Vertex a = 0, b = 0;
  Cost shut = forbidden;
};

/// Where gas comes in. Shutting a supply (a station's outlet) is one more way to part the work from
/// gas; where `shut` is forbidden, work at `at` itself cannot be answered. A vertex may have
/// several supplies.
struct Supply {
  Vertex at = 0;
  Cost shut = forbidden;
};

class Graph {
 public:
  /// `lost[v]` is the cost of losing vertex v. O(n + m) time and memory; about 150 bytes a vertex.
  /// Trouble: bad_network for an end that is no vertex; out_of_range for a cost outside [0,
  /// forbidden] or for finite costs that together reach `forbidden`; too_large beyond 2^30 vertices
  /// or edges.
  static Result<Graph> prepare(std::span<const Cost> lost, std::span<const Edge> edges,
                               std::span<const Supply> supplies);

  [[nodiscard]] std::size_t vertices() const { return layout_.place_of.size() - 1; }
  [[nodiscard]] std::size_t edges() const { return edges_; }
  [[nodiscard]] std::size_t supplies() const { return layout_.shut.size() - edges_; }
  /// Whether any supply reaches v while everything is open.
  [[nodiscard]] bool fed(Vertex v) const {
    return layout_.place_of[static_cast<std::size_t>(v)] != nowhere;
  }
  /// Sum of all finite costs, of vertices, edges and supplies.
  [[nodiscard]] Cost finite_total() const { return finite_total_; }
  /// For this room only.
  [[nodiscard]] const Layout& layout() const { return layout_; }

 private:
  Layout layout_;
  std::size_t edges_ = 0;
  Cost finite_total_ = 0;
};

}  // namespace bellhole::isolate
