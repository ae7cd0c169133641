// What is left of the points when everything is folded away whose flows follow from the loads
// alone: dead-end trees hang on their root, and a chain of points with two neighbours becomes one
// link with one unknown flow. Only points where mains meet, and those that carry equipment, keep an
// unknown pressure. The folding is exact as long as the loads do not depend on the pressure.
//
// Internal to network/.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "network/points.hpp"
#include "numerics/sparse_ldlt.hpp"

namespace bellhole::network {

struct Skeleton {
  std::vector<Index> core;   ///< per point: its unknown, or none
  std::vector<Index> point;  ///< per unknown: its point

  // Trees, outermost first: folding in this order has every leaf's load complete before it moves
  // on.
  std::vector<Index> leaf, leaf_segment, leaf_root;

  // Chain c runs from unknown a[c] to unknown b[c] over links [first[c], first[c + 1]): segment,
  // and the point behind it (the last link's is the point of b).
  std::vector<Index> a, b, first, link_segment, link_point;

  /// Pattern of the unknowns: entry c for chain c, then one for each pair given to make_skeleton().
  std::shared_ptr<const numerics::SparsePattern> pattern;

  [[nodiscard]] std::size_t chains() const { return a.size(); }
  [[nodiscard]] std::size_t size() const { return point.size(); }
};

enum class Fold { trees_and_chains, nothing };

/// `kept` points stay unknowns; `pairs` are points that equipment ties together (regulators).
Skeleton make_skeleton(const Points& points, std::span<const Index> kept,
                       std::span<const std::pair<Index, Index>> pairs, Fold fold);

}  // namespace bellhole::network
