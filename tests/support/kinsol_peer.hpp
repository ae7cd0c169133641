// The same steady state by other means: KINSOL (SUNDIALS) with KLU on the nodal form, the form that
// one writes first: one unknown potential per node, flows by the inverse of the pipe law.
//
// It takes networks of one tier on level ground, fed by sources of one pressure, customers at the
// ends of the mains.
#pragma once

#include <optional>
#include <vector>

#include "network/steady.hpp"

namespace bellhole::support {

struct PeerState {
  std::vector<double> node_gauge_pa;
  int iterations = 0;
  double seconds = 0.0;     ///< of KINSOL itself, from its start at a linear solution
  double worst_mass = 0.0;  ///< kg/s
};

/// Nothing where KINSOL does not converge. `falls_off`: customers get less under their least
/// pressure, as network/equipment.hpp has it; otherwise everybody the full load.
std::optional<PeerState> solve_with_kinsol(const network::Network& network,
                                           const network::Conditions& conditions,
                                           const network::Scenario& scenario, bool falls_off);

}  // namespace bellhole::support
