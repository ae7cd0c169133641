// Brute force beside the search: on small random towns every set of places is tried, hydraulics
// included.
#include "plan/search.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <random>

#include "tests/unit/plan/brute_force.hpp"

namespace bellhole::plan {
namespace {

using test::fed;
using test::random_town;
using test::Town;

using Elements = std::vector<std::pair<ShutKind, network::Index>>;

Elements elements_of(const Places& places, const isolate::Cut& cut) {
  Elements e;
  for (const auto i : places_of(places, cut))
    e.emplace_back(places.places[i].kind, places.places[i].element);
  std::ranges::sort(e);
  return e;
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

    std::map<Elements, isolate::Cost> best;
    for (isolate::Cut& cut : test::minimal_cuts(town.network, *places)) {
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

TEST(Search, WhoHasNoGasAnywayIsNotPutOutByIt) {
  Town town;  // a street with a gate, and one that no main joins to it
  const auto a = town.node("a", 0, 0), b = town.node("b", 1000, 0);
  const auto main = town.main("m0", a, b);
  town.source("GATE", a);
  town.customer("before", main, 100.0);
  town.customer("behind", main, 900.0);
  const auto apart = town.main("apart", town.node("c", 0, 500), town.node("d", 1000, 500));
  for (int i = 0; i < 30; ++i) town.customer("apart" + std::to_string(i), apart, 30.0 * (i + 1));
  const auto profile = test::round_costs();
  const auto model = network::Model::prepare(
      town.network, {.gas = *gas::from_gravity(0.6), .ground = Temperature::from_si(283.0)});
  const network::Scenario base{.air = Temperature::from_si(280.0), .load = network::LoadCase::high};
  const auto before = model->solve(base);
  ASSERT_TRUE(before);
  ASSERT_EQ(before->customers_out.size(), 30u);
  const Work work = *work_on_pipe(town.network, "m0", Length::from_si(500), Length::from_si(500));
  const auto places =
      find_places({town.network, profile, work, Kind::planned, 2026.9, *before, units::System::us});
  ASSERT_TRUE(places);
  const std::vector<isolate::Cost> each(town.network.customers.size(), 1800);
  Unwatched watch;
  const auto found = search(*model, *places, base, each, *before, {.plans = 3}, watch);
  ASSERT_TRUE(found);
  ASSERT_FALSE(found->best.empty());
  const Candidate& best = found->best.front();
  ASSERT_FALSE(best.evaluation.out.empty());
  for (const CustomerOut& out : best.evaluation.out)
    EXPECT_LT(out.customer, 2) << town.network.customers.id[static_cast<std::size_t>(out.customer)];
  EXPECT_EQ(best.evaluation.total, best.cut.cost);
  EXPECT_TRUE(found->proof.optimal);
  EXPECT_LT(found->proof.solved, 20);
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
