// How far along the mains everything lies from one place: the way that gas comes and that a crew
// walks.
#pragma once

#include <vector>

#include "network/steady.hpp"

namespace bellhole::network {

/// Along the mains from one place; a station between two mains counts as no distance. nan: no way.
struct Along {
  std::vector<Length> node, customer;
};

/// Every main counts, shut or open. REQUIRES: from.pipe is a main of the network.
Along along_mains(const Network& network, const Closure& from);

}  // namespace bellhole::network
