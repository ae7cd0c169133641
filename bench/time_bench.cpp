// A pocket that drains: a town all of whose gates shut at once, beside IDA with KLU on the same
// equations, with the same tolerance, flags and town, in the same process. The peer has the flows
// as unknowns, which is by far the faster of its two forms (the nodal one needs a thousand times
// the steps where mains stand nearly still). Times are of the processor, setting up included on
// both sides; laws and the pattern of the matrix are made before on both (KLU orders it within its
// time, Bellhole before). Both are held against a run of Bellhole with a sixteenth of the
// tolerance.
//
// bench_time [PIPES ...]     default 1000 10000
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <vector>

#include "network/transient.hpp"
#include "tests/support/ida_peer.hpp"
#include "tests/support/random_town.hpp"

namespace bellhole::support {
namespace {

using network::Course;
using network::Model;

const network::Conditions conditions{.gas = *gas::from_gravity(0.6),
                                     .ground = Temperature::from_si(288.7)};
constexpr int samples = 16;
constexpr double tolerance = 1e-4;

double median(std::vector<double> values) {
  std::ranges::sort(values);
  return values[values.size() / 2];
}

/// Largest difference, as a share of where each node began.
double apart(const std::vector<double>& begins, const std::vector<std::vector<double>>& one,
             const std::vector<std::vector<double>>& other) {
  double worst = 0.0;
  for (std::size_t k = 0; k < one.size(); ++k) {
    for (std::size_t i = 0; i < begins.size(); ++i)
      worst = std::max(worst, std::abs(one[k][i] - other[k][i]) / begins[i]);
  }
  return worst;
}

std::vector<std::vector<double>> by_time(const network::Transient& made) {
  std::vector<std::vector<double>> out;
  for (std::size_t k = 1; k < made.sampled.size(); ++k) {
    auto& now = out.emplace_back();
    for (const auto& node : made.pressures) now.push_back(node[k].si());
  }
  return out;
}

void drain(int pipes) {
  const Town whole = grid_town({.pipes = pipes, .customers_along = false, .stations_feed = true});
  Course course{.begins = {.air = Temperature::from_si(261.15)}, .lasts = Duration::from_si(3600)};
  const auto steady = Model::prepare(whole.net, conditions)->solve(course.begins);
  const Town town = reached_part(whole, *steady);
  const auto model = Model::prepare(town.net, conditions);
  const auto begins = model->solve(course.begins);
  for (std::size_t s = 0; s < town.net.sources.size(); ++s) {
    course.switches.push_back({Duration::from_si(0.0), network::SwitchKind::source,
                               static_cast<network::Index>(s), true});
  }
  course.hour_stands = true;
  course.tolerance = tolerance;
  PeerCourse peer_course{.tolerance = tolerance, .flows_unknown = true};
  for (const auto p : begins->node_pressure) peer_course.begins_pa.push_back(p.si());
  const int times = pipes > 5000 ? 5 : 9;
  std::vector<double> ours_ms, peer_ms;
  network::Transient ours;
  std::optional<PeerThroughTime> peer;
  Unwatched unwatched;
  for (int k = 0; k < times; ++k) {  // without samples: neither side writes down what it passes
    const std::clock_t begin = std::clock();
    ours = *model->follow(course, unwatched, &*begins);
    ours_ms.push_back(1000.0 * static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC);
    peer_course.times = {3600.0};
    peer = drain_with_ida(town.net, conditions, course.begins, peer_course);
    if (!peer) break;
    peer_ms.push_back(1000.0 * peer->seconds);
  }
  if (!peer) {
    fmt::print("{:>7} mains: IDA gave up\n", town.net.pipes.size());
    return;
  }
  const int steps = ours.steps, refused = ours.refused_steps, factors = ours.factors,
            solves = ours.solves;
  course.sample_every = Duration::from_si(3600.0 / samples);
  for (std::size_t i = 0; i < town.net.nodes.size(); ++i)
    course.watched.push_back({.node = static_cast<network::Index>(i)});
  ours = *model->follow(course, unwatched, &*begins);
  Course finer = course;
  finer.tolerance = tolerance / 16.0;
  const auto fine = *model->follow(finer, unwatched, &*begins);
  peer_course.times.clear();
  for (std::size_t k = 1; k < ours.sampled.size(); ++k)
    peer_course.times.push_back(ours.sampled[k].si());
  peer = drain_with_ida(town.net, conditions, course.begins, peer_course);
  const auto reference = by_time(fine);
  double first_short = 3600.0, first_short_fine = 3600.0;
  for (std::size_t c = 0; c < ours.customers.size(); ++c) {
    if (ours.customers[c].first_short)
      first_short = std::min(first_short, ours.customers[c].first_short->si());
    if (fine.customers[c].first_short)
      first_short_fine = std::min(first_short_fine, fine.customers[c].first_short->si());
  }
  fmt::print(
      "{:>7} mains, {} customers, an hour: {:8.2f} ms ({} steps, {} refused, {} factors, {} "
      "solutions)  IDA + KLU {:8.2f} ms ({} steps, {} residuals, {} factors)  ratio {:5.1f}; "
      "against a 16 times finer run {:.1e} of the pressure (IDA {:.1e}), first customer short "
      "{:.2f} s (finer {:.2f} s); imbalance {:.1e}\n",
      town.net.pipes.size(), town.net.customers.size(), median(ours_ms), steps, refused, factors,
      solves, median(peer_ms), peer->steps, peer->residuals, peer->factors,
      median(peer_ms) / median(ours_ms), apart(peer_course.begins_pa, by_time(ours), reference),
      apart(peer_course.begins_pa, peer->gauge_pa, reference), first_short, first_short_fine,
      ours.account.imbalance);
}

}  // namespace
}  // namespace bellhole::support

int main(int argc, char** argv) {
  std::vector<int> sizes;
  for (int i = 1; i < argc; ++i) sizes.push_back(std::atoi(argv[i]));
  if (sizes.empty()) sizes = {1000, 10'000};
  for (int pipes : sizes) bellhole::support::drain(pipes);
}
