// Isolations of made-up towns, each answered by the engine and by CBC; they must cost the same.
//
//   reference_isolate CBC FOLDER RANDOM POCKETS
//
// RANDOM questions in grid towns, and POCKETS questions in pocket-rich towns whose relaxed optimum
// leaves a pocket, so that the search behind it decides. Exit code 1 on the first difference.
#include <cstdio>
#include <cstdlib>
#include <random>
#include <string>

#include "milp.hpp"
#include "shapes.hpp"
#include "town.hpp"

namespace {

using namespace bellhole;
using namespace bellhole::isolate;
using namespace bellhole::isolate::test;

/// A question as the planner puts it: now and then with more work, with places too near the work,
/// with a customer that must stay on.
Query draw_question(const Town& town, std::mt19937& random) {
  const auto pipe = [&] {
    return static_cast<std::size_t>(pick(random, 0, static_cast<int>(town.work.size()) - 1));
  };
  Query query;
  query.work = town.work[pipe()];
  if (pick(random, 0, 3) == 0) {
    const auto& more = town.work[pipe()];
    query.work.insert(query.work.end(), more.begin(), more.end());
  }
  if (pick(random, 0, 2) == 0) {
    for (std::size_t e = 0; e < town.sketch.edges.size(); ++e) {
      const auto near = [&](Vertex v) { return v == query.work[0]; };
      const Edge& edge = town.sketch.edges[e];
      if (near(edge.a) || near(edge.b))
        query.edges.push_back({static_cast<EdgeIndex>(e), forbidden});
    }
  }
  if (pick(random, 0, 3) == 0) {
    const int last = static_cast<int>(town.sketch.lost.size()) - 1;
    query.vertices.push_back({pick(random, 0, last), forbidden});
  }
  return query;
}

struct Answer {
  bool exists = false;
  Cost cost = 0;
  Proof proof;
};

Answer answer(const Town& town, const Query& query) {
  const auto graph = Graph::prepare(town.sketch.lost, town.sketch.edges, town.sketch.supplies);
  if (!graph) std::abort();
  Scratch scratch;
  Unwatched watch;
  auto cuts = Cuts::start(*graph, query, scratch, watch);
  if (!cuts) std::abort();
  const auto cut = cuts->next();
  return {cut.has_value(), cut ? cut->cost : 0, cuts->proof()};
}

/// Whether CBC says the same.
bool agrees(const std::string& cbc, const std::string& folder, const Town& town, const Query& query,
            const Answer& ours, unsigned seed) {
  const auto theirs = solve_with_cbc(cbc, folder, with_costs_of(town.sketch, query), query.work);
  if (theirs && ours.proof.optimal && theirs->exists == ours.exists && theirs->cost == ours.cost)
    return true;
  std::printf("town %u: engine %s %lld, CBC %s %lld (see %s)\n", seed,
              ours.exists ? "found" : "none", static_cast<long long>(ours.cost),
              !theirs          ? "failed"
              : theirs->exists ? "found"
                               : "none",
              theirs ? static_cast<long long>(theirs->cost) : 0LL, folder.c_str());
  return false;
}

int run(const std::string& cbc, const std::string& folder, int random_wanted, int pockets_wanted) {
  int asked = 0, none = 0, pockets = 0;
  for (unsigned seed = 1; asked < random_wanted; ++seed) {
    std::mt19937 random(seed);
    const Town town = grid_town({.streets = pick(random, 9, 17), .seed = seed});
    const Query query = draw_question(town, random);
    const Answer ours = answer(town, query);
    if (!agrees(cbc, folder, town, query, ours, seed)) return 1;
    ++asked;
    none += ours.exists ? 0 : 1;
  }
  for (unsigned seed = 1; pockets < pockets_wanted; ++seed) {
    std::mt19937 random(seed);
    const Town town = pocket_town(pick(random, 10, 40), seed, 1);
    for (int attempt = 0; attempt < 200; ++attempt) {
      const Query query = draw_question(town, random);
      const Answer ours = answer(town, query);
      if (ours.proof.pockets == 0) continue;
      if (!agrees(cbc, folder, town, query, ours, seed)) return 1;
      ++pockets;
      break;
    }
  }
  std::printf(
      "%d random isolations (%d without an answer) and %d with pockets: CBC says the same of all\n",
      asked, none, pockets);
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 5) {
    std::fprintf(stderr, "reference_isolate CBC FOLDER RANDOM POCKETS\n");
    return 2;
  }
  return run(argv[1], argv[2], std::atoi(argv[3]), std::atoi(argv[4]));
}
