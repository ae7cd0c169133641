// Small random towns, and every way to part a place of work from gas in them, by trying them all.
#pragma once

#include <algorithm>
#include <random>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "plan/evaluate.hpp"
#include "tests/unit/plan/small_town.hpp"

namespace bellhole::plan::test {

inline std::size_t at(std::int32_t i) { return static_cast<std::size_t>(i); }

/// Four or five nodes, a few mains between them, one or two sources, customers, now and then a
/// large one.
inline Town random_town(std::mt19937& random) {
  const auto pick = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  Town town;
  const int nodes = 4 + pick(2);
  for (int i = 0; i < nodes; ++i)
    town.node("n" + std::to_string(i), 400.0 * (i % 2) + 37.0 * i, 350.0 * (i / 2));
  std::set<std::pair<int, int>> used;
  int mains = 0;
  for (int i = 1; i < nodes; ++i) {
    const int other = pick(i);
    used.emplace(other, i);
    town.main("m" + std::to_string(mains++), other, i);
  }
  for (int extra = pick(3); extra > 0; --extra) {
    const int a = pick(nodes), b = pick(nodes);
    if (a == b || !used.emplace(std::min(a, b), std::max(a, b)).second) continue;
    town.main("m" + std::to_string(mains++), std::min(a, b), std::max(a, b));
  }
  town.source("gate", 0, 40);
  if (pick(2) == 0) town.source("gate2", nodes - 1, 40);
  for (int c = 0; c < 4; ++c) {
    const int pipe = pick(mains);
    const double length = town.network.pipes.length[static_cast<std::size_t>(pipe)].si();
    town.customer("c" + std::to_string(c), pipe, length * (1 + pick(9)) / 10.0,
                  pick(4) == 0 ? 25000.0 + 5000 * pick(4) : 80.0, pick(8) == 0);
  }
  if (pick(2) == 0) town.valve("v", pick(mains), 20.0);
  return town;
}

/// Vertices that some open supply reaches when the members of `mask` are shut, by plain search.
inline std::vector<bool> fed(const network::Network& network, const Places& places, unsigned mask) {
  std::vector<bool> reached(places.graph.vertices(), false);
  std::vector<std::pair<isolate::Vertex, isolate::Vertex>> open;
  for (std::size_t i = 0; i < places.places.size(); ++i) {
    if ((mask >> i & 1u) != 0) continue;
    const Place& place = places.places[i];
    if (place.kind == ShutKind::source_outlet) {
      reached[at(places.part_of_node[at(network.sources.node[at(place.element)])])] = true;
      continue;
    }
    for (std::size_t p = 0; p + 1 < places.pieces.size(); ++p) {
      const auto& a = places.pieces[p];
      const auto& b = places.pieces[p + 1];
      if (a.piece.pipe == place.pipe && b.piece.pipe == place.pipe && a.piece.end == place.station)
        open.emplace_back(a.part, b.part);
    }
  }
  for (bool more = true; more;) {
    more = false;
    for (const auto& [a, b] : open) {
      if (reached[at(a)] == reached[at(b)]) continue;
      reached[at(a)] = reached[at(b)] = true;
      more = true;
    }
  }
  return reached;
}

/// Every inclusion-minimal set of places that parts the work from gas, as cuts whose cost is the
/// crew-time of the places alone. REQUIRES few places.
inline std::vector<isolate::Cut> minimal_cuts(const network::Network& network,
                                              const Places& places) {
  std::vector<isolate::Cut> cuts;
  const auto all = 1u << places.places.size();
  const auto open = fed(network, places, 0);
  const auto parts = [&](unsigned mask) {
    const auto reached = fed(network, places, mask);
    return std::ranges::none_of(places.work, [&](isolate::Vertex v) { return reached[at(v)]; });
  };
  for (unsigned mask = 1; mask < all; ++mask) {
    if (!parts(mask)) continue;
    bool minimal = true;
    for (std::size_t i = 0; i < places.places.size(); ++i) {
      if ((mask >> i & 1u) != 0 && parts(mask & ~(1u << i))) minimal = false;
    }
    if (!minimal) continue;
    isolate::Cut cut;
    for (std::size_t i = 0; i < places.places.size(); ++i) {
      if ((mask >> i & 1u) == 0) continue;
      cut.cost += places.places[i].crew_s;
      if (i < places.graph.edges())
        cut.shut.push_back(static_cast<isolate::EdgeIndex>(i));
      else
        cut.supplies_shut.push_back(static_cast<std::int32_t>(i - places.graph.edges()));
    }
    const auto reached = fed(network, places, mask);
    for (std::size_t v = 0; v < reached.size(); ++v) {
      if (open[v] && !reached[v]) cut.lost.push_back(static_cast<isolate::Vertex>(v));
    }
    cuts.push_back(std::move(cut));
  }
  return cuts;
}

}  // namespace bellhole::plan::test
