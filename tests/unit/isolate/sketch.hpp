// A small network for tests, and the plain way to ask it everything.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "isolate/cuts.hpp"

namespace bellhole::isolate::test {

struct Sketch {
  std::vector<Cost> lost;
  std::vector<Edge> edges;
  std::vector<Supply> supplies;
};

struct Asked {
  std::vector<Cut> cuts;
  Proof proof;
  std::optional<Blocked> blocked;
  std::vector<Vertex> already_off;
};

/// At most `k` cuts (all, if k < 0). Aborts on trouble.
Asked ask(const Sketch& sketch, const Query& query, int k = -1);

/// A question about `work` that orders every tie and never runs into the limit.
Query about(std::vector<Vertex> work);

/// All that the query sets, written into the sketch itself.
Sketch with_costs_of(Sketch sketch, const Query& query);

/// Which vertices some open supply reaches, with these shut. Union-find-free and slow on purpose:
/// one pass over all edges after the other until nothing changes.
std::vector<bool> reached(const Sketch& sketch, const std::vector<bool>& edge_shut,
                          const std::vector<bool>& supply_shut);

/// Every inclusion-minimal set of places that may be shut which loses all work and nothing
/// forbidden, in the order that isolate promises; by trying all subsets.
std::vector<Cut> brute_force(const Sketch& sketch, const std::vector<Vertex>& work);

/// The same by trying every set of vertices as the lost ones: for networks of up to about 14
/// vertices with any number of edges.
std::vector<Cut> brute_force_zones(const Sketch& sketch, const std::vector<Vertex>& work);

/// For the message of a failed test.
std::string print(const std::vector<Cut>& cuts);
std::string print(const Sketch& sketch, const std::vector<Vertex>& work);

}  // namespace bellhole::isolate::test
