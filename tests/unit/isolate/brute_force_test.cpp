// The whole list of cuts of thousands of small networks, held against all subsets of what may be
// shut.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstddef>

#include "shapes.hpp"

namespace bellhole::isolate::test {

namespace {

constexpr unsigned seeds = 3000;  // of each shape

class AllCuts : public testing::TestWithParam<int> {};

TEST_P(AllCuts, AreThoseThatTryingAllSubsetsFinds) {
  for (unsigned seed = 0; seed < seeds; ++seed) {
    std::mt19937 random(seed * 8 + static_cast<unsigned>(GetParam()));
    const Sketch sketch = draw(static_cast<Shape>(GetParam()), random);
    Query query = about(draw_work(sketch, random));
    if (seed % 3 == 0) draw_costs(sketch, random, query);
    const Sketch meant = with_costs_of(sketch, query);
    const std::vector<Cut> expected = brute_force(meant, query.work);
    const Asked got = ask(sketch, query);
    ASSERT_EQ(print(got.cuts), print(expected)) << "seed " << seed << "\n"
                                                << print(meant, query.work);
    ASSERT_TRUE(got.proof.optimal);
    ASSERT_EQ(got.proof.ended, Ended::all_given);
    ASSERT_EQ(got.proof.bound, forbidden);
    ASSERT_EQ(got.blocked.has_value(), expected.empty()) << print(meant, query.work);
  }
}

/// The first k are the same whether or not the list is asked to its end, and ties may come in any
/// batches.
TEST_P(AllCuts, AreGivenInRisingCostHoweverManyAreAskedFor) {
  for (unsigned seed = 0; seed < seeds / 10; ++seed) {
    std::mt19937 random(seed * 8 + static_cast<unsigned>(GetParam()));
    const Sketch sketch = draw(static_cast<Shape>(GetParam()), random);
    Query query = about(draw_work(sketch, random));
    const std::vector<Cut> expected = brute_force(sketch, query.work);
    for (int k = 1; k <= 10; ++k) {
      const Asked got = ask(sketch, query, k);
      const auto given = std::min(expected.size(), static_cast<std::size_t>(k));
      ASSERT_EQ(
          print(got.cuts),
          print(std::vector<Cut>(expected.begin(), expected.begin() + static_cast<int>(given))));
      if (given < expected.size()) {
        ASSERT_LE(got.proof.bound, expected[given].cost);
      }
    }
    query.tie_limit = 1;
    const Asked batched = ask(sketch, query);
    ASSERT_EQ(batched.cuts.size(), expected.size());
    for (std::size_t i = 0; i < expected.size(); ++i)
      ASSERT_EQ(batched.cuts[i].cost, expected[i].cost);
  }
}

/// Larger ones, with pockets within pockets: tried by the vertices that are lost.
TEST(AllCutsOfAGrid, AreThoseThatTryingAllZonesFinds) {
  for (unsigned seed = 0; seed < seeds / 2; ++seed) {
    std::mt19937 random(seed);
    const Sketch sketch = draw_grid(random);
    Query query = about(draw_work(sketch, random));
    if (seed % 3 == 0) draw_costs(sketch, random, query);
    const Sketch meant = with_costs_of(sketch, query);
    const std::vector<Cut> expected = brute_force_zones(meant, query.work);
    const Asked got = ask(sketch, query);
    ASSERT_EQ(print(got.cuts), print(expected)) << "seed " << seed << "\n"
                                                << print(meant, query.work);
    ASSERT_EQ(got.blocked.has_value(), expected.empty()) << print(meant, query.work);
  }
}

/// The two ways of trying everything hold each other.
TEST(BruteForce, BySubsetsAndByZonesAgree) {
  for (unsigned seed = 0; seed < seeds / 10; ++seed) {
    std::mt19937 random(seed);
    const Sketch sketch = draw(static_cast<Shape>(seed % shapes), random);
    const std::vector<Vertex> work = draw_work(sketch, random);
    ASSERT_EQ(print(brute_force(sketch, work)), print(brute_force_zones(sketch, work)))
        << print(sketch, work);
  }
}

INSTANTIATE_TEST_SUITE_P(Shapes, AllCuts, testing::Range(0, shapes));

}  // namespace

}  // namespace bellhole::isolate::test
