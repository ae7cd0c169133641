// Gas that escapes from a place in a network: the whole network feeds it, from both ends, with
// everything that is shut.
//
// The network is solved (steady.hpp) with what leaves as one more draw at the place, and the draw
// is moved until it is what the opening passes at the pressure that is left there. What the network
// answers to a draw is learned as a plane in the squares of the flows, which takes a handful of
// solves; where that does not settle, the draw is searched for between bounds. Broken through,
// the main is parted and each end draws for itself; the kinetic term and the choke, which the
// network's law leaves out, are those of the main that is broken, from its end node to the break.
// Customers go on drawing as their pressure lets them.
#pragma once

#include <vector>

#include "network/escape.hpp"
#include "network/steady.hpp"

namespace bellhole::network {

struct OpeningState {
  Escape escape;     ///< sides of a broken main: towards `from`, towards `to`; a hole has none
  bool fed = false;  ///< a source reaches the place; otherwise nothing lasts in the steady state
  GaugePressure before;             ///< at the place without the opening; nan: no gas
  std::size_t customers_short = 0;  ///< connected, and under their least pressure while it blows
};

/// For each coefficient of the hole in turn, one state for each scenario, in their order. For a
/// full bore give one coefficient; it is not read. Errors: those of Model::prepare and solve;
/// out_of_range for a main broken through at its very end (name a place along it); bug where no
/// balance is found.
Result<std::vector<std::vector<OpeningState>>> open_at(const Network& network,
                                                       const Conditions& conditions,
                                                       const Closure& place, const Opening& opening,
                                                       const std::vector<double>& coefficients,
                                                       const std::vector<Scenario>& scenarios);

/// The same for the opening's own coefficient.
Result<std::vector<OpeningState>> open_at(const Network& network, const Conditions& conditions,
                                          const Closure& place, const Opening& opening,
                                          const std::vector<Scenario>& scenarios);

}  // namespace bellhole::network
