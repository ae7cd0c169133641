// What a graph and a question refuse, and how a prepared graph lies in memory.
#include "isolate/graph.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <set>

#include "shapes.hpp"
#include "sketch.hpp"

namespace bellhole::isolate::test {

namespace {

Code refused(const std::vector<Cost>& lost, const std::vector<Edge>& edges,
             const std::vector<Supply>& supplies) {
  const auto graph = Graph::prepare(lost, edges, supplies);
  return graph ? Code::bug : graph.error().code;
}

Code refused(const Query& query) {
  const std::vector<Cost> lost{1, 1};
  const std::vector<Edge> edges{{0, 1, 1}};
  const std::vector<Supply> supplies{{0, 5}};
  const auto graph = Graph::prepare(lost, edges, supplies);
  EXPECT_TRUE(graph);
  Scratch scratch;
  Unwatched watch;
  const auto cuts = Cuts::start(*graph, query, scratch, watch);
  return cuts ? Code::bug : cuts.error().code;
}

TEST(Graph, RefusesWhatIsNoGraph) {
  EXPECT_EQ(refused({1}, {{0, 1, 1}}, {}), Code::bad_network);
  EXPECT_EQ(refused({1}, {{-1, 0, 1}}, {}), Code::bad_network);
  EXPECT_EQ(refused({1}, {}, {{1}}), Code::bad_network);
  EXPECT_EQ(refused({-1}, {}, {}), Code::out_of_range);
  EXPECT_EQ(refused({forbidden + 1}, {}, {}), Code::out_of_range);
  EXPECT_EQ(refused({1}, {{0, 0, -1}}, {}), Code::out_of_range);
  EXPECT_EQ(refused({1}, {}, {{0, -1}}), Code::out_of_range);
}

TEST(Graph, RefusesFiniteCostsThatAddUpToForbidden) {
  EXPECT_EQ(refused({forbidden - 1, 1}, {}, {}), Code::out_of_range);
  EXPECT_TRUE(Graph::prepare(std::vector<Cost>{forbidden - 1, 0}, {}, {}));
  EXPECT_TRUE(Graph::prepare(std::vector<Cost>{forbidden, forbidden, 5}, {}, {}));
}

TEST(Graph, KnowsWhatHasGas) {
  const auto graph = Graph::prepare(
      std::vector<Cost>(4, 1), std::vector<Edge>{{0, 1, 1}, {2, 3, 1}}, std::vector<Supply>{{1}});
  ASSERT_TRUE(graph);
  EXPECT_EQ(graph->vertices(), 4U);
  EXPECT_EQ(graph->edges(), 2U);
  EXPECT_EQ(graph->supplies(), 1U);
  EXPECT_TRUE(graph->fed(0) && graph->fed(1));
  EXPECT_FALSE(graph->fed(2) || graph->fed(3));
}

TEST(Question, RefusesWhatItCannotMean) {
  EXPECT_EQ(refused(Query{}), Code::missing_value);
  EXPECT_EQ(refused({.work = {2}}), Code::work_not_found);
  EXPECT_EQ(refused({.work = {-1}}), Code::work_not_found);
  EXPECT_EQ(refused({.work = {1}, .edges = {{1, 0}}}), Code::unknown_element);
  EXPECT_EQ(refused({.work = {1}, .vertices = {{2, 0}}}), Code::unknown_element);
  EXPECT_EQ(refused({.work = {1}, .supplies = {{1, 0}}}), Code::unknown_element);
  EXPECT_EQ(refused({.work = {1}, .edges = {{0, 1}, {0, 2}}}), Code::contradiction);
  EXPECT_EQ(refused({.work = {1}, .vertices = {{0, -1}}}), Code::out_of_range);
  EXPECT_EQ(refused({.work = {1}, .vertices = {{0, forbidden - 1}}}), Code::out_of_range);
  EXPECT_EQ(refused({.work = {1}}), Code::bug);  // is fine
}

/// What v's loss takes along, by looking: all that no supply reaches without passing v.
std::set<Vertex> lost_with(const Sketch& sketch, Vertex v) {
  std::vector<bool> edges(sketch.edges.size()), supplies(sketch.supplies.size());
  for (std::size_t e = 0; e < edges.size(); ++e)
    edges[e] = sketch.edges[e].a == v || sketch.edges[e].b == v;
  for (std::size_t s = 0; s < supplies.size(); ++s) supplies[s] = sketch.supplies[s].at == v;
  const auto open = std::vector<bool>(edges.size());
  const auto before = reached(sketch, open, std::vector<bool>(supplies.size()));
  const auto after = reached(sketch, edges, supplies);
  std::set<Vertex> lost;
  for (std::size_t u = 0; u < before.size(); ++u) {
    if (before[u] && !after[u]) lost.insert(static_cast<Vertex>(u));
  }
  return lost;
}

TEST(Layout, PutsWhatHangsOnAVertexInOneRunBehindIt) {
  for (unsigned seed = 0; seed < 500; ++seed) {
    std::mt19937 random(seed);
    const Sketch sketch =
        seed % 2 == 0 ? draw(static_cast<Shape>(seed / 2 % shapes), random) : draw_grid(random);
    const auto graph = Graph::prepare(sketch.lost, sketch.edges, sketch.supplies);
    ASSERT_TRUE(graph);
    const Layout& layout = graph->layout();
    for (std::size_t v = 0; v < sketch.lost.size(); ++v) {
      const Place place = layout.place_of[v];
      if (place == nowhere) continue;
      const auto run = layout.vertex_at.begin();
      const std::set<Vertex> behind(run + place,
                                    run + layout.spots[static_cast<std::size_t>(place)].past);
      ASSERT_EQ(behind, lost_with(sketch, static_cast<Vertex>(v)))
          << "seed " << seed << " vertex " << v;
    }
  }
}

TEST(Cost, NeverAddsUpToMoreThanForbidden) {
  EXPECT_EQ(plus(1, 2), 3);
  EXPECT_EQ(plus(forbidden, 0), forbidden);
  EXPECT_EQ(plus(forbidden, forbidden), forbidden);
  EXPECT_EQ(plus(forbidden - 1, 1), forbidden);
  EXPECT_EQ(plus(forbidden - 2, 1), forbidden - 1);
}

}  // namespace

}  // namespace bellhole::isolate::test
