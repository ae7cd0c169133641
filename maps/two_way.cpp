#include "maps/two_way.hpp"

#include <algorithm>
#include <cstddef>
#include <limits>

namespace bellhole::maps {
namespace {

using network::Index;
std::size_t at(Index i) { return static_cast<std::size_t>(i); }
constexpr std::size_t no_edge = std::numeric_limits<std::size_t>::max();

struct Edge {
  std::size_t a, b;
};

/// Bridges by one depth-first walk from `root`, without recursion (Tarjan 1974): an edge is a
/// bridge when nothing below it reaches above it.
class Bridges {
 public:
  Bridges(std::size_t nodes, const std::vector<Edge>& edges, std::size_t root)
      : edges_(edges), at_(nodes), seen_(nodes, 0), low_(nodes, 0), bridge_(edges.size(), 0) {
    for (std::size_t e = 0; e < edges.size(); ++e) {
      at_[edges[e].a].push_back(e);
      if (edges[e].a != edges[e].b) at_[edges[e].b].push_back(e);
    }
    walk(root);
  }
  [[nodiscard]] bool reached(std::size_t node) const { return seen_[node] != 0; }
  [[nodiscard]] bool bridge(std::size_t edge) const { return bridge_[edge] != 0; }

 private:
  struct Step {
    std::size_t node, via, next;
  };
  void walk(std::size_t root) {
    std::size_t clock = 0;
    std::vector<Step> stack{{root, no_edge, 0}};
    seen_[root] = low_[root] = ++clock;
    while (!stack.empty()) {
      Step& step = stack.back();
      if (step.next == at_[step.node].size()) {
        finish(stack);
        continue;
      }
      const std::size_t e = at_[step.node][step.next++];
      if (e == step.via) continue;
      const std::size_t there = edges_[e].a == step.node ? edges_[e].b : edges_[e].a;
      if (seen_[there] != 0) {
        low_[step.node] = std::min(low_[step.node], seen_[there]);
      } else {
        seen_[there] = low_[there] = ++clock;
        stack.push_back({there, e, 0});
      }
    }
  }
  void finish(std::vector<Step>& stack) {
    const Step done = stack.back();
    stack.pop_back();
    if (stack.empty()) return;
    const std::size_t above = stack.back().node;
    low_[above] = std::min(low_[above], low_[done.node]);
    if (low_[done.node] > seen_[above]) bridge_[done.via] = 1;
  }

  const std::vector<Edge>& edges_;
  std::vector<std::vector<std::size_t>> at_;
  std::vector<std::size_t> seen_, low_;
  std::vector<std::uint8_t> bridge_;
};

}  // namespace

std::vector<Feed> feeds_of(const network::Network& net) {
  const std::size_t world = net.nodes.size();
  std::vector<std::uint8_t> shut(net.pipes.size(), 0);
  for (std::size_t v = 0; v < net.valves.size(); ++v) {
    if (net.valves.position[v] == network::Position::closed) shut[at(net.valves.pipe[v])] = 1;
  }
  std::vector<Edge> edges;
  std::vector<std::size_t> edge_of(net.pipes.size(), no_edge);
  for (std::size_t p = 0; p < net.pipes.size(); ++p) {
    if (shut[p] != 0) continue;
    edge_of[p] = edges.size();
    edges.push_back({at(net.pipes.from[p]), at(net.pipes.to[p])});
  }
  for (std::size_t r = 0; r < net.regulators.size(); ++r)
    edges.push_back({at(net.regulators.inlet[r]), at(net.regulators.outlet[r])});
  for (const Index source : net.sources.node) edges.push_back({world, at(source)});
  const Bridges bridges(world + 1, edges, world);
  std::vector<Feed> out;
  for (std::size_t p = 0; p < net.pipes.size(); ++p) {
    const bool reached =
        bridges.reached(at(net.pipes.from[p])) || bridges.reached(at(net.pipes.to[p]));
    const bool two = edge_of[p] != no_edge && !bridges.bridge(edge_of[p]);
    out.push_back(!reached ? Feed::none : two ? Feed::two_way : Feed::one_way);
  }
  return out;
}

}  // namespace bellhole::maps
