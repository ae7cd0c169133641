// What holds of every cut of any network, however it was found.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <set>

#include "sketch.hpp"
#include "town.hpp"

namespace bellhole::isolate::test {

namespace {

struct Asking {
  Sketch sketch;
  std::vector<Vertex> work;
};

std::ostream& operator<<(std::ostream& out, const Asking& asking) {
  return out << print(asking.sketch, asking.work);
}

rc::Gen<Cost> cost(Cost most) {
  return rc::gen::weightedOneOf<Cost>(
      {{8, rc::gen::inRange<Cost>(0, most)}, {1, rc::gen::just(forbidden)}});
}

/// Up to 25 vertices; streets mostly between near numbers, as on a map, so that there are loops and
/// pockets.
rc::Gen<Asking> asking() {
  return rc::gen::exec([] {
    Asking asking;
    const int n = *rc::gen::inRange(2, 26);
    asking.sketch.lost =
        *rc::gen::container<std::vector<Cost>>(static_cast<std::size_t>(n), cost(8));
    const auto edge = rc::gen::exec([n] {
      const Vertex a = *rc::gen::inRange(0, n);
      const Vertex b = std::clamp(a + *rc::gen::inRange(-5, 6), 0, n - 1);
      return Edge{a, b, *cost(12)};
    });
    asking.sketch.edges = *rc::gen::container<std::vector<Edge>>(
        static_cast<std::size_t>(*rc::gen::inRange(n, 2 * n + 2)), edge);
    const auto supply = rc::gen::exec([n] { return Supply{*rc::gen::inRange(0, n), *cost(12)}; });
    asking.sketch.supplies = *rc::gen::container<std::vector<Supply>>(
        static_cast<std::size_t>(*rc::gen::inRange(1, 4)), supply);
    asking.work = *rc::gen::container<std::vector<Vertex>>(
        static_cast<std::size_t>(*rc::gen::inRange(1, 4)), rc::gen::inRange(0, n));
    return asking;
  });
}

struct Shutting {
  std::vector<bool> edges, supplies;
};

Shutting shutting(const Sketch& sketch, const Cut& cut) {
  Shutting shut{std::vector<bool>(sketch.edges.size()), std::vector<bool>(sketch.supplies.size())};
  for (const auto e : cut.shut) shut.edges[static_cast<std::size_t>(e)] = true;
  for (const auto s : cut.supplies_shut) shut.supplies[static_cast<std::size_t>(s)] = true;
  return shut;
}

std::vector<Vertex> lost_by(const Sketch& sketch, const Shutting& shut) {
  const auto before = reached(sketch, std::vector<bool>(shut.edges.size()),
                              std::vector<bool>(shut.supplies.size()));
  const auto after = reached(sketch, shut.edges, shut.supplies);
  std::vector<Vertex> lost;
  for (std::size_t v = 0; v < before.size(); ++v) {
    if (before[v] && !after[v]) lost.push_back(static_cast<Vertex>(v));
  }
  return lost;
}

Cost cost_of(const Sketch& sketch, const Cut& cut) {
  Cost cost = 0;
  for (const auto e : cut.shut) cost += sketch.edges[static_cast<std::size_t>(e)].shut;
  for (const auto s : cut.supplies_shut) cost += sketch.supplies[static_cast<std::size_t>(s)].shut;
  for (const auto v : cut.lost) cost += sketch.lost[static_cast<std::size_t>(v)];
  return cost;
}

Asked first_cuts(const Asking& asking) { return ask(asking.sketch, about(asking.work), 30); }

RC_GTEST_PROP(EveryCut, LeavesNoWayFromASupplyToTheWork, ()) {
  const Asking given = *asking();
  for (const Cut& cut : first_cuts(given).cuts) {
    const Shutting shut = shutting(given.sketch, cut);
    const auto still = reached(given.sketch, shut.edges, shut.supplies);
    for (const Vertex v : given.work) RC_ASSERT(!still[static_cast<std::size_t>(v)]);
  }
}

RC_GTEST_PROP(EveryCut, LosesExactlyWhatItSaysAtTheCostItSays, ()) {
  const Asking given = *asking();
  for (const Cut& cut : first_cuts(given).cuts) {
    RC_ASSERT(cut.lost == lost_by(given.sketch, shutting(given.sketch, cut)));
    RC_ASSERT(cut.cost == cost_of(given.sketch, cut));
    RC_ASSERT(cut.cost < forbidden);
  }
}

RC_GTEST_PROP(EveryCut, StaysACutWhenOneMorePlaceIsShut, ()) {
  const Asking given = *asking();
  for (const Cut& cut : first_cuts(given).cuts) {
    Shutting shut = shutting(given.sketch, cut);
    for (std::size_t e = 0; e < shut.edges.size(); ++e) {
      if (shut.edges[e]) continue;
      shut.edges[e] = true;
      const auto lost = lost_by(given.sketch, shut);
      shut.edges[e] = false;
      RC_ASSERT(std::includes(lost.begin(), lost.end(), cut.lost.begin(), cut.lost.end()));
    }
  }
}

RC_GTEST_PROP(EveryCut, NeedsEachPlaceThatItShuts, ()) {
  const Asking given = *asking();
  const auto gives_gas_back = [&](std::vector<bool>& places, const Shutting& shut,
                                  std::int32_t place) {
    places[static_cast<std::size_t>(place)] = false;
    const auto still = reached(given.sketch, shut.edges, shut.supplies);
    places[static_cast<std::size_t>(place)] = true;
    return std::any_of(given.work.begin(), given.work.end(),
                       [&](Vertex v) { return still[static_cast<std::size_t>(v)]; });
  };
  for (const Cut& cut : first_cuts(given).cuts) {
    Shutting shut = shutting(given.sketch, cut);
    for (const auto e : cut.shut) RC_ASSERT(gives_gas_back(shut.edges, shut, e));
    for (const auto s : cut.supplies_shut) RC_ASSERT(gives_gas_back(shut.supplies, shut, s));
  }
}

RC_GTEST_PROP(TheList, RisesAndHasEachCutOnce, ()) {
  const Asking given = *asking();
  const Asked asked = first_cuts(given);
  std::set<std::pair<std::vector<EdgeIndex>, std::vector<std::int32_t>>> seen;
  for (std::size_t i = 0; i < asked.cuts.size(); ++i) {
    RC_ASSERT((i == 0 || asked.cuts[i - 1].cost <= asked.cuts[i].cost));
    RC_ASSERT(seen.insert({asked.cuts[i].shut, asked.cuts[i].supplies_shut}).second);
  }
  RC_ASSERT(asked.proof.optimal);
  RC_ASSERT((asked.cuts.empty() || asked.proof.bound >= asked.cuts.back().cost));
}

RC_GTEST_PROP(TheList, IsTheSameWhenAskedUpToOneCostAfterTheOther, ()) {
  const Asking given = *asking();
  const auto whole = first_cuts(given).cuts;
  const auto graph = Graph::prepare(given.sketch.lost, given.sketch.edges, given.sketch.supplies);
  Scratch scratch;
  Unwatched watch;
  auto cuts = Cuts::start(*graph, about(given.work), scratch, watch);
  RC_ASSERT(cuts.has_value());
  const Cost most = whole.empty() ? 0 : whole.back().cost;
  std::size_t n = 0;
  for (Cost below = 0; below <= most; ++below) {
    while (const auto cut = cuts->next(below)) {
      RC_ASSERT(n < whole.size());
      RC_ASSERT((cut->shut == whole[n].shut && cut->supplies_shut == whole[n].supplies_shut));
      RC_ASSERT(cut->cost < below);
      ++n;
    }
    RC_ASSERT((n == whole.size() || whole[n].cost >= below));
    RC_ASSERT(cuts->proof().bound >= below);
  }
}

RC_GTEST_PROP(TheList, IsTheSameWhateverOrderTheWorkAndTheVerticesAreNamedIn, ()) {
  const Asking given = *asking();
  Asking other = given;
  std::reverse(other.work.begin(), other.work.end());
  other.work.push_back(other.work.front());
  const auto n = static_cast<Vertex>(given.sketch.lost.size());
  std::reverse(other.sketch.lost.begin(), other.sketch.lost.end());
  for (Edge& edge : other.sketch.edges) edge = {n - 1 - edge.b, n - 1 - edge.a, edge.shut};
  for (Supply& supply : other.sketch.supplies) supply.at = n - 1 - supply.at;
  for (Vertex& v : other.work) v = n - 1 - v;
  const auto one = first_cuts(given).cuts, two = first_cuts(other).cuts;
  RC_ASSERT(one.size() == two.size());
  for (std::size_t i = 0; i < one.size(); ++i) {
    RC_ASSERT(one[i].cost == two[i].cost);
    RC_ASSERT(one[i].shut == two[i].shut);
    RC_ASSERT(one[i].supplies_shut == two[i].supplies_shut);
  }
}

}  // namespace

}  // namespace bellhole::isolate::test
