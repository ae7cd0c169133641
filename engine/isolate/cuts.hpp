// The best places to shut: minimum cuts that leave no pocket, in rising cost.
//
// The question is put as a bare graph. A vertex carries what it costs to lose it (its customers), an edge
// what it costs to shut it (a squeeze, a valve). `work` must end up without gas; everything that stays on
// must still reach a supply. A vertex is lost when no path of open edges leads to it from any supply,
// whether it lies on the work's side of the cut or in a pocket behind it.
//
//   cost(cut) = sum of shut edges + sum of lost vertices          (integers, added saturating)
//
// Costs are integers so that the answer is the same on every machine. A caller that ranks
// lexicographically (must-not-lose customers, then crew-seconds) packs both into one Cost.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "findings/trouble.hpp"
#include "findings/watch.hpp"

namespace bellhole::isolate {

using Vertex = std::int32_t;
using EdgeIndex = std::int32_t;
using Cost = std::int64_t;

/// An edge that cannot be shut, or a vertex that may not be lost. Never summed into a finite total.
inline constexpr Cost forbidden = std::int64_t{1} << 62;

struct Edge {
  Vertex a = 0, b = 0;
  Cost shut = forbidden;
};

/// The graph, prepared once per network and asked many times.
class Graph;

struct Cut {
  Cost cost = 0;                   ///< exact cost of this cut
  std::vector<EdgeIndex> shut;     ///< ascending
  std::vector<Vertex> lost;        ///< ascending; includes the work and every pocket
};

/// What is known about how good a list of cuts is.
struct Proof {
  bool optimal = true;             ///< every cut cheaper than the last one given is in the list
  std::int64_t examined = 0;       ///< subproblems solved
  Cost bound = 0;                  ///< no cut that is not in the list costs less than this
};

}  // namespace bellhole::isolate
