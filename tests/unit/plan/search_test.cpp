// Brute force beside the search: on small random towns every set of places is tried, hydraulics
// included.
#include "plan/search.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <random>
#include <set>

#include "tests/unit/plan/small_town.hpp"

namespace bellhole::plan {
namespace {

using test::Town;

std::size_t at(std::int32_t i) { return static_cast<std::size_t>(i); }

/// Four or five nodes, a few mains between them, one or two sources, customers, now and then a
/// large one.
Town random_town(std::mt19937& random) {
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

using Elements = std::vector<std::pair<ShutKind, network::Index>>;

Elements elements_of(const Places& places, const isolate::Cut& cut) {
  Elements e;
  for (const auto i : places_of(places, cut))
    e.emplace_back(places.places[i].kind, places.places[i].element);
  std::ranges::sort(e);
  return e;
}

/// Vertices that some open supply reaches when the members of `mask` are shut, by plain search.
std::vector<bool> fed(const network::Network& network, const Places& places, unsigned mask) {
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

TEST(Search, AgreesWithTryingEverySetOfPlacesHydraulicsIncluded) {
  const auto profile = test::round_costs();
  int compared = 0, with_short = 0;
  for (unsigned seed = 1; seed <= 120; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    std::mt19937 random(seed);
    const Town town = random_town(random);
    const auto model = network::Model::prepare(
        town.network, {.gas = *gas::from_gravity(0.6), .ground = Temperature::from_si(283.0)});
    ASSERT_TRUE(model) << model.error().fix;
    const network::Scenario base{.air = Temperature::from_si(280.0)};
    network::Scenario high = base;
    high.load = network::LoadCase::high;
    const auto before = model->solve(high);
    ASSERT_TRUE(before) << before.error().value;
    const std::size_t pipe = random() % town.network.pipes.size();
    const auto station = town.network.pipes.length[pipe] * 0.47;
    const Work work = *work_on_pipe(town.network, town.network.pipes.id[pipe], station, station);
    const auto places = find_places(
        {town.network, profile, work, Kind::planned, 2026.9, *before, units::System::us});
    ASSERT_TRUE(places) << places.error().fix;
    if (places->places.size() > 13) continue;

    std::vector<isolate::Cost> customer_cost;
    for (const auto must : town.network.customers.must_not_lose)
      customer_cost.push_back(1800 + (must != 0 ? one_must_not_lose : 0));

    // Every inclusion-minimal set that parts the work from gas, by brute force.
    std::map<Elements, isolate::Cost> best;
    const auto all = 1u << places->places.size();
    const auto open = fed(town.network, *places, 0);
    const auto parts = [&](unsigned mask) {
      const auto reached = fed(town.network, *places, mask);
      return std::ranges::none_of(places->work, [&](isolate::Vertex v) { return reached[at(v)]; });
    };
    for (unsigned mask = 1; mask < all; ++mask) {
      if (!parts(mask)) continue;
      bool minimal = true;
      for (std::size_t i = 0; i < places->places.size(); ++i) {
        if ((mask >> i & 1u) != 0 && parts(mask & ~(1u << i))) minimal = false;
      }
      if (!minimal) continue;
      isolate::Cut cut;
      for (std::size_t i = 0; i < places->places.size(); ++i) {
        if ((mask >> i & 1u) == 0) continue;
        cut.cost += places->places[i].crew_s;
        if (i < places->graph.edges())
          cut.shut.push_back(static_cast<isolate::EdgeIndex>(i));
        else
          cut.supplies_shut.push_back(static_cast<std::int32_t>(i - places->graph.edges()));
      }
      const auto reached = fed(town.network, *places, mask);
      for (std::size_t v = 0; v < reached.size(); ++v) {
        if (open[v] && !reached[v]) cut.lost.push_back(static_cast<isolate::Vertex>(v));
      }
      for (std::size_t c = 0; c < town.network.customers.size(); ++c) {
        if (std::ranges::binary_search(cut.lost, places->part_of_customer[c]))
          cut.cost += customer_cost[c];
      }
      const auto evaluation = evaluate(*model, *places, cut, base, customer_cost, *before);
      ASSERT_TRUE(evaluation) << evaluation.error().value;
      with_short += evaluation->total > cut.cost;
      const auto [known, added] = best.emplace(elements_of(*places, cut), evaluation->total);
      if (!added) known->second = std::min(known->second, evaluation->total);
    }
    std::vector<isolate::Cost> wanted;
    for (const auto& [elements, total] : best) wanted.push_back(total);
    std::ranges::sort(wanted);

    Unwatched watch;
    const auto found = search(*model, *places, base, customer_cost, *before, {.plans = 4}, watch);
    ASSERT_TRUE(found) << found.error().value;
    ASSERT_TRUE(found->proof.optimal);
    ASSERT_GE(found->best.size(), std::min<std::size_t>(4, wanted.size()));
    for (std::size_t i = 0; i < found->best.size(); ++i) {
      EXPECT_EQ(found->best[i].evaluation.total, wanted[i]) << "plan " << i;
      EXPECT_EQ(found->best[i].evaluation.total, best.at(elements_of(*places, found->best[i].cut)));
    }
    if (found->best.size() < wanted.size()) {
      EXPECT_GT(wanted[found->best.size()], found->best.back().evaluation.total)
          << "ties are all listed";
      EXPECT_LE(found->proof.bound, wanted[found->best.size()]);
    }
    ++compared;
  }
  EXPECT_GT(compared, 60);
  EXPECT_GT(with_short, 10) << "the towns must be hard enough for customers to fall short";
}

TEST(Search, OneMoreShutOffNeverReconnects) {
  const auto profile = test::round_costs();
  for (unsigned seed = 200; seed < 240; ++seed) {
    std::mt19937 random(seed);
    const Town town = random_town(random);
    const auto model = network::Model::prepare(
        town.network, {.gas = *gas::from_gravity(0.6), .ground = Temperature::from_si(283.0)});
    const network::Scenario base{.air = Temperature::from_si(280.0)};
    const auto before = model->solve(base);
    ASSERT_TRUE(before);
    const Work work = *work_on_pipe(town.network, "m0", Length::from_si(100), Length::from_si(100));
    const auto places = find_places(
        {town.network, profile, work, Kind::planned, 2026.9, *before, units::System::us});
    ASSERT_TRUE(places);
    if (places->places.size() > 20) continue;
    const unsigned mask = static_cast<unsigned>(random()) & ((1u << places->places.size()) - 1u);
    const auto reached = fed(town.network, *places, mask);
    for (std::size_t i = 0; i < places->places.size(); ++i) {
      const auto fewer = fed(town.network, *places, mask | (1u << i));
      for (std::size_t v = 0; v < reached.size(); ++v) EXPECT_LE(fewer[v], reached[v]);
    }
  }
}

}  // namespace
}  // namespace bellhole::plan
