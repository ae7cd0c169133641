// Plain towns, solved by Bellhole and by KINSOL with KLU, must have the same pressures to 1e-4 psi.
//
// reference_flow FIRST COUNT
#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <optional>

#include "network/steady.hpp"
#include "tests/support/kinsol_peer.hpp"
#include "tests/support/random_town.hpp"

namespace bellhole::support {
namespace {

constexpr double agree_pa = 1e-4 * psi;

enum class Verdict { same, peer_gave_up, wrong };

/// Largest difference of a node's pressure.
double apart(const network::SteadyState& state, const PeerState& peer) {
  double worst = 0.0;
  for (std::size_t i = 0; i < peer.node_gauge_pa.size(); ++i) {
    worst = std::max(worst, std::abs(state.node_pressure[i].si() - peer.node_gauge_pa[i]));
  }
  return worst;
}

Verdict compare(std::uint64_t seed, bool starved) {
  const Town town = plain_town(seed, starved);
  const network::Conditions conditions{.gas = *gas::from_gravity(0.6),
                                       .ground = Temperature::from_si(288.7)};
  const network::Scenario scenario{.air = Temperature::from_si(263.15)};
  const auto model = network::Model::prepare(town.net, conditions);
  const auto state =
      model ? model->solve(scenario) : Result<network::SteadyState>(std::unexpected(model.error()));
  if (!state) {
    fmt::print("seed {}: Bellhole did not solve it\n", seed);
    return Verdict::wrong;
  }
  const bool falls_off = state->outcome == network::Outcome::cannot_carry;
  const auto peer = solve_with_kinsol(town.net, conditions, scenario, falls_off);
  if (!peer) return Verdict::peer_gave_up;
  const double worst = apart(*state, *peer);
  if (worst <= agree_pa) return Verdict::same;
  fmt::print("seed {}, {}: {} Pa apart, {} nodes, KINSOL balanced to {} kg/s\n", seed,
             starved ? "starved" : "fed", worst, town.net.nodes.size(), peer->worst_mass);
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
  fmt::print("{} towns: the same pressures in {}, KINSOL gave up in {}, different in {}\n",
             2 * count, same, gave_up, wrong);
  return wrong == 0 && same >= 4 * gave_up ? 0 : 1;
}

}  // namespace
}  // namespace bellhole::support

int main(int argc, char** argv) {
  if (argc != 3) return 2;
  return bellhole::support::run(std::strtoull(argv[1], nullptr, 10),
                                std::strtoull(argv[2], nullptr, 10));
}
