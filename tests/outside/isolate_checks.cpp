// Best cuts of a made-up street grid, against the optimum that CBC found for the same question put
// as an integer program (tests/unit/isolate/milp.hpp, which puts hundreds more of them to CBC).
#include <cstddef>
#include <vector>

#include "isolate/cuts.hpp"
#include "ledger.hpp"

namespace bellhole::outside {

namespace {

using isolate::Cost;
using isolate::Vertex;

/// A grid of n by n crossings with uneven costs, two stations in opposite corners and no street
/// through the middle row but at its ends.
std::vector<isolate::Edge> grid_edges(Vertex n) {
  std::vector<isolate::Edge> edges;
  const auto street = [&](Vertex a, Vertex b) {
    const auto number = static_cast<Cost>(edges.size());
    edges.push_back({a, b, number % 13 == 5 ? isolate::forbidden : number * 53 % 29 + 4});
  };
  for (Vertex v = 0; v < n * n; ++v) {
    const Vertex row = v / n, column = v % n;
    if (column > 0) street(v - 1, v);
    if (row > 0 && (row != n / 2 || column == 0 || column == n - 1)) street(v - n, v);
  }
  return edges;
}

double best_cost(const std::vector<Vertex>& work) {
  constexpr Vertex n = 12;
  std::vector<Cost> lost;
  for (Vertex v = 0; v < n * n; ++v) lost.push_back(v % 5 == 0 ? v * 37 % 23 : v % 3);
  lost[n - 1] = 200;  // a corner that two crossings can seal off
  const std::vector<isolate::Edge> edges = grid_edges(n);
  const std::vector<isolate::Supply> supplies{{0}, {n * n - 1, 90}};
  const auto graph = isolate::Graph::prepare(lost, edges, supplies);
  isolate::Scratch scratch;
  Unwatched watch;
  isolate::Query query;
  query.work = work;
  auto cuts = isolate::Cuts::start(*graph, query, scratch, watch);
  const auto cut = cuts->next();
  return cut ? static_cast<double>(cut->cost) : -1;
}

}  // namespace

LEDGER(isolate) {
  const auto check = [&](const char* what, double expected, std::vector<Vertex> work) {
    ledger.check(
        {.quantity = what,
         .expected = expected,
         .tolerance = 1e-9,
         .unit = "1",
         .source =
             "CBC 2.10.8, as an integer program with flow from the supplies, run on this grid",
         .evidence = Evidence::derived,
         .independent = true},
        [work] { return best_cost(work); });
  };
  check("best cut of a 12 x 12 grid, work at 65", 69, {65});
  check("best cut of a 12 x 12 grid, work at 13 and 26", 130, {13, 26});
  check("best cut of a 12 x 12 grid, work at 9, 22, 35, a pocket in the corner", 300, {9, 22, 35});
  check("best cut of a 12 x 12 grid, work at 8, 21, 34, 47, pockets in the corner", 344,
        {8, 21, 34, 47});
  check("best cut of a 12 x 12 grid, work at a station, 143", 150, {143});
}

}  // namespace bellhole::outside
