// How long it takes to find the best places to shut: every pipe of made-up towns of about 1k to 1M
// pipes, and CBC beside it on a small one in the same run.
//
//   bench_isolate [FOLDER]      where CBC's files go; the system's folder for temporary files
//   otherwise
//
// Times are processor time on one lane, each question asked once in a row of all. The ratio to CBC
// and the vertices touched are what to compare between machines.
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <string>
#include <vector>

#include "tests/unit/isolate/milp.hpp"
#include "tests/unit/isolate/town.hpp"

namespace {

using namespace bellhole;
using namespace bellhole::isolate;
using namespace bellhole::isolate::test;

/// Processor time of this thread: other programs on the machine do not count.
double microseconds(const auto& work) {
  const auto now = [] {
    timespec time{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &time);
    return 1e6 * static_cast<double>(time.tv_sec) + 1e-3 * static_cast<double>(time.tv_nsec);
  };
  const double start = now();
  work();
  return now() - start;
}

Graph prepare(const Town& town) {
  auto graph = Graph::prepare(town.sketch.lost, town.sketch.edges, town.sketch.supplies);
  if (!graph) std::abort();
  return *std::move(graph);
}

struct Times {
  std::vector<double> sorted;
  double touched = 0, examined = 0, pockets = 0;  // of a question, pockets in how many of them
  [[nodiscard]] double at(double share) const {
    return sorted[static_cast<std::size_t>(share * static_cast<double>(sorted.size() - 1))];
  }
};

Times ask_about(const Graph& graph, const Town& town, int cuts_wanted, std::size_t every) {
  Times times;
  Scratch scratch;
  scratch.fit(graph.layout());  // as it is after the first question
  Unwatched watch;
  for (std::size_t pipe = 0; pipe < town.work.size(); pipe += every) {
    Query query;
    query.work = town.work[pipe];
    Proof proof;
    times.sorted.push_back(microseconds([&] {
      auto cuts = Cuts::start(graph, query, scratch, watch);
      if (!cuts) std::abort();
      for (int i = 0; i < cuts_wanted && cuts->next(); ++i) {
      }
      proof = cuts->proof();
    }));
    times.touched += static_cast<double>(proof.touched);
    times.examined += static_cast<double>(proof.examined);
    times.pockets += proof.pockets > 0 ? 1 : 0;
  }
  for (double* sum : {&times.touched, &times.examined, &times.pockets})
    *sum /= static_cast<double>(times.sorted.size());
  std::sort(times.sorted.begin(), times.sorted.end());
  return times;
}

void print_row(const char* what, const Times& times) {
  std::printf("  %-34s %8.1f %8.1f %8.1f %8.1f %9.1f %7.1f %6.2f %%\n", what, times.at(0.5),
              times.at(0.99), times.at(0.999), times.at(1), times.touched, times.examined,
              100 * times.pockets);
}

void measure(int streets, std::size_t every) {
  const TownPlan plan{.streets = streets, .seed = 1, .unit = 600, .must_not_lose = 500};
  TownPlan halves = plan;
  halves.halves = true;
  const Town whole = grid_town(plan), split = grid_town(halves);
  Graph graph;
  const double preparing = microseconds([&] { graph = prepare(whole); });
  std::printf(
      "%zu pipes, %zu vertices, %zu stations; prepared in %.1f ms; one pipe in %zu asked about\n",
      whole.work.size(), graph.vertices(), graph.supplies(), preparing / 1000, every);
  std::printf("  %-34s %8s %8s %8s %8s %9s %7s %8s\n", "microseconds a question", "median", "p99",
              "p99.9", "max", "touched", "solved", "pocket");
  print_row("whole pipe, best cut", ask_about(graph, whole, 1, every));
  print_row("whole pipe, 5 best", ask_about(graph, whole, 5, every * 5));
  print_row("whole pipe, 10 best", ask_about(graph, whole, 10, every * 5));
  print_row("either side of a point, best cut", ask_about(prepare(split), split, 1, every));
}

int beside_cbc(const std::string& folder) {
  if (std::system("command -v cbc > /dev/null 2>&1") != 0) {
    std::printf("CBC is not installed (Debian: coinor-cbc): no ratio\n");
    return 0;
  }
  const Town town = grid_town({.streets = 15, .seed = 1});
  const Graph graph = prepare(town);
  Scratch scratch;
  Unwatched watch;
  std::vector<double> ours, theirs, ratio;
  for (std::size_t pipe = 0; pipe < town.work.size(); pipe += town.work.size() / 20) {
    Query query;
    query.work = town.work[pipe];
    Cost cost = -1;
    constexpr int times = 100;
    ours.push_back(microseconds([&] {
                     for (int i = 0; i < times; ++i) {
                       auto cuts = Cuts::start(graph, query, scratch, watch);
                       const auto cut = cuts->next();
                       cost = cut ? cut->cost : -1;
                     }
                   }) /
                   times);
    const auto optimum = solve_with_cbc("cbc", folder, town.sketch, query.work);
    if (!optimum || (optimum->exists ? optimum->cost : -1) != cost) {
      std::printf("pipe %zu: CBC and the engine differ (see %s)\n", pipe, folder.c_str());
      return 1;
    }
    theirs.push_back(optimum->seconds * 1e6);
    ratio.push_back(theirs.back() / ours.back());
  }
  for (auto* list : {&ours, &theirs, &ratio}) std::sort(list->begin(), list->end());
  std::printf(
      "%zu pipes, %zu questions, the same optimum each time: engine %.1f us, CBC %.0f us of its "
      "own processor time "
      "(medians); ratio %.0f (least %.0f)\n",
      town.work.size(), ours.size(), ours[ours.size() / 2], theirs[theirs.size() / 2],
      ratio[ratio.size() / 2], ratio.front());
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  const std::string folder =
      argc > 1 ? argv[1]
               : (std::filesystem::temp_directory_path() / "bellhole-bench-isolate").string();
  measure(15, 1);
  measure(49, 1);
  measure(155, 1);
  measure(490, 10);
  return beside_cbc(folder);
}
