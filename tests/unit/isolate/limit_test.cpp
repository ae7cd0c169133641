// What is said when the search is cut short, and that a question costs what it touches.
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "shapes.hpp"
#include "town.hpp"

namespace bellhole::isolate::test {

namespace {

TEST(Limit, SaysTheGapAndStillGivesTrueCuts) {
  int cut_short = 0, gaps = 0;
  for (unsigned seed = 0; seed < 600; ++seed) {
    std::mt19937 random(seed);
    const Sketch sketch = draw_grid(random);
    Query query = about(draw_work(sketch, random));
    const std::vector<Cut> all = brute_force_zones(sketch, query.work);
    query.limit = pick(random, 1, 12);
    const Asked got = ask(sketch, query);
    std::vector<Cut> seen;
    for (const Cut& cut : got.cuts) {
      const auto same = [&](const Cut& other) { return print({cut}) == print({other}); };
      ASSERT_TRUE(std::any_of(all.begin(), all.end(), same))
          << print({cut}) << print(sketch, query.work);
      ASSERT_TRUE(std::none_of(seen.begin(), seen.end(), same)) << print({cut});
      ASSERT_TRUE(seen.empty() || seen.back().cost <= cut.cost);
      seen.push_back(cut);
    }
    if (got.proof.ended != Ended::limit) continue;
    ++cut_short;
    // Nothing that is missing may cost less than the bound.
    for (const Cut& cut : all) {
      const auto same = [&](const Cut& other) { return print({cut}) == print({other}); };
      if (std::none_of(seen.begin(), seen.end(), same)) {
        ASSERT_GE(cut.cost, got.proof.bound);
      }
    }
    if (!got.proof.optimal) {
      ++gaps;
      ASSERT_LT(got.proof.bound, seen.back().cost);
    }
    ASSERT_FALSE(got.blocked);
  }
  EXPECT_GT(cut_short, 100);
  EXPECT_GT(gaps, 50);
}

class StopsAt final : public Watch {
 public:
  explicit StopsAt(int ticks) : left_(ticks) {}
  bool tick(double fraction) override {
    EXPECT_GE(fraction, 0);
    EXPECT_LE(fraction, 1);
    return left_-- > 0;
  }

 private:
  int left_;
};

TEST(Watch, StopsTheSearch) {
  const Town town = grid_town({.streets = 9, .seed = 3});
  const auto graph = Graph::prepare(town.sketch.lost, town.sketch.edges, town.sketch.supplies);
  ASSERT_TRUE(graph);
  Scratch scratch;
  StopsAt watch(3);
  auto cuts = Cuts::start(*graph, about(town.work[40]), scratch, watch);
  ASSERT_TRUE(cuts);
  std::vector<Cost> costs;
  while (const auto cut = cuts->next()) costs.push_back(cut->cost);
  EXPECT_EQ(cuts->proof().ended, Ended::cancelled);
  EXPECT_LE(cuts->proof().examined, 3 * 64);
  EXPECT_TRUE(std::is_sorted(costs.begin(), costs.end()));
  EXPECT_FALSE(costs.empty());
  EXPECT_FALSE(cuts->blocked());
}

/// The same street grid, nine times as big: a question looks at no more of it.
TEST(Locality, QuestionTouchesTheNeighbourhoodOnly) {
  const auto mean_touched = [](int streets) {
    const Town town = grid_town({.streets = streets, .seed = 5});
    const auto graph = Graph::prepare(town.sketch.lost, town.sketch.edges, town.sketch.supplies);
    Scratch scratch;
    Unwatched watch;
    std::int64_t touched = 0;
    for (const auto& work : town.work) {
      auto cuts = Cuts::start(*graph, {.work = work}, scratch, watch);
      EXPECT_TRUE(cuts->next());
      touched += cuts->proof().touched;
    }
    return static_cast<double>(touched) / static_cast<double>(town.work.size());
  };
  EXPECT_LT(mean_touched(33), 60);
  EXPECT_LT(mean_touched(99), 60);
}

/// A town with one station, and a zone that reaches up to it: all of the town hangs on the zone's
/// last vertex. That is seen at once, without walking through the town.
TEST(Locality, TownBehindOneVertexIsNotWalkedThrough) {
  Town town = grid_town({.streets = 49, .seed = 5});
  Sketch& sketch = town.sketch;
  const auto feed = static_cast<Vertex>(sketch.lost.size()), work = feed + 1;
  sketch.lost.insert(sketch.lost.end(), {0, 1});
  const Vertex gate = sketch.supplies[0].at;
  Vertex beside = gate;
  for (Edge& edge : sketch.edges) {
    if (edge.a != gate && edge.b != gate) continue;
    edge.shut = 3;
    beside = edge.a + edge.b - gate;
  }
  sketch.lost[static_cast<std::size_t>(gate)] = 0;
  sketch.edges.insert(sketch.edges.end(),
                      {{feed, gate, 3}, {gate, work, 10'000}, {work, beside, 3}});
  sketch.supplies = {{feed, forbidden}};
  const Asked asked = ask(sketch, about({work}), 1);
  ASSERT_EQ(asked.cuts.size(), 1U);
  EXPECT_EQ(asked.cuts[0].cost,
            10'000 + 3 + 1);  // dearer than the zone up to the feed, but the town stays on
  EXPECT_EQ(asked.cuts[0].lost, std::vector<Vertex>{work});
  EXPECT_GT(asked.proof.pockets, 0);
  EXPECT_LT(asked.proof.touched, 500);
}

}  // namespace

}  // namespace bellhole::isolate::test
