#include "plan/purge_graph.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <queue>

#include "network/bore.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }
constexpr double endless = std::numeric_limits<double>::infinity();
Length middle(const Piece& piece) { return (piece.begin + piece.end) * 0.5; }

class Builder {
 public:
  Builder(const Network& network, const Regions& regions, const Part& part)
      : network_(network),
        regions_(regions),
        part_(part),
        bores_(network::bores_of(network.pipes, network.nodes.size())),
        vent_{part.work.front().pipe, middle(part.work.front())} {}

  PurgeGraph build() {
    graph_.of_end.resize(part_.ends.size());
    const std::int32_t region = regions_.at(vent_.pipe, vent_.station);
    for (const RegionPiece& piece : regions_.pieces())
      if (piece.region == region) add(piece.piece);
    for (std::size_t e = 0; e < part_.ends.size(); ++e) add_outlet(e);
    return std::move(graph_);
  }

 private:
  struct Place {
    Index pipe = network::none;
    Length station;
  };

  std::size_t add_vertex(PurgeVertex vertex) {
    graph_.vertices.push_back(std::move(vertex));
    return graph_.vertices.size() - 1;
  }

  std::size_t node_vertex(Index node) {
    const auto [found, fresh] = of_node_.try_emplace(node, graph_.vertices.size());
    if (fresh) add_vertex({.node = node});
    return found->second;
  }

  /// The vertex of the vent; a node where the work is at one.
  std::size_t vent_vertex() {
    if (!has_vent_) {
      graph_.work = add_vertex({.work = true, .pipe = vent_.pipe, .station = vent_.station});
      has_vent_ = true;
    }
    return graph_.work;
  }

  /// The vertex at a station of a main: its node, a shut place, the vent.
  std::size_t vertex_at(Index pipe, Length station) {
    if (pipe == vent_.pipe && station == vent_.station && station != Length() &&
        station != network_.pipes.length[at(pipe)])
      return vent_vertex();
    std::optional<std::size_t> end;
    for (std::size_t e = 0; e < part_.ends.size(); ++e)
      if (part_.ends[e].pipe == pipe && part_.ends[e].station == station) end = e;
    if (end) {
      const std::size_t v = add_vertex({.end = end, .pipe = pipe, .station = station});
      graph_.of_end[*end] = v;
      return v;
    }
    if (station == Length() || station == network_.pipes.length[at(pipe)]) {
      const Index node =
          station == Length() ? network_.pipes.from[at(pipe)] : network_.pipes.to[at(pipe)];
      const std::size_t v = node_vertex(node);
      if (pipe == vent_.pipe && station == vent_.station) {
        graph_.vertices[v].work = true;
        graph_.work = v;
        has_vent_ = true;
      }
      return v;
    }
    return add_vertex({.pipe = pipe, .station = station});  // a valve that stands closed
  }

  void add(const Piece& piece) {
    if (!(piece.end > piece.begin)) return;  // between a shut place and the node it stands at
    std::vector<Length> stations{piece.begin};
    if (piece.pipe == vent_.pipe && vent_.station > piece.begin && vent_.station < piece.end)
      stations.push_back(vent_.station);
    stations.push_back(piece.end);
    std::size_t before = vertex_at(piece.pipe, piece.begin);
    for (std::size_t i = 1; i < stations.size(); ++i) {
      const std::size_t behind = vertex_at(piece.pipe, stations[i]);
      const std::size_t edge = graph_.edges.size();
      const network::Bore& bore = bores_[at(piece.pipe)];
      graph_.edges.push_back(
          {piece.pipe, stations[i - 1], stations[i], before, behind, bore.value, !bore.assumed});
      graph_.vertices[before].edges.push_back(edge);
      graph_.vertices[behind].edges.push_back(edge);
      before = behind;
    }
  }

  /// Ends that are a station's or a source's outlet stand at their node.
  void add_outlet(std::size_t e) {
    const PartEnd& end = part_.ends[e];
    if (end.pipe != network::none) return;
    const Index node = end.kind == ShutKind::source_outlet
                           ? network_.sources.node[at(end.element)]
                           : network_.regulators.outlet[at(end.element)];
    const auto found = of_node_.find(node);
    if (found == of_node_.end()) return;
    graph_.of_end[e] = found->second;
    graph_.vertices[found->second].end = e;
  }

  const Network& network_;
  const Regions& regions_;
  const Part& part_;
  std::vector<network::Bore> bores_;
  Place vent_;
  bool has_vent_ = false;
  std::map<Index, std::size_t> of_node_;
  PurgeGraph graph_;
};

struct Reached {
  std::vector<double> away;
  std::vector<std::size_t> by;  ///< edge that it was reached by
};

std::vector<char> only(const PurgeGraph& graph, std::size_t vertex) {
  std::vector<char> marks(graph.vertices.size(), 0);
  marks[vertex] = 1;
  return marks;
}

Reached reach(const PurgeGraph& graph, const std::vector<char>& from) {
  Reached reached{std::vector(graph.vertices.size(), endless),
                  std::vector(graph.vertices.size(), std::size_t{0})};
  using Item = std::pair<double, std::size_t>;
  std::priority_queue<Item, std::vector<Item>, std::greater<>> next;
  for (std::size_t v = 0; v < from.size(); ++v) {
    if (from[v] == 0) continue;
    reached.away[v] = 0.0;
    next.emplace(0.0, v);
  }
  while (!next.empty()) {
    const auto [away, v] = next.top();
    next.pop();
    if (away > reached.away[v]) continue;
    for (const std::size_t e : graph.vertices[v].edges) {
      const std::size_t w = graph.edges[e].other(v);
      const double further = away + graph.edges[e].length().si();
      if (further >= reached.away[w]) continue;
      reached.away[w] = further;
      reached.by[w] = e;
      next.emplace(further, w);
    }
  }
  return reached;
}

}  // namespace

PurgeGraph purge_graph(const Network& network, const Regions& regions, const Part& part) {
  return Builder(network, regions, part).build();
}

std::vector<Part> parted(const Regions& regions, const Part& part) {
  std::vector<Part> parts;
  std::vector<std::int32_t> seen;
  for (const Piece& piece : part.work) {
    const std::int32_t region = regions.at(piece.pipe, middle(piece));
    const auto found = std::ranges::find(seen, region);
    if (found == seen.end()) {
      seen.push_back(region);
      parts.push_back(part);
      parts.back().work = {piece};
    } else {
      parts[static_cast<std::size_t>(found - seen.begin())].work.push_back(piece);
    }
  }
  return parts;
}

std::optional<PurgeWay> way_to(const PurgeGraph& graph, std::size_t from,
                               const std::vector<char>& goal) {
  const Reached reached = reach(graph, only(graph, from));
  std::optional<std::size_t> nearest;
  for (std::size_t v = 0; v < graph.vertices.size(); ++v) {
    if (goal[v] == 0 || reached.away[v] == endless) continue;
    if (!nearest || reached.away[v] < reached.away[*nearest]) nearest = v;
  }
  if (!nearest) return std::nullopt;
  PurgeWay way{{}, *nearest};
  for (std::size_t v = *nearest; v != from; v = graph.edges[way.edges.back()].other(v))
    way.edges.push_back(reached.by[v]);
  std::ranges::reverse(way.edges);
  return way;
}

std::vector<double> distances(const PurgeGraph& graph, const std::vector<char>& from) {
  return reach(graph, from).away;
}

Length meeting(const PurgeEdge& edge, const std::vector<double>& away) {
  const double length = edge.length().si();
  const double from_begin = (away[edge.at_end] + length - away[edge.at_begin]) / 2.0;
  constexpr double hair = 1e-6;  // m: so near to an end it is that end
  if (from_begin < hair) return edge.begin;
  if (from_begin > length - hair) return edge.end;
  return edge.begin + Length::from_si(from_begin);
}

}  // namespace bellhole::plan
