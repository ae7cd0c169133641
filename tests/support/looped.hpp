// Seven nodes in three loops, at medium and at low pressure.
#pragma once

#include <vector>

#include "network/steady.hpp"
#include "tests/support/town.hpp"

namespace bellhole::support {

struct LoopedTown {
  Town town;
  std::vector<double>
      wanted;  ///< node pressures, psig at scale 1 and inches of water at scale 0.04
};

/// scale 1: 45 psig feeds the town; scale 0.04: 10 inches of water feed a twenty-fifth of the load.
LoopedTown looped_town(double scale);
network::Conditions looped_conditions();

}  // namespace bellhole::support
