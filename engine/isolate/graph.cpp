#include "isolate/graph.hpp"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "isolate/blocks.hpp"

namespace bellhole::isolate {

namespace {

constexpr std::size_t most = std::size_t{1} << 30;

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

/// Adds a cost to the total of the finite ones; says no for one outside [0, forbidden] or one too
/// many.
bool count(Cost cost, Cost& total) {
  if (cost < 0 || cost > forbidden) return false;
  if (cost < forbidden) total = plus(total, cost);
  return total < forbidden;
}

Result<Cost> check(std::span<const Cost> lost, std::span<const Edge> edges,
                   std::span<const Supply> supplies) {
  if (lost.size() >= most || edges.size() + supplies.size() >= most) {
    return trouble(Code::too_large, "isolate.graph", std::to_string(lost.size()),
                   "at most 2^30 vertices and 2^30 edges");
  }
  const auto known = [&](Vertex v) { return v >= 0 && at(v) < lost.size(); };
  const auto wrong_cost = [](const char* what, std::size_t index) {
    return trouble(Code::out_of_range,
                   std::string("isolate.graph.") + what + " " + std::to_string(index), "cost",
                   "costs are 0 to 2^62, and the finite ones together stay below 2^62");
  };
  const auto wrong_end = [](const char* what, std::size_t index) {
    return trouble(Code::bad_network,
                   std::string("isolate.graph.") + what + " " + std::to_string(index), "end",
                   "name a vertex of the graph");
  };
  Cost total = 0;
  for (std::size_t v = 0; v < lost.size(); ++v) {
    if (!count(lost[v], total)) return wrong_cost("vertex", v);
  }
  for (std::size_t e = 0; e < edges.size(); ++e) {
    if (!known(edges[e].a) || !known(edges[e].b)) return wrong_end("edge", e);
    if (!count(edges[e].shut, total)) return wrong_cost("edge", e);
  }
  for (std::size_t s = 0; s < supplies.size(); ++s) {
    if (!known(supplies[s].at)) return wrong_end("supply", s);
    if (!count(supplies[s].shut, total)) return wrong_cost("supply", s);
  }
  return total;
}

/// Edges and supplies as one list; the supplies' other end is the root, vertex n.
std::vector<Edge> join(std::span<const Edge> edges, std::span<const Supply> supplies, Vertex gas) {
  std::vector<Edge> all(edges.begin(), edges.end());
  for (const Supply& supply : supplies) all.push_back({gas, supply.at, supply.shut});
  return all;
}

Neighbours neighbours_of(std::span<const Edge> edges, std::size_t vertices) {
  Neighbours result;
  result.first.assign(vertices + 1, 0);
  for (const Edge& edge : edges) {
    if (edge.a == edge.b) continue;
    ++result.first[at(edge.a) + 1];
    ++result.first[at(edge.b) + 1];
  }
  for (std::size_t v = 0; v < vertices; ++v) result.first[v + 1] += result.first[v];
  result.to.resize(at(result.first[vertices]));
  result.edge.resize(result.to.size());
  std::vector<std::int32_t> next = result.first;
  for (std::size_t e = 0; e < edges.size(); ++e) {
    const auto [a, b, shut] = edges[e];
    if (a == b) continue;
    const auto put = [&](Vertex from, Vertex to) {
      const std::size_t slot = at(next[at(from)]++);
      result.to[slot] = to;
      result.edge[slot] = static_cast<EdgeIndex>(e);
    };
    put(a, b);
    put(b, a);
  }
  return result;
}

/// Arcs of each place: those within its own block first, then those to blocks that hang on it.
void place_arcs(const Neighbours& neighbours, Layout& layout) {
  layout.arcs.reserve(neighbours.to.size());
  for (std::size_t place = 0; place < layout.vertex_at.size(); ++place) {
    Spot& spot = layout.spots[place];
    spot.arcs = static_cast<std::int32_t>(layout.arcs.size());
    const Vertex v = layout.vertex_at[place];
    for (std::int32_t i = neighbours.first[at(v)]; i < neighbours.first[at(v) + 1]; ++i) {
      const EdgeIndex edge = neighbours.edge[at(i)];
      layout.arcs.push_back(
          {layout.place_of[at(neighbours.to[at(i)])], edge, layout.shut[at(edge)]});
    }
    const auto begin = layout.arcs.begin() + spot.arcs;
    const auto hangs = [&](const Arc& arc) {
      return arc.to > static_cast<Place>(place) && arc.to < spot.past;
    };
    std::sort(begin, layout.arcs.end(), [&](const Arc& x, const Arc& y) {
      return std::pair(hangs(x), std::pair(x.to, x.edge)) <
             std::pair(hangs(y), std::pair(y.to, y.edge));
    });
    const auto below =
        std::partition_point(begin, layout.arcs.end(), [&](const Arc& arc) { return !hangs(arc); });
    spot.below = static_cast<std::int32_t>(below - layout.arcs.begin());
  }
  layout.spots.back().arcs = layout.spots.back().below =
      static_cast<std::int32_t>(layout.arcs.size());
}

/// Numbers a shortest-path tree from the root so that a subtree is a run: "the tree's way from v to
/// gas passes x" becomes "v's number lies in x's run".
void number_tour(Layout& layout) {
  const std::size_t places = layout.vertex_at.size();
  std::vector<Place> parent(places, nowhere), queue{root}, size(places, 1), next(places, 0);
  queue.reserve(places);
  parent[root] = root;
  for (std::size_t head = 0; head < queue.size(); ++head) {
    const Place u = queue[head];
    for (std::int32_t i = layout.spots[at(u)].arcs; i < layout.spots[at(u) + 1].arcs; ++i) {
      const Place v = layout.arcs[at(i)].to;
      if (parent[at(v)] != nowhere) continue;
      parent[at(v)] = u;
      queue.push_back(v);
    }
  }
  for (std::size_t i = places; i-- > 1;) size[at(parent[at(queue[i])])] += size[at(queue[i])];
  next[root] = 1;
  layout.spots[root].tour_past = size[root];
  for (std::size_t i = 1; i < places; ++i) {
    const Place v = queue[i];
    Place& slot = next[at(parent[at(v)])];
    layout.spots[at(v)].tour_first = slot;
    next[at(v)] = slot + 1;
    slot += size[at(v)];
    layout.spots[at(v)].tour_past = slot;
  }
}

void sum_costs(std::span<const Cost> lost, Layout& layout) {
  const std::size_t places = layout.vertex_at.size();
  layout.finite_before.assign(places + 1, 0);
  layout.forbidden_before.assign(places + 1, 0);
  for (std::size_t place = 0; place < places; ++place) {
    const bool never = place == root || lost[at(layout.vertex_at[place])] == forbidden;
    layout.finite_before[place + 1] =
        layout.finite_before[place] + (never ? 0 : lost[at(layout.vertex_at[place])]);
    layout.forbidden_before[place + 1] = layout.forbidden_before[place] + (never ? 1 : 0);
  }
}

}  // namespace

Result<Graph> Graph::prepare(std::span<const Cost> lost, std::span<const Edge> edges,
                             std::span<const Supply> supplies) {
  BELLHOLE_TRY(total, check(lost, edges, supplies));
  const auto gas = static_cast<Vertex>(lost.size());
  const std::vector<Edge> all = join(edges, supplies, gas);
  Graph graph;
  graph.edges_ = edges.size();
  graph.finite_total_ = total;
  Layout& layout = graph.layout_;
  for (const Edge& edge : all) layout.shut.push_back(edge.shut);
  const Neighbours neighbours = neighbours_of(all, lost.size() + 1);
  number_places(find_blocks(neighbours, gas), gas, lost.size() + 1, layout);
  place_arcs(neighbours, layout);
  number_tour(layout);
  sum_costs(lost, layout);
  return graph;
}

}  // namespace bellhole::isolate
