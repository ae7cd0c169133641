// The costs of one question: the graph's own, and those that the question sets in their place.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include "isolate/layout.hpp"

namespace bellhole::isolate {

class Prices {
 public:
  /// `edges` by edge (supplies after the edges) and `vertices` by vertex, each at most once, in any
  /// order; those of vertices without gas are left out.
  Prices(const Layout& layout, std::vector<std::pair<EdgeIndex, Cost>> edges,
         const std::vector<std::pair<Vertex, Cost>>& vertices);

  [[nodiscard]] Cost shut(const Arc& arc) const {
    return edges_.empty() ? arc.shut : set_for(arc.edge, arc.shut);
  }
  /// Cost of losing all places in [first, past): forbidden if one of them is.
  [[nodiscard]] Cost within(Place first, Place past) const;
  /// A place in [first, past) that may not be lost; there must be one.
  [[nodiscard]] Place forbidden_within(Place first, Place past) const;

 private:
  /// A place whose cost is set, and what all set before it change in the sums of the layout.
  struct Change {
    Place place = nowhere;
    Cost finite_before = 0;
    std::int32_t forbidden_before = 0;
  };

  [[nodiscard]] Cost set_for(EdgeIndex edge, Cost otherwise) const;
  [[nodiscard]] const Change& change_at(Place place) const;

  const Layout* layout_;
  std::vector<std::pair<EdgeIndex, Cost>> edges_;
  std::vector<Change> changes_;  ///< rising place, and one more behind the last
};

}  // namespace bellhole::isolate
