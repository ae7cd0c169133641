// Cuts of small networks drawn as text. A vertex is its number; "5" on a line is what it costs to
// shut there, "x" cannot be shut; "S" is a supply; losing a vertex costs 1 unless said.
#include <gtest/gtest.h>

#include <vector>

#include "sketch.hpp"

namespace bellhole::isolate::test {

namespace {

using Shut = std::vector<EdgeIndex>;
using Lost = std::vector<Vertex>;

Sketch sketch(std::size_t vertices, std::vector<Edge> edges, std::vector<Supply> supplies) {
  return {std::vector<Cost>(vertices, 1), std::move(edges), std::move(supplies)};
}

// S0 --5-- 1 --5-- 2 --5-- 3        work at 2: it ends there, so one place is enough and 3 goes
// with it
TEST(Cuts, DeadEndNeedsOnePlace) {
  const Sketch street = sketch(4, {{0, 1, 5}, {1, 2, 5}, {2, 3, 5}}, {{0}});
  const Asked asked = ask(street, about({2}));
  ASSERT_EQ(asked.cuts.size(), 2U);
  EXPECT_EQ(asked.cuts[0].cost, 7);
  EXPECT_EQ(asked.cuts[0].shut, Shut{1});
  EXPECT_EQ(asked.cuts[0].lost, (Lost{2, 3}));
  EXPECT_EQ(asked.cuts[1].cost, 8);
  EXPECT_EQ(asked.cuts[1].shut, Shut{0});
  EXPECT_EQ(asked.cuts[1].lost, (Lost{1, 2, 3}));
  EXPECT_TRUE(asked.proof.optimal);
  EXPECT_EQ(asked.proof.ended, Ended::all_given);
}

// S0 --5-- 1 --5-- 2 --5-- 3S       fed from both ends: one place on either side
TEST(Cuts, FedFromBothEndsNeedsTwoPlaces) {
  const Sketch street = sketch(4, {{0, 1, 5}, {1, 2, 4}, {2, 3, 5}}, {{0}, {3}});
  const Asked asked = ask(street, about({2}));
  ASSERT_EQ(asked.cuts.size(), 2U);
  EXPECT_EQ(asked.cuts[0].shut, (Shut{1, 2}));
  EXPECT_EQ(asked.cuts[0].cost, 4 + 5 + 1);
  EXPECT_EQ(asked.cuts[1].shut, (Shut{0, 2}));
}

//        9--- 2 ---9
// S0 --x-- 1         4 (customers: 50)     work at 1: 4 hangs on 2 and 3 alone, which both hang
// on 1. Whatever
//        9--- 3 ---9                       is shut behind 1 helps nobody: only the supply's outlet
//        is left
TEST(Cuts, EverythingBehindTheWorkIsLostAndPaidFor) {
  Sketch square = sketch(5, {{0, 1}, {1, 2, 9}, {1, 3, 9}, {2, 4, 9}, {3, 4, 9}}, {{0, 20}});
  square.lost[4] = 50;
  const Asked asked = ask(square, about({1}));
  ASSERT_EQ(asked.cuts.size(), 1U);
  EXPECT_EQ(asked.cuts[0].shut, Shut{});
  EXPECT_EQ(asked.cuts[0].supplies_shut, std::vector<std::int32_t>{0});
  EXPECT_EQ(asked.cuts[0].lost, (Lost{0, 1, 2, 3, 4}));
  EXPECT_EQ(asked.cuts[0].cost, 20 + 54);
}

// S0 --2-- 1 --10-- 2 --2-- 3S     Work at 1. Without the crossing at 2 it would be parted by both
// 2s for 4,
//          |1       |1             but then 4 and 5, a hundred customers, lie in a pocket that 1
//          and 2 seal: 4 --1--- 5             the dear place between 1 and 2 is the cheap answer
TEST(Cuts, PocketIsPaidFor) {
  Sketch block =
      sketch(6, {{0, 1, 2}, {1, 2, 10}, {2, 3, 2}, {1, 4, 1}, {4, 5, 1}, {5, 2, 1}}, {{0}, {3}});
  block.lost[5] = 100;
  Asked asked = ask(block, about({1}));
  ASSERT_EQ(asked.cuts.size(), 4U);
  EXPECT_EQ(asked.cuts[0].shut, (Shut{0, 1, 3}));
  EXPECT_EQ(asked.cuts[0].cost, 2 + 10 + 1 + 1);
  EXPECT_EQ(asked.cuts[0].lost, Lost{1});
  EXPECT_EQ(asked.cuts[2].shut, (Shut{0, 2}));
  EXPECT_EQ(asked.cuts[2].lost, (Lost{1, 2, 4, 5}));
  EXPECT_EQ(asked.cuts[2].cost, 2 + 2 + 103);
  EXPECT_GT(asked.proof.pockets, 0);

  block.edges[1].shut = forbidden;  // now 1 and 2 go together, and the pocket with them
  asked = ask(block, about({1}));
  ASSERT_EQ(asked.cuts.size(), 1U);
  EXPECT_EQ(asked.cuts[0].shut, (Shut{0, 2}));
  EXPECT_EQ(asked.cuts[0].lost, (Lost{1, 2, 4, 5}));
}

// S0 --1-- 1 --1-- 2 --1-- 3 --1-- 4S    Work at 1 and at 3. What lies between has no gas of its
// own: no place
//                                        between them is ever shut, and 2 is lost and paid for
TEST(Cuts, PocketBetweenTwoWorksIsLostWithoutShutting) {
  Sketch street = sketch(5, {{0, 1, 1}, {1, 2, 1}, {2, 3, 1}, {3, 4, 1}}, {{0}, {4}});
  street.lost[2] = 30;
  const Asked asked = ask(street, about({1, 3}));
  ASSERT_EQ(asked.cuts.size(), 1U);
  EXPECT_EQ(asked.cuts[0].shut, (Shut{0, 3}));
  EXPECT_EQ(asked.cuts[0].lost, (Lost{1, 2, 3}));
  EXPECT_EQ(asked.cuts[0].cost, 1 + 1 + 32);
}

//          2 --1-- 4
// S0 --7-- 1       |1      A loop that hangs on 1. Work at 2: the plain minimum cut through 1 would
// leave 3
//          3 --1-- 4       and 4 behind; shutting both sides of 2 keeps them.
TEST(Cuts, LoopOnOneCrossing) {
  const Sketch loop = sketch(5, {{0, 1, 7}, {1, 2, 20}, {1, 3, 1}, {2, 4, 1}, {3, 4, 1}}, {{0}});
  const Asked asked = ask(loop, about({2}));
  ASSERT_EQ(asked.cuts.size(), 4U);
  EXPECT_EQ(asked.cuts[0].shut, Shut{0});  // 7 + four customers, against 20 + 1 + 1
  EXPECT_EQ(asked.cuts[0].cost, 11);
  EXPECT_EQ(asked.cuts[1].shut, (Shut{1, 3}));
  EXPECT_EQ(asked.cuts[2].shut, (Shut{1, 4}));
  EXPECT_EQ(asked.cuts[3].shut, (Shut{1, 2}));
}

// S0 ==3== 1    two mains side by side, and a self loop that parts nothing
TEST(Cuts, ParallelMainsAreBothShutAndSelfLoopsNever) {
  const Sketch twin = sketch(2, {{0, 1, 3}, {1, 0, 4}, {1, 1, 0}}, {{0}});
  const Asked asked = ask(twin, about({1}));
  ASSERT_EQ(asked.cuts.size(), 1U);
  EXPECT_EQ(asked.cuts[0].shut, (Shut{0, 1}));
  EXPECT_EQ(asked.cuts[0].cost, 8);
}

// S0 --2-- 1 --2-- 2 --2-- 3    no customers on the way: the places in series cost the same, and
// all are listed
TEST(Cuts, EqualCostsAreAllListedByIndex) {
  Sketch street = sketch(4, {{2, 3, 2}, {1, 2, 2}, {0, 1, 2}}, {{0}});
  street.lost = {0, 0, 0, 0};
  const Asked asked = ask(street, about({3}));
  ASSERT_EQ(asked.cuts.size(), 3U);
  for (EdgeIndex e = 0; e < 3; ++e) {
    EXPECT_EQ(asked.cuts[static_cast<std::size_t>(e)].shut, Shut{e});
    EXPECT_EQ(asked.cuts[static_cast<std::size_t>(e)].cost, 2);
  }
}

TEST(Cuts, FewerPlacesComeFirstAmongEqualCosts) {
  //   S0 --1-- 1 --1--\.
  //    |               3 --2-- 4      2 on the one main, or 1 + 1 on the two
  //    +--1--- 2 --1--/
  Sketch fork = sketch(5, {{0, 1, 1}, {0, 2, 1}, {1, 3, 1}, {2, 3, 1}, {3, 4, 2}}, {{0}});
  fork.lost = {0, 0, 0, 0, 0};
  const Asked asked = ask(fork, about({4}));
  ASSERT_EQ(asked.cuts.size(), 5U);
  EXPECT_EQ(asked.cuts[0].shut, Shut{4});
  EXPECT_EQ(asked.cuts[1].shut, (Shut{0, 1}));
  EXPECT_EQ(asked.cuts[2].shut, (Shut{0, 3}));
  EXPECT_EQ(asked.cuts[3].shut, (Shut{1, 2}));
  EXPECT_EQ(asked.cuts[4].shut, (Shut{2, 3}));
}

TEST(Cuts, WorkAtASupplyNeedsItsOutletShut) {
  // S0 --5-- 1
  Sketch pair = sketch(2, {{0, 1, 5}}, {{0}});
  Asked asked = ask(pair, about({0}));
  EXPECT_TRUE(asked.cuts.empty());
  ASSERT_TRUE(asked.blocked);
  EXPECT_EQ(asked.blocked->by, Blocked::By::supply);
  EXPECT_EQ(asked.blocked->index, 0);
  EXPECT_EQ(asked.proof.bound, forbidden);

  Query allowed = about({0});
  allowed.supplies = {{0, 40}};
  asked = ask(pair, allowed);
  ASSERT_EQ(asked.cuts.size(), 1U);
  EXPECT_EQ(asked.cuts[0].supplies_shut, std::vector<std::int32_t>{0});
  EXPECT_EQ(asked.cuts[0].lost, (Lost{0, 1}));
  EXPECT_EQ(asked.cuts[0].cost, 42);
}

TEST(Cuts, TwoSuppliesAtOneVertexAreBothShut) {
  const Asked asked = ask(sketch(1, {}, {{0, 3}, {0, 4}}), about({0}));
  ASSERT_EQ(asked.cuts.size(), 1U);
  EXPECT_EQ(asked.cuts[0].supplies_shut, (std::vector<std::int32_t>{0, 1}));
  EXPECT_EQ(asked.cuts[0].cost, 8);
}

// S0 --x-- 1 --5-- 2 (hospital)     work at 1: the hospital hangs on it
TEST(Cuts, SaysWhichVertexStandsInTheWay) {
  Sketch street = sketch(3, {{0, 1, 5}, {1, 2, 5}}, {{0}});
  street.lost[2] = forbidden;
  const Asked asked = ask(street, about({1}));
  EXPECT_TRUE(asked.cuts.empty());
  ASSERT_TRUE(asked.blocked);
  EXPECT_EQ(asked.blocked->by, Blocked::By::vertex);
  EXPECT_EQ(asked.blocked->index, 2);
}

// Work at 1 and 3, the hospital at 2 between them (see PocketBetweenTwoWorksIsLostWithoutShutting)
TEST(Cuts, SaysWhichVertexOfAPocketStandsInTheWay) {
  Sketch street = sketch(5, {{0, 1, 1}, {1, 2, 1}, {2, 3, 1}, {3, 4, 1}}, {{0}, {4}});
  Query query = about({1, 3});
  query.vertices = {{2, forbidden}};
  const Asked asked = ask(street, query);
  EXPECT_TRUE(asked.cuts.empty());
  ASSERT_TRUE(asked.blocked);
  EXPECT_EQ(asked.blocked->by, Blocked::By::vertex);
  EXPECT_EQ(asked.blocked->index, 2);
}

// S0 --5-- 1     2 --5-- 3   an island: off already, costs nothing, needs nothing
TEST(Cuts, WorkWithoutGasNeedsNoShutting) {
  Sketch two = sketch(4, {{0, 1, 5}, {2, 3, 5}}, {{0}});
  two.lost[3] = forbidden;
  Asked asked = ask(two, about({2, 3, 2}));
  ASSERT_EQ(asked.cuts.size(), 1U);
  EXPECT_EQ(asked.cuts[0].cost, 0);
  EXPECT_TRUE(asked.cuts[0].shut.empty());
  EXPECT_TRUE(asked.cuts[0].lost.empty());
  EXPECT_EQ(asked.already_off, (Lost{2, 3}));

  asked = ask(two, about({1, 3}));
  ASSERT_EQ(asked.cuts.size(), 1U);
  EXPECT_EQ(asked.cuts[0].lost, Lost{1});
  EXPECT_EQ(asked.already_off, Lost{3});
}

// S0 --5-- 1 --5-- 2 --5-- 3 --5-- 4S
TEST(Cuts, CostsOfOneQuestionHoldForItOnly) {
  const Sketch street = sketch(5, {{0, 1, 5}, {1, 2, 5}, {2, 3, 5}, {3, 4, 5}}, {{0}, {4}});
  const auto graph = Graph::prepare(street.lost, street.edges, street.supplies);
  ASSERT_TRUE(graph);
  Scratch scratch;
  Unwatched watch;
  Query near = about({2});
  near.edges = {{1, forbidden}, {2, forbidden}};  // too near the work
  near.vertices = {{1, 0}, {3, 7}};
  auto with = Cuts::start(*graph, near, scratch, watch);
  auto without = Cuts::start(*graph, about({2}), scratch, watch);  // shares the scratch
  ASSERT_TRUE(with && without);
  const auto far = with->next();
  const auto close = without->next();
  ASSERT_TRUE(far && close);
  EXPECT_EQ(far->shut, (Shut{0, 3}));
  EXPECT_EQ(far->cost, 10 + 0 + 1 + 7);
  EXPECT_EQ(close->shut, (Shut{1, 2}));
  EXPECT_EQ(close->cost, 11);
  EXPECT_FALSE(with->next());
  EXPECT_TRUE(without->next());
}

TEST(Cuts, MustNotLoseOutweighsAnyCrewTime) {
  // S0 --a-- 1 (school) --b-- 2     shutting b takes a day longer than a, and keeps the school
  const Cost school = Cost{1} << 40;
  Sketch street = sketch(3, {{0, 1, 600}, {1, 2, 87'000}}, {{0}});
  street.lost[1] = school + 600;
  const Asked asked = ask(street, about({2}));
  ASSERT_EQ(asked.cuts.size(), 2U);
  EXPECT_EQ(asked.cuts[0].shut, Shut{1});
  EXPECT_EQ(asked.cuts[1].cost, school + 600 + 600 + 1);
}

}  // namespace

}  // namespace bellhole::isolate::test
