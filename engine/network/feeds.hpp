// What feeds a place: the sources that gas can come from, side by side, with the regulators and
// valves on the way.
//
// The answer is a trace of the mains as they are joined, over closed valves, shut outlets and the
// direction of regulators. What a map says of a street ("two-way") is never asked.
#pragma once

#include <vector>

#include "findings/finding.hpp"
#include "network/columns.hpp"
#include "units/print.hpp"

namespace bellhole::network {

/// One way from a source to the place. Of several ways from one source the one that passes the
/// fewest regulators backwards and, among those, the shortest is given.
struct Feed {
  Index source = none;
  std::vector<Index> regulators;  ///< passed from inlet to outlet, in the order from the source
  std::vector<Index>
      backwards;              ///< passed from outlet to inlet: nothing recorded stops the gas there
  std::vector<Index> valves;  ///< open or of unknown position
  Length length;              ///< of main
};

/// Gas that arrives along one main.
struct Side {
  Index pipe = none;
  Index toward = none;      ///< node at which this side begins, seen from the place
  std::vector<Feed> feeds;  ///< by source; empty: no gas comes from this side
};

struct Feeds {
  std::vector<Side> sides;  ///< two at a point of a main, one for each main at a node
  [[nodiscard]] std::size_t fed_sides() const;
};

/// A place on a main; the two sides are toward its `from` node and toward its `to` node.
Feeds feeds_of(const Network& network, Index pipe, Length station);

/// A node; one side for each main that ends there, and for each regulator and source that stands
/// there a feed of its own (Side::pipe none).
Feeds feeds_of(const Network& network, Index node);

/// Rules feeds.none, feeds.one_side, feeds.both_sides, feeds.backwards, feeds.valve_unknown.
Findings findings(const Network& network, const Feeds& feeds);

}  // namespace bellhole::network
