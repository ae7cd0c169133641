// The part as a graph of mains for the way of a purge. Internal to plan/.
#pragma once

#include <optional>
#include <vector>

#include "plan/part.hpp"
#include "plan/regions.hpp"

namespace bellhole::plan {

/// Where mains of the part meet or end: a node, an end of the part, the work.
struct PurgeVertex {
  network::Index node = network::none;
  std::optional<std::size_t> end;  ///< of Part::ends
  bool work = false;
  network::Index pipe = network::none;  ///< where it is on a main …
  Length station;                       ///< … at this station
  std::vector<std::size_t> edges;
};

struct PurgeEdge {
  network::Index pipe = network::none;
  Length begin, end;                     ///< stations
  std::size_t at_begin = 0, at_end = 0;  ///< vertices
  Length bore;
  bool bore_known = true;  ///< else taken as the smallest beside it
  [[nodiscard]] Length length() const { return end - begin; }
  [[nodiscard]] std::size_t other(std::size_t vertex) const {
    return vertex == at_begin ? at_end : at_begin;
  }
};

struct PurgeGraph {
  std::vector<PurgeVertex> vertices;
  std::vector<PurgeEdge> edges;
  std::size_t work = 0;                            ///< vertex of the vent
  std::vector<std::optional<std::size_t>> of_end;  ///< vertex of each of Part::ends
};

/// The part once for each region that has work in it, with the work of that region alone.
std::vector<Part> parted(const Regions& regions, const Part& part);

/// What hangs together with the first piece of work once every end is shut, parted at the middle of
/// that piece. `regions` is of the shut scenario.
PurgeGraph purge_graph(const network::Network& network, const Regions& regions, const Part& part);

/// Way from a vertex to the nearest one that `goal` marks: edges in order, and that vertex. By
/// length; ties by element. Nothing where none is reached.
struct PurgeWay {
  std::vector<std::size_t> edges;
  std::size_t to = 0;
};
std::optional<PurgeWay> way_to(const PurgeGraph& graph, std::size_t from,
                               const std::vector<char>& goal);

/// Distance of every vertex from the nearest one that `from` marks, along the mains; infinite where
/// there is no way.
std::vector<double> distances(const PurgeGraph& graph, const std::vector<char>& from);

/// The place on an edge that both ways from vertices so far away reach alike, from its begin.
Length meeting(const PurgeEdge& edge, const std::vector<double>& away);

}  // namespace bellhole::plan
