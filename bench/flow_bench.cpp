// Steady flow: towns on a street grid, cold, with one main shut, and beside KINSOL with KLU on the
// nodal form in the same process, with the same law, the same flags and the same town (fed at every
// station, homes at the ends of the mains, since that is what the peer takes). The peer begins at a
// linear solution that is not timed.
//
// bench_flow [PIPES ...]     default 600 10000 100000
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <vector>

#include "network/steady.hpp"
#include "tests/support/kinsol_peer.hpp"
#include "tests/support/random_town.hpp"

namespace bellhole::support {
namespace {

using network::Model;
using network::Scenario;

const network::Conditions conditions{.gas = *gas::from_gravity(0.6),
                                     .ground = Temperature::from_si(288.7)};
const Scenario cold_day{.air = Temperature::from_si(261.15)};

template <class Work>
double median_ms(int times, const Work& work) {
  std::vector<double> took;
  for (int i = 0; i < times; ++i) {
    const auto begin = std::chrono::steady_clock::now();
    work(i);
    took.push_back(
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begin)
            .count());
  }
  std::ranges::sort(took);
  return took[took.size() / 2];
}

/// A whole town: tiers, regulators, customers where they stand along the mains.
void town_alone(int pipes) {
  const Town town = grid_town({.pipes = pipes});
  const auto begin = std::chrono::steady_clock::now();
  const auto model = Model::prepare(town.net, conditions);
  const double prepared =
      std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begin).count();
  const auto base = model->solve(cold_day);
  const int times = pipes > 50'000 ? 5 : 15;
  const double cold = median_ms(times, [&](int) { (void)model->solve(cold_day); });
  int carried = 0;
  const double shut = median_ms(times, [&](int i) {
    Scenario scenario = cold_day;
    const std::size_t pipe = static_cast<std::size_t>(i) * 7919 % town.net.pipes.size();
    scenario.closures.push_back(
        {static_cast<network::Index>(pipe), town.net.pipes.length[pipe] * 0.5});
    carried += model->solve_if_carried(scenario, &*base)->has_value();
  });
  fmt::print(
      "{:>7} mains {:>7} customers {:>3} regulators: prepare {:8.2f} ms  cold {:8.2f} ms ({} "
      "steps)  one main shut "
      "{:8.2f} ms ({} of {} carried)\n",
      town.net.pipes.size(), town.net.customers.size(), town.net.regulators.size(), prepared, cold,
      base->iterations, shut, carried, times);
}

void beside_kinsol(int pipes) {
  const Town town = grid_town({.pipes = pipes, .customers_along = false, .stations_feed = true});
  // What no station reaches is singular for the peer: let it be another town without those parts.
  const auto model = Model::prepare(town.net, conditions);
  const auto state = model->solve(cold_day);
  const Town fed = reached_part(town, *state);
  const int times = pipes > 50'000 ? 3 : 9;
  const double prepare = median_ms(times, [&](int) { (void)Model::prepare(fed.net, conditions); });
  const auto prepared = Model::prepare(fed.net, conditions);
  network::SteadyState ours;
  const double cold = median_ms(times, [&](int) { ours = *prepared->solve(cold_day); });
  std::optional<PeerState> peer;
  std::vector<double> peer_ms;
  for (int i = 0; i < times; ++i) {
    peer = solve_with_kinsol(fed.net, conditions, cold_day, false);
    if (!peer) break;
    peer_ms.push_back(1000.0 * peer->seconds);
  }
  if (!peer) {
    fmt::print("{:>7} mains beside KINSOL + KLU: the peer gave up\n", fed.net.pipes.size());
    return;
  }
  std::ranges::sort(peer_ms);
  double apart = 0.0;
  for (std::size_t i = 0; i < fed.net.nodes.size(); ++i) {
    apart = std::max(apart, std::abs(ours.node_pressure[i].si() - peer->node_gauge_pa[i]));
  }
  const double theirs = peer_ms[peer_ms.size() / 2];
  fmt::print(
      "{:>7} mains beside KINSOL + KLU: prepare {:8.2f} ms  cold {:8.2f} ms  peer {:9.2f} ms ({} "
      "steps)  ratio {:5.1f}, "
      "with preparing {:5.1f}; pressures within {:.1e} psi\n",
      fed.net.pipes.size(), prepare, cold, theirs, peer->iterations, theirs / cold,
      theirs / (cold + prepare), apart / psi);
}

}  // namespace
}  // namespace bellhole::support

int main(int argc, char** argv) {
  std::vector<int> sizes;
  for (int i = 1; i < argc; ++i) sizes.push_back(std::atoi(argv[i]));
  if (sizes.empty()) sizes = {600, 10'000, 100'000};
  for (int pipes : sizes) bellhole::support::town_alone(pipes);
  for (int pipes : sizes) bellhole::support::beside_kinsol(pipes);
}
