#include "network/along.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

namespace bellhole::network {
namespace {

constexpr double far = std::numeric_limits<double>::infinity();

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

struct Way {
  Index to = none;
  double length = 0.0;
};

std::vector<std::vector<Way>> ways_of(const Network& network) {
  std::vector<std::vector<Way>> ways(network.nodes.size());
  const auto join = [&](Index a, Index b, double length) {
    ways[at(a)].push_back({b, length});
    ways[at(b)].push_back({a, length});
  };
  const auto& pipes = network.pipes;
  for (std::size_t p = 0; p < pipes.size(); ++p)
    join(pipes.from[p], pipes.to[p], pipes.length[p].si());
  for (std::size_t r = 0; r < network.regulators.size(); ++r)
    join(network.regulators.inlet[r], network.regulators.outlet[r], 0.0);
  return ways;
}

/// Dijkstra's method from both ends of the main that the place is on.
std::vector<double> reach(const Network& network, const Closure& from) {
  const auto ways = ways_of(network);
  std::vector<double> best(network.nodes.size(), far);
  using Entry = std::pair<double, Index>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> next;
  const auto offer = [&](Index node, double distance) {
    if (!(distance < best[at(node)])) return;
    best[at(node)] = distance;
    next.emplace(distance, node);
  };
  const std::size_t p = at(from.pipe);
  offer(network.pipes.from[p], from.station.si());
  offer(network.pipes.to[p], (network.pipes.length[p] - from.station).si());
  while (!next.empty()) {
    const auto [distance, node] = next.top();
    next.pop();
    if (distance > best[at(node)]) continue;
    for (const Way& way : ways[at(node)]) offer(way.to, distance + way.length);
  }
  return best;
}

Length length_or_nan(double metres) {
  return Length::from_si(std::isfinite(metres) ? metres : std::nan(""));
}

}  // namespace

Along along_mains(const Network& network, const Closure& from) {
  const std::vector<double> best = reach(network, from);
  Along along;
  for (const double metres : best) along.node.push_back(length_or_nan(metres));
  const auto& customers = network.customers;
  for (std::size_t c = 0; c < customers.size(); ++c) {
    const std::size_t p = at(customers.pipe[c]);
    const double station = customers.station[c].si();
    double metres =
        std::min(best[at(network.pipes.from[p])] + station,
                 best[at(network.pipes.to[p])] + network.pipes.length[p].si() - station);
    if (customers.pipe[c] == from.pipe)
      metres = std::min(metres, std::abs(station - from.station.si()));
    along.customer.push_back(length_or_nan(metres));
  }
  return along;
}

}  // namespace bellhole::network
