// What speaks against one bypass, from the states of the network with it. Internal to plan/.
#pragma once

#include <span>
#include <vector>

#include "network/added.hpp"
#include "plan/bypass.hpp"

namespace bellhole::plan {

/// A bypass as it stands in a copy of the network.
struct Tried {
  const network::Network& network;       ///< the copy, with it
  std::vector<network::Index> map_pipe;  ///< of each pipe of the copy
  const network::SteadyState& high;
  const network::SteadyState& low;
  network::Index from = network::none, to = network::none;  ///< nodes that it joins; supply: both
  network::Index valve = network::none;
  std::optional<GaugePressure> rated;    ///< pipe only
  std::span<const network::Index> work;  ///< nodes that must stay without gas
};

/// Customers out or short, ascending.
std::vector<network::Index> without_enough(const network::SteadyState& state);

/// Fills lowest, highest, findings and why. REQUIRES: flow, speed and the lists are filled.
void judge_bypass(const BypassQuestion& question, const Tried& tried, BypassFound& bypass);

/// "C-1, C-2 and 4 more".
std::string named(const network::Network& network, const std::vector<network::Index>& customers);

}  // namespace bellhole::plan
