// Plain towns, all of whose gates shut at once, drained by Bellhole and by IDA with KLU: the same
// pressures at the same times, to 0.1 % of where they began.
//
// reference_time FIRST COUNT
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <optional>

#include "network/transient.hpp"
#include "tests/support/ida_peer.hpp"
#include "tests/support/random_town.hpp"

namespace bellhole::support {
namespace {

constexpr double agree = 1e-3;

enum class Verdict { same, peer_gave_up, wrong };

Verdict compare(std::uint64_t seed, bool starved) {
  const Town town = plain_town(seed, starved);
  const network::Conditions conditions{.gas = *gas::from_gravity(0.6),
                                       .ground = Temperature::from_si(288.7)};
  network::Course course{.begins = {.air = Temperature::from_si(263.15)}};
  const auto model = network::Model::prepare(town.net, conditions);
  const auto begins = model->solve(course.begins);
  if (!begins) return Verdict::wrong;
  Dice dice(seed + 99);
  const double lasts = std::pow(10.0, dice.between(1.0, 4.0));
  course.lasts = Duration::from_si(lasts);
  course.hour_stands = true;
  course.tolerance = 3e-5;
  course.sample_every = Duration::from_si(lasts / 8.0);
  for (std::size_t s = 0; s < town.net.sources.size(); ++s) {
    course.switches.push_back({Duration::from_si(0.0), network::SwitchKind::source,
                               static_cast<network::Index>(s), true});
  }
  for (std::size_t i = 0; i < town.net.nodes.size(); ++i) {
    course.watched.push_back({.node = static_cast<network::Index>(i)});
  }
  Unwatched unwatched;
  const auto ours = model->follow(course, unwatched);
  if (!ours) {
    fmt::print("seed {}: Bellhole did not follow it: {}\n", seed, ours.error().value);
    return Verdict::wrong;
  }
  PeerCourse peer_course{.tolerance = 1e-6};
  for (const auto pressure : begins->node_pressure) {
    peer_course.begins_pa.push_back(pressure.si());
  }
  for (std::size_t k = 1; k < ours->sampled.size(); ++k) {
    peer_course.times.push_back(ours->sampled[k].si());
  }
  const auto peer = drain_with_ida(town.net, conditions, course.begins, peer_course);
  if (!peer) return Verdict::peer_gave_up;
  double worst = 0.0;
  for (std::size_t i = 0; i < town.net.nodes.size(); ++i) {
    for (std::size_t k = 1; k < ours->sampled.size(); ++k) {
      const double off = std::abs(ours->pressures[i][k].si() - peer->gauge_pa[k - 1][i]);
      worst = std::max(worst, off / std::max(peer_course.begins_pa[i], 1000.0));
    }
  }
  const bool kept = ours->account.imbalance <= 1e-9;
  if (worst <= agree && kept) return Verdict::same;
  fmt::print("seed {}, {}: {:.2e} of the pressure apart, {} nodes, {:.0f} s, imbalance {:.1e}\n",
             seed, starved ? "starved" : "fed", worst, town.net.nodes.size(), lasts,
             ours->account.imbalance);
  return Verdict::wrong;
}

int run(std::uint64_t first, std::uint64_t count) {
  int same = 0, gave_up = 0, wrong = 0;
  for (std::uint64_t seed = first; seed < first + count; ++seed) {
    for (bool starved : {false, true}) {
      const Verdict verdict = compare(seed, starved);
      same += verdict == Verdict::same;
      gave_up += verdict == Verdict::peer_gave_up;
      wrong += verdict == Verdict::wrong;
    }
  }
  fmt::print("{} towns: the same pressures in {}, IDA gave up in {}, different in {}\n", 2 * count,
             same, gave_up, wrong);
  return wrong == 0 && same >= 4 * gave_up ? 0 : 1;
}

}  // namespace
}  // namespace bellhole::support

int main(int argc, char** argv) {
  if (argc != 3) return 2;
  return bellhole::support::run(std::strtoull(argv[1], nullptr, 10),
                                std::strtoull(argv[2], nullptr, 10));
}
