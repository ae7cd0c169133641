// Every place of a network that has a pressure of its own: the nodes, and along each main the
// stations where customers draw and regulators feel. Between two neighbours on a main lies a
// segment.
//
// Internal to network/.
#pragma once

#include <cstddef>
#include <vector>

#include "network/columns.hpp"

namespace bellhole::network {

inline std::size_t at(Index i) { return static_cast<std::size_t>(i); }

struct Points {
  /// Places along a main nearer than this to each other are one (to an end of the main: its node).
  static constexpr double same_place_m = 1e-3;

  std::vector<double> height;  ///< per point, above the datum; the nodes come first
  // Points of pipe p in station order, ends included: [first[p], first[p + 1]) of point and
  // station.
  std::vector<Index> first, point;
  std::vector<double> station;
  // Per segment, in the order of the pipes; a is nearer to the pipe's `from`.
  std::vector<Index> a, b, pipe;
  std::vector<double> length;
  std::vector<Index> of_customer;  ///< point of each customer
  std::vector<Index> of_tap;       ///< point that each regulator feels

  [[nodiscard]] std::size_t size() const { return height.size(); }
  [[nodiscard]] std::size_t segments() const { return a.size(); }
  [[nodiscard]] Index first_segment(Index p) const { return first[at(p)] - p; }
  [[nodiscard]] Index segment_count(Index p) const { return first[at(p) + 1] - first[at(p)] - 1; }
  /// The segment that a shut place at this station parts: the one behind a point at the very
  /// station.
  [[nodiscard]] Index segment_at(Index p, double station_m) const;
};

/// REQUIRES check_columns(), lengths > 0, stations within their pipes.
Points make_points(const Network& network);

}  // namespace bellhole::network
