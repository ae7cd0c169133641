// Which mains can be fed from both ends, by the joints of the network and not by a flag of the map.
#pragma once

#include <cstdint>
#include <vector>

#include "network/columns.hpp"

namespace bellhole::maps {

enum class Feed : std::uint8_t {
  none,     ///< no source reaches it
  one_way,  ///< cut it anywhere and one side of the cut is without gas
  two_way,  ///< both sides of a cut still reach a source
};

/// The feed of each pipe: it is two-way when it is no bridge of the graph in which all sources are
/// one node. A pipe with a valve that stands shut is out of the graph and counts as one-way or
/// none. Regulators join their two sides; the question is of joints, not of pressures.
std::vector<Feed> feeds_of(const network::Network& network);

}  // namespace bellhole::maps
