// Openings to air in a course through time: where they are in the network, and what they pass by
// the pressure beside them. The laws are those of opening.hpp.
//
// Internal to network/.
#pragma once

#include <vector>

#include "network/prepared.hpp"
#include "network/transient.hpp"

namespace bellhole::network {

/// A course's network with a stand-in at each opening, and the course over it.
struct Leaking {
  Leaking(const Network& network, const Course& course);

  Network network;
  Course course;
  std::vector<Index> at;  ///< first stand-in of each opening; a broken main has two
};

/// One way out: a hole, or one end of a main that is broken through.
struct LeakPart {
  const Leak* leak = nullptr;
  std::size_t index = 0;  ///< of the opening
  Index row = none;       ///< beside the opening
  Index node = none;      ///< broken through: row of the end of the main
  double height = 0.0, node_height = 0.0;
  double section = 0.0;  ///< m2, of the main
  double air = 0.0;      ///< Pa absolute, at this height
  bool open = false;
};

struct Leaving {
  double flow = 0.0, slope = 0.0;  ///< kg/s; d flow / d reduced potential beside the opening
};

/// By the reduced potentials beside the opening and at the end node of its main.
Leaving leaves(const LeakPart& part, const gas::Flowing& gas, double potential,
               double node_potential);

}  // namespace bellhole::network
